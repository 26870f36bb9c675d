// The code of a copy among what was typed, loaded by search.js when something looks like one.
{
  // A code as it stands at the foot of a printable, be there a slip in it or not.
  const codeIn = (typed, { alphabet, root, length, group }) => {
    for (const [, before, after] of typed.toUpperCase().matchAll(/(?<![A-Z0-9])(?=([A-Z0-9]{4})[-–— ]?([A-Z0-9]{4})(?![A-Z0-9]))/g)) {
      const code = before + after
      const sound = code.length === length && [...code].every(c => alphabet.includes(c)) && [...code].reduce((sum, c) => (sum * root + alphabet.indexOf(c)) % alphabet.length, 0) === 0
      const shown = `${code.slice(0, group)}-${code.slice(group)}`
      if (sound ? /[0-9]/.test(code) || /[-–—]/.test(typed) || typed.trim() === typed.trim().toUpperCase() : /[0-9]/.test(code) && /[A-Z]/.test(code) && typed.toUpperCase().includes(shown)) return shown
    }
    return null
  }

  window.kw = { ...window.kw, codeIn }
}
