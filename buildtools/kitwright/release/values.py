"""What a state of a kit says, as values by path: `pieces.A.size`, `guides[0].cuts`, `papers.meadow.sheets`, `envelope.room`.

Two halves in one mapping: what the spec states, with what is taken from the club (the same
content as `state.state_of`, so that states differ exactly where a path of this half does),
and what is worked out from it that a reader's hands meet. A path that is not there stands
for what is not said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from typing import Any

from kitwright.card.post import step_of
from kitwright.kit.model import LIVING, UNMEASURED, KitSpec, Spec
from kitwright.materials import Range
from kitwright.papers import NamedSize, Weight
from kitwright.release.designpaths import below
from kitwright.release.numbers import ROOM, numbers_of
from kitwright.release.state import IN_ORDER, club_papers, lasting, own_state, words_of
from kitwright.units import Length, Size
from kitwright.work.post import mailing
from kitwright.work.supplies import supplies
from kitwright.work.worked import Worked

Value = Length | Size | Range | Fraction | int | str | NamedSize | Weight | tuple[Any, ...] | None
"""What stands at a path; None where nothing is said."""
Values = Mapping[str, Value]
CLUB = "club"


def values_of(worked: Worked, published: Mapping[str, Any] | None = None) -> dict[str, Value]:
    """Everything that a state says, by path.

    Args:
        worked: the state.
        published: the numbers that it was published with, which count before those worked out now; None for one that was not.
    """
    numbers = _over(numbers_of(worked), published or {})
    return dict([*_stated(worked), *_numbers(worked, numbers), *_posted(worked)])


# --- what is stated -------------------------------------------------------------------------------


def _stated(worked: Worked) -> Iterator[tuple[str, Value]]:
    kit = worked.kit
    spec = kit.typed or kit.spec
    for name in KitSpec.model_fields:
        if name not in (*LIVING, "guides", *spec.copies):
            yield from _field(spec, name, name)
    for i, guide in enumerate(own_state(worked).get("guides", [])):
        yield from ((f"guides[{i}].{key}", _fixed(value)) for key, value in guide.items())
    if notes := words_of(kit.notes):
        yield "notes", tuple(notes)
    for stage in type(kit.spec.steps).model_fields:
        # As they read once what they cite is filled in.
        if lines := getattr(kit.spec.steps, stage):
            yield f"told.steps.{stage}", _leaf(lines)
    yield f"{CLUB}.terms", _leaf(kit.club.terms)
    yield f"{CLUB}.cautions", _leaf(kit.club.cautions)
    yield from _walked(f"{CLUB}.trimmer", kit.club.trimmer)
    for key in club_papers(worked):
        yield from _walked(f"papers.{key}", kit.papers[key])
        yield f"papers.{key}.from", CLUB
    yield f"{CLUB}.papers[]", tuple(club_papers(worked))


def _field(spec: Spec, name: str, path: str) -> Iterator[tuple[str, Value]]:
    """A field; nothing where it has its default, or is a size that follows and is not typed."""
    value = lasting(getattr(spec, name))
    if value != UNMEASURED and value != type(spec).model_fields[name].get_default(call_default_factory=True):
        yield from _walked(path, value, name)


def _walked(path: str, value: Any, name: str = "") -> Iterator[tuple[str, Value]]:
    if isinstance(value, Spec):
        inner = [
            pair for field in type(value).model_fields if field not in value.living for pair in _field(value, field, f"{path}.{field}")
        ]
    elif isinstance(value, dict):
        inner = [pair for key, each in value.items() for pair in _walked(f"{path}.{key}", each)]
        if name in IN_ORDER:
            inner.append((f"{path}[]", tuple(value)))
    elif isinstance(value, list):
        inner = [pair for i, each in enumerate(value) for pair in _walked(f"{path}[{i}]", each)]
    else:
        inner = [(path, _leaf(value))]
    # What is there, and says nothing besides, is not what is not there.
    yield from inner or [(path, ())]


def _leaf(value: Any) -> Value:
    """One value, in the one way to write it."""
    if isinstance(value, str):
        return " ".join(value.split())
    if isinstance(value, tuple):
        return tuple(_leaf(each) for each in value)
    if isinstance(value, NamedSize):
        return NamedSize(value.name, value.size, "")
    if isinstance(value, Weight):
        return Weight(" ".join(value.text.split()), value.grammage)
    return value


# --- what is worked out ---------------------------------------------------------------------------


def _over(now: Mapping[str, Any], published: Mapping[str, Any]) -> dict[str, Any]:
    """Published numbers in place of those worked out now; what was not published then stands as it is worked out."""
    return {
        key: _over(now[key], published[key])
        if isinstance(now.get(key), dict) and isinstance(published.get(key), dict)
        else published.get(key, now.get(key))
        for key in {**now, **published}
    }


def _numbers(worked: Worked, numbers: Mapping[str, Any]) -> Iterator[tuple[str, Value]]:
    yield from _of_designs(worked, numbers, _base_numbers)
    for label, piece in numbers["pieces"].items():
        yield f"cut.{label}", _size(piece["size"])
        yield from ((f"counts.{label}.{paper}", n) for paper, n in piece["counts"].items())
    for plan in numbers["papers"]:
        paper = plan["paper"]
        yield f"sheets.{paper}", Fraction(plan["sheets"])
        yield f"sheet.{paper}", _size(plan["sheet"])
        yield f"runs.{paper}", _fixed(plan["layouts"])
        yield from ((f"made.{paper}.{label}", n) for label, n in plan["made"].items())
    yield from _each(numbers, "layouts")
    yield from _of_designs(worked, numbers, _front_numbers)


Told = Iterator[tuple[str, Value]]


def _of_designs(worked: Worked, numbers: Mapping[str, Any], told: Callable[[Mapping[str, Any]], Told]) -> Told:
    """What is each design's own: below its name where there are several."""
    if not worked.parts:
        yield from told(numbers)
        return
    for name, own in numbers["designs"].items():
        yield from ((below(name, path), value) for path, value in told(own))


def _base_numbers(numbers: Mapping[str, Any]) -> Told:
    base = numbers["base"]
    yield from (("base.cut", _size(base["cut"])), ("base.fold", base["fold"]), ("base.finished", _size(base["finished"])))
    yield "base.score", Length(Fraction(base["score"]))
    if "scores" in base:
        yield "base.scores", _fixed(base["scores"])


def _front_numbers(numbers: Mapping[str, Any]) -> Told:
    yield from _each(numbers, "fronts")
    if numbers[ROOM]:
        yield "envelope.room", _size(numbers[ROOM])


def _each(numbers: Mapping[str, Any], many: str) -> Told:
    for i, one in enumerate(numbers[many]):
        yield from ((f"{many}[{i}].{key}", _fixed(value)) for key, value in one.items() if value not in (None, []))


def _posted(worked: Worked) -> Told:
    """What the post makes of it, and what a batch takes besides sheets."""
    for design in worked.designs:
        yield from ((below(design.kit.design, path), value) for path, value in _mailed(design))
    takes = supplies(worked)
    yield "supplies.adhesive", takes.adhesive
    yield "supplies.foam", takes.foam
    yield "supplies.envelopes", takes.envelopes


def _mailed(design: Worked) -> Told:
    card = mailing(design)
    if card is not None:
        yield "post.thickness", card.parcel.thickness
        yield "post.mass", card.parcel.mass
        yield f"post.{card.letters.kind}.limits", tuple((v.about, v.within) for v in card.verdicts)
        yield f"post.{card.letters.kind}.step", step_of(card.parcel.mass, card.letters)


def _size(plain: list[str]) -> Size:
    return Size(*(Length(Fraction(each)) for each in plain))


def _fixed(plain: Any) -> Value:
    """Plain data that can be compared and remembered."""
    if isinstance(plain, dict):
        return tuple((key, _fixed(each)) for key, each in plain.items())
    return tuple(map(_fixed, plain)) if isinstance(plain, list) else plain
