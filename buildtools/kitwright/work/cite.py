"""Citations: prose that names a size or count of the spec instead of retyping it.

In notes.md, and in whatever prose of the spec is marked `Cites` in `kitwright.kit.model`,
`[[size of A]]` stands for the size of A.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from types import UnionType
from typing import TYPE_CHECKING, Annotated, Any, Union, get_args, get_origin, get_type_hints

from kitwright.errors import Place, Slips, UserError
from kitwright.findings import Finding, Note, errors_in
from kitwright.kit.faces import greetings
from kitwright.kit.model import Cites, KitSpec, Piece, Spec
from kitwright.labels import BASE, is_base
from kitwright.units import fraction_text, length_text, size_text

if TYPE_CHECKING:
    from kitwright.card.face import Face
    from kitwright.kit.kit import Kit
    from kitwright.kit.model.front import Front
    from kitwright.work.worked import Worked

CITATION = re.compile(r"\[\[([^\[\]]*)\]\]")
OPEN = "[["


def cited(worked: Worked, text: str, place: Callable[[int], Place]) -> str:
    """The text with every citation replaced by what it names.

    A phrase in words that leads a sentence begins with a capital, and an article before a
    citation is made to agree: `an 8 × 8 in card`.

    Args:
        worked: the kit.
        text: prose of one or more lines.
        place: where a line of the text stands, counted from 1.

    Raises:
        UserError: a citation of something that does not exist.
    """
    return "".join(before + said for before, said in told(worked, text, place))


def told(worked: Worked, text: str, place: Callable[[int], Place]) -> Iterator[tuple[str, str]]:
    """What stands before each citation, and what the citation says there; at last what stands after them, and nothing.

    Raises:
        UserError: every citation of something that does not exist.
    """
    at, slips, values = 0, Slips(), {}
    for match in CITATION.finditer(text):
        try:
            values[match.start()] = value(worked, match[1])
        except UserError as error:
            slips.add(error.at(place(text[: match.start()].count("\n") + 1)))
    slips.stop()
    for match in CITATION.finditer(text):
        said = values[match.start()]
        if match[1].split()[:1] == ["sheets"]:
            said = Note("cited.phrase", said=said, after=text[: match.start()]).words
        yield Note("cited.before", text=text[at : match.start()], said=said).words, said
        at = match.end()
    yield text[at:], ""


def notes_of(worked: Worked) -> str:
    """The kit's notes, citations filled in."""
    return cited(worked, worked.kit.notes, notes_place(worked.kit))


def notes_place(kit: Kit) -> Callable[[int], Place]:
    """Where a line of the notes stands."""
    file: Path = kit.notes_file
    return lambda line: Place(file, line)


def text_place(kit: Kit, path: tuple[str | int, ...]) -> Callable[[int], Place]:
    """Where a text of the spec stands: at its entry, whatever the line."""
    place = kit.place(*path)
    return lambda _: place


# --- the prose of the spec ------------------------------------------------------------------


@cache
def _hints(model: type[Spec]) -> Mapping[str, Any]:
    return get_type_hints(model, include_extras=True)


def may_cite(hint: Any) -> bool:
    """Whether text of this type may cite, by its annotation."""
    if get_origin(hint) is Annotated:
        inner, *marks = get_args(hint)
        return any(isinstance(mark, Cites) for mark in marks) or may_cite(inner)
    return get_origin(hint) in (Union, UnionType) and any(map(may_cite, get_args(hint)))


def _inside(hint: Any, kind: type) -> tuple[Any, ...]:
    """The types of what a list or mapping of this type holds."""
    if get_origin(hint) is Annotated:
        return _inside(get_args(hint)[0], kind)
    if get_origin(hint) in (Union, UnionType):
        return next((found for each in get_args(hint) if (found := _inside(each, kind))), ())
    return get_args(hint) if get_origin(hint) is kind else ()


Change = Callable[[tuple[str | int, ...], str], str]
"""A text, and its path in the file → what stands in its place."""


def rewritten(value: Any, hint: Any, change: Change, path: tuple[str | int, ...] = ()) -> Any:
    """A value of the model with each text that may cite changed; itself where nothing changes."""
    if isinstance(value, Spec):
        fields = type(value).model_fields
        new = {
            name: rewritten(getattr(value, name), each, change, (*path, fields[name].alias or name))
            for name, each in _hints(type(value)).items()
            if name in fields and name not in value.copies
        }
        changed = {name: each for name, each in new.items() if each is not getattr(value, name)}
        return value.model_copy(update=changed) if changed else value
    if isinstance(value, str):
        return change(path, value) if may_cite(hint) else value
    if isinstance(value, (list, tuple)):
        held = (_inside(hint, type(value)) or (None,))[0]
        made = [rewritten(each, held, change, (*path, i)) for i, each in enumerate(value)]
        return value if all(a is b for a, b in zip(made, value)) else type(value)(made)
    if isinstance(value, dict):
        keys, held = _inside(hint, dict) or (None, None)
        pairs = [(rewritten(key, keys, change, (*path, key)), rewritten(each, held, change, (*path, key))) for key, each in value.items()]
        return value if all(a is c and b is d for (a, b), (c, d) in zip(pairs, value.items())) else dict(pairs)
    return value


def prose(spec: Spec) -> list[tuple[tuple[str | int, ...], str]]:
    """Every text of a spec that may cite, with its path in the file."""
    found: list[tuple[tuple[str | int, ...], str]] = []

    def seen(path: tuple[str | int, ...], text: str) -> str:
        found.append((path, text))
        return text

    rewritten(spec, type(spec), seen)
    return found


def cites(kit: Kit) -> bool:
    """Whether anything is cited in the spec."""
    return any(OPEN in text for _, text in prose(kit.spec))


def filled(worked: Worked) -> tuple[Kit, list[Finding]]:
    """The kit with the citations of its spec filled in, and an error for each that names nothing or never ends."""
    kit = worked.kit
    wrong: list[Finding] = []
    spec = rewritten(kit.spec, type(kit.spec), _filling(worked, wrong))
    return (kit if spec is kit.spec else _told(worked, spec)), wrong


def spec_in(worked: Worked) -> KitSpec:
    """The spec of the whole kit; what its prose cites is read on the ruler in which the kit is told."""
    whole = worked.whole
    spec, typed, unit = whole.kit.spec, whole.kit.typed, whole.unit
    if typed is None or unit == spec.unit:
        return spec
    # What is wrong with a citation was told when the kit was read.
    return whole.once(("prose", type(unit), unit), lambda: rewritten(typed, type(typed), _filling(whole, [])))


def _filling(worked: Worked, wrong: list[Finding]) -> Change:
    """Fills citations in, and adds an error for each that names nothing or never ends."""
    kit = worked.kit

    def change(path: tuple[str | int, ...], text: str) -> str:
        if OPEN not in text:
            return text
        try:
            said = cited(said_of(worked, path), text, text_place(kit, path))
        except UserError as error:
            wrong.extend(errors_in(error))
            return text
        if OPEN in said:
            wrong.append(Finding("error", kit.place(*path), "cite.unended"))
        return said

    return change


def _told(worked: Worked, spec: KitSpec) -> Kit:
    """The kit with a spec that says the same in other words; its designs keep what was counted in them."""
    kit = worked.kit
    told = replace(kit, spec=spec, typed=kit.typed or kit.spec)
    if spec.designs:
        counted = {design.kit.design: design.kit.spec.pieces for design in worked.designs}
        vars(told)["views"] = tuple(
            replace(design, spec=design.spec.model_copy(update={"pieces": _worded(design.spec.pieces, counted[design.design])}))
            for design in told.designs
        )
    return told


def _worded(pieces: Mapping[str, Piece], counted: Mapping[str, Piece]) -> dict[str, Piece]:
    return {label: pieces[label].model_copy(update={"per_card": piece.per_card}) for label, piece in counted.items()}


def said_of(worked: Worked, path: tuple[str | int, ...]) -> Worked:
    """What a text of the spec is said of: its own design, or the whole kit."""
    if path[:1] == ("designs",):
        return worked.of(str(path[1]))
    if path[0] in ("samples", "questions") and len(path) > 1:
        return worked.of(getattr(worked.kit.spec, str(path[0]))[path[1]].design or "")
    return worked


def refuse(worked: Worked) -> None:
    """Refuse a kit whose prose cites what is not there, before any of it is sent to anybody.

    Raises:
        UserError: every such citation, with file and line.
    """
    slips = Slips()
    for wrong in filled(worked)[1]:
        slips.add(wrong.raised())
    slips.stop()


# --- what a citation stands for -----------------------------------------------------------------


def value(worked: Worked, phrase: str) -> str:
    """What a citation stands for.

    Raises:
        UserError: nothing of that name.
    """
    words = " ".join(phrase.split())
    unit = worked.unit
    if worked.parts:
        of = next((design for design in worked.designs if words.endswith(f" of {design.kit.design}")), None)
        if of is not None:
            return value(of, words.removesuffix(f" of {of.kit.design}"))
        if words in _OF_A_CARD:
            each = {value(design, words) for design in worked.designs}
            if len(each) > 1:
                raise UserError("cite.which-design", phrase=words, designs=tuple(worked.kit.spec.designs))
            return each.pop()
    simple = _simple(worked, unit)
    if words in simple:
        if (said := simple[words]) is None:
            raise UserError("cite.none-here", phrase=words)
        return said
    if match := re.fullmatch(r"(size|width|height|count|pieces) of (\w[\w ]* base|\w+)(?: in ([\w-]+))?", words):
        return _of_label(worked, words, *match.groups())
    if match := re.fullmatch(r"(\w+) per sheet of ([\w-]+)", words):
        return _per_sheet(worked, words, *match.groups())
    if match := re.fullmatch(r"(sheets|name|sheet|count of sheets) of ([\w-]+)", words):
        return _of_paper(worked, words, *match.groups())
    if match := re.fullmatch(rf"({'|'.join(simple)}) of (.+)", words):
        return _of_part(worked, words, *match.groups())
    raise UserError("cite.names-nothing", phrase=words)


def _of_part(worked: Worked, words: str, what: str, name: str) -> str:
    """What holds for one design, or for one face of the card."""
    unit = worked.unit
    for one in worked.designs:
        if one.kit.design == name:
            found = _simple(one, unit)
        elif name in one.kit.spec.faces and what in _OF_A_FACE:
            found = _of_face(one, one.kit.spec.faces[name], name)
        else:
            continue
        if (said := found[what]) is None:
            raise UserError("cite.none-here", phrase=words)
        return said
    raise UserError("cite.names-nothing", phrase=words)


_OF_A_CARD = (
    *("size of card", "score", "border", "gap", "band", "envelope", "sentiment"),
    *(f"{what} of base" for what in ("size", "width", "height", "count", "pieces")),
)
"""What each design has its own of."""


_OF_A_FACE = ("border", "gap", "band", "sentiment")
"""What may be cited of one face of the card."""


def _of_face(worked: Worked, typed: Front, name: str) -> dict[str, str | None]:
    """What is cited of a face that has a name; each of two doors has its own border and gap, though they are laid out together."""
    side = next((side for side in worked.face.sides if side.on == name), None)
    return {**(_said_of(side, worked.unit) if side else dict.fromkeys(_OF_A_FACE)), **_measures(typed, worked.unit)}


def _said_of(face: Face, unit: str) -> dict[str, str | None]:
    band = face.bands[0] if face.bands else None
    words = face.sentiments[0].text if face.sentiments else None
    return {"band": length_text(min(band.width, band.height), unit) if band else None, "sentiment": words, **_measures(face, unit)}


def _measures(said: Face | Front, unit: str) -> dict[str, str | None]:
    return {name: None if at is None else length_text(at, unit) for name, at in (("border", said.border), ("gap", said.gap))}


def _simple(worked: Worked, unit: str) -> dict[str, str | None]:
    kit = worked.kit
    envelope = kit.spec.card.envelope
    first = next((said for said, _ in greetings(kit.spec)), None)
    return {
        "cards": Note("cited.cards", n=kit.spec.cards).words,
        "count of cards": str(kit.spec.cards),
        "title": kit.spec.title,
        "size of card": size_text(worked.base.finished, unit),
        "score": _scores(worked, unit),
        "envelope": (envelope.name or size_text(envelope.size, unit)) if envelope else None,
        **_said_of(worked.face, unit),
        "sentiment": first.text if first else None,
    }


def _scores(worked: Worked, unit: str) -> str:
    places = tuple(length_text(at, unit) for at in sorted(score.at for score in worked.base.scored.scores))
    return Note("cited.places", places=places).words if len(places) > 1 else length_text(worked.base.score, unit)


def _of_label(worked: Worked, words: str, what: str, label: str, paper: str | None) -> str:
    unit = worked.unit
    label = worked.kit.base if label == BASE else label
    if label not in worked.sizes:
        raise UserError("cite.no-such-piece", phrase=words, label=label, known=tuple(worked.sizes))
    size = worked.sizes[label]
    if what not in ("count", "pieces"):
        return {"size": size_text(size, unit), "width": length_text(size.width, unit), "height": length_text(size.height, unit)}[what]
    counts = worked.counts(label)
    if paper is not None and paper not in counts:
        raise UserError("cite.not-cut-from", phrase=words, label=label, paper=paper, papers=tuple(counts))
    n = sum(counts.values()) if paper is None else counts[paper]
    return str(n) if what == "count" else Note("cited.bases" if is_base(label) else "cited.pieces", n=n).words


def _per_sheet(worked: Worked, words: str, label: str, key: str) -> str:
    plan = worked.plan(key)
    found = max((run.layout.yields.get(label, 0) for run in plan.runs), default=0) if plan else 0
    if not found:
        raise UserError("cite.none-on-a-sheet", phrase=words, label=label, paper=key, papers=_papers(worked))
    return str(found)


def _papers(worked: Worked) -> tuple[str, ...]:
    return tuple(plan.paper for plan in worked.plans)


def _of_paper(worked: Worked, words: str, what: str, key: str) -> str:
    if key not in worked.kit.papers:
        raise UserError("cite.no-such-paper", phrase=words, papers=_papers(worked))
    paper, plan = worked.kit.papers[key], worked.plan(key)
    if what == "name":
        return paper.name
    if what == "sheet":
        return paper.size.name or size_text(paper.size.size, worked.unit)
    if plan is None:
        raise UserError("cite.no-such-paper", phrase=words, papers=_papers(worked))
    return Note("cited.sheets", sheets=plan.sheets).words if what == "sheets" else fraction_text(plan.sheets)
