// Her numbers: how many cards, and from which sheets. What the page says of its batch follows, picked from the exact tables
// that the build wrote (yields.js, batch.js beside the page), which are loaded at the first use; nothing is reckoned here.
{
  const listed = words => (words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`)
  const SAY = {
    cards: n => (n === 1 ? "1 card" : `${n} cards`),
    sheets: halves => (halves === 1 ? "half a sheet" : `${halves >> 1}${halves & 1 ? "½" : ""} ${halves === 2 ? "sheet" : "sheets"}`),
    yours: (cards, from) => `For ${[cards, ...from].join(", ")}: what is below follows.`,
    patterned: (sheet, up) => [sheet && `patterned paper ${sheet}`, up && (sheet ? "one-way" : "one-way paper")].filter(Boolean).join(" "),
    cardstock: sheet => `cardstock ${sheet}`,
    typed: most => `A whole number from 1 to ${most}, please.`,
    more: most => `The tables go up to ${most} cards.`,
    lost: "The tables can’t be loaded just now.",
    none: "does not fit",
    small: (names, pieces, sheet) => `${names}: ${listed(pieces)} ${pieces.length > 1 ? "are" : "is"} too large for ${sheet}.`,
    shown: pieces => `${listed(pieces)} ${pieces.length > 1 ? "lie" : "lies"} turned on the card, so the paper can’t be one-way.`,
    steps: (own, yours) => `Told for ${own}; yours are ${yours}.`,
    copied: "The list is copied.",
    done: "Copied",
    copy: "Copy it by hand:",
    title: (title, cards) => `${title}, ${cards}`,
  }
  const MOST = 60

  const form = document.querySelector("[data-numbers]")
  const kit = document.querySelector(".kw-kit")
  const own = form && Number(form.dataset.cards)
  const key = kit && `cards:${kit.dataset.kit}`
  const store = window.kw?.kept ?? { get: () => null, set: () => {}, drop: () => {} }
  const PLANNED = { cards: own, patterned: "", cardstock: "", up: false }
  let now = { ...PLANNED }
  const all = (query, inside = kit) => [...inside.querySelectorAll(query)]
  const planned = () => Object.keys(PLANNED).every(name => now[name] === PLANNED[name])

  // --- the tables: two scripts beside the page, so that they load from a folder too --------------------

  let yields = null, batch = null
  window.kwYields = found => { yields = found }
  window.kwBatch = found => { batch = found }
  const load = () => Promise.all([kw.load("yields.js"), kw.load("batch.js")])

  // --- what they say --------------------------------------------------------------------------------------

  const slug = name => name.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "")
  const groupOf = paper => yields.groups.find(group => group.keys.includes(paper))

  // How a paper is cut for her: its sheet, and whether that is the kit's own way. A table names the most cards from one
  // half sheet, from two, from three …, a character a step.
  const way = group => {
    const wanted = group.way !== "none" ? now.patterned : group.kind === "cardstock" ? now.cardstock : ""
    const sheet = (wanted && group.sheets.find(each => slug(each.name) === wanted)) || group.sheets[0]
    const up = now.up && (group.way === "asked" || group.way === "never")
    const table = up ? sheet.upright : sheet.drawn
    return {
      sheet,
      up,
      table,
      lacks: (up ? sheet.lacksUpright : sheet.lacks) ?? [],
      drawn: Boolean(sheet.own) && (!up || sheet.upright === sheet.drawn),
      halves: table ? [...table].findIndex(step => yields.digits.indexOf(step) >= now.cards) + 1 : 0,
    }
  }

  const picked = (runs, cards) => runs.find(([last]) => cards <= last)[1]

  // --- the page, as it stood and as it follows ---------------------------------------------------------------

  const before = new Map()
  const put = (node, text) => {
    if (!before.has(node)) before.set(node, [...node.childNodes])
    node.replaceChildren(...(text === null ? before.get(node) : [text]))
  }

  // Hers over the kit's own, which keeps its room.
  const swap = (node, text) => {
    let hers = node.querySelector(".kw-swap__hers")
    if (!hers && text !== null) {
      hers = document.createElement("span")
      hers.className = "kw-swap__hers"
      node.append(hers)
    }
    node.classList.toggle("is-hers", text !== null)
    if (hers) hers.textContent = text ?? ""
  }

  const papers = () => {
    const wrong = new Set()
    for (const row of all("[data-paper]")) {
      const group = groupOf(row.dataset.paper), found = way(group)
      const as = now.cards === own && found.drawn
      put(row.querySelector("[data-sheets]"), as ? null : found.table ? SAY.sheets(found.halves) : SAY.none)
      swap(row.querySelector("[data-sheet]"), found.sheet.own ? null : found.sheet.name)
      row.querySelector("[data-spare]")?.classList.toggle("kw-numbers__gone", !as)
      row.classList.toggle("kw-numbers__no", !found.table)
      if (!found.table) wrong.add(found.up && group.turned ? SAY.shown(group.turned) : SAY.small(listed(group.papers), found.lacks, found.sheet.name))
    }
    return [...wrong]
  }

  // Of a line that is said in both units each is put where it stands.
  const say = (node, hook) => {
    const both = all("[data-kw]", node)
    for (const each of both.length ? both : [node]) {
      const runs = (each.dataset.kw !== undefined && each.dataset.kw !== kit.dataset.unit && batch.beside[hook]) || batch.said[hook]
      put(each, now.cards === own ? null : picked(runs, now.cards))
    }
  }

  const lines = () => {
    for (const node of all("[data-n]")) {
      const guide = /^guide-(\d+)$/.exec(node.dataset.n)
      if (guide) guided(node, Number(guide[1]) - 1)
      else if (batch.said[node.dataset.n]) say(node, node.dataset.n)
    }
    for (const node of all("[data-n-steps]")) put(node, now.cards === own ? null : SAY.steps(SAY.cards(own), now.cards))
    for (const node of all("[data-n-own]")) node.classList.toggle("kw-numbers__own", !planned())
  }

  // What is cut by a guide, or why it is not cut so.
  const guided = (node, i) => {
    const ways = batch.guides[i].map(paper => way(groupOf(paper))), other = ways.find(each => !each.drawn)
    if (other) put(node, other.sheet.own ? batch.upright : batch.elsewhere.replace("{}", other.sheet.name))
    else put(node, now.cards === own ? null : picked(batch.said[node.dataset.n], now.cards))
    // Where it is not cut so, the page of other paper tells more; what opens a closed sheet holds no link.
    if ((other || now.cards !== own && !picked(batch.so[i], now.cards)) && !node.closest("summary")) {
      node.append(" ", Object.assign(document.createElement("a"), { href: "your-paper.html", textContent: batch.link }))
    }
    onBench(node.closest(".kw-sheet"), !other && now.cards !== own && picked(batch.so[i], now.cards) ? ways : null)
  }

  // How many sheets of each paper are ticked at the bench.
  const onBench = (section, ways) => {
    if (!section?.dataset.sheets) return
    section.dataset.planned ??= section.dataset.sheets
    section.dataset.sheets = ways ? JSON.stringify(ways.map(each => (each.halves + 1) >> 1)) : section.dataset.planned
  }

  const field = name => form?.elements[name]
  const label = name => { const chosen = field(name)?.selectedOptions?.[0]; return chosen?.value ? chosen.textContent.trim() : "" }

  const show = async () => {
    const told = form.querySelector("[role=status]")
    form.classList.toggle("is-changed", !planned())
    if (!planned() || before.size) {
      try {
        await load()
      } catch {
        now = { ...PLANNED }
        fill()
        form.classList.remove("is-changed")
        put(told, SAY.lost)
        return
      }
      const wrong = papers()
      lines()
      const from = [SAY.patterned(label("patterned"), now.up), label("cardstock") && SAY.cardstock(label("cardstock"))].filter(Boolean)
      put(told, planned() ? null : [SAY.yours(SAY.cards(now.cards), from), ...wrong].join(" "))
    }
    form.dataset.told = JSON.stringify(now)
  }

  // --- what she types ----------------------------------------------------------------------------------------

  const fill = () => {
    field("cards").value = now.cards
    for (const name of ["patterned", "cardstock"]) if (field(name)) field(name).value = now[name]
    if (field("up")) field("up").checked = now.up
  }

  const keep = () => {
    if (planned()) store.drop(key)
    else store.set(key, now)
    const url = new URL(location)
    for (const [name, value] of Object.entries(now)) {
      if (value === PLANNED[name]) url.searchParams.delete(name)
      else url.searchParams.set(name, value === true ? "1" : value)
    }
    try {
      history.replaceState(history.state, "", url)
    } catch {
      // A folder on disk: its address stays as it is.
    }
  }

  const change = next => {
    now = { ...now, ...next }
    keep()
    fill()
    show()
  }

  const typed = () => {
    const text = field("cards").value.trim(), cards = Number(text)
    const told = form.querySelector("[role=status]")
    if (/^[0-9]+$/.test(text) && cards >= 1 && cards <= MOST) {
      now = { ...now, cards }
      keep()
      show()
    } else put(told, cards > MOST ? SAY.more(MOST) : SAY.typed(MOST))
  }

  // Only what can be chosen here: an address or a browser's memory may say anything.
  const sound = said => {
    const found = { ...PLANNED }
    const cards = Number(said?.cards)
    if (Number.isInteger(cards) && cards >= 1 && cards <= MOST) found.cards = cards
    for (const name of ["patterned", "cardstock"]) {
      if ([...(field(name)?.options ?? [])].some(option => option.value === said?.[name])) found[name] = said[name]
    }
    if (field("up")) found.up = said?.up === true || said?.up === "1"
    return found
  }

  // --- the buying list -----------------------------------------------------------------------------------------

  const plain = node => {
    const made = node.cloneNode(true), unit = window.kw?.unit?.() ?? kit.dataset.unit
    for (const each of made.querySelectorAll("[data-kw]")) if (each.dataset.kw !== unit) each.remove()
    for (const each of made.querySelectorAll(".kw-hidden, [aria-hidden=true], .kw-numbers__gone, .is-hers > :first-child, .kw-name ~ * .kw-second")) each.remove()
    for (const each of made.querySelectorAll(".kw-name")) each.append(":")
    return made.textContent.replace(/\s+/g, " ").trim()
  }

  const list = () => [
    SAY.title(document.querySelector("h1").textContent.trim(), SAY.cards(now.cards)),
    "",
    ...all("[data-paper]").map(row => `${plain(row.querySelector("[data-name]"))}, ${plain(row.querySelector("[data-sheet]"))}: ${plain(row.querySelector("[data-sheets]"))}`),
    ...all("[data-buy]").map(plain),
  ].join("\n")

  // Said where the finger is as well, for a moment: the line below may lie under the edge of a phone.
  const told = button => {
    const words = button.dataset.words ??= button.textContent
    button.style.minWidth = `${button.getBoundingClientRect().width}px`
    button.textContent = SAY.done
    clearTimeout(told.until)
    told.until = setTimeout(() => { button.textContent = words }, 4000)
  }

  const copy = async () => {
    const said = form.querySelector(".kw-numbers__copied"), text = list()
    try {
      await navigator.clipboard.writeText(text)
      said.replaceChildren(SAY.copied)
      told(form.querySelector("[data-copy]"))
    } catch {
      const box = document.createElement("textarea")
      Object.assign(box, { readOnly: true, value: text, rows: text.split("\n").length })
      box.setAttribute("aria-label", SAY.copy)
      said.replaceChildren(SAY.copy, box)
      box.focus()
      box.select()
    }
  }

  if (form && kit) {
    form.addEventListener("submit", event => event.preventDefault())
    form.addEventListener("pointerenter", () => load().catch(() => {}), { once: true })
    form.addEventListener("focusin", () => load().catch(() => {}), { once: true })
    field("cards").addEventListener("input", typed)
    field("cards").addEventListener("blur", fill)
    for (const each of all("[data-by]", form)) {
      each.addEventListener("click", () => change({ cards: Math.min(MOST, Math.max(1, now.cards + Number(each.dataset.by))) }))
    }
    for (const name of ["patterned", "cardstock"]) field(name)?.addEventListener("change", () => change({ [name]: field(name).value }))
    field("up")?.addEventListener("change", () => change({ up: field("up").checked }))
    form.querySelector("[data-as-planned]").addEventListener("click", () => {
      change({ ...PLANNED })
      field("cards").focus()
    })
    form.querySelector("[data-copy]").addEventListener("click", copy)
    const share = form.querySelector("[data-share]")
    share.hidden = !(navigator.share && matchMedia("(pointer: coarse)").matches)
    share.addEventListener("click", () => navigator.share({ title: document.title, text: list() }).catch(() => {}))

    const asked = new URL(location).searchParams
    const said = Object.keys(PLANNED).some(name => asked.has(name)) ? Object.fromEntries(asked) : store.get(key)
    now = sound(said)
    fill()
    if (!planned()) {
      keep()
      show()
    }
  }
}
