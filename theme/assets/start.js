// Where the site begins, and a small store for light or dark; what Material's own scripts expect, wherever they are
// loaded, before they start. This script lies in a folder at the top of the site.
window.__md_scope = new URL("..", document.currentScript.src)
window.__md_hash = text => Array.from(text).reduce((sum, c) => ((sum << 5) - sum + c.charCodeAt(0)) | 0, 0)
window.__md_get = (key, store = localStorage, scope = __md_scope) => {
  try {
    return JSON.parse(store.getItem(`${scope.pathname}.${key}`))
  } catch {
    return null // a browser that keeps nothing
  }
}
window.__md_set = (key, value, store = localStorage, scope = __md_scope) => {
  try {
    store.setItem(`${scope.pathname}.${key}`, JSON.stringify(value))
  } catch {
    // A browser that keeps nothing: the choice lasts for this page.
  }
}
