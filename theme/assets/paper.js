// From your paper: which kits the sheets at hand make, how many cards, what is left and what is missing.
// The tables of all kits (find/tables.js, whose form archive/finder.py describes) are the planner's own, so that this page
// and each kit's agree. Lengths are whole nanometres, sheets are counted in halves: nothing is rounded.
{
  const SAID = {
    cards: n => n === 1 ? "1 card" : `${n} cards`,
    sheets: halves => halves === 1 ? "½ sheet" : halves === 2 ? "1 sheet" : `${halves > 1 ? halves >> 1 : ""}${halves % 2 ? "½" : ""} sheets`,
    all: (n, of, cards, filtered, alone, slides) => `${n === of && of > 1 ? `All ${of} kits make` : `${n} of ${of} kits ${n === 1 ? "makes" : "make"}`} ${cards} from this${filtered ? ` and ${n === 1 ? "fits" : "fit"} your ${filtered}` : ""}${slides ? `, ${slides === n ? n === 1 ? "but lies loose" : "but all lie loose" : `${slides} of them loosely`}${filtered ? "" : " in your envelope"}` : ""}${alone ? "" : "; the nearest first"}.`,
    some: (cards, filtered) => `No kit ${filtered ? `that fits your ${filtered} ` : ""}makes ${cards} from this alone. The nearest first:`,
    none: "No kit makes a whole card from this.",
    odd: "A sheet of another size is counted by the usual sheets that lie in it; some pieces may come out of it all the same.",
    help: ["A kit may need a larger sheet, or one more paper. You can:", "add the other sheets that you have, scraps too", "ask for fewer cards", "let envelope and time be any", "look at all kits by their sheets"],
    empty: "Say how many sheets you have, and of which size.",
    cardless: "Say how many cards you want, from 1 to 60.",
    large: "The tables go to 60 cards. For more, ask for half of them, and take everything twice.",
    unread: "This is not read as a size. Type width × height, such as 7 × 10 1/4 in, 18 × 26 cm, A5 or half A4.",
    huge: "This is larger than any sheet a trimmer takes: at most 60 in (152 cm) a side.",
    read: (one, other) => `That is ${one} (${other}).`,
    takes: text => `Takes ${text}`,
    left: text => text ? `${text} left` : "nothing left",
    reach: n => `enough for ${n === 60 ? "60 or more" : n}`,
    missing: (cards, text) => `Missing for ${cards}: ${text}`,
    more: (halves, name, paper) => `${SAID.sheets(halves).replace(/ sheets?$/, "")} more ${name}${paper ? ` for ${paper}` : ""}`,
    least: names => `At least: counted as ${names}, the largest usual sheet in yours.`,
    drawn: "Cut as its guides show.",
    otherwise: names => `Its guides are drawn for ${names}: on your sheets the pieces lie otherwise.`,
    upright: "With every piece kept upright.",
    loose: "Small for your envelope: it lies loose in it.",
    twice: "One paper comes twice: there are fewer sheets than papers.",
    besides: text => `Besides: ${text}.`,
    of: (halves, kind, name) => `${SAID.sheets(halves)} of ${kind}, ${name}`,
    wrong: (label, sheet) => `${label} does not fit on ${sheet}`,
    turned: labels => `one-way paper would show ${labels} turned`,
    upcoming: "upcoming",
    again: n => `Show ${n} more`,
  }
  const NM = { in: 25400000, cm: 10000000, mm: 1000000 }
  const LARGEST = 60 * NM.in, LOOSE = NM.in, AT_ONCE = 12, TRIES = 2000, NEVER = Infinity
  const NAMED = Object.fromEntries(Object.entries(kw.sizes.VULGAR).map(([sign, text]) => [text, sign]))

  const form = document.querySelector(".kw-stock")
  const rows = form.querySelector(".kw-stock__rows"), first = rows.firstElementChild
  const says = document.querySelector(".kw-found__says"), list = document.querySelector(".kw-found__kits")
  const more = document.querySelector(".kw-found__more button")
  const field = (place, name) => place.querySelector(`[name="${name}"]`)
  const blank = first.cloneNode(true)
  let tables = null, known = ""

  // --- sizes as they are typed ---------------------------------------------------------------------------

  // Exact in whole numbers; what is no whole nanometre is rounded down, so that no sheet passes for a larger one.
  const nanometres = ({ above, below }, unit) => Math.floor(above / below) * NM[unit] + Math.floor((above % below) * NM[unit] / below)
  const OF_IT = ["square", "squares", "sheet", "sheets", "paper", "pad"], AN = ["a", "an", "of", "iso", "din", "us"]

  // What sizes.js reads as one size: of a sheet by its name, by two sides or by one of a square, whole, half or a quarter.
  const sized = text => {
    const said = kw.sizes.scan(text).map(one => (one.word ? { ...one, word: one.word.toLowerCase() } : one)), first = said[0]?.word
    const part = (first === "a" || first === "an" ? said[1]?.word : first)
    const [parts, bare] = part === "half" || part === "quarter" ? [part, said.slice(said.findIndex(one => one.word === part) + 1)] : ["", said]
    const words = bare.flatMap(one => one.word && !AN.includes(one.word) ? [one.word] : []), sizes = bare.filter(one => one.edges)
    const square = words.some(word => word.startsWith("square"))
    const cut = (edges, unit) => (parts ? kw.sizes.parted(edges, parts) : edges).map(edge => nanometres(edge, unit))
    if (!sizes.length) {
      const called = words.filter(word => !OF_IT.includes(word)).join(" ")
      const named = usual().find(([name]) => name.replace(/^iso /, "") === called)
      return named ? cut(named[1].map(side => ({ above: side, below: NM.mm })), "mm") : null
    }
    if (sizes.length > 1 || words.some(word => !OF_IT.includes(word))) return null
    const [{ edges, unit }] = sizes
    // One side alone is that of a square, where it is told so or has a unit.
    if (edges.length === 1 && !square && !unit) return null
    const sides = edges.length === 1 ? [edges[0], edges[0]] : edges, as = unit => sides.map(side => nanometres(side, unit))
    // Without a unit the first in which such a sheet is sold, as the search takes it.
    const sold = ["in", "cm", "mm"].find(unit => usual().some(([, size]) => same(as(unit), size)))
    const over = n => sides.some(({ above, below }) => above > n * below), all = n => sides.every(({ above, below }) => above > n * below)
    const guess = unit || sold || (over(36) ? "mm" : kw.unit?.() === "mm" && all(12) ? "cm" : "in")
    return as(guess).every(Boolean) ? cut(sides, guess) : null
  }
  const usual = () => [...field(first, "size").options].filter(one => one.value).map(one => [one.textContent.toLowerCase(), one.value.split("x").map(Number)])

  const inches = nm => {
    const sixteenths = Math.round(nm * 16 / NM.in)
    if (nm * 16 === sixteenths * NM.in) {
      let top = sixteenths % 16, bottom = 16
      for (; top && top % 2 === 0; top /= 2) bottom /= 2
      const whole = Math.floor(sixteenths / 16), part = top ? NAMED[`${top}/${bottom}`] ?? `${whole ? " " : ""}${top}/${bottom}` : ""
      return `${whole || !part ? whole : ""}${part}`
    }
    return String(Math.floor(nm * 100 / NM.in) / 100)
  }
  const millimetres = nm => String(Math.floor(nm / 100000) / 10)
  const told = (size, unit) => `${size.map(unit === "mm" ? millimetres : inches).join(" × ")} ${unit}`

  // --- what she has ---------------------------------------------------------------------------------------

  // A field beside a list of usual sizes: shown for another size, and what was understood is said.
  const other = (select, box, wanted) => {
    const [input, note] = [box.querySelector("input"), box.querySelector("small")]
    box.hidden = !wanted
    if (!wanted) return null
    const size = sized(input.value), large = size && Math.max(...size) > LARGEST
    const unit = kw.unit?.() ?? "in"
    note.textContent = large ? SAID.huge : size ? SAID.read(told(size, unit), told(size, unit === "in" ? "mm" : "in")) : input.value.trim() ? SAID.unread : ""
    const wrong = Boolean(large || !size && input.value.trim())
    input.toggleAttribute("aria-invalid", wrong)
    if (wrong) input.setAttribute("aria-invalid", "true")
    return large ? null : size
  }

  const stock = () => [...rows.children].flatMap(row => {
    const select = field(row, "size"), typed = other(select, row.querySelector(".kw-stock__other"), !select.value)
    const size = select.value ? select.value.split("x").map(Number) : typed
    const kind = field(row, "kind").value, printed = kind === "patterned", n = Number(field(row, "n").value)
    row.querySelector(".kw-stock__up").hidden = !printed
    const name = select.value ? select.selectedOptions[0].textContent : size ? told(size, kw.unit?.() ?? "in") : ""
    return size && Number.isInteger(n) && n > 0 ? [{ n: Math.min(n, 999), size, name, kind, up: printed && field(row, "up").checked }] : []
  })

  // --- tables ---------------------------------------------------------------------------------------------

  const prepared = given => {
    const digit = Object.fromEntries([...given.digits].map((sign, n) => [sign, n]))
    return {
      ...given,
      digit,
      kits: given.kits.map((line, place) => {
        const [id, title, month, own, beside, unit, picture, upcoming, cards, sizes, strokes, steps, groups] = line
        return { id, title, month, line: { [unit]: own, [unit === "in" ? "mm" : "in"]: beside }, picture, upcoming, cards, sizes, strokes, steps, place, groups: groups.map(([kind, way, names, turned, mine, usual, extra]) => ({ kind, way, names, turned, mine, usual, extra })) }
      }),
    }
  }

  // Half sheets for n cards: the first step of a table that reaches them.
  const halvesOf = (table, sign) => {
    let low = 0, high = table.length - 1
    while (low < high) {
      const middle = low + high >> 1
      if (table[middle] < sign) low = middle + 1
      else high = middle
    }
    return low + 1
  }

  // How often a sheet lies in another, side by side as it is or turned; 0 where it does not, and 1 where they are the same.
  const times = ([width, height], [w, h]) => Math.max(Math.floor(width / w) * Math.floor(height / h), Math.floor(width / h) * Math.floor(height / w))
  const same = ([width, height], [w, h]) => width === w && height === h || width === h && height === w

  // For each pile and each usual sheet of its kind, how often that lies in one of hers.
  const measured = pile => {
    const usual = tables.usual[pile.kind]
    const exact = usual.findIndex(([, w, h]) => same(pile.size, [w, h]))
    return { ...pile, exact, times: exact < 0 ? usual.map(([, w, h]) => times(pile.size, [w, h])) : [] }
  }

  const tableOf = (both, up) => typeof both === "string" ? both : both[up ? 1 : 0]

  // What a group can be cut from in a pile: [table, times, name, whether it is that very sheet, whether as drawn].
  const waysIn = (group, pile) => {
    if (group.kind !== pile.kind || pile.up && group.way === "never") return []
    const found = [], usual = tables.usual[group.kind], up = pile.up && group.way === "asked"
    const add = (i, both, name, n, exact) => {
      const table = tableOf(both, up)
      if (n && table[0] !== "-") found.push({ table, n, name, exact, drawn: exact && i === group.mine && table === tableOf(both, false) })
    }
    const own = group.extra.findIndex(([, w, h]) => same(pile.size, [w, h]))
    if (own >= 0) add(usual.length + own, group.extra[own][3], group.extra[own][0], 1, true)
    else if (pile.exact >= 0) add(pile.exact, group.usual[pile.exact], usual[pile.exact][0], 1, true)
    else {
      pile.times.forEach((n, i) => add(i, group.usual[i], usual[i][0], n, false))
      group.extra.forEach(([name, w, h, both], i) => add(usual.length + i, both, name, times(pile.size, [w, h]), false))
    }
    return found
  }

  // What one paper of each group takes of each pile, in half sheets, and by which way; nothing for kinds that she lists none of.
  const NONE = { halves: NEVER, by: null }
  const cheapest = (some, sign) => {
    let halves = NEVER, by = null
    for (const way of some) {
      const alone = halvesOf(way.table, sign), taken = way.n === 1 ? alone : 2 * Math.ceil(alone / (2 * way.n))
      if (taken < halves) [halves, by] = [taken, way]
    }
    return by ? { halves, by } : NONE
  }
  const priced = (ways, sign) => ways.map(group => group && group.map(some => some.length ? cheapest(some, sign) : NONE))

  // --- each paper from its own sheets ------------------------------------------------------------------------

  // Papers laid to piles so that as few half sheets as can be are missing, then as few taken as can be: every way is tried,
  // up to a number of steps; what was found by then is the answer. Alone: each paper has whole sheets of its own.
  const shared = (kit, piles, prices, alone) => {
    const papers = [], lost = [], used = piles.map(() => 0)
    const takes = ({ halves }) => alone ? halves + halves % 2 : halves
    let single = true
    prices.forEach((each, g) => {
      if (!each) return
      const good = []
      each.forEach((one, r) => { if (one.by) good.push(r) })
      if (good.length > 1) {
        single = false
        good.sort((a, b) => takes(each[a]) - takes(each[b]))
      }
      for (const name of kit.groups[g].names) good.length ? papers.push({ g, name, each, good }) : lost.push({ g, name })
    })
    let best = null, tries = TRIES
    if (single) {
      // Each paper has one pile that it can come from.
      let taken = 0
      for (const { each, good: [r] } of papers) {
        used[r] += takes(each[r])
        taken += each[r].halves
      }
      const missing = used.reduce((sum, n, r) => sum + Math.max(0, n - 2 * piles[r].n), 0)
      return { missing, taken, used, laid: papers.map(paper => paper.good[0]), papers, lost }
    }
    papers.sort((a, b) => a.good.length - b.good.length)
    const now = [], rest = [0], least = [0]
    for (const { each, good } of [...papers].reverse()) {
      rest.unshift(rest[0] + takes(each[good[0]]))
      least.unshift(least[0] + Math.min(...good.map(r => each[r].halves)))
    }
    // Less than this can't be missing, nor taken, whatever becomes of the papers that are left.
    const hopeless = (i, missing, taken) => {
      let free = 0
      piles.forEach((pile, r) => { free += Math.max(0, 2 * pile.n - used[r]) })
      const lacks = missing + Math.max(0, rest[i] - free)
      return lacks > best.missing || lacks === best.missing && taken + least[i] >= best.taken
    }
    const lay = (i, missing, taken) => {
      if (best && (tries-- < 0 || hopeless(i, missing, taken))) return
      if (i === papers.length) {
        best = { missing, taken, used: [...used], laid: [...now] }
        return
      }
      const { g, each, good } = papers[i]
      // Papers cut alike are all one: their piles rise.
      const from = i && papers[i - 1].g === g ? good.indexOf(now[i - 1]) : 0
      for (let k = Math.max(from, 0); k < good.length; k++) {
        const r = good[k], more = takes(each[r]), have = 2 * piles[r].n
        const short = Math.max(0, used[r] + more - have) - Math.max(0, used[r] - have)
        used[r] += more
        now[i] = r
        lay(i + 1, missing + short, taken + each[r].halves)
        used[r] -= more
      }
      now.length = i
    }
    lay(0, 0, 0)
    return { ...best, papers, lost }
  }

  const enough = found => !found.lost.length && !found.missing

  const asked = (kit, piles, ways, n) => {
    const prices = priced(ways, tables.digits[n]), alone = shared(kit, piles, prices, true)
    if (alone.lost.length || !alone.missing) return { ...alone, twice: false }
    const together = shared(kit, piles, prices, false)
    return enough(together) ? { ...together, twice: true } : { ...alone, twice: false }
  }

  const reach = (kit, piles, ways, from, to) => {
    let low = from, high = to
    while (low < high) {
      const middle = low + high + 1 >> 1
      if (enough(asked(kit, piles, ways, middle))) low = middle
      else high = middle - 1
    }
    return low
  }

  const fits = (kit, envelope) => !envelope || kit.sizes.every(([w, h]) => Math.min(w, h) <= Math.min(...envelope) && Math.max(w, h) <= Math.max(...envelope))

  // A card that is much smaller than the envelope slides about in it: such a kit comes after the others.
  const loose = (kit, envelope) => Boolean(envelope) && kit.sizes.some(([w, h]) => Math.max(...envelope) - Math.max(w, h) > LOOSE || Math.min(...envelope) - Math.min(w, h) > LOOSE)

  const tried = (kit, piles, cards, envelope) => {
    const ways = kit.ways ??= kit.groups.map(group => piles.some(pile => pile.kind === group.kind) ? piles.map(pile => waysIn(group, pile)) : null)
    const found = asked(kit, piles, ways, cards), by = found.papers.map((paper, i) => paper.each[found.laid[i]].by), full = enough(found)
    const [drawn, exact] = [by.every(way => way.drawn), by.every(way => way.exact)]
    // What is nearest: whole, no paper twice, cut as drawn, little paper; else little missing, of which what fits nowhere is missing whole.
    const slides = loose(kit, envelope)
    // A card that lies snug in her envelope comes before all that slide about in it, whatever is missing.
    const rank = full ? [Number(slides), 0, Number(found.twice), Number(!drawn), Number(!exact), found.taken] : [Number(slides), 1, found.missing + found.lost.reduce((sum, one) => sum + ownOf(kit.groups[one.g], tables.digits[cards]), 0)]
    const some = found.papers.length + found.lost.length > 0 && (full || enough(asked(kit, piles, ways, 1)))
    return { kit, ways, found, full, drawn, exact, by, slides, rank, some }
  }

  const ownTable = group => tableOf([...group.usual, ...group.extra.map(one => one[3])][group.mine], false)
  const ownSheet = group => [...tables.usual[group.kind], ...group.extra][group.mine]
  const ownName = group => ownSheet(group)[0]
  // A sheet goes by the name under which it is sold; one that has only its size, by that as she reads sizes.
  const called = group => {
    const [name, ...sides] = ownSheet(group), size = sides.slice(0, 2)
    return group.mine >= tables.usual[group.kind].length && ["in", "mm"].some(unit => told(size, unit) === name) ? told(size, kw.unit?.() ?? "in") : name
  }
  const ownOf = (group, sign) => halvesOf(ownTable(group), sign)

  // --- words ------------------------------------------------------------------------------------------------

  const element = (name, text = "", className = "") => Object.assign(document.createElement(name), { textContent: text, className })
  // A text in which no line breaks within a size.
  const SIZES = /((?:≈?[\d.]*(?: \d+⁄\d+)?[¼½¾⅛⅜⅝⅞]? × )?[\d.]*(?: ?\d+⁄\d+)?[¼½¾⅛⅜⅝⅞]? (?:in|cm|mm)\b)/
  const held = (place, text) => {
    place.append(...text.split(SIZES).map((part, n) => n % 2 ? element("span", part, "kw-size") : part))
    return place
  }
  const joined = words => [...new Set(words)].join(", ")
  const kinds = Object.fromEntries([...field(first, "kind").options].map(one => [one.value, one.textContent.toLowerCase()]))

  const missingText = ({ kit, found }, piles, cards) => {
    const said = found.used.flatMap((used, r) => {
      const short = used - 2 * piles[r].n
      return short > 0 ? [SAID.more(short + short % 2, piles[r].name)] : []
    })
    for (const { g, name } of found.lost) {
      const group = kit.groups[g], halves = ownOf(group, tables.digits[cards])
      said.push(`${SAID.sheets(halves)} ${called(group)} for ${name}${why(group, piles)}`)
    }
    return joined(said)
  }

  // Why a paper comes from none of the piles of its kind, where one thing says it all.
  const why = (group, piles) => {
    const mine = piles.filter(pile => pile.kind === group.kind)
    if (group.way === "never" && mine.every(pile => pile.up)) return ` (${SAID.turned(group.turned.join(", "))})`
    const both = mine.length === 1 && mine[0].exact >= 0 && tableOf(group.usual[mine[0].exact], mine[0].up && group.way === "asked")
    return both && both[0] === "-" ? ` (${SAID.wrong(both.slice(1), mine[0].name)})` : ""
  }

  const takenText = ({ found }, piles) => {
    const halves = piles.map(() => 0)
    found.papers.forEach((paper, i) => halves[found.laid[i]] += paper.each[found.laid[i]].halves)
    const left = piles.flatMap((pile, r) => 2 * pile.n > halves[r] ? [[2 * pile.n - halves[r], pile.name]] : [])
    const one = piles.length === 1
    const taken = joined(halves.flatMap((n, r) => n ? [SAID.sheets(n) + (one ? "" : ` ${piles[r].name}`)] : []))
    return [SAID.takes(taken), SAID.left(joined(left.map(([n, name]) => SAID.sheets(n) + (one ? "" : ` ${name}`))))]
  }

  const besidesText = (kit, piles, cards) => {
    const sums = new Map()
    for (const group of kit.groups) {
      if (piles.some(pile => pile.kind === group.kind)) continue
      const key = `${kinds[group.kind]}\n${called(group)}`
      // Each paper has sheets of its own.
      const halves = ownOf(group, tables.digits[cards])
      sums.set(key, (sums.get(key) ?? 0) + group.names.length * (halves + halves % 2))
    }
    return [...sums].map(([key, halves]) => SAID.of(halves, ...key.split("\n"))).join("; ")
  }

  // Her numbers as the kit's own page reads them (numbers.js): cards, the sheets of either kind where they are others, one-way.
  const slug = name => name.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "")
  const numbers = ({ kit, found, by }, piles, to) => {
    const said = new URLSearchParams({ cards: to })
    for (const kind of ["patterned", "cardstock"]) {
      const mine = found.papers.flatMap((paper, i) => kit.groups[paper.g].kind === kind ? [[kit.groups[paper.g], by[i]]] : [])
      const names = new Set(mine.map(([, way]) => way.name))
      if (names.size === 1 && mine.every(([, way]) => way.exact) && mine.some(([group, way]) => way.name !== ownName(group))) said.set(kind, slug([...names][0]))
    }
    if (piles.some((pile, r) => pile.up && found.laid.includes(r))) said.set("up", "1")
    return said
  }

  const shown = (answer, piles, cards) => {
    const { kit, found, full, by, ways } = answer, makes = full ? cards : reach(kit, piles, ways, 1, cards - 1)
    const line = element("li", "", "kw-found__kit"), words = element("div", "", "kw-found__words")
    const address = `kits/${kit.id}/index.html?${numbers(answer, piles, makes)}#need`
    if (kit.picture) {
      const [src, width, height] = kit.picture
      line.append(Object.assign(element("img"), { src: `kits/${kit.id}/${src}`, width, height, alt: "", loading: "lazy", decoding: "async" }))
    } else line.append(element("span", kit.title.slice(0, 1), "kw-blank"))
    const head = element("h3"), link = Object.assign(element("a", kit.title), { href: address })
    const count = `${answer.exact ? "" : "at least "}${full ? "" : `${makes} of `}${SAID.cards(cards)}`
    head.append(link, " ", element("b", count))
    words.append(head)
    const tell = (text, className = "") => text && words.append(held(element("p", "", className), text))
    if (full) {
      const most = reach(kit, piles, ways, cards, tables.most)
      tell([...takenText(answer, piles), ...(most > cards ? [SAID.reach(most)] : [])].join(" · "))
    } else tell(SAID.missing(cards, missingText(answer, piles, cards)), "kw-found__short")
    if (found.twice) tell(SAID.twice)
    if (answer.slides) tell(SAID.loose, "kw-found__note")
    if (!answer.exact) tell(SAID.least(joined(by.filter(way => !way.exact).map(way => way.n > 1 ? `${way.n} of ${way.name}` : way.name))))
    const groups = new Set(found.papers.map(paper => kit.groups[paper.g]))
    if (full && by.length) {
      const upright = piles.some((pile, r) => pile.up && found.laid.includes(r)) && !answer.drawn
      const otherwise = joined([...groups].filter(group => found.papers.some((paper, i) => kit.groups[paper.g] === group && !by[i].drawn)).map(called))
      tell(answer.drawn ? SAID.drawn : `${SAID.otherwise(otherwise)}${upright ? ` ${SAID.upright}` : ""}`, "kw-found__note")
    }
    const besides = besidesText(kit, piles, cards)
    if (besides) tell(SAID.besides(besides), "kw-found__note")
    tell([kit.line[kw.unit?.() ?? "in"], kit.month, ...(kit.upcoming ? [SAID.upcoming] : [])].join(" · "), "kw-found__note")
    line.append(words)
    return line
  }

  const nothing = odd => {
    const box = element("li", "", "kw-found__none"), [lead, ...ways] = SAID.help
    const hints = element("ul")
    ways.forEach((text, i) => {
      const item = element("li")
      item.append(i === ways.length - 1 ? Object.assign(element("a", text), { href: "archive.html" }) : text)
      hints.append(item)
    })
    box.append(...(odd ? [element("p", SAID.odd)] : []), element("p", lead), hints)
    return box
  }

  // --- the answer ----------------------------------------------------------------------------------------------

  const better = ({ rank: a, kit: one }, { rank: b, kit: other }) => {
    for (let i = 0; i < a.length && i < b.length; i++) if (a[i] !== b[i]) return a[i] - b[i]
    return one.place - other.place
  }

  // To what her sheets give without any kit: to the first of hers that has a part of that page.
  const leads = piles => {
    const link = document.querySelector(".kw-found__alone")
    if (!link) return
    const known = Object.fromEntries(link.dataset.sheets.split(" ").map(one => one.split("=")))
    const part = piles.filter(pile => pile.kind === "patterned").map(({ size: [w, h] }) => known[`${w}x${h}`] ?? known[`${h}x${w}`]).find(Boolean)
    link.href = `sheets.html${part ? `#${part}` : ""}`
  }

  const say = words => {
    says.textContent = words
    list.replaceChildren()
    more.hidden = true
  }

  const answer = () => {
    const piles = stock(), cards = Number(field(form, "cards").value)
    const envelopes = field(form, "envelope"), time = field(form, "time").selectedOptions[0].dataset
    const typed = other(envelopes, form.querySelector(".kw-stock__rest .kw-stock__other"), envelopes.value === "other")
    if (!tables) return
    if (!piles.length) return say(SAID.empty)
    if (cards > tables.most) return say(SAID.large)
    if (!Number.isInteger(cards) || cards < 1) return say(SAID.cardless)
    const named = tables.envelopes.find(([name]) => name === envelopes.value), envelope = named ? named.slice(1) : typed
    const easy = kit => !time.strokes || kit.strokes <= Number(time.strokes) * kit.cards && kit.steps <= Number(time.steps)
    leads(piles)
    const ready = piles.map(measured), same = JSON.stringify(piles.map(({ size, kind, up }) => [size, kind, up]))
    if (same !== known) {
      // The ways in which a kit is cut from her sheets stay as long as those do.
      for (const kit of tables.kits) kit.ways = null
      known = same
    }
    const possible = tables.kits.filter(kit => fits(kit, envelope) && easy(kit))
    const answers = possible.map(kit => tried(kit, ready, cards, envelope)).filter(one => one.some).sort(better)
    const full = answers.filter(one => one.full).length
    const filtered = possible.length < tables.kits.length && [envelope && "envelope", time.strokes && "time"].filter(Boolean).join(" and ")
    say(full ? SAID.all(full, tables.kits.length, SAID.cards(cards), filtered, answers.length === 1, answers.filter(one => one.full && one.slides).length) : answers.length ? SAID.some(SAID.cards(cards), filtered) : SAID.none)
    if (!answers.length) return list.append(nothing(ready.some(pile => pile.exact < 0)))
    let from = 0
    const on = () => {
      list.append(...answers.slice(from, from + AT_ONCE).map(one => shown(one, ready, cards)))
      from += AT_ONCE
      const left = answers.length - from
      more.hidden = left <= 0
      more.textContent = SAID.again(Math.min(left, AT_ONCE))
    }
    more.onclick = () => {
      const at = from
      on()
      list.children[at]?.querySelector("a").focus()
    }
    on()
  }

  // --- what is asked stands in the address -----------------------------------------------------------------------

  const keep = () => {
    const said = new URLSearchParams()
    for (const row of rows.children) {
      const size = field(row, "size"), name = size.value ? size.selectedOptions[0].textContent : `=${field(row, "other").value}`
      said.append("sheets", [field(row, "n").value, field(row, "kind").value, field(row, "up").checked ? "one-way" : "", name].join(","))
    }
    said.set("cards", field(form, "cards").value)
    for (const name of ["envelope", "time"]) if (field(form, name).value) said.set(name, field(form, name).value)
    if (field(form, "envelope").value === "other") said.set("card-fits", field(form, "envelope-other").value)
    history.replaceState(null, "", `#${said}`)
  }

  const choose = (select, text) => {
    const option = [...select.options].find(one => one.textContent === text || one.value === text)
    if (option) select.value = option.value
    return Boolean(option)
  }

  const named = () => {
    [...rows.children].forEach((row, i) => row.querySelector(".kw-stock__drop").hidden = rows.children.length === 1 && i === 0)
  }

  const recall = () => {
    const said = new URLSearchParams(location.hash.slice(1))
    if (!said.has("sheets")) return
    rows.replaceChildren(...said.getAll("sheets").slice(0, 12).map(text => {
      const row = blank.cloneNode(true), [n, kind, up, ...size] = text.split(","), name = size.join(",")
      field(row, "n").value = n
      choose(field(row, "kind"), kind)
      field(row, "up").checked = up === "one-way"
      if (name.startsWith("=") || !choose(field(row, "size"), name)) {
        // A usual sheet in whatever spelling is taken from the list.
        const typed = name.replace(/^=/, ""), size = sized(typed), sheet = size && usual().find(([, one]) => same(one, size))
        field(row, "size").value = sheet ? sheet[1].join("x") : ""
        field(row, "other").value = sheet ? "" : typed
      }
      return row
    }))
    field(form, "cards").value = said.get("cards") ?? 10
    choose(field(form, "envelope"), said.get("envelope") ?? "")
    const time = said.get("time") ?? ""
    choose(field(form, "time"), time === "steady" ? "quick" : time) // as addresses of before call it
    field(form, "envelope-other").value = said.get("card-fits") ?? ""
  }

  // --- hands --------------------------------------------------------------------------------------------------------

  const change = () => {
    named()
    answer()
    keep()
  }
  form.addEventListener("submit", event => event.preventDefault())
  form.addEventListener("input", change)
  form.addEventListener("click", event => {
    const button = event.target.closest("button")
    if (button?.matches(".kw-stock__more")) {
      const row = blank.cloneNode(true)
      field(row, "n").value = 1
      rows.append(row)
      field(row, "n").select()
    } else if (button?.matches(".kw-stock__drop")) {
      const row = button.closest("li"), next = row.nextElementSibling ?? row.previousElementSibling
      row.remove()
      field(next, "n").focus()
    } else return
    change()
  })
  document.addEventListener("kw:unit", answer)
  addEventListener("hashchange", () => {
    recall()
    named()
    answer()
  })

  window.kwTables = given => {
    tables = prepared(given)
    answer()
  }
  recall()
  named()
  stock()
}
