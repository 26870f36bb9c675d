// The first script of every page, before anything is painted: that scripts run, and what the reader chose before.
// It is also the one home of what is kept on her own device; where nothing can be kept, it lasts for this page.
{
  const PREFIX = "kw:"
  const page = new Map() // what this page alone remembers, as text

  const kept = {
    get(key) {
      try {
        const text = page.has(key) ? page.get(key) : localStorage.getItem(PREFIX + key)
        return text === null ? null : JSON.parse(text)
      } catch {
        return null
      }
    },
    set(key, value) {
      const text = JSON.stringify(value)
      try {
        localStorage.setItem(PREFIX + key, text)
        page.delete(key)
      } catch {
        page.set(key, text)
      }
    },
    drop(key) {
      page.delete(key)
      try {
        localStorage.removeItem(PREFIX + key)
      } catch {
        // Nothing was kept.
      }
    },
  }
  window.kw = { ...window.kw, kept }

  const root = document.documentElement
  root.classList.add("kw-js")
  const [unit, edition] = [kept.get("unit"), kept.get("edition")]
  if (unit === "in" || unit === "mm") root.dataset.kwUnit = unit
  if (edition === "letter" || edition === "a4") root.dataset.kwEdition = edition
}
