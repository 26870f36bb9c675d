// Inches or millimetres, and Letter or A4, as the reader chose; kept for all pages. Both texts and both drawings stand on
// the page: what is chosen is a mark on <html> (head.js), and the style sheet shows the one or the other in the same place.
{
  const SAID = { group: "Sizes in", in: "in, inches", mm: "mm, millimetres" }
  const root = document.documentElement
  const own = () => document.querySelector("[data-unit]")?.dataset.unit ?? document.querySelector(".kw-two > *")?.dataset.kw ?? "in"
  const unit = () => root.dataset.kwUnit ?? own()

  // --- the switch --------------------------------------------------------------------------------------

  const tell = () => {
    const now = unit()
    for (const button of document.querySelectorAll(".kw-units button")) button.setAttribute("aria-pressed", String(button.value === now))
  }

  const choose = chosen => {
    root.dataset.kwUnit = chosen
    kw.kept.set("unit", chosen)
    tell()
    document.dispatchEvent(new CustomEvent("kw:unit", { detail: chosen }))
  }

  const button = value => {
    const made = document.createElement("button")
    Object.assign(made, { type: "button", value, textContent: value })
    made.setAttribute("aria-label", SAID[value])
    made.addEventListener("click", () => choose(value))
    return made
  }

  const build = place => {
    place.classList.add("kw-units")
    place.setAttribute("role", "group")
    place.setAttribute("aria-label", SAID.group)
    place.append(button("in"), button("mm"))
  }

  for (const place of document.querySelectorAll("[data-kw-units]")) if (document.querySelector(".kw-two")) build(place)
  tell()
  kw.unit = unit

  // --- Letter or A4: what she takes once is what she has paper for ----------------------------------------

  document.addEventListener("click", event => {
    const edition = event.target.closest?.("a[data-kw-edition]")?.dataset.kwEdition
    if (!edition) return
    root.dataset.kwEdition = edition
    kw.kept.set("edition", edition)
  })

  // Another page of hers may choose while this one is open.
  addEventListener("storage", event => {
    if (event.key === "kw:unit" && kw.kept.get("unit")) {
      root.dataset.kwUnit = kw.kept.get("unit")
      tell()
    } else if (event.key === "kw:edition" && kw.kept.get("edition")) root.dataset.kwEdition = kw.kept.get("edition")
  })
}
