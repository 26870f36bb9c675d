// The head of every page: its menu, and what opens the search.
//
// The menu opens and closes by itself, as a list that is folded in; what is added here:
// Escape closes it and gives the focus back, and so it closes when the focus goes on to the page that lies under it.
{
  const menu = document.querySelector(".kw-menu")
  const close = back => {
    if (!menu || !menu.open) return
    menu.open = false
    if (back) menu.querySelector("summary").focus()
  }
  if (menu) {
    document.addEventListener("keydown", event => {
      if (event.key !== "Escape" || !menu.open || event.defaultPrevented) return
      event.preventDefault()
      close(true)
    })
    document.addEventListener("pointerdown", event => { if (!menu.contains(event.target)) close() })
    document.addEventListener("focusin", event => { if (!menu.contains(event.target)) close() })
    // A place of this very page lies under the menu; and a page that the browser kept comes back as it was left.
    menu.addEventListener("click", event => { if (event.target.closest("a")) close() })
    window.addEventListener("pageshow", event => { if (event.persisted) close() })
  }

  // --- what opens the search: a link to all kits, which here becomes a button. A frame of somebody's own may have none.

  const OPEN = "Find a kit"
  const HOME = new URL("../", document.currentScript.src)
  const bar = document.querySelector(".md-header__inner")
  if (bar && !bar.querySelector("[data-search-opens]")) {
    const way = document.createElement("a")
    way.dataset.searchOpens = ""
    way.className = "kw-seek"
    way.href = new URL("archive.html", HOME)
    way.append(Object.assign(document.createElement("span"), { textContent: OPEN }))
    bar.append(way)
  }

  const find = () => {
    close()
    if (window.kw && window.kw.find) window.kw.find()
    else kw.load(new URL("look/search.js", HOME)).then(() => window.kw.find(), () => { location.href = new URL("archive.html", HOME) })
  }

  for (const way of document.querySelectorAll("[data-search-opens]")) {
    way.setAttribute("role", "button")
    way.setAttribute("aria-haspopup", "dialog")
    way.addEventListener("click", event => { event.preventDefault(); find() })
    way.addEventListener("keydown", event => { if (event.key === " ") { event.preventDefault(); find() } })
  }
  document.addEventListener("keydown", event => {
    if (event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return
    if (event.target.closest("input, textarea, select, [contenteditable]") || document.querySelector("dialog[open]")) return
    event.preventDefault()
    find()
  })
}
