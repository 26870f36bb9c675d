"""What was worked out for a revision as plain exact data: `results.json`, one writer and one reader.

Values alone, no words: lengths and other fractions are exact text, a size is
`[width, height]`, a rectangle `[x, y, width, height]`, and whatever else has named parts is
an object of them, without those that have their usual value. So a part that a later
kitwright adds with a usual value changes no old record; where one changes otherwise, the
number of the record's format goes up and the old form is read here too.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, dataclass, fields, is_dataclass, replace
from fractions import Fraction
from functools import cache, lru_cache
from itertools import pairwise
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from kitwright.card.base import HALVES, Base
from kitwright.card.enclosed import Enclosed
from kitwright.card.face import Face
from kitwright.cutting import tree
from kitwright.cutting.asked import Answers
from kitwright.cutting.batch.proof import Proof
from kitwright.cutting.plan import Layout, PaperPlan
from kitwright.cutting.yields import sound
from kitwright.geometry import Rect
from kitwright.kit.kit import Kit
from kitwright.units import Length, Size
from kitwright.work.cite import filled
from kitwright.work.counted import counted
from kitwright.work.measured import as_kept
from kitwright.work.worked import Part, Tables, Worked, halves_of, sizes_of
from kitwright.work.working import WORKED, put_together

Plain = None | bool | int | str | list[Any] | dict[str, Any]
"""What JSON can say, floats apart."""
_EXACT = re.compile(r"-?[0-9]{1,400}(/[1-9][0-9]{0,400})?")


class Unread(Exception):
    """Not the results of a kit, or not of this one."""


@dataclass(frozen=True)
class Design:
    """What was worked out for one of several designs."""

    base: Base
    fronts: tuple[Face, ...]
    enclosed: Enclosed


@dataclass(frozen=True)
class Results:
    """What was worked out for a kit, all that a revision keeps of it; of several designs what is the first one's."""

    base: Base
    fronts: tuple[Face, ...]
    layouts: tuple[Layout, ...]
    plans: tuple[PaperPlan, ...]
    enclosed: Enclosed
    batches: Tables | None = None
    """The planner's sheets for every batch; None where they were not kept."""
    answers: Answers | None = None
    """What the planner said beside how the kit is cut; None where it was not kept."""
    designs: tuple[Design, ...] = ()
    """Each of several designs; empty for a kit of one."""


# --- writing and reading ----------------------------------------------------------------------------


def results_text(worked: Worked, batches: Tables | None = None, answers: Answers | None = None) -> str:
    """What was worked out for a kit as JSON text ending in a newline, the same bytes every time.

    Args:
        worked: the kit.
        batches: sheets for every batch, where they are to be kept (`work.batches.tables_of`).
        answers: to questions about other sheets and about the kit once it is changed, likewise (`otherwise.asked.answers_of`).
    """
    designs = tuple(Design(each.base, each.faces, each.enclosed) for each in worked.designs if worked.parts)
    data = plain(Results(worked.base, worked.faces, worked.layouts, worked.plans, worked.enclosed, batches, answers, designs))
    for plan, said in zip(worked.plans, data["plans"]):
        for run, of in zip(plan.runs, said["runs"]):
            # A layout stands once, though several papers are cut by it.
            of["layout"] = worked.layouts.index(run.layout)
    lines = (f" {json.dumps(key)}: {_line(value)}" for key, value in data.items())
    return "{\n" + ",\n".join(lines) + "\n}\n"


def _line(value: Plain) -> str:
    """One entry: an element of a list on each line, so that a difference can be read."""
    if isinstance(value, list) and value:
        return "[\n" + ",\n".join(f"  {_dense(each)}" for each in value) + "\n ]"
    return _dense(value)


def _dense(value: Plain) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


@lru_cache(maxsize=128)
def read_results(text: str) -> Results:
    """The same back from its text.

    Raises:
        Unread: this is none, or not whole.
    """
    try:
        data = json.loads(text, parse_float=_no_float, parse_constant=_no_float)
        layouts = data["layouts"]
        for plan in data["plans"]:
            for run in plan["runs"]:
                run["layout"] = layouts[run["layout"]]
        found = restored(data, Results)
        # One and the same again, as it was when it was planned.
        shared = {layout: layout for layout in found.layouts}
        plans = (replace(plan, runs=tuple(replace(run, layout=shared[run.layout]) for run in plan.runs)) for plan in found.plans)
        return replace(found, plans=tuple(plans))
    except (ValueError, TypeError, KeyError, IndexError, RecursionError) as error:
        raise Unread from error


def _no_float(text: str) -> float:
    raise ValueError(f"{text} is not exact")


def worked_again(kit: Kit, results: Results) -> Worked:
    """A kit with what was worked out for it, without planning or laying out anything.

    Args:
        kit: as it was published; what may change since then as it is now.
        results: as they were kept.

    Raises:
        Unread: these are not the results of this kit.
    """
    asked, kit = kit, as_kept(kit, {label: size for plan in results.plans for label, size in plan.demand.sizes.items()})
    if any(_faults(kit, results)):
        raise Unread
    told, _ = filled(_again(counted(kit, tuple(each.fronts for each in _designs(results))), results))
    found = _again(told, results)
    # As if it had been asked for already; and whoever works this kit out again has the same.
    vars(found)["enclosed"], vars(found)["tables"], vars(found)["answers"] = results.enclosed, results.batches, results.answers
    for design, kept in zip(found.designs, _designs(results)):
        vars(design)["enclosed"] = kept.enclosed
    vars(asked)[WORKED] = vars(kit)[WORKED] = vars(told)[WORKED] = found
    return found


def _designs(results: Results) -> tuple[Design, ...]:
    return results.designs or (Design(results.base, results.fronts, results.enclosed),)


def _again(kit: Kit, results: Results) -> Worked:
    parts = tuple(Part(design, kept.base, kept.fronts) for design, kept in zip(kit.designs, _designs(results), strict=True))
    return put_together(kit, parts, results.plans, results.layouts, ())


def _faults(kit: Kit, results: Results) -> Iterator[object]:
    """What does not fit the kit: the results may come in a folder that somebody else packed."""
    sizes = sizes_of(kit)
    for layout in results.layouts:
        yield from tree.faults(layout.tree, layout.sheet, sizes, halved=halves_of(kit))
    papers = {key for layout in results.layouts for key in layout.papers} | {plan.paper for plan in results.plans}
    fronts = [face for design in _designs(results) for face in design.fronts]
    fronts += [side for face in fronts for side in face.sides]
    placed = [one for face in fronts for one in (*face.stack, *(s.placed for s in face.settings))]
    yield from (papers | {one.paper for one in placed}) - set(kit.papers)
    labels = {one.label for one in placed} | {label for plan in results.plans for label in plan.demand.needs}
    yield from labels - set(sizes)
    if not results.fronts or not all(design.fronts for design in results.designs):
        yield "no front"
    if len(results.designs) != len(kit.spec.designs):
        yield "other designs"
    for base in (design.base for design in _designs(results)):
        yield from () if base.fold in HALVES and base.halves or base.lines and base.closed else (base,)
    if results.batches is not None:
        yield from () if len(results.batches.counts) == len(results.plans) else results.plans
        for table in filter(None, results.batches.counts):
            # More cards never take fewer sheets.
            yield from ("fewer sheets" for n, more in pairwise((Fraction(0), *table.sheets)) if n > more)
    if results.answers is not None:
        yield from _wrong_answers(results.answers, {plan.paper for plan in results.plans})


def _wrong_answers(answers: Answers, papers: set[str]) -> Iterator[object]:
    yield from (one for one in answers.sheets if one.paper not in papers or one.sheets <= 0)
    yield from (table for table in answers.yields if table.paper not in papers or not sound(table.most))
    for plan in answers.plans:
        yield from () if plan.paper in papers and not plan.short else (plan,)
        for run in plan.runs:
            yield from tree.faults(run.layout.tree, plan.demand.sheet, plan.demand.sizes, halved=plan.demand.halves)


# --- values and plain data ----------------------------------------------------------------------------


def plain(value: Any) -> Any:
    """A value as plain data."""
    if value is None or isinstance(value, (bool, int, str)):
        return value
    if isinstance(value, Length):
        return str(value.inches)
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, (Size, Rect)):
        return [plain(getattr(value, part.name)) for part in fields(value)]
    if is_dataclass(value):
        return {part.name: plain(now) for part in fields(value) if not _usual(part, now := getattr(value, part.name))}
    if isinstance(value, Mapping):
        return {key: plain(each) for key, each in value.items()}
    if isinstance(value, tuple):
        return [plain(each) for each in value]
    raise TypeError(f"results hold no {type(value).__name__}")


def _usual(part: Any, value: object) -> bool:
    """Whether a part has the value that it has unless said."""
    default = part.default_factory() if part.default_factory is not MISSING else part.default
    return default is not MISSING and value == default


def restored(data: Any, kind: Any) -> Any:
    """The value of a kind that plain data stands for.

    Raises:
        ValueError, TypeError, KeyError: it stands for none.
    """
    origin, inner = _form(kind)
    if origin in (Union, UnionType):
        return restored(data, _which(data, inner))
    if origin is Literal:
        return _checked(data, data in inner and isinstance(data, str))
    if kind is NoneType:
        return _checked(data, data is None)
    if kind in (str, bool, int):
        return _checked(data, type(data) is kind)
    if kind is Fraction:
        return Fraction(_checked(data, isinstance(data, str) and _EXACT.fullmatch(data) is not None))
    if kind is Length:
        return Length(restored(data, Fraction))
    if kind in (Size, Rect):
        parts = _parts(kind)
        return kind(*(restored(each, part) for each, part in zip(_checked(data, isinstance(data, list)), parts.values(), strict=True)))
    if isinstance(kind, type) and is_dataclass(kind):
        parts = _parts(kind)
        _checked(data, isinstance(data, dict) and data.keys() <= parts.keys())
        return kind(**{name: restored(each, parts[name]) for name, each in data.items()})
    if origin is tuple:
        each = [inner[0]] * len(data) if inner[1:] == (...,) else inner
        return tuple(restored(one, of) for one, of in zip(_checked(data, isinstance(data, list)), each, strict=True))
    if isinstance(origin, type) and issubclass(origin, Mapping):
        return {restored(key, inner[0]): restored(one, inner[1]) for key, one in _checked(data, isinstance(data, dict)).items()}
    raise TypeError(f"results hold no {kind}")


def _checked(data: Any, right: bool) -> Any:
    if not right:
        raise ValueError(f"not what stands here: {data!r:.40}")
    return data


def _which(data: Any, kinds: tuple[Any, ...]) -> Any:
    """Which of several kinds plain data stands for."""
    for kind in kinds:
        if isinstance(data, dict):
            if isinstance(kind, type) and is_dataclass(kind) and _needed(kind) <= data.keys() <= _parts(kind).keys():
                return kind
        elif data is None:
            if kind is NoneType:
                return kind
        elif isinstance(data, list):
            if kind in (Size, Rect) or _form(kind)[0] is tuple:
                return kind
        elif _form(kind)[0] is Literal:
            if data in _form(kind)[1]:
                return kind
        elif kind is type(data) or isinstance(data, str) and kind in (Length, Fraction):
            return kind
    raise ValueError(f"none of what may stand here: {data!r:.40}")


@cache
def _form(kind: Any) -> tuple[Any, tuple[Any, ...]]:
    """What a kind is a form of, and of what."""
    return get_origin(kind), get_args(kind)


@cache
def _parts(kind: type) -> dict[str, Any]:
    """The parts of a kind with their own kinds, in order."""
    # A name that a module knows for its type checker alone stands here.
    hints = get_type_hints(kind, localns={"Proof": Proof})
    return {part.name: hints[part.name] for part in fields(kind)}


@cache
def _needed(kind: type) -> frozenset[str]:
    return frozenset(p.name for p in fields(kind) if p.default is MISSING and p.default_factory is MISSING)
