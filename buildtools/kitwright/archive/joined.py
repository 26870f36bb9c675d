"""Styles and scripts of the theme joined into few files, so that a page asks for little before it is seen.

Sources stay apart, and lie in the site as before; what a page loads is joined here. A fault of hers must not reach
what is ours: a script of hers stands in a file of its own, in its place, and so does a style sheet that is not whole.

Where the frame around pages is the program's (no settings or blocks of hers), they are *lean*: Material's styles are
joined with ours, and in place of its script they have our own (`frame.js`), which does what they use of it. Where
templates are the program's too, it is known what pages can hold, and the styles are cut down to that. Else Material's
files are loaded whole, as it has them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import accumulate
from typing import Any

from kitwright import cache
from kitwright.archive import worn
from kitwright.archive.rules import cut, without_texts
from kitwright.kit.theme import ASSETS, OVERRIDES, SETTINGS, TEMPLATES, Theme, generator

FIRST = ("head.js", "fonts.js", "start.js", "light.js", "ahead.js")
"""Scripts that run before anything is painted, in this order."""
FRAME = "frame.js"
"""What pages use of Material's script, where they are lean."""
KIT = ("numbers.js", "to-bench.js")
"""What a kit's page has besides."""
FIRST_NAME, KIT_NAME, STYLES, SCRIPTS = "first.js", "kit-page.js", "styles", "scripts"
"""How what is joined is called."""
FRAMES = (
    "banner banner__inner container content content__inner dialog dialog__inner ellipsis footer footer-meta footer-meta__inner grid header"
    " header__inner icon main main__inner nav nav--secondary nav__icon nav__item nav__link nav__link--active nav__link--passed nav__list"
    " nav__title option overlay sidebar sidebar--secondary sidebar__inner sidebar__scrollwrap skip toggle typeset typeset__scrollwrap"
    " typeset__table"
)
"""Of Material's classes those that pages of ours have, each after `md-`."""
UNUSED = (
    rf"\.md-(?!(?:{'|'.join(FRAMES.split())})(?![\w-]))"
    r"|\.(?:tabbed|highlight|keys|admonition|task-list|critic|arithmatex|grid|annotate"
    r"|mermaid|headerlink|note|abstract|info|tip|success|question|warning|failure|danger|bug|example|quote|linenos"
    r"|twemoji|emojione|gemoji)(?![a-z])"
    r"|\[data-md-color-(?:accent|primary)=|\[data-md-toggle=|\[dir=rtl\]"
)
"""Selectors of what pages of ours never hold: Material's own menus and search, its notes in boxes, code in colours, its palettes, lines from right to left."""


@dataclass(frozen=True)
class Joined:
    """What pages load."""

    files: dict[str, bytes]
    """What was joined, by its name below `look/`."""
    styles: list[Any]
    """In the order of `extra_css`."""
    scripts: list[Any]
    """In the order of `extra_javascript`."""
    lean: bool
    """Whether nothing of Material's is loaded as it is."""
    own: dict[str, str] = field(default_factory=dict)
    """In place of the first of the styles, the sheet of pages whose head names it."""
    takes_in: str = ""
    """The script of a kit's page, where it has all the others in it."""


def lean(theme: Theme) -> bool:
    """Whether the frame around pages is the program's."""
    return not (theme.hers(SETTINGS) or theme.hers_in(OVERRIDES))


def joined(theme: Theme, styles: Sequence[Any], scripts: Sequence[Any], data: Callable[[str], bytes], look: str) -> Joined:
    """Join what the settings ask for.

    Args:
        theme: the program's, with hers over it.
        styles: `extra_css` of the settings.
        scripts: `extra_javascript` of the settings.
        data: what a file below `look/` says.
        look: the name of that folder, with its slash.
    """
    mine, alone = theme.hers_in(ASSETS), lean(theme)
    apart = {name for name, file in mine.items() if not (name.endswith(".css") and name in theme.programs_in(ASSETS) and _whole(file.data))}
    base = material(whole=bool(theme.hers_in(TEMPLATES))) if alone else b""
    frame = [f"{look}{FRAME}", *scripts] if alone else scripts
    found: dict[str, bytes] = {
        FIRST_NAME: _scripts([data(name) for name in FIRST]),
        KIT_NAME: _scripts([_asked(name) if name in apart else data(name) for name in KIT]),
    }

    def joins(one: Any) -> bool:
        return isinstance(one, str) and one.startswith(look) and one.removeprefix(look) not in apart

    def runs(asked: Sequence[Any], stem: str, ending: str, join: Callable[[list[bytes]], bytes], before: bytes = b"") -> list[Any]:
        made: list[Any] = []
        for ours, some in _runs(asked, joins):
            if not ours:
                made += some
                continue
            n = sum(name.endswith(ending) for name in found if name not in (FIRST_NAME, KIT_NAME))
            name = f"{stem}{f'-{n + 1}' if n else ''}{ending}"
            while name in mine:
                name = f"our-{name}"
            parts = [data(one.removeprefix(look)) for one in some]
            found[name] = join([before, *parts] if before and not n else parts)
            made.append(f"{look}{name}")
        return made

    loaded, run = runs(styles, STYLES, ".css", _styles, base), runs(frame, SCRIPTS, ".js", _scripts)
    own: dict[str, str] = {}
    alike = ""
    if alone and loaded[:1] == [f"{look}{STYLES}.css"]:
        sheets = {"": base} | {name: data(name) for name in (one.removeprefix(look) for one in next(_runs(styles, joins))[1])}
        texts = {name: _styles([sheet]).decode() for name, sheet in sheets.items()}
        sources = [str(one).removeprefix(look) for one in frame]
        for name, data_of in worn.sheets(theme, texts, [*FIRST, *sources], {KIT_NAME: KIT}).items():
            found[f"{name}.css"] = data_of
            own[name] = f"{look}{name}.css"
        if run == [f"{look}{SCRIPTS}.js"] and worn.heads_stand(theme):
            found[KIT_NAME] = found[f"{SCRIPTS}.js"] + found[KIT_NAME]
            alike = KIT_NAME
    return Joined(found, loaded, run, alone, own, alike)


def _runs(asked: Sequence[Any], ours: Callable[[Any], bool]) -> Iterator[tuple[bool, list[Any]]]:
    """What is asked for, in its order, as runs of what is ours and what is not."""
    run: list[Any] = []
    for n, one in enumerate(asked):
        run.append(one)
        if n + 1 == len(asked) or ours(asked[n + 1]) != ours(one):
            yield ours(one), run
            run = []


def _scripts(parts: list[bytes]) -> bytes:
    """Scripts one after another; where one fails, the others run all the same."""
    return b'"use strict"\n' + b"".join(b"try {\n%s\n} catch (error) { reportError(error) }\n" % part.strip() for part in parts)


def _asked(name: str) -> bytes:
    """What asks for a script of hers, which lies beside, in its turn."""
    asked = f'{{ src: new URL("{name}", document.currentScript.src), async: false }}'
    return f'document.head.append(Object.assign(document.createElement("script"), {asked}))'.encode()


def _whole(data: bytes) -> bool:
    """Whether a style sheet of hers may stand among others: all that it opens is closed, and nothing in it has to stand first."""
    text = without_texts(data.decode("utf-8", "replace"))
    depths = list(accumulate((sign == "{") - (sign == "}") for sign in text))
    return (
        not re.search(r"@(?:import|charset|namespace|layer)\b|/\*|['\"\0\ufffd]", text) and min(depths, default=0) == 0 == [0, *depths][-1]
    )


def _styles(parts: list[bytes]) -> bytes:
    return b"\n".join(re.sub(rb"/\*.*?\*/\s*", b"", part, flags=re.DOTALL).strip() for part in parts) + b"\n"


# --- of Material's style sheets, what pages of ours can hold ----------------------------------------


def material(*, whole: bool = False) -> bytes:
    """Material's style sheets, cut down to what pages of ours hold, or as they are."""
    sheets = [next((generator() / "assets" / "stylesheets").glob(f"{name}.*.css")) for name in ("main", "palette")]
    texts = [sheet.read_text(encoding="utf-8") for sheet in sheets]
    if whole:
        return re.sub(r'@charset "[^"]*";|/\*# sourceMappingURL=[^*]*\*/', "", "".join(texts)).encode()
    return cache.made("material", cache.digest(texts), lambda: cut("".join(texts), held).encode())


def held(selector: str) -> bool:
    """Whether pages of ours may hold what a selector of Material's asks for."""
    return not _UNUSED.search(re.sub(r":not\([^()]*\)", "", selector))


_UNUSED = re.compile(UNUSED)
