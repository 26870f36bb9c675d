// Proposed layouts: choose among them, put them in order, copy the command that picks one. What was chosen stands in the address.
// Without scripts all of them are shown, in the order in which they are proposed.
{
  const SAID = {
    all: n => `${n} layouts`,
    some: (n, of) => (n ? `${n} of ${of} layouts` : "No layout is all of that. Take something back."),
    copied: "Copied. Paste it where you type commands.",
    marked: "The command is marked: copy it with your keyboard.",
  }

  const form = document.querySelector(".kw-choose")
  const list = document.querySelector(".kw-layouts")
  const layouts = [...list.children]
  const said = document.querySelector(".kw-said")

  if (form) {
    const count = document.querySelector(".kw-count")
    const clear = form.querySelector("button")
    const { order } = form.elements
    const choices = [...form.querySelectorAll("select[data-how]")]
    const FITS = {
      is: (has, wanted) => has === wanted,
      most: (has, wanted) => Number(has) <= Number(wanted),
      least: (has, wanted) => Number(has) >= Number(wanted),
    }

    const show = () => {
      const asked = choices.filter(choice => choice.value)
      const fits = layout => asked.every(({ name, value, dataset }) => FITS[dataset.how](layout.dataset[name], value))
      const key = order.value
      const falling = key.startsWith("-")
      const by = layout => Number(layout.dataset[falling ? key.slice(1) : key]) * (falling ? -1 : 1)
      const sorted = key ? [...layouts].sort((a, b) => by(a) - by(b) || layouts.indexOf(a) - layouts.indexOf(b)) : layouts
      for (const layout of layouts) layout.hidden = !fits(layout)
      list.append(...sorted)
      const left = layouts.filter(layout => !layout.hidden).length
      count.textContent = asked.length ? SAID.some(left, layouts.length) : SAID.all(left)
      clear.disabled = !asked.length && !key
    }

    const read = () => {
      const wanted = new URLSearchParams(location.hash.slice(1))
      for (const select of [...choices, order]) {
        const value = wanted.get(select.name) ?? ""
        select.value = [...select.options].some(option => option.value === value) ? value : ""
      }
    }

    const keep = () => {
      const chosen = [...choices, order].filter(select => select.value).map(select => [select.name, select.value])
      history.replaceState(null, "", `#${new URLSearchParams(chosen)}`)
    }

    form.addEventListener("change", () => {
      show()
      keep()
    })
    form.addEventListener("reset", event => {
      event.preventDefault()
      for (const select of [...choices, order]) select.value = ""
      show()
      keep()
      choices.concat(order)[0].focus()
    })
    form.addEventListener("submit", event => event.preventDefault())
    addEventListener("hashchange", () => {
      if (location.hash.includes("=")) {
        read()
        show()
      }
    })
    read()
    show()
    const choosing = form.closest("details")
    // Where there is room for it, and where something was chosen before.
    choosing.open = matchMedia("(min-width: 40em)").matches || !clear.disabled
    choosing.hidden = count.hidden = false
  }

  // One that is looked at closely takes the whole row of a phone, which may be the next one.
  for (const closer of list.querySelectorAll("details")) {
    closer.addEventListener("toggle", () => closer.open && closer.closest("li").scrollIntoView({ block: "nearest" }))
  }
  // What is closed is printed too.
  addEventListener("beforeprint", () => {
    for (const closer of list.querySelectorAll("details")) closer.open = true
  })

  for (const button of document.querySelectorAll("[data-copy]")) {
    const code = document.getElementById(button.dataset.copy)
    button.hidden = false
    button.addEventListener("click", async () => {
      try {
        await navigator.clipboard.writeText(code.textContent)
        said.textContent = SAID.copied
      } catch {
        getSelection().selectAllChildren(code)
        said.textContent = SAID.marked
      }
    })
  }
}
