// The bench view: one stroke or step at a time over the page, made of the page's own nodes, so that whatever
// the page says and shows is said and shown here. It has an address of its own, #bench- and the id of the stroke
// or step; the browser's Back closes it. Where she is and what is ticked is kept for this kit and revision.
{
  const SAY = {
    close: "Close",
    list: "List",
    back: "Back",
    done: "Done",
    next: "Next",
    again: "Return",
    of: (n, all) => `${n} of ${all}`,
    sheets: n => `Set the mark once, then ${n} sheets`,
    which: "Tick each sheet as it is cut",
    step: n => `Step ${n}`,
    cut: "cut",
    tick: "Done:",
    link: "Link to this",
    copied: "Link copied.",
    copy: "This is its address; copy it by hand.",
    awake: "The screen stays on while this is open.",
    anew: "Start anew",
    undo: "Bring the ticks back",
    keys: "Keys: → next, ← back, space done, Esc close. On a phone, swipe.",
  }
  const SWIPE = 60 // pixels across that make a swipe
  const MOST = 24 // sheets that are ticked one by one
  const PICTURES = "picture, img, svg"

  const { MARK, kit, items, key, tell, ticked } = kw.bench // what opens it has them (to-bench.js)
  const part = (tag, className, ...inner) => {
    const made = document.createElement(tag)
    if (className) made.className = className
    made.append(...inner)
    return made
  }
  const button = (className, words, does) => {
    const made = part("button", className, words)
    made.type = "button"
    made.addEventListener("click", does)
    return made
  }
  const find = id => items.find(item => item.id === id)
  const groupOf = item => item.closest("[data-bench-group]") || kit

  // --- what is kept: where, what is done, and which sheets of a stroke -------------------------------

  const store = kw.kept
  const kept = { at: "", done: [], sheets: {}, ...store.get(key) }
  const keep = () => store.set(key, kept)
  const isDone = id => kept.done.includes(id)
  const doneOf = some => some.filter(item => isDone(item.id)).length

  const mark = (id, yes) => {
    kept.done = kept.done.filter(one => one !== id)
    if (yes) kept.done.push(id)
    else delete kept.sheets[id]
    keep()
  }

  // The sheets that a stroke is made on, by name: none where there is but one, or too many to tick.
  const listed = (item, name) => { try { return JSON.parse(groupOf(item).dataset[name] || "[]") } catch { return [] } }
  const sheetsOf = item => {
    if (item.dataset.bench !== "stroke") return []
    const papers = listed(item, "papers"), counts = listed(item, "sheets")
    const each = papers.flatMap((paper, i) => {
      const n = counts[i] || 1
      if (n > MOST) return Array(MOST + 1).fill(paper)
      return Array.from({ length: n }, (_, k) => (n === 1 ? paper : papers.length === 1 ? SAY.of(k + 1, n) : `${paper}, ${SAY.of(k + 1, n)}`))
    })
    return each.length > 1 && each.length <= MOST ? each : []
  }

  // --- the page's own nodes, without their ids ------------------------------------------------------

  const copyOf = node => {
    const made = node.cloneNode(true)
    for (const each of [made, ...made.querySelectorAll("[id], [aria-labelledby], [aria-describedby]")])
      for (const name of ["id", "aria-labelledby", "aria-describedby"]) each.removeAttribute(name)
    for (const each of made.querySelectorAll(".kw-link, .headerlink, .kw-room, [data-bench-open], script")) each.remove()
    // In her unit alone: it is drawn anew when she takes the other.
    const unit = window.kw?.unit?.()
    for (const each of unit ? made.querySelectorAll("[data-kw]") : []) if (each.dataset.kw !== unit) each.remove()
    for (const pair of unit ? made.querySelectorAll(".kw-two:not(.kw-two--drawn)") : []) pair.replaceWith(...(pair.firstElementChild?.childNodes ?? []))
    return made
  }
  // What it is called, in a list: a step's heading, or which edge goes to which mark.
  const titleOf = item => {
    const title = item.querySelector("h3, h4")
    const parts = title ? [title] : [...item.querySelectorAll(".kw-edge, .kw-measure")]
    return parts.flatMap((each, i) => [...(i ? [" "] : []), ...copyOf(each).childNodes])
  }
  const spoken = item => part("span", "", ...titleOf(item)).textContent.replace(/\s+/g, " ").trim()

  // --- the dialog ------------------------------------------------------------------------------------

  let dialog, name, count, bar, stage, list, said, listButton, doneButton, backButton, nextButton
  let standing = false, opener = null, openedAt = "", lock = null, dropped = null
  const at = () => find(kept.at) || items[0]

  const make = () => {
    name = part("h2", "kw-atbench__name")
    name.id = "kw-atbench"
    count = part("p", "kw-atbench__count")
    bar = part("div", "kw-atbench__bar", ...items.map(() => part("i")))
    bar.setAttribute("aria-hidden", "true")
    stage = part("div", "kw-atbench__stage")
    stage.tabIndex = 0
    stage.setAttribute("role", "region")
    stage.setAttribute("aria-labelledby", name.id)
    stage.setAttribute("aria-live", "polite")
    list = part("div", "kw-atbench__list")
    list.hidden = true
    said = part("p", "kw-atbench__said")
    said.setAttribute("role", "status")
    listButton = button("kw-atbench__plain", SAY.list, () => show(list.hidden))
    backButton = button("kw-atbench__step", SAY.back, () => move(-1))
    doneButton = button("kw-atbench__done", SAY.done, done)
    nextButton = button("kw-atbench__step", SAY.next, () => move(1))
    dialog = part(
      "dialog",
      "kw-atbench",
      part("div", "kw-atbench__head", button("kw-atbench__plain", SAY.close, leave), part("div", "kw-atbench__where", name, count), listButton, bar),
      stage,
      list,
      said,
      part("div", "kw-atbench__foot", backButton, doneButton, nextButton),
    )
    dialog.setAttribute("aria-labelledby", name.id)
    stage.addEventListener("blur", () => stage.classList.remove("is-led"))
    // A browser's own way to close a dialog, such as the Back of a phone; it may ask only once.
    dialog.addEventListener("cancel", event => {
      event.preventDefault()
      escape()
    })
    dialog.addEventListener("close", () => standing && leave())
    stage.addEventListener("touchstart", touched, { passive: true })
    stage.addEventListener("touchend", lifted, { passive: true })
    kit.append(dialog)
  }

  // One stroke or step, drawn anew; `way` is where she came from, for the eye.
  const draw = (way = "") => {
    const item = at(), n = items.indexOf(item), group = groupOf(item)
    name.replaceChildren(group.dataset.name || "")
    count.replaceChildren(SAY.of(n + 1, items.length))
    ;[...bar.children].forEach((each, i) => { each.className = [i === n ? "is-here" : "", isDone(items[i].id) ? "is-done" : ""].join(" ").trim() })
    doneButton.setAttribute("aria-pressed", String(isDone(item.id)))
    backButton.disabled = n === 0
    nextButton.disabled = n === items.length - 1
    if (!list.hidden) return drawList()

    const words = part("div", "kw-atbench__words", ...copyOf(item).childNodes)
    const pictures = [...words.querySelectorAll(PICTURES)].filter(each => !each.parentElement.closest(PICTURES))
    // A picture comes with what holds it, as far as that holds pictures alone: its two units stand together.
    const held = new Set(pictures.map(each => {
      let top = each
      while (top.parentElement !== words && !top.parentElement.textContent.trim()) top = top.parentElement
      return top
    }))
    const picture = part("div", "kw-atbench__picture", ...held)
    if (item.dataset.bench === "step" && !words.querySelector(".kw-step__number")) {
      const own = items.filter(each => groupOf(each) === group && each.dataset.bench === "step")
      words.prepend(part("p", "kw-atbench__number", SAY.step(own.indexOf(item) + 1)))
    }
    const sheets = sheetsOf(item)
    if (sheets.length) {
      const first = words.querySelector(".kw-words")
      const chips = part("div", "kw-atbench__sheets", ...sheets.map((sheet, i) => chip(item, sheet, i, sheets.length)))
      chips.setAttribute("role", "group")
      chips.setAttribute("aria-label", SAY.which)
      const before = first && words.contains(first) ? first : null
      ;(before ? before.parentElement : words).insertBefore(chips, before)
      words.prepend(part("p", "kw-atbench__once", SAY.sheets(sheets.length)))
    }
    const link = part("a", "kw-atbench__link", SAY.link)
    link.href = MARK + item.id
    link.addEventListener("click", share)
    words.append(link)
    const one = part("div", `kw-atbench__one kw-atbench__one--${item.dataset.bench}${way ? ` is-${way}` : ""}`, ...(held.size ? [picture] : []), words)
    const within = stage.contains(document.activeElement) && document.activeElement !== stage
    stage.replaceChildren(one)
    stage.scrollTop = 0
    if (within) lead() // what was focused is gone
    said.replaceChildren()
  }

  const chip = (item, sheet, i, all) => {
    const ticked = () => isDone(item.id) || (kept.sheets[item.id] || []).includes(i)
    const made = button("kw-atbench__sheet", sheet, () => {
      const full = Array.from({ length: all }, (_, k) => k)
      const had = new Set(isDone(item.id) ? full : kept.sheets[item.id] || [])
      if (!had.delete(i)) had.add(i)
      mark(item.id, had.size === all)
      kept.sheets[item.id] = [...had].sort((a, b) => a - b)
      keep()
      made.setAttribute("aria-pressed", String(ticked()))
      doneButton.setAttribute("aria-pressed", String(isDone(item.id)))
      bar.children[items.indexOf(item)].classList.toggle("is-done", isDone(item.id))
    })
    made.setAttribute("aria-pressed", String(ticked()))
    return made
  }

  // Led there by a script, she needs no ring around the whole stage; by Tab she does.
  const lead = () => {
    stage.classList.add("is-led")
    stage.focus()
  }

  // --- the list: all of it, with ticks ---------------------------------------------------------------

  const drawList = () => {
    const groups = [...new Set(items.map(groupOf))]
    const tally = part("p", "kw-atbench__tally", ticked(doneOf(items), items.length))
    const rows = groups.map(group => {
      const section = part("section", "", part("h3", "", group.dataset.name || ""))
      section.append(part("ul", "", ...items.filter(item => groupOf(item) === group).map(item => row(item, tally))))
      return section
    })
    const anew = button("kw-atbench__anew", dropped ? SAY.undo : SAY.anew, () => {
      const before = { done: kept.done, sheets: kept.sheets }
      Object.assign(kept, dropped || { done: [], sheets: {} })
      dropped = dropped ? null : before
      keep()
      draw()
      list.querySelector(".kw-atbench__anew")?.focus()
    })
    anew.hidden = !dropped && !kept.done.length && !Object.keys(kept.sheets).length
    const notes = part("p", "kw-atbench__keys", SAY.keys, ...(lock ? [` ${SAY.awake}`] : []))
    list.replaceChildren(tally, ...rows, anew, notes)
    list.querySelector("[aria-current]")?.scrollIntoView({ block: "nearest" })
  }

  const row = (item, tally) => {
    const box = part("input")
    box.type = "checkbox"
    box.checked = isDone(item.id)
    const go = button("kw-atbench__go", "", () => {
      kept.at = item.id
      show(false)
      keep()
    })
    go.append(part("span", "", ...titleOf(item)))
    const cuts = item.querySelector(".kw-cuts")
    if (cuts) go.append(part("span", "kw-atbench__cuts", ...copyOf(cuts).childNodes))
    if (item === at()) go.setAttribute("aria-current", "step")
    box.setAttribute("aria-label", `${SAY.tick} ${spoken(item)}`)
    box.addEventListener("change", () => {
      dropped = null
      mark(item.id, box.checked)
      const n = items.indexOf(item)
      bar.children[n].classList.toggle("is-done", box.checked)
      if (item === at()) doneButton.setAttribute("aria-pressed", String(box.checked))
      tally.replaceChildren(ticked(doneOf(items), items.length))
    })
    return part("li", "", part("label", "", box), go)
  }

  const show = yes => {
    list.hidden = !yes
    stage.hidden = yes
    listButton.replaceChildren(yes ? SAY.again : SAY.list)
    place()
    draw()
    if (yes) list.scrollTop || list.querySelector("[aria-current]")?.scrollIntoView({ block: "center" })
    else lead()
  }

  // --- where she is ------------------------------------------------------------------------------------

  const address = hash => hash.startsWith(MARK) ? find(decodeURIComponent(hash.slice(MARK.length))) : null
  const place = (more = {}) => history.replaceState({ ...history.state, ...more }, "", MARK + kept.at)

  const move = by => {
    const next = items[items.indexOf(at()) + by]
    if (!next) return
    kept.at = next.id
    keep()
    if (!list.hidden) return show(false)
    place()
    draw(by > 0 ? "on" : "back")
  }

  const done = () => {
    const item = at()
    dropped = null
    if (isDone(item.id)) {
      mark(item.id, false)
      return draw()
    }
    mark(item.id, true)
    if (items.indexOf(item) < items.length - 1) move(1)
    else show(true)
  }

  // The browser's own history holds whether the bench is open: one entry, whatever she leafs through.
  const open = item => {
    kept.at = item.id
    keep()
    if (!dialog) make()
    if (!standing) {
      standing = true
      openedAt = item.id
      list.hidden = true
      stage.hidden = false
      listButton.replaceChildren(SAY.list)
      document.documentElement.classList.add("kw-benched")
      dialog.showModal()
      stayAwake()
    }
    draw()
    lead()
  }

  const start = item => {
    history.scrollRestoration = "manual" // closing lands at a place of its own
    history.pushState({ kwBench: true }, "", MARK + item.id)
    open(item)
  }

  const escape = () => (list.hidden ? leave() : show(false))

  const leave = () => {
    if (history.state?.kwBench) history.back()
    else shut()
  }

  const shut = () => {
    standing = false
    dialog.close()
    document.documentElement.classList.remove("kw-benched")
    lock?.release().catch(() => {})
    lock = null
    const item = at()
    history.replaceState(null, "", `#${item.id}`)
    for (let each = item.parentElement; each; each = each.parentElement) if (each.tagName === "DETAILS") each.open = true
    // The opener where she is still at it, or else the place: focus and page never part.
    const link = item.querySelector(".kw-link, a, button")
    const to = opener?.isConnected && openedAt === item.id ? opener : link
    to?.focus({ preventScroll: true })
    item.scrollIntoView({ block: "start" })
    opener = null
    // After the browser has put the page where it thinks it was.
    requestAnimationFrame(() => requestAnimationFrame(() => {
      if (standing) return
      item.scrollIntoView({ block: "start" })
      history.scrollRestoration = "auto"
    }))
    tell()
  }

  const follow = () => {
    const item = address(location.hash)
    if (item) {
      if (!history.state?.kwBench) history.replaceState({ kwBench: true }, "", location.hash)
      open(item)
    } else if (standing) shut()
  }

  // --- the screen, keys, fingers ----------------------------------------------------------------------

  const stayAwake = async () => {
    try {
      const mine = await navigator.wakeLock?.request("screen")
      if (mine && !standing) mine.release()
      else lock = mine || null
    } catch {
      lock = null // a browser that has none, or a battery that is low
    }
  }

  const pressed = event => {
    if (!standing || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return
    const typing = event.target.closest("input:not([type=checkbox]), textarea")
    const onStage = [stage, dialog, document.body].includes(event.target)
    if (event.key === "ArrowRight" && !typing) move(1)
    else if (event.key === "ArrowLeft" && !typing) move(-1)
    else if (event.key === "Escape") escape()
    else if ((event.key === " " || event.key === "Enter") && onStage) done()
    else return
    event.preventDefault()
  }

  let from = null
  const touched = event => {
    const one = event.touches.length === 1 && !(visualViewport?.scale > 1.05) && event.touches[0]
    from = one ? { x: one.clientX, y: one.clientY } : null
  }
  const lifted = event => {
    const to = event.changedTouches[0]
    if (!from || event.touches.length) return
    const x = to.clientX - from.x, y = to.clientY - from.y
    from = null
    if (Math.abs(x) >= SWIPE && Math.abs(x) > 2 * Math.abs(y)) move(x < 0 ? 1 : -1)
  }

  // --- its address, given on --------------------------------------------------------------------------

  const share = async event => {
    event.preventDefault()
    const url = event.currentTarget.href
    const title = document.title
    if (navigator.share && matchMedia("(pointer: coarse)").matches) {
      try {
        return await navigator.share({ title, url })
      } catch (error) {
        if (error.name === "AbortError") return
      }
    }
    try {
      await navigator.clipboard.writeText(url)
      said.replaceChildren(SAY.copied)
    } catch {
      const box = part("input", "kw-atbench__address")
      box.readOnly = true
      box.value = url
      box.setAttribute("aria-label", SAY.copy)
      said.replaceChildren(SAY.copy, box)
      box.focus()
      box.select()
    }
  }

  // --- what opens it ------------------------------------------------------------------------------------

  // A sheet's button begins with what is not done there yet; the kit's goes on where she was.
  const firstOf = opens => {
    const named = opens && document.getElementById(opens)
    const scope = items.includes(named) ? groupOf(named) : named
    const own = scope ? items.filter(item => scope.contains(item)) : []
    if (own.length) return own.find(item => !isDone(item.id)) || own[0]
    return find(kept.at) || items[0]
  }

  kw.bench.start = each => {
    opener = each
    start(firstOf(each.dataset.benchOpen))
  }
  document.addEventListener("kw:unit", () => standing && draw())
  addEventListener("popstate", follow)
  addEventListener("hashchange", follow)
  document.addEventListener("keydown", pressed)
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible" && standing) stayAwake()
  })
  const item = address(location.hash)
  if (item && history.state?.kwBench) open(item) // reloaded
  else if (item) {
    // Come by a link: the page lies under it, so that Back closes it here too.
    history.replaceState(null, "", `#${item.id}`)
    start(item)
  }
}
