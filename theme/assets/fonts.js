// Our type. The first page that a reader sees waits for it; not so a kit's (data-late), which is seen in stand-ins of her device's own (webfonts.py): ours is asked for
// once that is painted, and put in if nothing on the screen moves by it. Every later page has it at hand and begins with it; what is late stays away, so that nothing ever moves.
{
  const { kept, painted } = window.kw
  const root = document.documentElement
  const here = document.currentScript
  const early = (here.dataset.fonts ?? "").split(" ").filter(Boolean)
  const ask = names => {
    for (const name of names) document.head.append(Object.assign(document.createElement("link"), { rel: "preload", as: "font", type: "font/woff2", crossOrigin: "", href: new URL(name, here.src) }))
  }

  // Where things stand that are on the screen: a line that breaks elsewhere moves what is below it, or makes it taller.
  const seen = () => {
    const found = [], words = []
    const look = element => {
      const { top, bottom } = element.getBoundingClientRect()
      if (top >= innerHeight) return // nor is what is in it, and nobody has to lay it out for us
      if (bottom > top) found.push({ element, top, bottom })
      for (const child of element.childNodes) {
        if (child.nodeType === 1) look(child)
        else if (child.nodeType === 3 && child.previousSibling && child.data.trim()) {
          // Words after others in their line begin elsewhere, though no line breaks.
          const range = document.createRange()
          range.selectNodeContents(child)
          words.push({ range, ...begins(range) })
        }
      }
    }
    look(document.body)
    return { found, words }
  }
  const begins = range => {
    const first = range.getClientRects()[0], { width, height } = range.getBoundingClientRect()
    return { x: first?.left ?? 0, y: first?.top ?? 0, area: width * height }
  }
  const LEAST = 3 // px; less is no move, for the eye and for what browsers reckon
  const far = (one, other) => Math.abs(one - other) >= LEAST && Math.min(one, other) < innerHeight
  const MOST = 0.012 // of what browsers reckon for words that begin elsewhere: the share of the screen that they take, by how far they go of its longer side
  const moved = ({ found, words }) => {
    let area = 0, way = 0
    for (const { range, ...before } of words) {
      const now = begins(range), step = Math.max(Math.abs(now.x - before.x), Math.abs(now.y - before.y))
      if (step < LEAST || Math.min(now.y, before.y) >= innerHeight) continue
      area += Math.max(now.area, before.area)
      way = Math.max(way, step)
    }
    return (area / (innerWidth * innerHeight)) * (way / Math.max(innerWidth, innerHeight)) > MOST || found.some(({ element, top, bottom }) => {
      const now = element.getBoundingClientRect()
      return far(now.top, top) || far(now.bottom, bottom)
    })
  }
  const putIn = () => {
    const before = seen()
    root.classList.add("kw-type")
    if (moved(before)) root.classList.remove("kw-type")
  }

  const faces = () => Promise.all([...document.fonts].filter(face => face.display === "optional").map(face => face.load())).then(() => kept.set("type", true))
  const known = kept.get("type")
  if (known || !("late" in here.dataset)) {
    root.classList.add("kw-type")
    // What the page begins with; the others lie at hand, if she was here before. From a disk browsers give a page no file that it asks for ahead.
    if (location.protocol !== "file:") ask(known ? early.slice(0, 2) : early)
    if (!known) painted.then(faces).catch(() => {}) // as below
  } else {
    painted.then(faces).then(putIn).catch(() => {}) // no type came: the stand-ins stay
  }
}
