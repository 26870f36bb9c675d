// Shows on a page of the preview what was found, where it stands, and which state is shown; asks
// this machine for news, and loads the page again when the page itself is another.
{
  const first = JSON.parse(document.getElementById("kw-told").textContent)
  const { page, lost, laterWords } = first
  const kept = `kw-open ${page}`
  let known = first.version
  let drawn = ""

  const element = (name, kind, text) => {
    const made = document.createElement(name)
    if (kind) made.className = kind
    if (text) made.textContent = text
    return made
  }
  const plain = text => text.replace(/\s+/g, " ").trim()
  const words = node => plain(node.textContent.replace("¶", ""))

  // --- where it stands -------------------------------------------------------------------------

  const headings = () => [...document.querySelectorAll("main h2, main h3")]
  const row = (label, table) =>
    [...document.querySelectorAll(`main .${table} tbody tr:not(.kw-found-row)`)].find(each =>
      [...each.querySelectorAll("th *")].some(inner => words(inner) === plain(label)))

  // Puts a note at the first of its spots that is on this page; false where none is.
  const placed = (note, spots) => {
    for (const spot of spots) {
      if (spot.row) {
        const found = row(spot.row, spot.in)
        if (!found) continue
        const line = element("tr", "kw-found-row")
        const cell = element("td")
        cell.colSpan = found.cells.length
        cell.append(note)
        line.append(cell)
        let last = found
        while (last.nextElementSibling?.matches(".kw-found-row")) last = last.nextElementSibling
        last.after(line)
        return true
      }
      const begins = spot.heading && headings().filter(each => words(each).startsWith(plain(spot.heading)))
      const place = spot.id && document.querySelector("main")?.querySelector(`#${CSS.escape(spot.id)}`)
      const heading = place ? (place.matches("h2, h3, h4") ? place : place.querySelector("h2, h3, h4") ?? place) : begins?.[Number(spot.nth ?? 0)]
      if (!heading) continue
      heading.closest("details")?.setAttribute("open", "")
      // Below the whole line that a heading stands in.
      let last = heading.closest(".kw-part__head, .kw-sheet__head, .kw-step__head, summary") ?? heading
      while (last.nextElementSibling?.matches(".kw-found")) last = last.nextElementSibling
      last.after(note)
      return true
    }
    return false
  }

  const noteOf = said => {
    const note = element("div", `kw-found kw-found--${said.level}`)
    note.id = said.id
    const head = element("p", "kw-found__head")
    head.append(element("b", "", said.mark), element("span", "", said.where))
    note.append(head, element("p", "kw-found__problem", said.problem))
    if (said.remedy) note.append(element("p", "kw-found__remedy", said.remedy))
    return note
  }

  // --- at the top ------------------------------------------------------------------------------

  const top = element("div")
  const main = document.querySelector(".md-main")
  if (main) main.prepend(top)
  else (document.querySelector("main") ?? document.body).append(top)

  const linked = (lead, links) => {
    const line = element("p", "", `${lead} `)
    const list = element("ul")
    for (const [text, way, more] of links) {
      const item = element("li")
      const link = element("a", "", text)
      link.href = way
      item.append(link)
      if (more) item.append(` ${more}`)
      list.append(item)
    }
    line.append(list)
    return line
  }

  const barOf = (bar, notes, loose) => {
    const card = element("div", "kw-told__card")
    for (const state of bar.states) card.append(element("p", "kw-told__state", state))
    const below = notes.filter(note => !loose.includes(note))
    if (below.length) card.append(linked(bar.words, below.map(note => [note.where.split("/").pop(), `#${note.id}`])))
    if (bar.links.length) card.append(linked(bar.elsewhere, bar.links.map(each => [each.words, `/${each.way}`, each.count])))
    for (const note of loose) card.append(noteOf(note))
    const inner = element("div", "kw-told__inner")
    inner.append(card)
    const whole = element("div", `kw-told kw-told--${bar.level}`)
    whole.setAttribute("role", bar.alert ? "alert" : "status")
    whole.append(inner)
    return whole
  }

  const show = said => {
    // What says the same is left standing, so that nobody hears it twice.
    const text = JSON.stringify([said.notes, said.bar])
    if (text === drawn) return
    drawn = text
    for (const old of document.querySelectorAll(".kw-found-row, .kw-found")) old.remove()
    const loose = said.notes.filter(note => !placed(noteOf(note), note.at))
    top.replaceChildren(...(said.bar ? [barOf(said.bar, said.notes, loose)] : []))
  }

  // --- how far a build is ----------------------------------------------------------------------

  const strip = element("div", "kw-building")
  strip.setAttribute("role", "status")
  strip.hidden = true
  const spoken = element("span")
  const done = element("progress")
  done.setAttribute("aria-hidden", "true")
  strip.append(spoken, done)
  document.body.append(strip)

  const building = (text, at) => {
    strip.hidden = !text
    if (spoken.textContent !== text) spoken.textContent = text
    done.hidden = !at
    if (at?.total > 1) {
      done.max = at.total
      done.value = at.done
    } else done.removeAttribute("value")
  }

  // --- what is still being drawn -----------------------------------------------------------------

  const put = later => {
    for (const link of document.querySelectorAll("a[href], a.kw-later")) {
      const way = link.getAttribute("href") ?? link.dataset.kwWay
      const [, kit] = new URL(way, location).pathname.match(/\/kits\/([^/]+)\/[^/]+\.(?:pdf|zip)$/) ?? []
      const waits = later.includes(kit)
      if (waits === link.classList.contains("kw-later")) continue
      link.classList.toggle("kw-later", waits)
      if (waits) {
        link.dataset.kwWay = way
        link.removeAttribute("href")
        link.setAttribute("aria-disabled", "true")
        link.title = laterWords
      } else {
        link.setAttribute("href", way)
        for (const name of ["data-kw-way", "aria-disabled", "title"]) link.removeAttribute(name)
      }
    }
  }

  // --- news ------------------------------------------------------------------------------------

  const tell = said => {
    show(said)
    put(said.later)
    building(said.building?.words ?? "", said.building)
  }

  const again = () => {
    const open = [...document.querySelectorAll("main details")].map(each => each.open)
    try {
      sessionStorage.setItem(kept, JSON.stringify(open))
    } catch {
      // A browser that keeps nothing.
    }
    location.reload()
  }

  const wait = seconds => new Promise(resolve => setTimeout(resolve, 1000 * seconds))
  const seen = () => new Promise(resolve => document.addEventListener("visibilitychange", resolve, { once: true }))

  const ask = async () => {
    let failed = 0
    for (;;) {
      // A page that nobody looks at holds no connection open: a browser has few for each place.
      while (document.hidden) await seen()
      const stop = new AbortController()
      const hide = () => document.hidden && stop.abort()
      document.addEventListener("visibilitychange", hide)
      try {
        const answer = await fetch(`/~news?page=${encodeURIComponent(page)}&known=${known}`, { cache: "no-store", signal: stop.signal })
        const said = await answer.json()
        if (said.token !== first.token) return again()
        known = said.version
        failed = 0
        tell(said)
      } catch {
        if (!document.hidden) {
          failed += 1
          if (failed > 2) building(lost)
          await wait(failed > 2 ? 2 : 0.3)
        }
      } finally {
        document.removeEventListener("visibilitychange", hide)
      }
    }
  }

  try {
    const open = JSON.parse(sessionStorage.getItem(kept) ?? "[]")
    document.querySelectorAll("main details").forEach((each, n) => { if (open[n]) each.open = true })
    sessionStorage.removeItem(kept)
  } catch {
    // A browser that keeps nothing.
  }
  tell(first)
  ask()
}
