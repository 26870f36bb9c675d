// Asks for the type that every page begins with, before the style sheet that names it is there. Not from a disk: browsers
// give a page there no file that it asks for so, and the style sheet alone does.
if (location.protocol !== "file:") {
  const here = document.currentScript
  for (const name of (here.dataset.fonts ?? "").split(" ").filter(Boolean)) {
    const link = document.createElement("link")
    Object.assign(link, { rel: "preload", as: "font", type: "font/woff2", crossOrigin: "", href: new URL(name, here.src) })
    document.head.append(link)
  }
}
