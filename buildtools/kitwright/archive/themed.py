"""Her theme looked over: faults that stop a build, each at its file and line, and what is worth a look.

Nothing is filled in here, so it costs little, and `check` does it too.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from jinja2 import Environment, TemplateSyntaxError, nodes

from kitwright.archive.pages import own_head
from kitwright.archive.policy import first_fault
from kitwright.archive.settings import settings
from kitwright.archive.theme import environment
from kitwright.errors import Place, Slips, UserError
from kitwright.findings import Finding
from kitwright.kit.read import shown
from kitwright.kit.theme import (
    ASSETS,
    BRIEFS,
    FILLED,
    OUR_MARK,
    OVERRIDES,
    PARTS,
    SETTINGS,
    TEMPLATES,
    OwnFile,
    Theme,
    blocks,
    generator,
    nearest_name,
)
from kitwright.telling.templates import asks, faults_of, named_in, offers, sandbox

SHOWN = tuple(".css .js .svg .png .jpg .jpeg .webp .gif .ico .woff .woff2 .ttf .otf .txt .json .webmanifest".split())
"""What can lie in `assets/`: nothing that becomes a page."""
PASSED = ("readme", "license", "licence", "copying", "changelog", "notes")
"""Her own notes, at the top of her theme."""
_SPOKEN = re.compile(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", re.DOTALL)


def refuse_faults(theme: Theme) -> None:
    """Stop where something of hers can't be used.

    Raises:
        UserError: all of it, each at its file and line.
    """
    slips = Slips()
    slips.trying(settings, theme)
    for part in FILLED:
        for file in _filled(theme, part).values():
            for error in _faults(theme, part, file):
                slips.add(error)
    for name, file in theme.hers_in(ASSETS).items():
        if not name.lower().endswith(SHOWN):
            slips.add(UserError("theme.no-asset", place=file.place(), name=name, endings=SHOWN))
    slips.stop()


def _filled(theme: Theme, part: str) -> dict[str, OwnFile]:
    return {name: file for name, file in theme.hers_in(part).items() if name.endswith(FILLED[part])}


def _faults(theme: Theme, part: str, file: OwnFile) -> Iterator[UserError]:
    env = _environment(theme, part)
    found = list(faults_of(file, env, lambda name: _there(theme, part, name), lambda: sorted(_known(theme, part))))
    yield from found
    if any(error.code in ("files.no-utf-8", "theme.syntax", "theme.endless") for error in found):
        return
    if part != BRIEFS:
        # What the templates themselves say is blanked, line by line.
        fault = first_fault(_SPOKEN.sub(lambda said: "\n" * said[0].count("\n"), file.text))
        if fault:
            line, error = fault
            yield UserError("theme.against-the-policy", place=file.place(line), fault=error.code, values=error.values)
    if part == TEMPLATES and file.name.endswith(".md") and not _SPOKEN.search(file.text.partition("\n---\n")[0]):
        try:
            own_head(file.text, file)
        except UserError as error:
            yield error
    yield from _lost(theme, part, file)


def _lost(theme: Theme, part: str, file: OwnFile) -> Iterator[UserError]:
    """Macros of the program's file that hers lacks and another template asks for: so an old copy breaks at a renewal."""
    name = file.name.partition("/")[2]
    own = theme.program_file(file.name)
    if own is None:
        return
    env = _environment(theme, part)
    lacking = offers(env.parse(own.read_text(encoding="utf-8"))) - offers(env.parse(file.text))
    if not lacking:
        return
    mine = theme.standings[file.name] == "current"
    for other in sorted(set(theme.programs_in(part)) | set(_filled(theme, part))):
        # Only what names this file can ask for its macros.
        if lacking and name in (text := _text(theme, f"{part}/{other}")):
            for macro in sorted(asks(_tree(env, text)).get(name, set()) & lacking):
                yield UserError("theme.lacks", place=file.place(1), macro=macro, asks=f"{part}/{other}", file=file.name, mine=mine)
                lacking.discard(macro)


def _text(theme: Theme, name: str) -> str:
    """What stands, hers or the program's, in whatever letters it is."""
    file, own = theme.hers(name), theme.program_file(name)
    return (file.data if file else own.read_bytes() if own else b"").decode("utf-8", "replace")


def _tree(env: Environment, text: str) -> nodes.Template:
    try:
        return env.parse(text)
    except (TemplateSyntaxError, RecursionError):
        # Told where that file itself is looked over.
        return nodes.Template([])


def _environment(theme: Theme, part: str) -> Environment:
    if part == TEMPLATES:
        return environment(theme)
    if part == BRIEFS:
        return sandbox(theme, BRIEFS)
    env = sandbox(theme, OVERRIDES, extensions=["jinja2.ext.i18n"])
    # Those of the page generator, which is not loaded for this.
    env.filters |= {"url": str, "script_tag": str}
    return env


def _there(theme: Theme, part: str, name: str) -> bool:
    full = f"{part}/{name}"
    return (
        theme.hers(full) is not None
        or theme.program_file(full) is not None
        or (part == OVERRIDES and (name in blocks() or (generator() / name).is_file() and ".." not in name))
    )


def _known(theme: Theme, part: str) -> set[str]:
    """Every name that a file of a folder can have, to have a place."""
    return {*theme.programs_in(part), *theme.hers_in(part), *(blocks() if part == OVERRIDES else ())}


# --- worth a look ---------------------------------------------------------------------------------


def look_over(theme: Theme) -> list[Finding]:
    """What is worth a look: names that have no place, and in one line what a renewal left behind."""
    if theme.folder is None:
        return []
    found = [Finding("warning", theme.files[name].place(), "theme.no-place", name=name, near=near) for name, near in slips_of(theme)]
    standing = list(theme.standings.values())
    kinds = {"old": ("old", "same"), "outgrown": ("outgrown",), "unrecorded": ("unrecorded",), "gone": ("gone",)}
    counts = {kind: sum(stands in kinds[kind] for stands in standing) for kind in kinds}
    if any(counts.values()):
        found.append(Finding("hint", Place(shown(theme.folder)), "theme.renewed", **counts))
    return found


def slips_of(theme: Theme) -> list[tuple[str, str | None]]:
    """Files of hers that the program has no place for and that none of hers asks for, each with the name that was meant, as far as one is near."""
    found: list[tuple[str, str | None]] = []
    used = _used(theme)
    for name in theme.files:
        if theme.standings[name] != "extra" or name in used or name in (SETTINGS, f"{ASSETS}/{OUR_MARK}"):
            continue
        part, _, rest = name.partition("/")
        if part == ASSETS and rest in theme.own_styles:
            continue
        if not rest and name.lower().partition(".")[0] in PASSED:
            continue
        found.append((name, _meant(theme, name)))
    return found


def _meant(theme: Theme, name: str) -> str | None:
    part = name.partition("/")[0]
    known = [SETTINGS] + [f"{p}/{rest}" for p in PARTS for rest in (_known(theme, p) if p == part else theme.programs_in(p))]
    return nearest_name(name, [one for one in known if one not in theme.files])


def _used(theme: Theme) -> frozenset[str]:
    """Files of hers that another of hers asks for: a template that is included, an asset that is named."""
    found: set[str] = set()
    texts = []
    for part in FILLED:
        env = _environment(theme, part)
        for file in _filled(theme, part).values():
            found |= {f"{part}/{named}" for named in named_in(_tree(env, _said(file)))}
            texts.append(file)
    texts += [file for name, file in theme.hers_in(ASSETS).items() if name.endswith((".css", ".js"))]
    texts += [file for file in [theme.hers(SETTINGS)] if file]
    said = [_said(file) for file in texts]
    found |= {f"{ASSETS}/{name}" for name in theme.hers_in(ASSETS) if any(name in text for text in said)}
    return frozenset(found)


def _said(file: OwnFile) -> str:
    return file.data.decode("utf-8", "replace")
