// The page of a kit on your own paper: how many cards, and the sheets that they take, read
// from the table below. Without this script the table says the same.
{
  const form = document.querySelector(".kw-count")
  const table = document.querySelector(".kw-batches")
  const input = form.querySelector("input")
  const told = form.querySelector("[role=status]")
  const rows = [...table.tBodies[0].rows]
  const papers = [...table.tHead.rows[0].cells].slice(1).map(cell => cell.textContent.trim())

  const part = (tag, text, className = "") => Object.assign(document.createElement(tag), { textContent: text, className })

  const sheets = text => text === "½" ? "half a sheet" : `${text} ${text === "1" ? "sheet" : "sheets"}`

  const tell = () => {
    const cards = Number(input.value)
    const row = Number.isInteger(cards) && rows.find(r => +r.dataset.from <= cards && cards <= +r.dataset.to)
    for (const each of rows) each.classList.toggle("kw-asked", each === row)
    if (!row) {
      told.replaceChildren(part("p", input.value === "" ? "Type a number of cards." : "The table goes from 1 to 60 whole cards."))
      return
    }
    const list = part("ul", "", "kw-count__list")
    papers.forEach((name, i) => {
      const line = part("li", "")
      line.append(part("b", sheets(row.cells[i + 1].textContent.trim())), ` ${name}`)
      list.append(line)
    })
    told.replaceChildren(list)
  }

  form.hidden = false
  form.addEventListener("submit", event => event.preventDefault())
  input.addEventListener("input", tell)
  tell()
}
