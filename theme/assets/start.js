// What Material's own scripts expect before they start: where the site begins, and a
// small store for what the reader chose. The base path comes from this script's own tag.
window.__md_scope = new URL(document.currentScript.dataset.base, location)
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
