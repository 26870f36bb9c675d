// Is my copy current? Reads a code as it was typed, tells a slip, and answers from the table
// in the page. Without this script the page lists every code.
{
  const form = document.querySelector("[data-codes]")
  const { alphabet, root, length, group, unknown, codes } = JSON.parse(document.getElementById("kw-codes").textContent)
  const box = form.querySelector("input"), answer = form.querySelector("[role=status]")
  const shown = plain => `${plain.slice(0, group)}-${plain.slice(group)}`

  // The weighted sum of all places comes to nothing modulo the size of the alphabet.
  const isSound = plain => [...plain].reduce((sum, c) => (sum * root + alphabet.indexOf(c)) % alphabet.length, 0) === 0

  // Codes of the table that one wrong character, or two that changed places, would make of what was typed.
  const near = plain => Object.keys(codes).filter(code => {
    const off = [...code].flatMap((c, i) => c === plain[i] ? [] : [i])
    return off.length === 1 || (off.length === 2 && code[off[0]] === plain[off[1]] && code[off[1]] === plain[off[0]])
  })

  const element = (name, text, more = {}) => Object.assign(document.createElement(name), { textContent: text }, more)

  const tell = (kind, title, words, changes = [], advice = [], links = []) => {
    answer.className = `kw-answer kw-answer--${kind}`
    const line = element("p", ""), list = element("ul", "")
    list.append(...changes.map(text => element("li", text)))
    for (const [text, href] of links) {
      line.append(element("a", text, { href }), " ")
    }
    const said = texts => texts.map(text => element("p", text))
    answer.replaceChildren(element("strong", title), ...said(words), ...(changes.length ? [list] : []), ...said(advice), ...(links.length ? [line] : []))
  }

  const slip = (plain, said) => {
    const guesses = near(plain)
    tell("slip", said, [guesses.length ? "Perhaps you mean this one:" : "Look at the foot of the printable again, character by character."])
    for (const code of guesses.slice(0, 3)) {
      const button = element("button", `${shown(code)}, ${codes[code].title}`, { type: "button", className: "kw-guess" })
      button.addEventListener("click", () => {
        box.value = shown(code)
        lookUp()
      })
      answer.append(button)
    }
  }

  const lookUp = () => {
    const plain = box.value.replace(/[\s\-–—_.]+/g, "").toUpperCase()
    const odd = [...new Set(plain)].filter(c => !alphabet.includes(c))
    if (!plain) {
      answer.className = "kw-answer"
      return answer.replaceChildren()
    }
    if (plain.length !== length) {
      return tell("slip", "That is not a whole code", [`A code has ${length} letters and digits; you typed ${plain.length}.`])
    }
    if (odd.length) {
      return slip(plain, `No code has ${odd.join(" or ")} in it`)
    }
    if (!isSound(plain)) {
      return slip(plain, `There is a slip in ${shown(plain)}`)
    }
    const found = Object.hasOwn(codes, plain) ? codes[plain] : null
    if (!found) {
      return tell("unknown", "This code is not known here", [unknown])
    }
    const links = [["See the kit and its newest printable", `kits/${found.kit}/index.html`]]
    if (found.see) {
      links.unshift(["What was wrong, and what is right", found.see])
    }
    tell(found.current ? "current" : "old", found.current ? "Your copy is current" : "There is a newer one", [found.says, found.do], found.changes, found.advice, links)
  }

  form.hidden = false
  form.addEventListener("submit", event => {
    event.preventDefault()
    lookUp()
  })
  // Answered as soon as it is whole; a slip is told only when asked.
  box.addEventListener("input", () => {
    const plain = box.value.replace(/[\s\-–—_.]+/g, "").toUpperCase()
    if (plain.length === length && isSound(plain)) {
      lookUp()
    } else if (answer.childElementCount) {
      answer.className = "kw-answer"
      answer.replaceChildren()
    }
  })
  // A link may bring its code along.
  const brought = decodeURIComponent(location.hash.slice(1))
  if (/^[\w-]{8,9}$/.test(brought)) {
    box.value = brought
    lookUp()
  }
}
