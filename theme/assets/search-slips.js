// What was typed as no page has it, put right; loaded by search.js when that first happens.
{
  const SLIP = 5 // letters of a word in which one may be wrong
  const MENDED = 6 // words at most that a slip may stand for

  // By the list of all words that stand anywhere.
  const slips = list => {
    const every = new Set(list.split(" "))

    // Whether two words differ by one letter: another, one more, one less, or two that changed places.
    const oneOff = (a, b) => {
      if (Math.abs(a.length - b.length) > 1 || a === b) return false
      let from = 0
      while (from < a.length && a[from] === b[from]) from++
      const rest = (word, skip) => word.slice(from + skip)
      if (a.length !== b.length) return a.length > b.length ? rest(a, 1) === rest(b, 0) : rest(a, 0) === rest(b, 1)
      return rest(a, 1) === rest(b, 1) || (a[from] === b[from + 1] && a[from + 1] === b[from] && rest(a, 2) === rest(b, 2))
    }

    // A word without the ending of a verb, and with another: stamping, stamped → stamp.
    const formsOf = word => {
      const stem = word.replace(/(?:ing|ed|er)$/, ""), root = stem.replace(/(.)\1$/, "$1")
      return stem === word || stem.length < 3 ? [] : Array.from(new Set([stem, root, ...[root, stem].flatMap(one => ["e", "ed", "ing"].map(end => one + end))])).filter(one => every.has(one))
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
        if (!lacks(one) || !/^\p{L}{4,}$/u.test(one.token)) { list.push(one); continue }
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
        const near = one.token.length < SLIP ? [] : Array.from(every).filter(word => oneOff(word, one.token))
          .sort((a, b) => (b[0] === one.token[0]) - (a[0] === one.token[0]) || (b.length === one.token.length) - (a.length === one.token.length))
          .slice(0, MENDED)
        helped = helped || near.length > 0
        list.push(near.length ? { token: near[0], word: true, typed: near[0], instead: near } : one)
      }
      return helped ? list : null
    }

    return { every, formsOf, mended }
  }

  window.kw = { ...window.kw, slips }
}
