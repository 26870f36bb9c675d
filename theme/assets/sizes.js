// A size however it is written: 4.25, 4¼, 4 1/4, 4-1/4″, 108 mm, 10.8 cm, 8 × 8, 8 by 8, 8 inch square, half an inch.
// The one place in which a page reads them: the search (search.js) and “From your paper” (paper.js) take what is said here.
// kitwright.archive.search.tokens reads the pages alike; tests/archive/search_vectors.json holds both to it. Whole numbers alone: nothing is rounded.
{
  const VULGAR = { "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3" }
  const SIGNS = { "⁄": "/", "×": "x", "″": '"', "”": '"', "“": '"', "„": '"', "’": "'", "‘": "'", "–": "-", "—": "-", "−": "-", "‑": "-", ß: "ss" }
  const ONES = "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty".split(" ")
  const TENS = { twenty: 20, thirty: 30, forty: 40, fifty: 50, sixty: 60 }
  const NUMBERS = Object.fromEntries([...ONES.map((word, n) => [word, `${n + 1}`]), ...Object.entries(TENS).map(([word, n]) => [word, `${n}`])])
  const PARTS = { half: 2, quarter: 4, eighth: 8, sixteenth: 16 } // of an inch

  const NOT_ON = String.raw`(?![\p{L}\p{N}_])`
  const PLAIN = "(?:[0-9]{1,3}(?:,[0-9]{3}){1,2}(?![0-9])|[0-9]{0,6}[.,][0-9]{1,6}|[0-9]{1,9})"
  const NUMBER = String.raw`(?:(?:[0-9]{1,6}(?:\s*[-&]\s*|\s+(?:and\s+)?))?[0-9]{1,2}\s*/\s*(?:2|3|4|8|16|32|64)(?![0-9/])|${PLAIN})`
  // "in" is a unit unless it goes on as the word: "2 in the middle", "2-in-1".
  const LONG = "inches|inch|ins|millimet(?:re|er)s?|centimet(?:re|er)s?|mms?|cms?"
  const UNIT = String.raw`(?:(?:${LONG})${NOT_ON}|in(?![\p{L}\p{N}_-])(?!\s+(?:the|a|an|one|this|each|all|my|your)${NOT_ON})|"|'')`
  const TO_UNIT = String.raw`(?:\s*|-)`
  const TOKEN = new RegExp(
    String.raw`(?:≈\s*)?(?<first>${NUMBER})(?:${TO_UNIT}(?<unit1>${UNIT}))?(?:\s*[x*]\s*|\s+by\s+|-by-)(?:≈\s*)?(?<second>${NUMBER})(?:${TO_UNIT}(?<unit2>${UNIT})|${NOT_ON})` +
    String.raw`|(?:≈\s*)?(?<length>${NUMBER})${TO_UNIT}(?<unit>${UNIT})(?:\.?(?:\s+|-)(?<square>squares?|sq)${NOT_ON})?` +
    `|(?<number>${NUMBER})${NOT_ON}` +
    String.raw`|(?<word>[\p{L}\p{N}]+(?:'[\p{L}\p{N}]+)*)`,
    "giu",
  )
  const part = `(?<part>${Object.keys(PARTS).join("|")})`
  const BEFORE = new RegExp(String.raw`\b(?<by>by\s+)?(?:(?<whole>[a-z]{3,9}|[0-9]{1,2})\s+and\s+)?(?:an?\s+|(?<top>[a-z]{3,9}|[0-9]{1,2})(?:\s+|-))?${part}s?\b(?:(?<inch>(?:\s+|-)(?:of\s+)?(?:an?\s+)?inch(?:es)?\b)|(?=(?<on>\s+by\b)|))`, "gi")
  const AFTER = new RegExp(String.raw`\b(?:(?<whole>[a-z]{3,9}|[0-9]{1,2}|an?)\s+)?inch(?:es)?\s+and\s+an?\s+${part}\b`, "gi")
  const COUNTED = new RegExp(String.raw`\b(?:(?<tens>twenty|thirty|forty|fifty)(?:\s+|-))?(?<count>${Object.keys(NUMBERS).join("|")})(?=(?:\s+|-)(?:inch|inches|millimet(?:re|er)s?|centimet(?:re|er)s?|mm|cm)\b)`, "gi")

  const BY = new RegExp(String.raw`\b(${Object.keys(NUMBERS).join("|")})(?=\s+by\s+[0-9])`, "gi") // once "six by six inch" has its second in figures
  const count = word => (/^[0-9]+$/.test(word) ? Number(word) : Object.hasOwn(NUMBERS, word.toLowerCase()) ? Number(NUMBERS[word.toLowerCase()]) : null)

  // Without accents, and with one sign for each thing.
  const WEIGHT = /([0-9])(?=(?:lbs?|gsm)\b)/gi // "80lb"
  const plain = text => text.replace(WEIGHT, "$1 ").replace(/[^\x00-\x7f]/g, c => (VULGAR[c] ? ` ${VULGAR[c]} ` : SIGNS[c] || c)).normalize("NFKD").replace(/\p{M}/gu, "")

  // Lengths in words as figures: "half an inch", "two and a half inches", "an inch and a half", "six inch"; "five and a half" where "by" stands beside it.
  const inFigures = text => text
    .replace(BEFORE, (all, ...rest) => {
      const said = rest.at(-1), below = PARTS[said.part.toLowerCase()]
      const whole = said.whole && count(said.whole), top = said.top && count(said.top)
      if (top >= below || !(said.inch || ((said.by || said.on) && typeof whole === "number"))) return all
      return `${said.by || ""}${whole === null ? `${said.whole} and ` : ""}${top === null ? `${said.top} ` : ""}${typeof whole === "number" ? `${whole} ` : ""}${top || 1}/${below} inch`
    })
    .replace(AFTER, (all, ...rest) => {
      const { whole: word = "a", part } = rest.at(-1), whole = /^an?$/i.test(word) ? 1 : count(word)
      return `${whole === null ? `${word} ` : ""}${whole ?? 1} 1/${PARTS[part.toLowerCase()]} inch`
    })
    .replace(COUNTED, (all, ...rest) => {
      const { tens, count: ones } = rest.at(-1)
      return `${(tens ? count(tens) : 0) + count(ones)}`
    })
    .replace(BY, word => count(word))

  const common = (a, b) => (b ? common(b, a % b) : a)
  const ratio = (above, below) => { const by = common(above, below); return { above: above / by, below: below / by } }

  // A number with how finely it was typed: `digits` behind the point, none for a fraction. Nothing for what is part of something else, as a date is.
  // Nothing here is a thousand inches or centimetres: a comma in those is that of a decimal.
  const value = (number, unit) => {
    if (number.includes("/")) {
      const parts = number.match(/[0-9]+/g).map(Number)
      const below = parts.pop(), above = parts.pop()
      return above < below ? { ...ratio((parts[0] || 0) * below + above, below), fraction: true, digits: 0 } : null
    }
    const grouped = unit === "in" || unit === "cm" ? /^[0-9]{1,3}(,[0-9]{3}){2,}$/ : /^[0-9]{1,3}(,[0-9]{3})+$/
    const thousands = grouped.test(number) ? number.replace(/,/g, "") : number.replace(",", ".")
    const [whole, behind = ""] = thousands.split(".")
    return { ...ratio(Number(whole + behind), 10 ** behind.length), digits: behind.length }
  }

  const unitOf = typed => {
    const said = (typed || "").toLowerCase()
    return !said ? "" : said.startsWith("mm") || said.startsWith("milli") ? "mm" : said.startsWith("c") ? "cm" : "in"
  }

  // A text as words, and as numbers, lengths and sizes: `edges` are one or two, each exactly above/below, in `unit` where one is told.
  // `typed` is how it stood there.
  const scan = text => Array.from(inFigures(plain(text)).matchAll(TOKEN)).flatMap(({ 0: all, groups: g }) => {
    if (g.word) return [{ word: g.word, typed: g.word }]
    const typed = g.number || g.length ? [g.number || g.length] : [g.first, g.second]
    const named = unitOf(g.unit || g.unit2 || g.unit1), edges = typed.map(number => value(number, named))
    if (edges.includes(null)) return typed.join(" ").match(/[0-9]+/g).map(n => ({ edges: [value(n)], unit: "", typed: n }))
    const unit = named || (edges.some(edge => edge.fraction) ? "in" : "")
    return [{ edges: g.square ? [edges[0], edges[0]] : edges, unit, typed: all.trim() }]
  })

  // What a sheet becomes that is cut across its long side.
  const halved = ([a, b]) => (a.above * b.below > b.above * a.below ? [{ ...ratio(a.above, a.below * 2), digits: a.digits }, b] : [a, { ...ratio(b.above, b.below * 2), digits: b.digits }])
  const parted = (edges, how) => (how === "half" ? halved(edges) : halved(halved(edges)))

  window.kw = { ...window.kw, sizes: { scan, parted, VULGAR, NUMBERS } }
}
