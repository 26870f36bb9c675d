// What a search leads to besides pages, loaded by search.js when something looks like it: the sheets that she has, filled in where
// kits are found by them; and all kits in the order that she asks for.
{
  const ORDERS = [
    ["cuts", "Fewest cuts first", /^(fewe(st|r)|least|less)$/, /^(cut|cutting|stroke|trimming|work)$/],
    ["sheets", "Fewest sheets first", /^(fewe(st|r)|least|less)$/, /^(sheet|paper)$/],
    ["left", "Least left over first", /^(fewe(st|r)|least|less)$/, /^(waste|leftover|left|scrap|offcut)$/],
    ["cards", "Most cards first", /^(most|bigge(st|r)|large(st|r)?)$/, /^(card|batch)$/],
    ["oldest", "Oldest first", /^olde(st|r)$/, /^(kit|one|printable)$/],
  ]
  const SHEETS = ["sheet", "paper", "pad"], CARDSTOCK = ["cardstock", "stock"], SAYING = ["card", "pattern", "patterned", "square", "find", "left"]
  const counts = one => one.edges?.length === 1 && !one.unit && one.edges[0].below === 1 && one.edges[0].above

  // By `sheets=number,kind,one-way,=size`, as paper.js reads its address; nothing where anything else is asked besides.
  const stockOf = (tokens, map, partAt) => {
    const sheets = [], said = tokens.filter(one => !SHEETS.includes(one.token))
    if (said.length === tokens.length) return null
    let n = 0, cards = ""
    for (let at = 0; at < said.length; at++) {
      const one = said[at], { token } = one, number = counts(one) || (/^[0-9]+$/.test(token) && Number(token))
      const part = ["half", "quarter"].includes(token) && partAt(said, at), many = part ? part.many : 1
      if (part || one.edges?.length === 2 || Object.hasOwn(map.words.sheets, token)) {
        sheets.push({ n: n || 1, size: said.slice(at, at + many).map(word => word.typed).filter(word => !["a", "an", "of"].includes(word)).join(" ") })
        n = 0
        at += many - 1
      } else if (number && said[at + 1]?.token === "card") cards = number
      else if (number) n = Math.min(number, 999)
      else if (token === "oneway" || token === "way") for (const sheet of sheets) sheet.up = "one-way"
      else if (CARDSTOCK.includes(token)) for (const sheet of sheets.slice(-1)) sheet.kind = "cardstock"
      else if (!SAYING.includes(token) && !map.common.has(token) && !map.asking.has(token)) return null
    }
    // "6x6, 3 sheets", but not "5 × 5 in four papers", which is a card.
    if (n && (sheets.length > 1 || !tokens.some((one, at) => at && one.token === "sheet" && /^[0-9]/.test(tokens[at - 1].token)))) return null
    if (n && sheets.length) sheets[0].n = n
    return sheets.length ? { sheets, cards } : null
  }

  const leadsOf = (tokens, map, partAt) => {
    const title = address => map.ways.find(([one]) => one === address)?.[1]
    const found = []
    const stock = title("paper.html") && stockOf(tokens, map, partAt)
    if (stock) {
      const said = new URLSearchParams(stock.sheets.map(({ n, kind = "patterned", up = "", size }) => ["sheets", `${n},${kind},${up},=${size}`]))
      if (stock.cards) said.set("cards", stock.cards)
      found.push([title("paper.html"), `paper.html#${said}`, `Filled in: ${stock.sheets.map(({ n, size }) => `${n} of ${size}`).join(" and ")}`])
    }
    const order = ORDERS.find(([, , how, what]) => tokens.some(one => how.test(one.token)) && tokens.some(one => what.test(one.token)))
    if (order && !stock && title("archive.html")) found.push([title("archive.html"), `archive.html#sort=${order[0]}`, order[1]])
    return found
  }

  window.kw = { ...window.kw, leadsOf }
}
