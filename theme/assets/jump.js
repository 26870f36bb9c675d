// A kit's page: what is folded away, and where on the page one is.
// Closed parts are written open, for readers without scripts; `kit.css` keeps their insides from being painted until here they are closed.
{
  const root = document.documentElement
  const kit = document.querySelector(".kw-kit")
  const closed = [...document.querySelectorAll("details.kw-closed")]
  for (const part of closed) part.open = false
  root.classList.add("kw-shut")

  // Whatever an address names is to be seen, wherever it lies.
  const unfold = place => {
    for (let part = place?.closest("details"); part; part = part.parentElement.closest("details")) part.open = true
  }
  const named = () => {
    try {
      return document.getElementById(decodeURIComponent(location.hash.slice(1)))
    } catch {
      return null // an address that nobody here wrote
    }
  }
  const arrive = () => {
    const place = named()
    if (!place?.closest("details.kw-closed:not([open])")) return
    unfold(place)
    place.scrollIntoView()
  }
  addEventListener("hashchange", arrive)
  document.addEventListener("click", event => {
    // The same address a second time changes nothing that a browser would tell of.
    if (event.target.closest('a[href^="#"]')) setTimeout(arrive)
  })
  arrive()

  // On paper what lies closed stays so, but for what is to be bought.
  let before = []
  addEventListener("beforeprint", () => {
    before = closed.filter(part => !part.open && part.closest("#need"))
    for (const part of before) part.open = true
  })
  addEventListener("afterprint", () => {
    for (const part of before) part.open = false
  })

  // The row of parts tells which one is on the screen, and shows what is in it.
  const jump = kit?.querySelector(".kw-jump")
  if (jump) {
    const wide = matchMedia("(min-width: 76.25em)")
    const links = [...jump.querySelectorAll("a[href^='#']")].map(link => ({
      link,
      item: link.parentElement,
      row: link.closest("ol"),
      inner: link.closest("ol ol") !== null,
      place: document.getElementById(link.hash.slice(1)),
    }))
    const outer = links.filter(each => !each.inner && each.place)
    const show = (each, here) => {
      each.item.classList.toggle("kw-here", here)
      if (here) each.link.setAttribute("aria-current", "true")
      else each.link.removeAttribute("aria-current")
    }
    // A row that is longer than the screen follows along; only itself, never the page.
    const follow = each => {
      const { row, item } = each
      if (wide.matches || row.scrollWidth <= row.clientWidth) return
      row.scrollTo({ left: item.offsetLeft - (row.clientWidth - item.offsetWidth) / 2 })
    }
    let now = []
    const look = () => {
      const line = (wide.matches ? 0 : jump.offsetHeight) + innerHeight / 5
      const passed = each => each.place.getBoundingClientRect().top <= line
      const part = outer.filter(passed).at(-1)
      const within = part && links.filter(each => each.inner && each.place && part.item.contains(each.item))
      const found = [part, within?.filter(passed).at(-1)].filter(Boolean)
      if (found.length === now.length && found.every((each, i) => each === now[i])) return
      for (const each of now) show(each, false)
      for (const each of found) show(each, true)
      now = found
      if (found[1]) follow(found[1])
    }
    let due = false
    const later = () => {
      if (due) return
      due = true
      requestAnimationFrame(() => {
        due = false
        look()
      })
    }
    addEventListener("scroll", later, { passive: true })
    addEventListener("resize", later)
    for (const part of closed) part.addEventListener("toggle", later)
    later()
  }
}
