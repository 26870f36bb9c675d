// Asks for the type that every page begins with, before the style sheet that names it is there; what comes too late is left
// out until the next page, so that no line breaks anew. From a disk browsers give a page no file that it asks for so: there
// a style sheet more puts it in.
{
  const here = document.currentScript
  const link = (name, said) => {
    document.head.append(Object.assign(document.createElement("link"), said, { href: new URL(name, here.src) }))
  }
  if (location.protocol === "file:") document.addEventListener("DOMContentLoaded", () => link("disk.css", { rel: "stylesheet" }))
  else {
    for (const name of (here.dataset.fonts ?? "").split(" ").filter(Boolean)) {
      link(name, { rel: "preload", as: "font", type: "font/woff2", crossOrigin: "" })
    }
  }
}
