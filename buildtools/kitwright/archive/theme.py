"""The theme: plain settings, a template for each kind of page, Material blocks, styles and scripts."""

from __future__ import annotations

import re
from pathlib import Path

from jinja2 import Environment

from kitwright.archive import webfonts
from kitwright.archive.compiled import Compiled
from kitwright.archive.helpers import FILTERS, HELPERS
from kitwright.archive.joined import FIRST
from kitwright.archive.text import shown
from kitwright.drawing.palette import css_variables
from kitwright.kit.looks import PAPERS
from kitwright.kit.theme import ASSETS, FILLED, LOCAL, OUR_MARK, OVERRIDES, TEMPLATES, Theme
from kitwright.schemes import HOUSE, LIGHT, Palette
from kitwright.telling.templates import sandbox

PALETTE = "palette.css"
"""The club's colours."""


def environment(theme: Theme) -> Environment:
    """What fills the page templates. Whatever they print is text, unless it is markup already."""
    env = sandbox(theme, TEMPLATES, autoescape=True, finalize=shown)
    env.filters |= FILTERS
    env.globals |= HELPERS
    env.bytecode_cache = Compiled(TEMPLATES, frozenset(str(file.path) for file in theme.hers_in(TEMPLATES).values()))
    return env


def assets(theme: Theme, palette: Palette) -> dict[str, bytes]:
    """Styles, scripts, marks and fonts, by file name."""
    found = {name: _dyed(name, file.read_bytes(), palette) for name, file in theme.programs_in(ASSETS).items()}
    found |= {name: file.data for name, file in theme.hers_in(ASSETS).items()}
    found = {name: data for name, data in found.items() if name not in LOCAL}
    found[PALETTE] = palette_css(palette).encode()
    return found | webfonts.files()


_REMARK = re.compile(rb"^[ \t]*//[^\n]*\n", re.MULTILINE)


def _dyed(name: str, data: bytes, palette: Palette) -> bytes:
    """A file of our theme; a drawing in the club's colours instead of ours, a script that comes after the first paint without the remarks on lines of their own."""
    if name.endswith(".js") and name not in FIRST:
        return _REMARK.sub(b"", data)
    if name.endswith(".svg") and palette is not HOUSE:
        for role, ours in LIGHT.items():
            data = data.replace(ours.encode(), palette.light[role].encode())
    return data


def asset_names(theme: Theme) -> list[str]:
    """What the site has below its folder of styles."""
    ours = [name for name in (*theme.programs_in(ASSETS), *theme.hers_in(ASSETS)) if name not in LOCAL]
    return [*ours, PALETTE, OUR_MARK, *webfonts.names()]


def put_overrides(theme: Theme, folder: Path) -> dict[str, bytes]:
    """Lay out the blocks that go over the page generator's own, hers over the program's; what each says, by name."""
    found = {name: file.read_bytes() for name, file in theme.programs_in(OVERRIDES).items()}
    # Whatever else lay there would be copied to the site as it is.
    found |= {name: file.data for name, file in theme.hers_in(OVERRIDES).items() if name.endswith(FILLED[OVERRIDES])}
    for name, data in found.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)
    return dict(sorted(found.items()))


def palette_css(palette: Palette) -> str:
    """A club's colours and the fonts as a style sheet."""
    papers = "\n".join(f"--kw-paper-{name}: {value};" for name, value in PAPERS.items())
    return "\n".join(
        [
            webfonts.css(),
            f":root {{ --kw-plate: {palette.light['paper']}; }}",
            f":root, [data-md-color-scheme=default] {{\n{css_variables(palette.light)}\n{papers}\n}}",
            # Paper is light.
            f"@media screen {{ [data-md-color-scheme=slate] {{\n{css_variables(palette.dark)}\n}} }}",
            "",
        ]
    )
