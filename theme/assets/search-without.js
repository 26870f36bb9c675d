// What is typed, parted into what is wanted and what is not: "no vellum", "without foam or punching", "anything but winter", "-autumn".
// Loaded by search.js when such a word is first typed; the words are telling/searching.py's.
{
  // In what lists say of a kit it has what it has: title, tags, card, papers, pieces, tools. What prose says counts for nothing: "no stamp is needed" has the word too.
  const LISTED = "TGCWSP", CONTENTS = "CWSP"

  const without = async (tokens, { map, said, every, formsOf, worded, between, take, joinedAt, partAt, anyUnit, asTyped, isKit, NEEDS, LEAST }) => {
    const [denyingOf, explained, filling, unless, told] = ["denyingOf", "explained", "filling", "unless", "told"].map(name => new Set(said[name].split(" ")))
    const named = (n, many) => tokens.slice(n, n + many).map(one => one.token).join(" ")
    const denies = (n, many = 1) => n + many <= tokens.length && map.denying.has(named(n, many)) && !denyingOf.has(tokens[n].token)
    const fills = n => n < tokens.length && !joinedAt(tokens, n) && (filling.has(tokens[n].token) || map.common.has(tokens[n].token)) && !unless.has(tokens[n].token)

    // Where the word, the size or the words that are one from here on stand: by document, with what its prose and with what its lists say.
    const standing = async n => {
      const all = new Map(), used = new Map(), joined = joinedAt(tokens, n), part = partAt(tokens, n), one = tokens[n]
      const many = joined ? joined.many : part ? part.many : 1, last = n + many === tokens.length
      const inLists = found => Array.from(found).filter(([n, hit]) => isKit(n) && LISTED.includes(hit.field))
      const listed = () => new Map([...inLists(used), ...inLists(all)])
      const gather = async (words, begins) => {
        for (const word of words) {
          await worded(word, begins && word, all, 1, false)
          for (const [, entry] of await between(`${NEEDS}${word}`, `${NEEDS}${word}${begins ? "\uffff" : "\u0000"}`)) take(entry, used)
        }
      }
      if (part || one.edges) await anyUnit(part || one, all)
      else {
        const word = joined ? joined.word : one.token
        await gather(new Set([word, ...(one.instead || []), ...["ed", "ing", "d", "s"].map(end => word + end).filter(form => every.has(form))]), false)
        if (!listed().size) await gather(formsOf(word), false)
        if (!listed().size && last && word.length >= LEAST) await gather([word], true)
      }
      // What every kit is asked for is known of each, where none has it too.
      const asked = tokens.slice(n, n + many).some(one => told.has(one.token)) || (joined && told.has(joined.word))
      return { many, all, listed: listed(), asked, contents: [...inLists(all), ...inLists(used)].some(([, hit]) => CONTENTS.includes(hit.field)), any: listed().size > 0 || (!asked && (all.size > 0 || all.everywhere === true)) }
    }

    // What is not wanted from here on, with the end of it: more words than one where a list has them together, as the name of a paper or a tag.
    const thing = async (n, denier) => {
      const found = await standing(n)
      let to = n + found.many
      for (; to < tokens.length && tokens[to].word && !denies(to); to++) {
        const more = await standing(to)
        const together = ([n, hit]) => { const other = more.listed.get(n); return other && other.field === hit.field && other.place === hit.place && "GS".includes(hit.field) }
        if (!Array.from(found.listed).some(together)) break
        found.listed = new Map(Array.from(found.listed).filter(([n]) => more.listed.has(n)))
      }
      const typed = tokens.slice(n, to)
      while (to < tokens.length && (map.counted.has(tokens[to].token) || filling.has(tokens[to].token))) to++
      // A kit that says of itself that it is without has just these words in its title, its tag or its heading.
      const own = new Map(Array.from(found.all).filter(([n, hit]) => denier.has(n) && denier.get(n).field === hit.field && denier.get(n).place === hit.place && "TGH".includes(hit.field)))
      return { ...found, said: asTyped(typed), typed, to, own, titled: Array.from(own.values()).some(hit => hit.field === "T") }
    }

    // What is not wanted after a word that denies, one thing after the other.
    const things = async (n, said, denier) => {
      const found = [await thing(n, denier)]
      for (;;) {
        const at = found.at(-1).to, on = tokens[at] && tokens[at].token
        if (on !== "or" && on !== "nor" && (on !== "and" || said === "no" || said === "not")) return found
        let next = at + 1
        while (fills(next) || denies(next)) next++
        if (next >= tokens.length) return found
        found.push(await thing(next, denier))
      }
    }

    const rest = [], shut = [], plain = []
    const as = found => ({ ...found, fills: word => filling.has(word) })
    if (tokens.some(one => explained.has(one.token))) return as({ rest: tokens, shut, plain })
    for (let n = 0; n < tokens.length; n++) {
      const many = [2, 1].find(many => denies(n, many)) || Number(denyingOf.has(tokens[n].token) && fills(n + 1))
      let at = n + many
      while (many && fills(at)) at++
      if (!many || at >= tokens.length || unless.has(tokens[at].token)) { rest.push(tokens[n]); continue }
      const denier = new Map()
      await worded(tokens[n + many - 1].token, false, denier, 1, false)
      const found = await things(at, named(n, many), denier), end = found.at(-1).to
      // What stands somewhere but in no list can't be left out: then it is looked for.
      if (found.every(one => one.listed.size || !one.any)) shut.push(...found)
      else {
        plain.push(...found)
        rest.push(...tokens.slice(n, end))
      }
      n = end - 1
    }
    return as({ rest, shut, plain })
  }

  window.kw = { ...window.kw, without }
}
