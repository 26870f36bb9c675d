// What opens the bench view (bench.js): the buttons of a kit's page, and an address that names a stroke or step there. The view itself, with its style sheet,
// is loaded at the first sign of a hand on the page, so that it is there before it is asked for, offline too, and costs nothing before the page is seen.
{
  const SAY = {
    ticked: (n, all) => (n === all ? `All ${all} done.` : `${n} of ${all} done`),
    on: "Go on at the bench",
  }
  const MARK = "#bench-"
  const SIGNS = ["pointermove", "pointerdown", "touchstart", "keydown", "scroll"]
  const HERE = document.currentScript.src

  const kit = document.querySelector(".kw-kit")
  const items = kit ? [...kit.querySelectorAll("[data-bench]")] : []
  const openers = kit ? [...document.querySelectorAll("[data-bench-open]")] : []
  const key = kit && `bench:${kit.dataset.kit}:r${kit.dataset.revision}`

  let asked = null
  const styled = () => new Promise((done, failed) => {
    const sheet = Object.assign(document.createElement("link"), { rel: "stylesheet", href: new URL("bench.css", HERE) })
    sheet.addEventListener("load", done)
    sheet.addEventListener("error", () => { sheet.remove(); failed(new Error(sheet.href)) })
    document.head.append(sheet)
  })
  const ready = () => asked ??= styled().then(() => kw.load(new URL("bench.js", HERE))).catch(error => { asked = null; throw error })
  const prepare = () => { ready().catch(() => {}) } // asked for again when she opens it

  const tell = () => {
    const done = kw.kept.get(key)?.done ?? []
    const n = items.filter(item => done.includes(item.id)).length
    for (const each of openers) {
      const says = each.querySelector("[data-bench-says]"), does = says?.previousElementSibling
      if (!does) continue
      says.dataset.usual ??= says.textContent
      does.dataset.usual ??= does.textContent
      says.textContent = n ? SAY.ticked(n, items.length) : says.dataset.usual
      does.textContent = n && n < items.length ? SAY.on : does.dataset.usual
    }
  }

  if (items.length) {
    kw.bench = { MARK, kit, items, key, tell, ticked: SAY.ticked }
    for (const each of openers) {
      each.hidden = false
      // Where it can't be had, she is led to the place on the page.
      each.addEventListener("click", () => ready().then(() => kw.bench.start(each), () => { location.hash = each.dataset.benchOpen || items[0].id }))
    }
    tell()
    const follow = () => { if (location.hash.startsWith(MARK) && !kw.bench.start) prepare() }
    addEventListener("hashchange", follow)
    follow()
    for (const sign of SIGNS) addEventListener(sign, prepare, { once: true, passive: true })
  }
}
