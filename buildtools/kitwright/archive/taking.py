"""A file of the program's taken into her theme, and what has become of the two since."""

from __future__ import annotations

import contextlib
import difflib
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Literal

from kitwright.errors import Place, UserError
from kitwright.files import held, trouble, write_file
from kitwright.kit.folder import leads_out
from kitwright.kit.project import KITS
from kitwright.kit.read import shown
from kitwright.kit.taken import RECORD, Origin, plain, record_text
from kitwright.kit.theme import OVERRIDES, PARTS, PROGRAM, SETTINGS, THEME, Theme, blocks, nearest_name, read_theme

Compared = Literal["since", "mine", "unknown", "unchanged", "nothing"]
"""What a difference is between: the program's file when it was taken and now; the same and hers; the program's
of now and hers, since nobody knows what it was taken from; nothing, since she never changed hers; or there is none."""


def names(theme: Theme) -> list[str]:
    """Every name of the program's that can be taken, the page generator's blocks aside."""
    return [SETTINGS, *(f"{part}/{name}" for part in PARTS for name in theme.programs_in(part))]


def name_of(theme: Theme, typed: str) -> str:
    """A file of the theme by its name, as far as it was typed: `home.md`, `theme/templates/home.md`.

    Raises:
        UserError: there is none, or several.
    """
    name = typed.replace("\\", "/").removeprefix("./").removeprefix(f"{THEME}/")
    if name in theme.files or (".." not in name.split("/") and theme.program_file(name)):
        return name
    around = [f"{OVERRIDES}/{block}" for block in blocks()]
    known = [*dict.fromkeys((*names(theme), *theme.files))]
    for some in (known, around):
        ending = [one for one in some if name and one.endswith(f"/{name}")]
        if len(ending) == 1:
            return ending[0]
    near = next(iter(ending), None) or nearest_name(name, [*known, *around])
    raise UserError("theme.unknown-file", name=name, near=near)


def is_own(root: Path) -> bool:
    """Whether the theme of an archive is the program's own: in the program's folder."""
    return (root / THEME).resolve() == PROGRAM.resolve()


def refuse_own(root: Path) -> None:
    """Stop in the program's own folder.

    Raises:
        UserError: nothing is laid over anything there.
    """
    if is_own(root):
        raise UserError("theme.kitwrights-own", place=Place(shown(root / THEME)))


def take(root: Path, asked: Sequence[str], version: str) -> None:
    """Copy files of the program's into her theme, to be changed, and note from what they were taken; all of them or none.

    Raises:
        UserError: one is there already, or is not the program's, or can't be written.
    """
    with _hers(root) as theme:
        for name in asked:
            if name in theme.files or (root / THEME / name).exists():
                raise UserError("theme.there-already", place=Place(shown(root / THEME / name)), name=name)
        texts = {name: _now(theme, name) for name in asked}
        # The record first: cut short after it, nothing of hers has changed.
        _note(root, theme, {name: Origin(version, text) for name, text in texts.items()})
        for name, text in texts.items():
            file = root / THEME / name
            _write(file, text.encode(), root)


def done(root: Path, asked: Sequence[str], version: str) -> None:
    """Note that she looked at files after the program's had outgrown them: hers are of now.

    Raises:
        UserError: one is not hers, or the program has none of that name.
    """
    with _hers(root) as theme:
        for name in asked:
            if name not in theme.files:
                raise UserError("theme.not-hers", name=name)
        _note(root, theme, {name: Origin(version, _now(theme, name)) for name in asked})


def difference(theme: Theme, name: str, mine: bool = False) -> tuple[Compared, list[str]]:
    """What changed in the program's file since she took it; or what hers and the program's differ in.

    Args:
        theme: her theme.
        name: the file.
        mine: what she changed in it instead.

    Returns:
        What was compared, and the lines of the difference.

    Raises:
        UserError: it is not hers, or no text, or there is nothing to compare with.
    """
    if name not in theme.files:
        raise UserError("theme.not-hers", name=name)
    if theme.hers(name) is None and not mine:
        return "unchanged", []
    origin, now = theme.origin(name), _now(theme, name)
    hers = _text(theme.files[name].data, theme.files[name].place())
    what: Compared
    if origin is None:
        what, before, after, heads = "unknown", now, hers, (f"now/{name}", f"{THEME}/{name}")
    elif mine:
        what, before, after, heads = "mine", origin.text, hers, (f"then/{name}", f"{THEME}/{name}")
    else:
        what, before, after, heads = "since", origin.text, now, (f"then/{name}", f"now/{name}")
    lines = list(difflib.unified_diff(before.splitlines(), after.splitlines(), *heads, lineterm=""))
    return (what if lines else "nothing"), lines


@contextlib.contextmanager
def _hers(root: Path) -> Iterator[Theme]:
    """Her theme, while nobody else changes it."""
    refuse_own(root)
    with held(root / KITS):
        yield read_theme(root)


def _now(theme: Theme, name: str) -> str:
    file = theme.program_file(name)
    if file is None:
        raise UserError("theme.none-of-ours", name=name)
    return _text(file.read_bytes(), Place(shown(file)))


def _text(data: bytes, place: Place) -> str:
    try:
        return plain(data).decode()
    except UnicodeDecodeError:
        raise UserError("theme.no-text", place=place) from None


def _note(root: Path, theme: Theme, taken: dict[str, Origin]) -> None:
    _write(root / THEME / RECORD, record_text({**theme.taken, **taken}), root)


def _write(file: Path, data: bytes, root: Path) -> None:
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        if leads_out(file.parent, root / THEME):
            raise UserError("files.link-out", place=Place(shown(file.parent)), name=file.parent.name, home=THEME)
        write_file(file, data)
    except OSError as error:
        raise trouble(error, "disk.anything", file) from None
