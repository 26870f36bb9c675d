// What is new since a reader's last visit, where kits are listed. When she was here last stays on her device alone. It runs
// where its line stands, before what follows is painted, so that nothing moves.
if (window.kw && window.kw.kept) {
  const SAY = {
    line: many => (many === 1 ? "One kit is new since you were last here." : `${many} kits are new since you were last here.`),
    more: many => `More than ${many} kits are new since you were last here.`,
    mark: "new",
  }
  const VISIT = 30 * 60 * 1000 // after as long without a page it is another visit
  const line = document.currentScript.previousElementSibling
  const kits = line.dataset.news.split(" ").filter(Boolean).map(one => one.split("@")).map(([id, at]) => ({ id, at: Number(at) }))
  const newest = Math.max(...kits.map(kit => kit.at))
  const { kept } = window.kw
  const before = kept.get("seen")
  const sound = before && [before.was, before.here, before.when].every(Number.isFinite)
  const now = Date.now()
  // The newest that she knew before this visit; at her first, all there is.
  const was = !sound ? newest : now - before.when > VISIT ? before.here : before.was
  kept.set("seen", { was, here: Math.max(newest, sound ? before.here : newest), when: now })

  const fresh = kits.filter(kit => kit.at > was)
  if (fresh.length) {
    line.textContent = fresh.length === kits.length && kits.length > 1 ? SAY.more(kits.length - 1) : SAY.line(fresh.length)
    line.hidden = false
    document.addEventListener("DOMContentLoaded", () => {
      const ids = new Set(fresh.map(kit => kit.id))
      for (const when of document.querySelectorAll(".kw-card__when, .kw-hero .kw-eyebrow, .kw-lead .kw-eyebrow")) {
        const link = when.closest("a") || when.parentNode.querySelector("h2 a")
        const id = link && (link.getAttribute("href").match(/kits\/([^/]+)\/index\.html$/) || [])[1]
        if (!id || !ids.has(decodeURIComponent(id))) continue
        when.append(" ", Object.assign(document.createElement("b"), { className: "kw-news__mark", textContent: SAY.mark }))
      }
    })
  }
}
