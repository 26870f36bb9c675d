// Kits that a reader marks to make: a ribbon on each kit's card, a button on its page. The list stays on her device alone.
if (window.kw && window.kw.kept) {
  const SAY = { mark: title => `To make: ${title}`, wide: "To make", print: "Print list", way: many => (many === 1 ? "1 kit to make" : `${many} kits to make`) }
  const PAGE = new URL("../to-make.html", document.currentScript.src)
  const RIBBON = '<svg viewBox="0 0 24 24" width="22" height="22" aria-hidden="true"><path d="M6.5 3.5h11v17L12 16l-5.5 4.5z" stroke="currentColor" stroke-width="1.7" stroke-linejoin="round"/></svg>'
  const { kept } = window.kw

  const marked = () => {
    const list = kept.get("marked")
    return Array.isArray(list) ? list.filter(id => typeof id === "string") : []
  }
  const show = root => {
    const list = new Set(marked())
    for (const button of root.querySelectorAll("[data-mark]")) button.setAttribute("aria-pressed", list.has(button.dataset.mark))
  }
  const set = (id, on) => {
    kept.set("marked", [...marked().filter(one => one !== id), ...(on ? [id] : [])])
    show(document)
    document.dispatchEvent(new CustomEvent("kw-marked"))
  }

  // Once a kit was marked here, the list of all of them is one tap away, and so is that list on paper: at the foot of the screen for the eye, and next for the
  // keyboard, behind the ribbon that was pressed.
  const way = document.createElement("span")
  way.className = "kw-marked"
  way.setAttribute("role", "status")
  const lead = (button, on) => {
    const many = marked().length
    if (!many || !(on || way.isConnected) || location.pathname === PAGE.pathname) return way.remove()
    if (!way.isConnected) button.after(way)
    way.innerHTML = `<a href="${PAGE}">${RIBBON} <span>${SAY.way(many)}</span></a> <a href="${PAGE}#print"><span>${SAY.print}</span></a>`
    if (way.previousElementSibling !== button) button.after(way)
  }

  // Each card that leads to a kit gets its ribbon, beside the link and not in it.
  const dress = root => {
    for (const link of root.querySelectorAll(".kw-card > a[href]")) {
      const id = (link.getAttribute("href").match(/kits\/([^/]+)\/index\.html$/) || [])[1]
      if (!id || link.parentNode.querySelector("[data-mark]")) continue
      const button = document.createElement("button")
      button.type = "button"
      button.className = "kw-mark"
      button.dataset.mark = decodeURIComponent(id)
      button.setAttribute("aria-label", SAY.mark((link.querySelector(".kw-card__title") || link).textContent.trim()))
      button.innerHTML = RIBBON
      link.after(button)
    }
    show(root)
  }

  for (const button of document.querySelectorAll("[data-mark]")) {
    button.innerHTML = `${RIBBON} <span>${SAY.wide}</span>`
  }
  dress(document)
  document.addEventListener("click", event => {
    const button = event.target.closest("[data-mark]")
    if (!button) return
    const on = button.getAttribute("aria-pressed") !== "true"
    set(button.dataset.mark, on)
    lead(button, on)
  })
  // What is marked in another window, and lists that a script fills.
  window.addEventListener("storage", () => { show(document); document.dispatchEvent(new CustomEvent("kw-marked")) })
  window.addEventListener("pageshow", event => { if (event.persisted) show(document) })
  for (const list of document.querySelectorAll(".kw-all__found, .kw-make, .kw-finder")) {
    new MutationObserver(() => dress(list)).observe(list, { childList: true, subtree: true })
  }
  window.kw = { ...window.kw, marked, mark: set }
}
