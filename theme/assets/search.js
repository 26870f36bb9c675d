// The search, loaded at the first tap by menu.js: a dialog over the page, and an index in parts that are loaded as what is
// typed asks for them.
// What is typed is taken as kitwright.archive.search.tokens takes what is written, by the table in map.js.
{
  const SAY = {
    open: "Find a kit",
    label: "Find a kit by title, size, paper or technique",
    hint: "4¼ × 5½, half sheets, cork",
    close: "Close",
    more: "Show more",
    sizes: "Card sizes",
    shapes: "Shapes and ways to make them",
    kinds: ["square", "slimline", "landscape", "one-way paper", "half sheets", "quick"],
    tags: "What kits are tagged with",
    asks: "Or ask",
    asked: ["where does B go", "what is slack", "is my copy current"],
    all: "See all kits",
    help: "Type a size in any way, 4.25, 4 1/4 or 108 mm, or words from a title, a paper, a tag or a step.",
    looking: "Looking …",
    lost: "The search can’t be loaded just now.",
    none: "Nothing has that.",
    advice: "Try fewer words, or one of these.",
    adviceOnSizes: "No card, sheet or piece has this size. Try one edge alone; inches, millimetres and centimetres are all understood.",
    code: code => `Look up ${code}`,
    found: (many, { left, some, turned, instead, shut, plain }) => [
      many === 1 ? "1 found" : `${many} found`,
      turned ? ", newest first" : "",
      instead.length ? ` for ${SAY.each(instead)}` : "",
      left.length ? `, without ${SAY.each(left)}, which no page has` : some ? "; none has all of it, so the nearest come first" : "",
      ...shut.map(({ said, many, any }) => (many ? `; ${many} with “${said}” ${many === 1 ? "is" : "are"} left out` : any ? "" : `; no kit calls for “${said}”`)),
      plain.length ? `; kits aren’t listed by ${SAY.each(plain.map(one => one.said))}, so this is what tells of it` : "",
      ".",
    ].join(""),
    each: words => words.map(word => `“${word}”`).join(" and "),
    without: said => `without ${said}`,
    drop: said => `Take back “without ${said}”`,
    noneWithout: shut => {
      const many = Math.max(...shut.map(one => one.many))
      return `Nothing is left without ${SAY.each(shut.map(one => one.said))}${many > 1 ? `: ${many} kits have it` : ""}.`
    },
  }
  const WEIGHT = { T: 60, G: 24, C: 20, W: 20, S: 16, P: 8, H: 4, X: 1, Y: 0.3 }
  const TELLS = 1.5 // what a page about no kit counts for who asks a question
  const MEANING = /^(what|mean|meaning)$/
  const SHOWN = 10 // hits at a time
  const BEGINNING = 0.6 // what a word counts of which only the beginning was typed
  const HARDLY = 0.1 // the same, where that is a word of its own
  const NEWEST = ["newest", "upcoming"] // these ask for an order, the second for kits besides, where there are some
  const LEAST = 3 // letters of such a beginning
  const FULLY = 9 // what a kit counts whose tag is typed in full
  const LED = 0.5 // what a word counts of that a typed one leads on to
  const OTHERWISE = 0.95 // what a size counts that is written in the other unit
  const HOME = new URL("../", document.currentScript.src)
  const AT = new URL("search/", HOME), LOOK = document.currentScript.src

  // --- a text as tokens -------------------------------------------------------------------------

  const asText = said => (said.below === 1 ? `${said.above}` : `${said.above}/${said.below}`)

  // What was typed, size by size as sizes.js reads it and word by word in its plain form.
  const scan = (text, words) => {
    const single = word => {
      word = word.toLowerCase().replace(/'s$/, "").replace(/'/g, "")
      if (/^[\x00-\x7f]{4,}$/.test(word) && /s$/.test(word) && !/(ss|us|is)$/.test(word)) {
        word = /ies$/.test(word) && word.length > 4 ? `${word.slice(0, -3)}y` : /(xes|ches|shes|sses|zes)$/.test(word) ? word.slice(0, -2) : word.slice(0, -1)
      }
      const counted = Object.hasOwn(kw.sizes.NUMBERS, word) ? kw.sizes.NUMBERS[word] : word
      return Object.hasOwn(words.alike, counted) ? words.alike[counted] : counted
    }
    return kw.sizes.scan(text).map(one => (one.word ? { token: single(one.word), typed: one.typed, word: true } : { ...one, token: one.edges.map(asText).join("x") + one.unit }))
  }

  // --- the index ----------------------------------------------------------------------------------

  let taken // what the script that runs just now has to say
  window.kitwrightFound = data => { taken = data }
  const script = name => kw.load(new URL(name, AT)).then(() => taken)
  const once = new Map()
  const part = name => {
    if (!once.has(name)) once.set(name, script(name).catch(error => { once.delete(name); throw error }))
    return once.get(name)
  }

  // A script of ours for who needs it, and what it has to say.
  const loaded = (name, key) => kw[key] || kw.load(new URL(name, LOOK)).then(() => kw[key])

  let map
  const open = async again => {
    // A map that a browser kept may name parts that are gone: then it is asked for anew.
    const [said] = await Promise.all([again ? script(`map.js?${Date.now()}`) : part("map.js"), loaded("sizes.js", "sizes")])
    if (map && !again) return
    const list = text => new Set(text.split(" "))
    // What words lead to stands once, with all of them.
    const each = ([key, table]) => [key, Object.fromEntries(Object.entries(table).flatMap(([to, from]) => from.split(",").map(one => [one, to])))]
    const { together, alike, leads } = said.words
    const words = { ...said.words, ...Object.fromEntries(Object.entries({ together, alike, leads }).map(each)) }
    map = {
      ...said,
      words,
      value: Object.fromEntries(Array.from(said.digits, (c, n) => [c, n])),
      many: said.documents.length / said.name,
      colors: list(words.colors), common: list(words.common), asking: list(words.asking), denying: new Set(words.denying), counted: list(words.counted), labelled: list(words.labelled),
    }
  }
  const named = (names, n) => names.slice(n * map.name, (n + 1) * map.name)
  const documentOf = n => part(`d-${named(map.documents, n)}.js`)

  // Every term from one up to another, with its entry.
  const between = async (from, to) => {
    const parts = []
    for (let n = 0; n < map.begins.length; n++) {
      if (map.begins[n] < to && (n + 1 === map.begins.length || map.begins[n + 1] > from)) parts.push(part(`t-${named(map.parts, n)}.js`))
    }
    return (await Promise.all(parts)).flatMap(terms => Object.entries(terms).filter(([term]) => term >= from && term < to))
  }

  // What an entry says, added to what was found: by document the best place.
  const manyIn = entry => entry.split("|").filter(Boolean).reduce((sum, field) => sum + (field.length - 1) / (map.width + 1), 0)
  const take = (entry, found, share = 1, among = 0) => {
    const step = map.width + 1, everywhere = entry.startsWith("*")
    const fields = (everywhere ? entry.slice(1) : entry).split("|").filter(Boolean)
    const many = everywhere ? map.many : among || manyIn(entry)
    const rare = Math.log(1 + map.many / many) * share
    if (everywhere) found.everywhere = true
    for (const field of fields) {
      const worth = WEIGHT[field[0]] * rare
      for (let at = 1; at < field.length; at += step) {
        let n = 0
        for (let k = 0; k < map.width; k++) n = n * map.digits.length + map.value[field[at + k]]
        const before = found.get(n)
        if (!before || before.worth < worth) found.set(n, { worth, field: field[0], place: map.value[field[at + map.width]] })
      }
    }
  }

  // --- what is asked ------------------------------------------------------------------------------

  const HUNDREDTHS = { in: 2540, cm: 1000, mm: 100 }
  const pad = n => `=${String(Math.max(n, 0)).padStart(7, "0")}`

  // Whether a length of the index, in hundredths of a millimetre, is the one that was typed. Inches meet inches
  // exactly, but for decimals of a sixteenth; else what counts is half of the last digit, half a millimetre at most.
  const range = (edge, unit) => {
    const by = HUNDREDTHS[unit]
    const exact = Math.floor((2 * edge.above * by + edge.below) / (2 * edge.below))
    const half = Math.min(50, edge.fraction ? 50 : (by / 2) / 10 ** edge.digits)
    const meets = (length, mark) => {
      const off = Math.abs(length - exact)
      if (mark === "m") return off < Math.max(half, 1)
      return unit === "in" ? off <= (edge.digits > 1 ? half : 0) : off <= Math.ceil(half)
    }
    return { exact, low: exact - 51, high: exact + 51, meets }
  }

  const sized = async (edges, unit, found) => {
    const sides = edges.map(edge => range(edge, unit)).sort((a, b) => a.exact - b.exact)
    const wide = edges.length === 2 && edges[0].above * edges[1].below > edges[1].above * edges[0].below
    const near = (await between(pad(sides[0].low), pad(sides[0].high))).flatMap(([term, entry]) => {
      const [, first, second, mark] = term.match(/^=(\d+)(?:x(\d+))?([im])$/)
      const meets = (second === undefined) === (sides.length === 1) && sides[0].meets(Number(first), mark) && (!second || sides[1].meets(Number(second), mark))
      return meets ? [{ entry, second, own: (mark === "i") === (unit === "in") }] : []
    })
    // As rare as they are together; what is written in the unit that was typed comes first, by a little.
    const among = near.reduce((sum, { entry }) => sum + manyIn(entry), 0)
    for (const { entry, second, own } of near) {
      // Tall and wide are told apart where a card is meant, by a little.
      take(entry, found, own ? 1 : OTHERWISE, among)
      if (second) for (const hit of found.values()) if (hit.field === (wide ? "W" : "C") && !hit.upright) Object.assign(hit, { worth: hit.worth * 1.3, upright: true })
    }
  }

  const worded = async (word, last, found, share = 1, leads = true) => {
    // A plural that is typed to its end begins no other word: "cars" is no "card".
    const begun = last && last.startsWith(word) ? last : word
    const begins = last && begun.length >= LEAST && !/[0-9]/.test(word)
    const terms = (await between(word, begins ? `${begun}\uffff` : `${word}\u0000`)).filter(([term]) => term === word || term.startsWith(begun))
    // Where the word itself stands somewhere, it is hardly the beginning of another.
    const whole = terms.some(([term]) => term === word)
    for (const [term, entry] of terms) take(entry, found, share * (term === word ? 1 : whole ? HARDLY : BEGINNING))
    // A plural that is not typed to its end.
    if (begins && !found.size && !found.everywhere && word.endsWith("e")) await worded(word.slice(0, -1), word.slice(0, -1), found, share, leads)
    if (leads && share === 1 && Object.hasOwn(map.words.leads, word)) {
      for (const on of map.words.leads[word].split(" ")) await worded(on, false, found, LED)
    }
  }

  // A colour with what has it: "blue cardstock", "cardstock in navy".
  const coloured = async (color, word, found) => {
    for (const said of [color, ...(Object.hasOwn(map.words.leads, color) ? map.words.leads[color].split(" ") : [])]) {
      if (map.colors.has(said)) await worded(`:${said}:${word}`, false, found)
    }
  }

  // --- what was typed with a slip, and what is not wanted: scripts of their own, for who needs them ------

  let slips // once a word is asked for that no page has
  const putRight = async () => {
    slips = slips || await Promise.all([loaded("search-slips.js", "slips"), part(`w-${map.every}.js`)]).then(([made, said]) => made(said, map.words))
    return slips
  }

  // How many of these tokens make one word together, and which; nothing where they make none.
  const joinedAt = (tokens, n) => {
    for (const many of [3, 2]) {
      const said = n + many <= tokens.length && tokens.slice(n, n + many).map(one => one.token).join(" ")
      if (said && Object.hasOwn(map.words.together, said)) return { many, word: map.words.together[said] }
    }
    return null
  }
  const asTyped = tokens => tokens.map(one => one.typed).join(" ")

  // A part of a sheet, "half A4", "a quarter of 12 × 12": how many tokens say it, and its edges.
  const partAt = (tokens, n) => {
    if (!["half", "quarter"].includes(tokens[n].token)) return null
    let at = n + 1
    while (at < tokens.length && ["of", "a", "an"].includes(tokens[at].token)) at++
    const sheet = tokens[at] && (tokens[at].edges ? tokens[at] : Object.hasOwn(map.words.sheets, tokens[at].token) && kw.sizes.scan(map.words.sheets[tokens[at].token])[0])
    return sheet && sheet.edges && sheet.edges.length > 1 ? { many: at + 1 - n, edges: kw.sizes.parted(sheet.edges, tokens[n].token), unit: sheet.unit } : null
  }

  // What is typed as a list of wants, each a function that finds.
  const wants = tokens => {
    // Who asks what a word means is told by the glossary, the page that weighs least; who asks else by the page of that name.
    const asks = tokens.some(({ token }) => MEANING.test(token)) ? -1 : Number(tokens.some(({ token }) => map.asking.has(token)))
    const list = []
    for (let n = 0; n < tokens.length; n++) {
      const one = tokens[n], before = tokens[n - 1], next = tokens[n + 1]
      const joined = joinedAt(tokens, n), part = partAt(tokens, n)
      if (joined) {
        const last = n + joined.many === tokens.length && joined.word
        list.push({ said: asTyped(tokens.slice(n, n + joined.many)), token: joined.word, find: found => worded(joined.word, last, found) })
        n += joined.many - 1
      } else if (part) {
        list.push({ said: asTyped(tokens.slice(n, n + part.many)), sized: true, find: found => anyUnit(part, found) })
        n += part.many - 1
      } else if (one.edges && (one.edges.length > 1 || one.unit)) {
        list.push({ said: one.typed, sized: true, find: found => anyUnit(one, found) })
      } else if (one.edges) {
        // "12 cards", "step 3": a whole number of something is no size.
        const soft = [before, next].some(other => other && map.counted.has(other.token)), whole = one.edges[0].below === 1
        list.push({ said: one.token, soft, find: async found => { await worded(one.token, false, found); if (!soft || !whole) await anyUnit(one, found) } })
      } else if (/^[a-z]$/i.test(one.typed)) {
        const piece = (before && (map.labelled.has(before.token) || before.token === "does")) || (/[A-Z]/.test(one.typed) && one.typed !== "A" && one.typed !== "I")
        if (piece || tokens.length === 1) list.push({ said: one.typed, find: found => worded(`piece:${one.token}`, false, found) })
        else list.push({ said: one.typed, common: true, find: found => worded(one.token, false, found) })
      } else {
        const word = /^[0-9]+$/.test(one.token) ? { soft: next && map.counted.has(next.token) } : { common: map.common.has(one.token) || map.asking.has(one.token) }
        const find = one.instead
          ? async found => { for (const mended of one.instead) await worded(mended, false, found, mended === one.instead[0] ? 1 : BEGINNING) }
          : async found => { await worded(one.token, n === tokens.length - 1 && one.typed.toLowerCase(), found); for (const other of tokens) if (other.word) await coloured(other.token, one.token, found) }
        list.push({ said: one.typed, token: one.token, instead: one.instead, ...word, find })
      }
    }
    const telling = list.filter(want => !want.common)
    return { list: telling.length ? telling : list, telling, asks }
  }
  const anyUnit = async ({ edges, unit }, found) => {
    const before = found.size
    for (const each of unit ? [unit] : ["in", "cm", "mm"]) {
      await sized(edges, each, found)
      if (found.size > before) return
    }
  }

  // --- what is not wanted -----------------------------------------------------------------------------

  // A minus before a word, "w/o", and "stamp-free" say "without" too.
  const spelledOut = text => text.replace(/(^|\s)[-–−](?=\p{L})/gu, "$1without ").replace(/\bw\/o\b\s*/gi, "without ").replace(/(\p{L}{3,})-free\b/giu, "without $1")

  const isKit = n => n >= map.weights.length
  const NEEDS = "needs:" // before a word of what a kit uses, in the index; alone with every kit of which that is known

  // What is wanted of what was typed, and what is not.
  const parted = async tokens => {
    const denies = n => [1, 2].some(many => n + many <= tokens.length && map.denying.has(tokens.slice(n, n + many).map(one => one.token).join(" ")))
    if (!tokens.some((one, n) => denies(n))) return { ...NONE, rest: tokens }
    const [parts, { said, every, formsOf }] = await Promise.all([loaded("search-without.js", "without"), putRight()])
    return parts(tokens, { map, said, every, formsOf, worded, between, take, joinedAt, partAt, anyUnit, asTyped, isKit, NEEDS, LEAST })
  }

  // What may be a code from the foot of a printable; search-code.js knows.
  const CODE = /(?<![a-z0-9])[a-z0-9]{4}[-–— ]?[a-z0-9]{4}(?![a-z0-9])/i

  // What may be the sheets that she has, or ask for an order of all kits; search-leads.js knows.
  const LEADING = /\b(sheets?|pads?|papers?|fewe|least|less|most|big|larg|old)/i

  const NONE = { hits: [], left: [], some: false, instead: [], shut: [], plain: [], rest: [] }

  const search = async (typed, tokens = scan(spelledOut(typed), map.words), literally = false) => {
    const code = map.copies && CODE.test(typed) && (await loaded("search-code.js", "codeIn"))(typed, map.copies)
    if (code) return { ...NONE, hits: [{ given: [map.copies.title, `${map.copies.path}#${code}`, SAY.code(code)] }] }
    const given = LEADING.test(typed) && !literally ? (await loaded("search-leads.js", "leadsOf"))(tokens, map, partAt).map(given => ({ given })) : []
    const { rest, shut, plain, fills } = literally ? { ...NONE, rest: tokens } : await parted(tokens)
    if (shut.some(one => one.titled)) {
      const words = await search(typed, tokens, true)
      if (words.hits.some(so => so.called)) return words // a title has such words
    }
    const { list: all, telling: told, asks } = wants(rest)
    // With nothing else wanted, all kits are, but for those.
    const newest = all.some(want => NEWEST.includes(want.token))
    const whatever = (newest || shut.length > 0) && told.every(({ token }) => NEWEST.includes(token) || map.counted.has(token) || (fills && fills(token)))
    const list = all.filter(({ token }) => token !== NEWEST[0] && (!whatever || token === NEWEST[1]))
    const found = await Promise.all(list.map(async want => {
      const hits = new Map()
      await want.find(hits)
      return { ...want, hits, known: hits.size > 0 || hits.everywhere === true }
    }))
    const unknown = new Set([...found.filter(want => !want.known && want.token && !want.instead && !NEWEST.includes(want.token)).map(want => want.token), ...shut.filter(one => !one.any && !one.asked).flatMap(one => one.typed.map(word => word.token))])
    const right = unknown.size && !tokens.some(one => one.instead) ? (await putRight()).mended(tokens, unknown) : null
    if (right) return search(typed, right, literally)
    const instead = [...found.filter(want => want.instead), ...shut.filter(one => one.typed.some(word => word.instead))].map(want => want.said)
    const hard = found.filter(want => want.known && !want.soft)
    const left = found.filter(want => !want.known && !want.soft).map(want => want.said)
    const scored = new Map(), telling = found.filter(want => !want.soft).length
    if (whatever && !found.some(want => want.known)) for (let n = map.weights.length; n < map.documents.length / map.name; n++) scored.set(n, { n, worth: 0, had: 0, titled: 0, words: 0, best: null })
    for (const want of found) {
      for (const [n, hit] of want.hits) {
        const so = scored.get(n) || { n, worth: 0, had: 0, titled: 0, words: 0, best: null }
        so.worth += hit.worth
        if (!want.soft) so.had += 1
        if (hit.field === "T") { so.titled += 1; so.words = hit.place }
        else if (!so.best || so.best.worth < hit.worth) so.best = hit
        scored.set(n, so)
      }
    }
    // Who asks is told by pages, whatever they name; of kits she wants none that has it. One that says itself that it is without comes first.
    for (const one of shut) for (const n of one.own.keys()) if (scored.has(n)) scored.get(n).worth += WEIGHT.T
    for (const so of scored.values()) {
      const called = so.called = so.titled > 0 && so.titled >= so.words
      if (called) so.worth *= 2
      // Who asks is answered by a page that tells; who does not is looking for a kit, unless a page is called just so.
      if (!isKit(so.n) && !(called && so.titled === telling)) so.worth *= asks ? TELLS + asks * map.weights[so.n] : map.weights[so.n]
    }
    // A tag that is typed in full, with the words in it that say nothing: "first kit".
    if (told.length && told.length < rest.length && !shut.length) {
      const tagged = new Map()
      await worded(`tag:${rest.map(one => one.token).join(" ")}`, false, tagged)
      for (const n of tagged.keys()) if (scored.has(n)) scored.get(n).worth *= FULLY
    }
    const every = hard.filter(want => !want.hits.everywhere).length
    const has = so => so.had + hard.filter(want => want.hits.everywhere && !want.hits.has(so.n)).length >= hard.length
    // Of a kit that is an old printable alone nobody knows what it is made with.
    const shutOut = new Map(shut.map(one => [one, 0])), known = new Map()
    if (shut.some(one => one.contents)) await worded(NEEDS, false, known)
    const lets = so => !shut.some(one => !one.own.has(so.n) && (one.listed.has(so.n) ? shutOut.set(one, shutOut.get(one) + 1) : one.contents && isKit(so.n) && !known.has(so.n)))
    const any = Array.from(scored.values())
    const whole = (hard.length ? any.filter(has) : any).filter(lets)
    // What no page has can't be asked for; where it is all that was typed, nothing is found.
    const some = whole.length === 0 && every > 1
    const hits = (some ? any.filter(lets) : whole).sort((a, b) => (some && b.had - a.had) || b.worth - a.worth || b.n - a.n)
    const turned = newest && hits.length > 1 && isKit(hits[0].n)
    if (turned) {
      const best = new Set(hits.filter(so => so.worth >= hits[0].worth / 2))
      hits.sort((a, b) => best.has(b) - best.has(a) || b.n - a.n)
    }
    hits.unshift(...given)
    return { ...NONE, hits, left: hits.length && !given.length ? left : [], some: some && !given.length, turned, instead, sized: list.some(want => want.sized), plain, rest, shut: shut.map(one => ({ ...one, many: shutOut.get(one) })) }
  }

  // --- the dialog ---------------------------------------------------------------------------------

  const make = (name, className, ...inside) => {
    const element = document.createElement(name)
    if (className) element.className = className
    if (name === "button") element.type = name
    element.append(...inside)
    return element
  }
  const items = list => list.map(one => make("li", "", one))

  const dialog = make("dialog", "kw-search"), form = make("form", "kw-search__form"), below = make("div", "kw-search__below")
  const label = make("label", "kw-search__label", SAY.label), box = make("input", "kw-search__box"), close = make("button", "kw-search__close", SAY.close)
  const status = make("p", "kw-search__said"), without = make("ul", "kw-search__chips kw-search__without"), hits = make("ol", "kw-hits")
  const more = make("button", "kw-search__more", SAY.more), offers = make("div", "kw-search__offers")
  form.setAttribute("role", "search")
  dialog.setAttribute("aria-label", SAY.open)
  label.htmlFor = box.id = "kw-search-box"
  // Of the type "search" a box would eat the first Escape.
  Object.assign(box, { type: "text", inputMode: "search", enterKeyHint: "search", autocomplete: "off", autocapitalize: "none", spellcheck: false, placeholder: SAY.hint })
  more.hidden = true
  status.setAttribute("role", "status")
  form.append(label, box, close)
  below.append(status, without, hits, more, offers)
  dialog.append(form, below)

  let turn = 0, found = [], shown = 0

  const link = (address, className, ...inside) => {
    const element = make("a", className, ...inside)
    element.href = new URL(address, HOME)
    return element
  }

  const told = so => (so.given ? [...so.given.slice(0, 2), "", [], 0, [["", so.given[2]]]] : documentOf(so.n))

  // Where a hit leads: to the place that matched, or to the top of its page where its title alone did.
  const leads = (path, { best }, places) => (best && places[best.place] ? path.slice(0, path.lastIndexOf("/") + 1) + places[best.place][0] : path)

  const hit = ([title, path, when, line, picture, places], so) => {
    const { best, given } = so, folder = path.slice(0, path.lastIndexOf("/") + 1)
    const image = picture ? make("img") : make("span", when ? "kw-hit__blank" : "kw-hit__blank kw-hit__blank--page", when ? title.slice(0, 1) : "")
    if (picture) Object.assign(image, { src: new URL(folder + picture[0], HOME), alt: "", width: picture[1], height: picture[2], decoding: "async" })
    else image.setAttribute("aria-hidden", "true")
    const words = make("span", "kw-hit__words", make("span", "kw-hit__title", title))
    if (when) words.append(" ", make("span", "kw-hit__line", ...[when, ...line].filter(Boolean).flatMap((fact, n) => [n ? " · " : "", make("span", "kw-first", fact)])))
    const place = given ? places[0][1] : best && places[best.place] ? places[best.place][1] : ""
    if (place && place !== title) words.append(" ", make("span", "kw-hit__where", place))
    return make("li", "kw-hit", link(leads(path, so, places), "kw-hit__kit", image, words))
  }

  const show = async (from, mine) => {
    const next = found.slice(from, from + SHOWN)
    const documents = await Promise.all(next.map(told))
    if (mine !== turn) return
    const lines = next.map((so, n) => hit(documents[n], so))
    if (from) hits.append(...lines)
    else { hits.replaceChildren(...lines); below.scrollTop = 0 }
    shown = from + next.length
    more.hidden = shown >= found.length
    if (from) lines[0].querySelector("a").focus()
  }

  // A button that types this.
  const types = (inside, text) => {
    const button = make("button", "", ...inside)
    button.addEventListener("click", () => { box.value = text(); box.focus(); ask() })
    return button
  }

  const offer = advice => {
    const groups = map ? [[SAY.sizes, map.offers[0]], [SAY.shapes, SAY.kinds], [SAY.tags, map.offers[1].filter(tag => !SAY.kinds.includes(tag))], [SAY.asks, SAY.asked]] : []
    offers.replaceChildren(make("p", "kw-search__help", advice), ...groups.filter(([, list]) => list.length).flatMap(([name, list]) => {
      const row = make("ul", "kw-search__chips", ...items(list.map(said => types([said], () => said))))
      row.setAttribute("aria-label", name)
      return [make("p", "kw-search__name", name), row]
    }), make("ul", "kw-search__ways", ...items((map ? map.ways : [["archive.html"]]).map(([address, title]) => link(address, "kw-search__all", address === "archive.html" ? SAY.all : title)))))
    offers.hidden = false
  }

  // What is left out, each to be taken back with a tap; where nothing else was typed, the words themselves are then looked for.
  const showWithout = ({ shut, rest }) => {
    without.replaceChildren(...items(shut.map(one => {
      const sign = make("span", "", "×"), others = shut.filter(other => other !== one).map(other => SAY.without(other.said))
      sign.setAttribute("aria-hidden", "true")
      const button = types([SAY.without(one.said), " ", sign], () => [asTyped(rest), ...others].filter(Boolean).join(" ") || one.said)
      button.setAttribute("aria-label", SAY.drop(one.said))
      return button
    })))
    without.hidden = !shut.length
  }

  const ask = async again => {
    const mine = ++turn, typed = box.value.trim()
    const slow = setTimeout(() => { if (mine === turn) status.textContent = SAY.looking }, 400)
    try {
      await open(again)
      if (mine !== turn) return
      const said = typed ? await search(typed) : NONE
      if (mine !== turn) return
      found = said.hits
      await show(0, mine)
      if (mine !== turn) return
      showWithout(said)
      offers.hidden = found.length > 0
      if (!found.length) offer(typed ? (said.sized ? SAY.adviceOnSizes : SAY.advice) : SAY.help)
      status.textContent = !typed ? "" : found.length ? SAY.found(found.length, said) : said.shut.length ? SAY.noneWithout(said.shut) : SAY.none
      dialog.dataset.told = typed
    } catch (error) {
      if (mine !== turn) return
      if (!again) return await ask(true)
      found = []
      hits.replaceChildren()
      showWithout(NONE)
      more.hidden = true
      status.textContent = SAY.lost
      offer("")
      dialog.dataset.told = typed
    } finally {
      clearTimeout(slow)
    }
  }

  const show_ = () => {
    if (dialog.open) return
    if (!dialog.isConnected) document.body.append(dialog)
    dialog.showModal()
    box.focus()
    box.select()
    ask()
  }

  box.addEventListener("input", () => ask())
  close.addEventListener("click", () => dialog.close())
  more.addEventListener("click", () => show(shown, turn))
  form.addEventListener("submit", event => {
    event.preventDefault()
    const first = hits.querySelector("a")
    if (first && dialog.dataset.told === box.value.trim()) first.click()
  })
  dialog.addEventListener("click", event => {
    const to = event.target.closest("a")
    // A place of this very page lies under the dialog.
    if (to && to.href.split("#")[0] === location.href.split("#")[0]) dialog.close()
  })
  dialog.addEventListener("keydown", event => {
    // The page behind has keys of its own.
    event.stopPropagation()
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key]
    if (!step) return
    const stops = [box, ...hits.querySelectorAll("a")]
    const at = stops.indexOf(document.activeElement)
    if (at < 0) return
    event.preventDefault()
    const to = stops[Math.min(Math.max(at + step, 0), stops.length - 1)]
    to.focus()
    to.scrollIntoView({ block: "nearest" })
  })
  window.kw = { ...window.kw, find: show_ }
  window.kitwrightFound.tokens = async text => { await open(); return scan(text, map.words).map(one => one.token) }
  window.kitwrightFound.search = async text => { await open(); return search(text) }
  // For tests and for whoever is curious: where a search leads first, by the address from the top of the site.
  window.kitwrightFound.first = async (text, many = 1) => {
    await open()
    const { hits } = await search(text)
    return Promise.all(hits.slice(0, many).map(async so => {
      const [, path, , , , places] = await told(so)
      return [path, leads(path, so, places)]
    }))
  }
}
