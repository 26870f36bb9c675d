// Light or dark as the reader chose last time, before anything is painted.
{
  const chosen = __md_get("__palette")
  if (chosen && chosen.color) {
    for (const [key, value] of Object.entries(chosen.color)) {
      document.body.setAttribute(`data-md-color-${key}`, value)
    }
  } else if (matchMedia("(prefers-color-scheme: dark)").matches) {
    document.body.setAttribute("data-md-color-scheme", "slate")
  }
}
