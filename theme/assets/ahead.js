// A site made ahead says so on every page, until its moment: then the line is gone before anything is painted.
{
  const moment = Date.parse(document.currentScript.dataset.moment) // none on a site of what is due
  if (Date.now() >= moment) {
    document.documentElement.classList.add("kw-come")
    document.addEventListener("DOMContentLoaded", () => {
      for (const line of document.querySelectorAll(".kw-ahead")) {
        const banner = line.closest(".md-banner")
        line.remove()
        if (banner && !banner.querySelector("p")) banner.remove()
      }
    })
  }
}
