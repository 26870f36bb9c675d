// Light or dark as the reader chose last time, before anything is painted: as soon as there is a body to say it of.
{
  let chosen = null
  try {
    chosen = __md_get("__palette")
  } catch {
    // A browser that keeps nothing and does not let itself be asked.
  }
  const say = () => {
    if (!document.body) return false
    if (chosen && chosen.color) {
      for (const [key, value] of Object.entries(chosen.color)) document.body.setAttribute(`data-md-color-${key}`, value)
    } else if (matchMedia("(prefers-color-scheme: dark)").matches) {
      document.body.setAttribute("data-md-color-scheme", "slate")
    }
    return true
  }
  if (!say()) {
    new MutationObserver((_, watch) => { if (say()) watch.disconnect() }).observe(document.documentElement, { childList: true })
  }
}
