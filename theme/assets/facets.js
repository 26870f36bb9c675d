// All kits by their facts: choose, sort, look at them as a wall or a table; what was chosen stands in the address.
// The facets with their first counts and the newest kits stand in the page; all else comes with find/facts.js (archive/facets.py),
// a script that calls kwFacts, once somebody chooses. Without scripts all kits stand by year.
{
  const SAID = {
    all: (n) => `${n} kits, the newest first`,
    found: (n, of) => `${n} of ${of} ${of === 1 ? "kit" : "kits"}`,
    none: "No kit is all of that. Take something away.",
    nobody: "No kit is that too.",
    show: n => (n ? `Show ${n} ${n === 1 ? "kit" : "kits"}` : "No kit is all of that"),
    chosen: n => `${n} chosen`,
    take: "Take away",
    clear: "Clear all",
    close: "Close",
    title: "Choose by facts",
    more: n => `Show ${n} more`,
    heads: ["Kit", "Cards", "Card", "Sheets", "Cuts", "Month"],
    from: "from",
    of: "of",
    corrected: "corrected",
    upcoming: "upcoming",
  }
  const AT_ONCE = 48 // kits shown before "Show more"
  const CODE = 0x100 // a value in the data is one character, from here on
  const SORTS = ["newest", "oldest", "sheets", "cards", "cuts", "left"]
  const VIEWS = ["wall", "table"]

  const page = document.querySelector("[data-facets]")
  const form = page.querySelector(".kw-facets")
  const find = selector => page.querySelector(selector)
  const made = (tag, className = "", text = "") => Object.assign(document.createElement(tag), { className, textContent: text })

  if (form) {
    const facets = [...form.querySelectorAll(".kw-facet")].map(element => ({ element, key: element.dataset.facet }))
    const values = [...form.querySelectorAll(".kw-value")].map((button, index) => ({
      button,
      index,
      key: button.dataset.value,
      facet: facets.findIndex(facet => facet.element.contains(button)),
      count: button.querySelector(".kw-value__count"),
    }))
    const [side, choose, sort] = [find(".kw-all__side"), find(".kw-all__choose"), find("select")]
    const [taken, count, found, years] = [find(".kw-taken"), find(".kw-all__count"), find(".kw-all__found"), find(".kw-all__years")]
    const views = [...page.querySelectorAll("[data-view]")]
    const many = form.querySelectorAll(".kw-value").length

    let state = { chosen: new Set(), sort: "newest", view: "wall" }
    let shown = AT_ONCE
    let kits = null
    let tags = {}

    // --- the data, once somebody chooses --------------------------------------------------------------------

    let loading = null
    const load = () =>
      (loading ??= new Promise((resolve, reject) => {
        window.kwFacts = data => {
          tags = data.tags
          kits = data.kits.map(([id, title, when, past, picture, line, card, sheet, cards, sheets, cuts, [corrected, upcoming], ranks, has], n) => ({
            id, title, when, past, picture, line, card, sheet, cards, sheets, cuts, corrected, upcoming, ranks, n,
            has: Array.from(has, one => one.codePointAt(0) - CODE),
          }))
          resolve()
        }
        const script = made("script")
        script.src = page.dataset.facets
        script.onerror = () => {
          loading = null
          reject(new Error(script.src))
        }
        document.head.append(script)
      }))
    for (const event of ["pointerover", "focusin", "touchstart"]) page.addEventListener(event, () => load().catch(() => {}), { once: true, passive: true })

    // --- the address ------------------------------------------------------------------------------------------

    const read = () => {
      const next = { chosen: new Set(), sort: "newest", view: "wall" }
      for (const part of location.hash.slice(1).split("&")) {
        const [name, text = ""] = part.split("=")
        let keys
        try {
          keys = text.split(",").map(decodeURIComponent)
        } catch {
          continue
        }
        if (name === "sort" && SORTS.includes(text)) next.sort = text
        else if (name === "view" && VIEWS.includes(text)) next.view = text
        else
          for (const key of keys) {
            const [facet, value] = name === "tag" ? (Object.hasOwn(tags, key) ? tags[key] : []) : [name, key]
            const named = (facet, value) => values.find(one => facets[one.facet].key === facet && one.key === value)
            // What stood under "Other tags" in an address of before may be said by a value by now.
            const at = named(facet, value) ?? (Object.hasOwn(tags, key) ? named(...tags[key]) : null)
            if (at) next.chosen.add(at.index)
          }
      }
      return next
    }

    const address = () => {
      const parts = facets.flatMap((facet, n) => {
        const keys = values.filter(one => one.facet === n && state.chosen.has(one.index)).map(one => encodeURIComponent(one.key))
        return keys.length ? [`${facet.key}=${keys.join(",")}`] : []
      })
      if (state.sort !== "newest") parts.push(`sort=${state.sort}`)
      if (state.view !== "wall") parts.push(`view=${state.view}`)
      return parts.join("&")
    }

    const keep = () => {
      const text = address()
      const here = location.href.split("#")[0]
      if (text !== location.hash.slice(1)) history.replaceState(history.state, "", text ? `${here}#${text}` : here)
    }

    // --- which kits, and how many there would be ----------------------------------------------------------------

    const sift = () => {
      const wanted = facets.map(() => null)
      for (const index of state.chosen) (wanted[values[index].facet] ??= new Set()).add(index)
      const counts = new Array(many).fill(0)
      const asked = wanted.flatMap((set, n) => (set ? [n] : []))
      const kept = kits.filter(kit => {
        // Beside each value stands how many kits there would be with it, all other facets as they are.
        let missed = -1
        for (const facet of asked) {
          if (!kit.has.some(index => wanted[facet].has(index))) {
            if (missed >= 0) return false
            missed = facet
          }
        }
        for (const index of kit.has) if (missed < 0 || values[index].facet === missed) counts[index] += 1
        return missed < 0
      })
      return { kept, counts }
    }

    const ordered = kept => {
      if (state.sort === "newest") return kept
      const by = SORTS.indexOf(state.sort) - 2
      return by < 0 ? kept.reverse() : kept.sort((a, b) => a.ranks[by] - b.ranks[by] || a.n - b.n)
    }

    // --- words and cards ------------------------------------------------------------------------------------------

    const other = unit => (unit === "in" ? "mm" : "in")

    // What is said in both units stands twice in one place, as the macro `two` of parts.html has it.
    const unit = page.dataset.unit
    const told = said => {
      if (typeof said === "string") return made("span", "kw-first", said)
      const [inches, millimetres] = said
      const both = made("span", "kw-two")
      for (const [n, which] of [unit, other(unit)].entries()) {
        const one = made("span", n ? "kw-second" : "kw-first", which === "in" ? inches : millimetres)
        one.dataset.kw = which
        both.append(one)
      }
      return both
    }

    const href = kit => `kits/${kit.id}/index.html`
    const standing = new Map([...page.querySelectorAll(".kw-all__years [data-id]")].map(card => [card.dataset.id, card]))

    const card = kit => {
      if (standing.has(kit.id)) return standing.get(kit.id).cloneNode(true)
      const [item, link] = [made("li", `kw-card${kit.past ? ` kw-card--${kit.past}` : ""}`), made("a")]
      link.href = href(kit)
      if (kit.picture.length) {
        const [src, width, height] = kit.picture
        link.append(Object.assign(made("img"), { loading: "lazy", decoding: "async", src, width, height, alt: "" }))
      } else {
        const blank = made("span", "kw-blank", kit.title.slice(0, 1))
        blank.ariaHidden = "true"
        link.append(blank)
      }
      const line = (...parts) => {
        const made_ = made("span", "kw-card__line")
        made_.append(...parts)
        link.append(made_)
        return made_
      }
      link.append(made("span", "kw-card__when", kit.when + (kit.upcoming ? ` · ${SAID.upcoming}` : "")), made("span", "kw-card__title", kit.title))
      line(kit.line)
      if (kit.card.length) line(told(kit.card))
      if (kit.sheet.length) line(`${SAID.from} `, told(kit.sheet))
      if (kit.corrected) line(SAID.corrected).classList.add("kw-card__line--corrected")
      item.append(link)
      return item
    }

    const wall = list => {
      const made_ = made("ul", "kw-grid")
      made_.append(...list.map(card))
      return made_
    }

    const table = list => {
      const [whole, head, body] = [made("table", "kw-rows"), made("thead"), made("tbody")]
      const heads = made("tr")
      for (const text of SAID.heads) {
        const cell = made("th", "", text)
        cell.scope = "col"
        heads.append(cell)
      }
      head.append(heads)
      for (const kit of list) {
        const [row, name] = [made("tr"), made("th")]
        name.scope = "row"
        name.append(Object.assign(made("a", "", kit.title), { href: href(kit) }))
        row.append(name)
        const number = n => (n === null ? "" : String(n))
        for (const said of [number(kit.cards), kit.card, kit.sheet, number(kit.cuts), kit.when]) {
          const cell = made("td")
          if (said.length) cell.append(...(said === kit.sheet ? [`${kit.sheets} ${SAID.of} `] : []), told(said))
          row.append(cell)
        }
        body.append(row)
      }
      whole.append(head, body)
      return whole
    }

    // --- shown ------------------------------------------------------------------------------------------------------

    const label = ({ button, facet }) => {
      const said = made("span")
      said.append(`${facets[facet].element.querySelector(".kw-facet__title").textContent}: `, ...button.querySelector(".kw-value__label").cloneNode(true).childNodes)
      return said
    }

    const chips = () => {
      const list = values.filter(one => state.chosen.has(one.index))
      taken.replaceChildren(
        ...list.map(one => {
          const [item, button, cross] = [made("li"), made("button", "kw-taken__chip"), made("span", "", "×")]
          button.type = "button"
          cross.ariaHidden = "true"
          button.append(made("span", "kw-hidden", `${SAID.take} `), label(one), " ", cross)
          button.addEventListener("click", () => toggle(one, true))
          item.append(button)
          return item
        }),
      )
      if (list.length > 1) {
        const [item, button] = [made("li"), made("button", "kw-taken__clear", SAID.clear)]
        button.type = "button"
        button.addEventListener("click", () => {
          state.chosen.clear()
          again(goOn)
        })
        item.append(button)
        taken.append(item)
      }
      taken.hidden = !list.length
      choose.querySelector("b").textContent = list.length ? `(${list.length})` : ""
    }

    const show = () => {
      const { kept, counts } = sift()
      for (const { button, index, count: said } of values) {
        const pressed = state.chosen.has(index)
        button.setAttribute("aria-pressed", String(pressed))
        said.textContent = counts[index]
        if (counts[index] || pressed) button.removeAttribute("aria-disabled")
        else button.setAttribute("aria-disabled", "true")
      }
      for (const [n, { element }] of facets.entries()) {
        const chosen = values.filter(one => one.facet === n && state.chosen.has(one.index)).length
        element.querySelector(".kw-facet__chosen").textContent = chosen ? SAID.chosen(chosen) : ""
        if (chosen && opening) element.open = true
      }
      opening = false
      sort.value = state.sort
      for (const view of views) view.setAttribute("aria-pressed", String(view.dataset.view === state.view))
      chips()
      const usual = !state.chosen.size && state.sort === "newest" && state.view === "wall"
      years.hidden = !usual
      found.hidden = usual
      count.textContent = usual ? SAID.all(kits.length) : kept.length ? SAID.found(kept.length, kits.length) : SAID.none
      go.textContent = SAID.show(kept.length)
      found.replaceChildren()
      if (usual || !kept.length) return
      const list = ordered(kept)
      found.append(state.view === "wall" ? wall(list.slice(0, shown)) : table(list.slice(0, shown)))
      if (list.length > shown) {
        const more = made("button", "kw-all__more", SAID.more(Math.min(AT_ONCE, list.length - shown)))
        more.type = "button"
        more.addEventListener("click", () => {
          const first = shown
          shown += AT_ONCE
          show()
          found.querySelectorAll("li > a, th > a")[first]?.focus()
        })
        found.append(more)
      }
    }

    let opening = true
    const again = (then = () => {}) => {
      shown = AT_ONCE
      load().then(() => {
        keep()
        show()
        then()
      }, () => {})
    }
    // Where the hand goes on once what it pressed is gone.
    const goOn = () => (taken.querySelector("button") ?? (choose.checkVisibility() ? choose : sort)).focus()

    const toggle = (one, fromChip = false) => {
      if (state.chosen.has(one.index)) state.chosen.delete(one.index)
      else if (one.button.getAttribute("aria-disabled") === "true") {
        count.textContent = SAID.nobody
        return
      } else state.chosen.add(one.index)
      again(fromChip ? goOn : undefined)
    }

    // --- what hands do ----------------------------------------------------------------------------------------------

    for (const one of values) one.button.addEventListener("click", () => toggle(one))
    form.addEventListener("submit", event => event.preventDefault())
    sort.addEventListener("change", () => {
      state.sort = sort.value
      again()
    })
    for (const view of views)
      view.addEventListener("click", () => {
        state.view = view.dataset.view
        again()
      })

    // On a phone the same form fills the screen.
    const dialog = made("dialog", "kw-chooser")
    const [bar, title, close, foot, go] = [
      made("div", "kw-chooser__bar"),
      made("h2", "kw-chooser__title", SAID.title),
      made("button", "kw-chooser__close"),
      made("div", "kw-chooser__foot"),
      made("button", "kw-chooser__go", SAID.show(Number(count.textContent.match(/\d+/)))),
    ]
    const cross = made("span", "", "×")
    cross.ariaHidden = "true"
    title.id = "kw-chooser"
    dialog.setAttribute("aria-labelledby", title.id)
    for (const button of [close, go]) {
      button.type = "button"
      button.addEventListener("click", () => dialog.close())
    }
    close.append(made("span", "kw-hidden", SAID.close), cross)
    bar.append(title, close)
    foot.append(go)
    dialog.append(bar, foot)
    page.append(dialog)
    choose.addEventListener("click", () => {
      bar.after(form)
      dialog.showModal()
    })
    dialog.addEventListener("close", () => side.append(form))
    matchMedia("(min-width: 60em)").addEventListener("change", wide => wide.matches && dialog.open && dialog.close())

    const arrive = () => {
      if (!location.hash.includes("=")) {
        // A year, or nothing: all kits, as they stand.
        if (!kits || !(state.chosen.size || state.sort !== "newest" || state.view !== "wall")) return
        state = read()
        show()
        document.getElementById(location.hash.slice(1))?.scrollIntoView()
        return
      }
      opening = true
      page.classList.add("kw-all--waits")
      load().then(() => {
        state = read()
        shown = AT_ONCE
        keep()
        show()
      }, () => {}).finally(() => page.classList.remove("kw-all--waits"))
    }
    addEventListener("hashchange", arrive)
    // On a small screen only what is open by choice is open.
    if (location.hash.includes("=")) arrive()
  }
}
