// The menu in the head of every page. It opens and closes by itself, as a list that is folded in; what is added here:
// Escape closes it and gives the focus back, and so it closes when the focus goes on to the page that lies under it.
{
  const menu = document.querySelector(".kw-menu")
  const close = back => {
    if (!menu.open) return
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
}
