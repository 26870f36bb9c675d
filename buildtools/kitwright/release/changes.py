"""What differs between two states of a kit: records by path, with how grave each is, none hiding another.

Whatever differs is told by a change of its own, or through what it does (a row of the front
by the piece that moved), or is listed besides, where it follows from what is told (the
weight of a smaller card).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from kitwright.kit.model import DESIGNED
from kitwright.kit.model.pieces import ONLY
from kitwright.release.both import Both, Copy, Difference
from kitwright.release.designpaths import within
from kitwright.release.marks import Mark, score_marks
from kitwright.release.on_card import fronts_changed, layers_changed, sides_changed
from kitwright.release.on_sheets import counts_changed, guides_changed, paper_name, papers_changed, pieces_changed, renamed
from kitwright.release.paths import GRADES, TABLE, Grade, PathRule, any_fits, differing, grade_of, rule_of, worst
from kitwright.release.rekeyed import rekeyed, renamed_papers


@dataclass(frozen=True)
class Differences:
    """All that differs."""

    told: tuple[Difference, ...]
    """Gravest first."""
    besides: tuple[Difference, ...]
    """What follows from those, one for each path."""

    def __bool__(self) -> bool:
        return bool(self.told or self.besides)

    def __iter__(self) -> Iterator[Difference]:
        yield from (*self.told, *self.besides)

    @property
    def grade(self) -> Grade:
        """The gravest of all."""
        return worst(change.grade for change in self)

    @property
    def paths(self) -> frozenset[str]:
        """Every path that differs."""
        return frozenset(path for change in self for path in change.paths)


def changes(old: Copy, new: Copy) -> Differences:
    """Every change between two states of one kit; none exactly where they say the same."""
    keys = renamed_papers(old.worked, new.worked)
    found = _compared(Both(rekeyed(old, keys), new))
    rest = tuple(path for path in differing(old.values, new.values) if path not in found.paths)
    papers = new.worked.kit.papers
    told = [Difference(f"papers.{k}", "paper-key", "cosmetic", None, None, {"paper": papers[k].name}, rest) for k in keys.values()]
    return Differences((*found.told, *told), found.besides)


def _compared(both: Both) -> Differences:
    told: list[Difference] = []
    if both.differing:
        for compare in (pieces_changed, papers_changed, counts_changed, guides_changed):
            told += compare(both)
        told += designs_changed(both)
        told += renamed(both, told)
    known = {path for change in told for path in change.paths}
    left = [path for path in both.differing if path not in known]
    direct = [path for path in left if not rule_of(path).through and not rule_of(path).follows]
    told += _grouped(both, direct)
    besides: list[Difference] = []
    for path in sorted((p for p in left if rule_of(p).follows), key=_turn):
        rule = rule_of(path)
        if any_fits(rule.follows, _beside(path, told)):
            besides += _grouped(both, [path])
        else:
            told += _grouped(both, [path])
    alone = []
    for path in (p for p in left if rule_of(p).through):
        # An entry that has no words of its own is told by what is listed, too.
        for found in (told, besides) if rule_of(path).kind == "entry" else (told,):
            at = next((i for i, c in enumerate(found) if any_fits(rule_of(path).through, _beside(path, [c]))), None)
            if at is not None:
                found[at] = replace(found[at], tells=(*found[at].tells, path))
                break
        else:
            alone.append(path)
    told += _grouped(both, alone)
    return Differences(tuple(sorted(told, key=lambda c: -GRADES.index(c.grade))), tuple(besides))


def _beside(path: str, told: list[Difference]) -> Iterator[str]:
    """Told paths that one may follow from: those of the kit and, for one of a design, of that design."""
    design, _ = within(path)
    return (p for change in told for p in change.paths if not design or within(p)[0] in ("", design))


def designs_changed(both: Both) -> Iterator[Difference]:
    """What lies on the cards of each design that both have; designs that are gone or new."""
    old, new = both.old.worked, both.new.worked
    if bool(old.parts) != bool(new.parts):
        # One design has become several, or several one: everything of the card stands elsewhere.
        tells = both.below("designs", "base", "fronts", "envelope", "post", *(key for key in DESIGNED if key != "arrangements"))
        yield both.change("designs[]", "designs", len(old.designs), len(new.designs), grade="recut", tells=tells)
        return
    if not new.parts:
        yield from (change for compare in (fronts_changed, layers_changed, sides_changed) for change in compare(both))
        return
    for name, alone in both.designs.items():
        yield from (change.below(name) for compare in (fronts_changed, layers_changed, sides_changed) for change in compare(alone))
    there, now = (tuple(design.kit.design for design in one.designs) for one in (old, new))
    for was, name in both.redesigned.items():
        tells = (*both.below(f"designs.{was}", f"designs.{name}"), "designs[]")
        yield both.change(f"designs.{name}", "design-renamed", was, name, grade="write in", tells=tells)
    for name in there:
        if name not in now and name not in both.redesigned:
            yield both.change(
                f"designs.{name}", "design-gone", name, grade="write in", tells=(*both.below(f"designs.{name}"), "designs[]"), name=name
            )
    for name in now:
        if name not in there and name not in both.redesigned.values():
            yield both.change(
                f"designs.{name}", "design-new", None, name, grade="recut", tells=(*both.below(f"designs.{name}"), "designs[]"), name=name
            )


def _turn(path: str) -> int:
    return TABLE.index(rule_of(path))


def _grouped(both: Both, paths: list[str]) -> Iterator[Difference]:
    """Differences told by their paths: one for each matter, and for each piece or paper where a matter has several paths."""
    for name, alone in both.designs.items():
        own = [inner for design, inner in map(within, paths) if design == name]
        yield from (change.below(name) for change in _grouped(alone, own))
    groups: dict[tuple[str, str], list[str]] = {}
    for path in paths:
        if within(path)[0] in both.designs:
            continue
        rule = rule_of(path)
        groups.setdefault((rule.kind, _subject(rule, path)), []).append(path)
    for (kind, _), same in sorted(groups.items(), key=lambda group: _turn(group[1][0])):
        was, now = both.old.values.get(same[0]), both.new.values.get(same[0])
        grade = worst(grade_of(path, both.old.values.get(path), both.new.values.get(path)) for path in same)
        marks: tuple[tuple[Mark, ...], ...] = ((), ())
        if kind in ("score", "fold", "scored-otherwise"):
            marks = score_marks(both.old.worked.base), score_marks(both.new.worked.base)
        yield both.change(same[0], kind, was, now, grade=grade, tells=same[1:], old=marks[0], new=marks[1], **_values(both, kind, same[0]))


def _subject(rule: PathRule, path: str) -> str:
    """What a change is about: matters of one subject are told together."""
    match rule.kind:
        case "look" | "one-way" | "outline" | "held":
            return path.split(".")[1]
        case "trimmer" | "scored-otherwise" | "inside" | "worked-anew" | "places" | "usual-papers" | "held-on-the-front":
            return ""
        case "entry":
            return _key(path)
    return path


def _key(path: str) -> str:
    """The key of the spec that a path begins with."""
    return path.partition(".")[0].partition("[")[0]


def _decoration(both: Both, path: str) -> str:
    """What the decoration of a path is called."""
    i = int(path.partition("[")[2].partition("]")[0])
    return next(one.worked.kit.spec.decorations[i].name for one in (both.new, both.old) if i < len(one.worked.kit.spec.decorations))


def _values(both: Both, kind: str, path: str) -> dict[str, Any]:
    """What it takes besides the path's own value to tell a change there."""
    parts, spec = path.split("."), both.new.worked.kit.spec
    unit = {"unit": spec.unit}
    match kind:
        case "paper-name":
            return {"key": parts[1]}
        case "paper-kind" | "weight" | "grain" | "at-hand" | "one-way" | "look" | "sheets":
            return {"paper": paper_name(both, parts[1])}
        case "sheet-size" | "thickness":
            return {"paper": paper_name(both, parts[1]), **unit}
        case "count":
            return {"label": parts[1], "paper": paper_name(both, parts[2])}
        case "per-card":
            return {"label": parts[1], "paper": None if parts[3] == ONLY else paper_name(both, parts[3])}
        case "reworded":
            return {"what": path}
        case "step":
            return {"stage": parts[-1]}
        case "size":
            return {"label": parts[1], **unit}
        case "held" | "outline":
            return {"label": parts[1]}
        case "entry":
            return {"key": _key(path)}
        case "inside":
            inside = [one.worked.kit.spec.card.inside for one in (both.old, both.new)]
            return {"before": inside[0] and inside[0].piece, "label": inside[1] and inside[1].piece}
        case "decoration-thickness":
            return {"name": _decoration(both, path), **unit}
        case "drawn-as":
            return {"name": _decoration(both, path)}
        case "spare":
            return {"paper": paper_name(both, parts[1]), "label": parts[2]}
        case "post-step" | "post-limits":
            return {"letters": parts[1]}
        case "envelope" | "foam" | "finished" | "score" | "room" | "post-thickness" | "adhesive" | "foam-area":
            return unit
    return {}
