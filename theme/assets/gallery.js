// The gallery: choose by paper and by how a card is made; enlarge a picture in place.
// Without this script every card is shown and each picture is a link to its drawing.
{
  const gallery = document.querySelector("[data-gallery]")
  const tiles = [...gallery.querySelectorAll(".kw-tile")]
  const shown = () => tiles.filter(tile => !tile.hidden)

  // --- the filter -----------------------------------------------------------------------------

  const filter = gallery.querySelector(".kw-filter")
  const buttons = [...gallery.querySelectorAll(".kw-choice")]
  const wanted = {}

  const sift = () => {
    for (const tile of tiles) {
      tile.hidden = Object.entries(wanted).some(([kind, value]) => value && tile.dataset[kind] !== value)
    }
    for (const group of gallery.querySelectorAll(".kw-cluster, .kw-group")) {
      group.hidden = !group.querySelector(".kw-tile:not([hidden])")
    }
    for (const button of buttons) {
      const { filter: kind, value } = button.dataset
      button.setAttribute("aria-pressed", String((wanted[kind] || "") === value))
    }
    const count = shown().length
    filter.querySelector("[role=status]").textContent =
      count === tiles.length ? `All ${count} are shown.`
        : count ? `${count} of ${tiles.length} ${count === 1 ? "is" : "are"} shown.`
          : "No card is both. Choose All in one of the rows."
  }

  if (filter) {
    filter.hidden = false
    filter.addEventListener("click", event => {
      const button = event.target.closest(".kw-choice")
      if (button) {
        wanted[button.dataset.filter] = button.dataset.value
        sift()
      }
    })
    // A link to a card leads there even if the filter hides it.
    const arrive = () => {
      const tile = document.getElementById(decodeURIComponent(location.hash.slice(1)))
      if (tile && tile.closest("[data-gallery] [hidden]")) {
        for (const kind of Object.keys(wanted)) wanted[kind] = ""
        sift()
        tile.scrollIntoView()
      }
    }
    addEventListener("hashchange", arrive)
  }

  // --- one picture, large -------------------------------------------------------------------------

  const part = (tag, className, text = "") => Object.assign(document.createElement(tag), { className, textContent: text })

  const dialog = part("dialog", "kw-show")
  const picture = part("img", "kw-show__picture")
  const place = part("p", "kw-eyebrow")
  const name = part("h2", "kw-show__name")
  name.id = "kw-show-name"
  const told = part("div", "kw-show__told")
  const words = part("div", "kw-show__words")
  words.setAttribute("aria-live", "polite")
  words.append(place, name, told)
  const before = part("button", "kw-show__move", "Previous")
  const after = part("button", "kw-show__move", "Next")
  const close = part("button", "kw-show__close", "Close")
  const moves = part("p", "kw-show__moves")
  moves.append(before, after, close)
  for (const button of moves.children) button.type = "button"
  const side = part("div", "kw-show__side")
  side.append(words, moves)
  dialog.setAttribute("aria-labelledby", name.id)
  dialog.append(picture, side)

  let current = null

  const show = tile => {
    const all = shown()
    const small = tile.querySelector(".kw-tile__open img")
    current = tile
    picture.src = tile.querySelector(".kw-tile__open").href
    picture.alt = small.alt
    picture.width = small.width
    picture.height = small.height
    place.textContent = `${all.indexOf(tile) + 1} of ${all.length}`
    name.textContent = tile.querySelector(".kw-tile__name").textContent
    const lines = tile.querySelector(".kw-tile__told, .kw-tile__mark").cloneNode(true)
    const files = tile.querySelector(".kw-tile__files").cloneNode(true)
    told.replaceChildren(lines, files)
    before.disabled = all[0] === tile
    after.disabled = all.at(-1) === tile
    // A button that can't be pressed any more must not swallow the keyboard.
    if (document.activeElement === document.body || document.activeElement.disabled) close.focus({ preventScroll: true })
  }

  const move = step => {
    const all = shown()
    const next = all[all.indexOf(current) + step]
    if (next) show(next)
  }

  if (dialog.showModal) {
    for (const tile of tiles) {
      const link = tile.querySelector(".kw-tile__open")
      link.setAttribute("aria-haspopup", "dialog")
      link.addEventListener("click", event => {
        // With a key held down a link opens elsewhere, as anywhere.
        if (event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return
        event.preventDefault()
        show(tile)
        // Inside the gallery, so that the text styles of the page hold here too.
        gallery.append(dialog)
        dialog.showModal()
        close.focus({ preventScroll: true })
      })
    }
    before.addEventListener("click", () => move(-1))
    after.addEventListener("click", () => move(1))
    close.addEventListener("click", () => dialog.close())
    dialog.addEventListener("click", event => {
      if (event.target === dialog) dialog.close()
    })
    dialog.addEventListener("keydown", event => {
      // The page behind listens for letters, such as the one that opens the search.
      event.stopPropagation()
      if (event.key === "ArrowLeft") move(-1)
      if (event.key === "ArrowRight") move(1)
    })
    // The place is kept: the focus goes to the card that was looked at last.
    dialog.addEventListener("close", () => current.querySelector(".kw-tile__open").focus())
  }
}
