// The search box understands sizes however they are typed, and works from a folder too.
{
  const GLYPHS = {
    "1/2": "½", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞", "1/3": "⅓", "2/3": "⅔",
  }
  const QUERY = 2

  // 5-1/2, 5 1/2 → 5½; 3-15/16 → 3 15⁄16; 4¼x5½ → 4¼ 5½: as the pages write them.
  const asWritten = typed => typed
    .replace(/(\d+)\s*[/⁄]\s*(\d+)/g, (_, above, below) => GLYPHS[`${above}/${below}`] || `${above}⁄${below}`)
    .replace(/(\d)[\s-]+([½¼¾⅛⅜⅝⅞⅓⅔])/g, "$1$2")
    .replace(/(\d)-(\d+⁄)/g, "$1 $2")
    .replace(/([\d½¼¾⅛⅜⅝⅞⅓⅔])\s*[x×]\s*(?=[\d½¼¾⅛⅜⅝⅞⅓⅔])/gi, "$1 ")
    .replace(/([\d½¼¾⅛⅜⅝⅞⅓⅔])\s*(?:in\b|inch(?:es)?\b|["”″])/gi, "$1 ")
    .replace(/(\d)\s*mm\b/gi, "$1 ")

  const prepared = message => message && message.type === QUERY ? { ...message, data: asWritten(message.data) } : message

  // The search listens for keys alone. What is pasted, dictated or picked from a list of
  // characters, as a ¾ mostly is, comes without one.
  document.addEventListener("input", event => {
    if (event.target.matches(".md-search__input")) event.target.dispatchEvent(new KeyboardEvent("keyup"))
  })

  if (location.protocol !== "file:") {
    const post = Worker.prototype.postMessage
    Worker.prototype.postMessage = function (message, ...rest) {
      return post.call(this, prepared(message), ...rest)
    }
  } else {
    // No browser starts a Worker for a page opened from a folder. A hidden frame stands in:
    // it loads the same script, and messages are handed over as events.
    window.Worker = class extends EventTarget {
      constructor(address) {
        super()
        const frame = document.createElement("iframe")
        frame.hidden = true
        frame.title = "search"
        document.body.append(frame)
        const inside = this.inside = frame.contentWindow
        inside.postMessage = data => this.dispatchEvent(new MessageEvent("message", { data }))
        const script = inside.document.createElement("script")
        this.ready = new Promise(loaded => script.addEventListener("load", loaded))
        script.src = address
        inside.document.head.append(script)
      }

      postMessage(message) {
        const { inside } = this
        this.ready.then(() => inside.dispatchEvent(new inside.MessageEvent("message", { data: prepared(message) })))
      }

      terminate() {}
    }
  }
}
