// What was typed as no page has it, put right; loaded by search.js when that first happens.
{
  const SLIP = 5 // letters of a word in which one may be wrong
  const MENDED = 6 // words at most that a slip may stand for
  const LONG = 7 // letters of a word whose first may be the wrong one
  const STEM = 5 // letters of a word that another, longer by three or more, begins with

  // By the list of all words that stand anywhere, and those that lead to some.
  const slips = (said, { alike, leads }) => {
    const every = new Set(said.words.split(" ")), trade = new Set([...Object.keys(alike), ...Object.keys(leads)])
    const known = word => (Object.hasOwn(alike, word) ? alike[word] : word)

    // Whether two words differ by one letter: another, one more, one less, or two that changed places.
    const oneOff = (a, b) => {
      if (Math.abs(a.length - b.length) > 1 || a === b) return false
      let from = 0
      while (from < a.length && a[from] === b[from]) from++
      const rest = (word, skip) => word.slice(from + skip)
      if (a.length !== b.length) return a.length > b.length ? rest(a, 1) === rest(b, 0) : rest(a, 0) === rest(b, 1)
      return rest(a, 1) === rest(b, 1) || (a[from] === b[from + 1] && a[from + 1] === b[from] && rest(a, 2) === rest(b, 2))
    }

    // A word without the ending of a verb, and with another: stamping, stamped → stamp; striped → stripe, since what doubles no letter had an e.
    const formsOf = word => {
      const stem = word.replace(/(?:ing|ed|er)$/, ""), root = stem.replace(/(.)\1$/, "$1")
      if (stem === word || stem.length < 3) return []
      const silent = /[^aeiou][aeiou][^aeiouwxy]$/.test(stem) && every.has(`${stem}e`)
      const forms = silent ? [`${stem}e`, `${stem}ed`, `${stem}ing`] : [stem, root, ...[root, stem].flatMap(one => ["e", "ed", "ing"].map(end => one + end))]
      return Array.from(new Set(forms)).filter(one => every.has(one))
    }

    // What was typed, with what no page has put right: words that belong together or apart, another form of a word, or one letter.
    // Gives the tokens anew, each with the words that it may stand for; nothing where nothing helps.
    const mended = (tokens, unknown) => {
      const list = [], lacks = one => one && one.word && unknown.has(one.token)
      let helped = false
      for (let n = 0; n < tokens.length; n++) {
        const one = tokens[n], next = tokens[n + 1]
        if (one.word && next && next.word && (lacks(one) || lacks(next)) && every.has(one.token + next.token)) {
          const word = one.token + next.token
          list.push({ token: word, word: true, typed: word, instead: [word] })
          helped = true
          n++
          continue
        }
        if (!lacks(one) || trade.has(one.token) || !/^\p{L}{4,}$/u.test(one.token)) { list.push(one); continue }
        const forms = formsOf(one.token).slice(0, MENDED)
        if (forms.length) {
          list.push({ token: forms[0], word: true, typed: forms[0], instead: forms })
          helped = true
          continue
        }
        const at = Array.from({ length: one.token.length - 3 }, (_, k) => k + 2)
          .filter(k => every.has(one.token.slice(0, k)) && [one.token.slice(k), one.token.slice(k).replace(/s$/, "")].some(word => every.has(word)))
        if (at.length) {
          const k = at.sort((a, b) => Math.abs(2 * a - one.token.length) - Math.abs(2 * b - one.token.length))[0]
          const parts = [one.token.slice(0, k), one.token.slice(k)]
          list.push(...parts.map(word => ({ token: every.has(word) ? word : word.replace(/s$/, ""), word: true, typed: word, instead: [word] })))
          helped = true
          continue
        }
        const alikes = word => oneOff(word, one.token) && (word[0] === one.token[0] || word[0] === one.token[1] || one.token.length >= LONG)
        const slipped = one.token.length < SLIP ? [] : [...trade, ...every].filter(alikes)
          .sort((a, b) => (b[0] === one.token[0]) - (a[0] === one.token[0]) || (b.length === one.token.length) - (a.length === one.token.length))
        const begun = slipped.length ? "" : Array.from({ length: Math.max(one.token.length - STEM - 2, 0) }, (_, k) => one.token.slice(0, -3 - k)).find(word => every.has(word)) || ""
        const near = Array.from(new Set([...slipped, ...(begun ? [begun] : [])].map(known))).slice(0, MENDED)
        helped = helped || near.length > 0
        list.push(near.length ? { token: near[0], word: true, typed: near[0], instead: near } : one)
      }
      return helped ? list : null
    }

    return { said, every, formsOf, mended }
  }

  window.kw = { ...window.kw, slips }
}
