// The page of the kits that a reader marked: their cards, the sheets to buy for all of them, and paper to print that on.
// What kits there are comes from a script beside it, loaded only where something is marked.
if (window.kw && window.kw.marked) {
  const SAY = {
    kits: many => (many === 1 ? "One kit" : `${many} kits`),
    remove: "Remove",
    removed: title => `Remove ${title}`,
    print: "Print this list",
    buy: "Sheets to buy",
    sums: "A half sheet counts as a whole one, unless two kits share the paper.",
    patterned: "Patterned",
    plain: "Cardstock and other sheets",
    sheets: many => (many === 1 ? "1 sheet" : `${many} sheets`),
    unknown: "What an old printable takes, it says itself.",
    lost: "The list of kits can’t be loaded just now.",
  }
  const page = document.querySelector(".kw-make")
  const none = page.querySelector(".kw-make__none")
  const make = (name, className, text) => {
    const element = document.createElement(name)
    if (className) element.className = className
    if (text) element.textContent = text
    return element
  }

  // What is said in both units stands twice in one place, the reader's own first in sight.
  const two = ([inches, millimetres], unit) => {
    if (inches === millimetres) return make("span", "kw-first", inches)
    const both = make("span", "kw-two kw-two--whole")
    for (const which of unit === "in" ? ["in", "mm"] : ["mm", "in"]) {
      const one = make("span", "", which === "in" ? inches : millimetres)
      one.dataset.kw = which
      both.append(one)
    }
    return both
  }

  // --- sheets, counted in whole numbers -----------------------------------------------------------

  const common = (a, b) => (b ? common(b, a % b) : a)
  const plus = ([a, b], [c, d]) => { const by = common(a * d + c * b, b * d); return [(a * d + c * b) / by, (b * d) / by] }
  const whole = ([above, below]) => Math.ceil(above / below)
  const said = ([above, below]) => {
    const full = Math.floor(above / below), rest = above % below
    return `${full || !rest ? full : ""}${rest ? (2 * rest === below ? "½" : ` ${rest}/${below}`) : ""}`.trim()
  }

  // Papers of one name and size are one; then by size, with what each takes.
  const bought = kits => {
    const papers = new Map()
    for (const kit of kits) {
      for (const [patterned, name, size, above, below] of kit.papers) {
        const key = JSON.stringify([patterned, size, name])
        const one = papers.get(key) || { patterned, name, size, unit: kit.unit, sheets: [0, 1], kits: [] }
        one.sheets = plus(one.sheets, [above, below])
        one.kits.push(kit.title)
        papers.set(key, one)
      }
    }
    const sizes = new Map()
    for (const paper of papers.values()) {
      const key = JSON.stringify([paper.patterned, paper.size])
      const one = sizes.get(key) || { ...paper, papers: [], buy: 0 }
      one.papers.push(paper)
      one.buy += whole(paper.sheets)
      sizes.set(key, one)
    }
    return [...sizes.values()].sort((a, b) => b.patterned - a.patterned || b.buy - a.buy)
  }

  // --- the page -----------------------------------------------------------------------------------

  const card = ({ id, title, when, unit, line, picture }) => {
    const item = make("li", "kw-made"), link = make("a", "kw-made__kit"), words = make("span", "kw-made__words")
    link.href = `kits/${encodeURIComponent(id)}/index.html`
    if (picture.length) {
      const [src, width, height] = picture
      link.append(Object.assign(make("img"), { src, width, height, alt: "", decoding: "async" }))
    } else {
      const blank = make("span", "kw-blank", title.slice(0, 1))
      blank.setAttribute("aria-hidden", "true")
      link.append(blank)
    }
    const facts = make("span", "kw-card__line")
    const [inches, millimetres] = line
    facts.append(...inches.flatMap((part, n) => [n ? " · " : "", two([part, millimetres[n]], unit)]))
    words.append(make("span", "kw-card__title", title), make("span", "kw-card__when", when), facts)
    link.append(words)
    const remove = make("button", "kw-made__remove", SAY.remove)
    remove.type = "button"
    remove.setAttribute("aria-label", SAY.removed(title))
    remove.addEventListener("click", () => {
      const next = item.nextElementSibling || item.previousElementSibling
      after = next ? next.querySelector("a").getAttribute("href") : ""
      window.kw.mark(id, false)
    })
    item.append(link, remove)
    return item
  }

  const sheets = kits => {
    const part = make("section", "kw-buy"), list = make("ul", "kw-buy__list")
    part.append(make("h2", "", SAY.buy))
    for (const { patterned, size, unit, papers, buy } of bought(kits)) {
      const item = make("li"), head = make("p", "kw-buy__head"), each = make("p", "kw-buy__each")
      const name = make("b")
      name.append(`${patterned ? SAY.patterned : SAY.plain}, `, two(size, unit))
      head.append(name, " ", make("span", "kw-buy__many", SAY.sheets(buy)))
      each.textContent = papers.map(paper => `${paper.name} ${said(paper.sheets)}`).join(" · ")
      item.append(head, each)
      list.append(item)
    }
    part.append(list)
    const notes = []
    if (kits.some(kit => kit.papers.some(([, , , , below]) => below > 1))) notes.push(SAY.sums)
    if (kits.some(kit => !kit.papers.length)) notes.push(SAY.unknown)
    if (notes.length) part.append(make("p", "kw-quiet", notes.join(" ")))
    return part
  }

  let all // every kit, by its id
  const loaded = () => new Promise((done, failed) => {
    if (all) return done()
    window.kwMake = rows => {
      all = new Map(rows.map(([id, title, when, unit, line, picture, papers]) => [id, { id, title, when, unit, line, picture, papers }]))
    }
    const script = make("script")
    script.src = page.dataset.kits
    script.addEventListener("load", done)
    script.addEventListener("error", failed)
    document.head.append(script)
  })

  // Where the focus goes once what was removed is gone: to the kit that stands next, or to where kits are found.
  let after = null
  const refocus = () => {
    if (after === null) return
    const to = [...page.querySelectorAll(".kw-made__kit")].find(link => link.getAttribute("href") === after) || none.querySelector("a")
    after = null
    if (to) to.focus()
  }

  let shown
  const show = async () => {
    const ids = window.kw.marked()
    try {
      if (ids.length) await loaded()
    } catch {
      none.textContent = SAY.lost
      none.hidden = false
      return
    }
    const kits = ids.map(id => all.get(id)).filter(Boolean)
    if (shown) shown.remove()
    none.hidden = kits.length > 0
    if (!kits.length) return refocus()
    shown = make("div", "kw-make__all")
    const head = make("div", "kw-make__head"), print = make("button", "kw-make__print", SAY.print), list = make("ul", "kw-make__kits")
    const many = make("p", "kw-make__many", SAY.kits(kits.length))
    many.setAttribute("role", "status")
    print.type = "button"
    print.addEventListener("click", () => window.print())
    head.append(many, print)
    list.append(...kits.map(card))
    shown.append(head, list, ...(kits.some(kit => kit.papers.length) ? [sheets(kits)] : []))
    page.append(shown)
    refocus()
    // Who came to print is asked for it once, not again when she comes back.
    if (location.hash === "#print") {
      history.replaceState(null, "", location.pathname + location.search)
      await Promise.allSettled(Array.from(shown.querySelectorAll("img"), image => image.decode()))
      window.print()
    }
  }
  document.addEventListener("kw-marked", show)
  show()
}
