"""The theme: plain settings, a template for each kind of page, Material blocks, styles and scripts."""

from __future__ import annotations

from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from kitwright.archive.helpers import FILTERS, HELPERS
from kitwright.archive.text import shown
from kitwright.drawing import fonts
from kitwright.drawing.palette import PAPERS, css_variables
from kitwright.errors import Place, UserError
from kitwright.schemes import Palette

THEME, SETTINGS, TEMPLATES, OVERRIDES, ASSETS = "theme", "mkdocs.yml", "templates", "overrides", "assets"
_OWN = Path(__file__).resolve().parents[3] / THEME


def theme_folder(root: Path) -> Path:
    """The theme that an archive is built with: its own, or the one that comes with kitwright.

    Raises:
        UserError: there is neither.
    """
    for folder in (root / THEME, _OWN):
        if (folder / SETTINGS).is_file():
            return folder
    raise UserError("site.no-theme", place=Place(root / THEME), folder=THEME)


def environment(theme: Path) -> Environment:
    """What fills the page templates. Whatever they print is text, unless it is markup already."""
    env = Environment(
        loader=FileSystemLoader(theme / TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=shown,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    env.filters |= FILTERS
    env.globals |= HELPERS
    return env


def assets(theme: Path, palette: Palette) -> dict[str, bytes]:
    """Styles, scripts, marks and fonts, by file name."""
    found = {f.name: f.read_bytes() for f in sorted((theme / ASSETS).iterdir()) if f.is_file()}
    found["palette.css"] = palette_css(palette).encode()
    return found | fonts.web_files()


def palette_css(palette: Palette) -> str:
    """A club's colours and the fonts as a style sheet."""
    papers = "\n".join(f"--kw-paper-{name}: {value};" for name, value in PAPERS.items())
    return "\n".join(
        [
            fonts.web_css("."),
            f":root {{ --kw-plate: {palette.light['paper']}; }}",
            f":root, [data-md-color-scheme=default] {{\n{css_variables(palette.light)}\n{papers}\n}}",
            f"[data-md-color-scheme=slate] {{\n{css_variables(palette.dark)}\n}}",
            "",
        ]
    )
