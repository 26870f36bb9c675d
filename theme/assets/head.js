// The first script of every page, before anything is painted: that scripts run, and what the reader chose before.
// It is also the one home of what is kept on her own device (where nothing can be kept, it lasts for this page), and of how a script is loaded later.
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
  // A script that is loaded when it is first asked for, each once; one that fails may be asked for again. Scripts come from a folder on a disk too, other data does not.
  const asked = new Map()
  const load = address => {
    const src = String(new URL(address, document.baseURI))
    if (!asked.has(src)) {
      asked.set(src, new Promise((done, failed) => {
        const tag = Object.assign(document.createElement("script"), { src })
        tag.addEventListener("load", () => { tag.remove(); done() })
        tag.addEventListener("error", () => { tag.remove(); asked.delete(src); failed(new Error(src)) })
        document.head.append(tag)
      }))
    }
    return asked.get(src)
  }
  // When the page has first been seen; whatever need not be there before that waits for it. A page that nobody looks at is done with it when it is there.
  const painted = new Promise(done => {
    if (window.PerformanceObserver?.supportedEntryTypes?.includes("paint")) {
      new PerformanceObserver(list => list.getEntriesByName("first-contentful-paint").length && done()).observe({ type: "paint", buffered: true })
      addEventListener("load", () => { if (document.hidden) done() })
    } else addEventListener("load", done)
    addEventListener("beforeprint", done)
  })
  window.kw = { ...window.kw, kept, load, painted }

  const root = document.documentElement
  root.classList.add("kw-js")
  const [unit, edition] = [kept.get("unit"), kept.get("edition")]
  if (unit === "in" || unit === "mm") root.dataset.kwUnit = unit
  if (edition === "letter" || edition === "a4") root.dataset.kwEdition = edition

  // What lies below the first screen of a long page (kit.css) is laid out once that has been painted; at once where the address leads there.
  const whole = () => root.classList.add("kw-whole")
  if (location.hash) whole()
  painted.then(() => setTimeout(whole))
  addEventListener("load", whole)
}
