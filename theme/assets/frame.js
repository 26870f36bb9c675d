// What pages use of Material's script, which is ten times as large: the button for light and dark, and the mark in the
// list of contents for where the reader is.

// --- light and dark: a radio button each, and a label for the one that is not chosen ---------------------
{
  const choices = [...document.querySelectorAll("[data-md-component=palette] input")]
  const label = choice => choice.nextElementSibling?.matches("label") ? choice.nextElementSibling : null
  const colours = choice => Object.fromEntries(["media", "scheme", "primary", "accent"].map(key => [key, choice.getAttribute(`data-md-color-${key}`)]))
  const show = chosen => {
    for (const choice of choices) if (label(choice)) label(choice).hidden = choice !== chosen
  }
  const choose = chosen => {
    for (const [key, value] of Object.entries(colours(chosen))) document.body.setAttribute(`data-md-color-${key}`, value)
    show(chosen)
    const next = label(chosen)
    if (next && document.activeElement === chosen) document.getElementById(next.htmlFor)?.focus()
  }
  if (choices.length) {
    const kept = __md_get("__palette")
    const now = choices[kept?.index] ?? choices.find(choice => choice.getAttribute("data-md-color-scheme") === document.body.getAttribute("data-md-color-scheme")) ?? choices[0]
    now.checked = true
    show(now)
    for (const choice of choices) {
      choice.addEventListener("change", () => {
        choose(choice)
        __md_set("__palette", { index: choices.indexOf(choice), color: colours(choice) })
      })
    }
  }
}

// --- where the reader is, in the list of contents beside a long page -------------------------------------
{
  const places = [...document.querySelectorAll("[data-md-component=toc] a[href^='#']")]
    .map(link => ({ link, place: document.getElementById(decodeURIComponent(link.hash.slice(1))) }))
    .filter(({ place }) => place)
  const list = places[0]?.link.closest(".md-sidebar__scrollwrap")
  let now
  const mark = () => {
    const top = document.querySelector(".md-header")?.getBoundingClientRect().bottom ?? 0
    const passed = places.filter(({ place }) => place.getBoundingClientRect().top <= Math.max(top, 0) + 40)
    const last = passed.at(-1)
    if (last === now) return
    now = last
    for (const one of places) {
      one.link.classList.toggle("md-nav__link--passed", passed.includes(one) && one !== last)
      one.link.classList.toggle("md-nav__link--active", one === last)
    }
    // The list itself follows; never the page.
    if (list && last && list.scrollHeight > list.clientHeight) list.scrollTop = last.link.offsetTop - list.clientHeight / 2
  }
  if (list && places.length > 1) {
    let due = false
    addEventListener("scroll", () => {
      if (due || !list.offsetParent) return
      due = true
      requestAnimationFrame(() => { due = false; mark() })
    }, { passive: true })
    if (list.offsetParent) mark()
  }
}
