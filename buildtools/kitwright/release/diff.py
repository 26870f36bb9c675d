"""What differs between two states of a kit, in a maker's words, and how grave it is.

The differences are computed on the worked model: labels, sizes, counts, positions, cuts,
sheets, words. Each is `cosmetic` (nothing on the card changes), `write in` (an old
printable is right again once the change is written on it) or `recut` (pieces cut by the old
one are wrong, or too few).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from kitwright.card.face import Base, Face, Placed
from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Leaf, pieces
from kitwright.geometry import Rect
from kitwright.kit.names import BASE
from kitwright.release.state import changed_keys, club_state, own_state
from kitwright.telling.steps import steps_of
from kitwright.telling.words import listed, number, sheets_text, spelled
from kitwright.units import ZERO, Length, Size, length_text, size_text
from kitwright.work.worked import Worked

Grade = Literal["cosmetic", "write in", "recut"]
GRADES: tuple[Grade, ...] = ("cosmetic", "write in", "recut")
GRADE_WORDS: dict[Grade, str] = {"cosmetic": "nothing to do", "write in": "write it in by hand", "recut": "cut again"}


@dataclass(frozen=True, slots=True)
class Mark:
    """Where a difference shows, so that a drawing can circle it."""

    on: Literal["sheet", "front", "base"]
    index: int
    """Which of the state's layouts, or which of its fronts, counted from 0."""
    rects: tuple[Rect, ...]
    """On the sheet, on the finished front, or on the base laid flat; a line where a cut or a score is meant."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One difference."""

    kind: Literal["label", "size", "count", "position", "cut", "sheet", "step", "words"]
    grade: Grade
    words: str
    """A sentence without its full stop."""
    was: str = ""
    """What it was, in short."""
    now: str = ""
    old: tuple[Mark, ...] = ()
    """Where it shows on the drawings of the old state."""
    new: tuple[Mark, ...] = ()
    """Where it shows on those of the new one."""


def worst(differences: Iterable[Difference]) -> Grade:
    """The gravest grade."""
    return max((d.grade for d in differences), key=GRADES.index, default="cosmetic")


def differences(old: Worked, new: Worked) -> list[Difference]:
    """Every difference between two states of one kit, gravest first.

    Never empty where the states differ: what no comparison explains is told by its key.
    """
    renamed = _renamed(old, new)
    parts = (
        (_labels, {"pieces", "guides", "front", "steps"}),
        (_sizes, {"pieces", "card", "guides", "front"}),
        (_papers, {"papers", "guides"}),
        (_counts, {"pieces", "cards", "guides", "papers", "front"}),
        (_cuts, {"guides", "papers", "pieces"}),
        (_positions, {"front", "card", "pieces", "sentiment", "decorations"}),
        (_card, {"card"}),
        (_words, set()),
        (_steps, {"steps"}),
    )
    found: list[Difference] = []
    explained: set[str] = set()
    for compare, keys in parts:
        these = list(compare(old, new, renamed))
        found += these
        explained |= keys if these else set()
    told = explained | {"title", "summary", "tags", "notes", "unit", "terms", "cautions", "trimmer"}
    own = changed_keys(own_state(old), own_state(new))
    if (
        "sentiment" in own
        and old.kit.spec.sentiment
        and new.kit.spec.sentiment
        and old.kit.spec.sentiment.text != new.kit.spec.sentiment.text
    ):
        told.add("sentiment")
    for key in own:
        if key not in told:
            found.append(
                Difference(
                    "words", "cosmetic", f"“{key.replace('_', ' ')}” of the kit says something else; sizes, cuts and places are unchanged"
                )
            )
    if changed_keys(club_state(old), club_state(new)) == ["papers"] and not found:
        found.append(Difference("words", "cosmetic", "the club's usual papers are described anew; sizes and cuts are unchanged"))
    return sorted(dict.fromkeys(found), key=lambda d: -GRADES.index(d.grade))


# --- labels ---------------------------------------------------------------------------------------


def _renamed(old: Worked, new: Worked) -> dict[str, str]:
    """Labels that were renamed throughout: gone from one state, new in the other, of one size and paper."""
    before, after = old.kit.spec.pieces, new.kit.spec.pieces
    came = [label for label in after if label not in before]
    found: dict[str, str] = {}
    for label, piece in before.items():
        if label in after:
            continue
        like = [c for c in came if c not in found.values() and after[c].size == piece.size and after[c].share == piece.share]
        if like:
            # Of several, the one that is for the same thing.
            found[label] = next((c for c in like if after[c].use == piece.use), like[0])
    return found


def paired_layouts(old: Worked, new: Worked) -> Iterator[tuple[int, Layout, int, Layout]]:
    """Layouts of the two states that belong together: cut from the same papers, in the order of the guide page."""
    left = list(enumerate(new.layouts))
    for i, layout in enumerate(old.layouts):
        same = [(j, l) for j, l in left if set(l.papers) == set(layout.papers)] or [
            (j, l) for j, l in left if set(l.papers) & set(layout.papers)
        ]
        if same:
            best = min(same, key=lambda one: (one[1].sheet != layout.sheet, _strokes(one[1]) != _strokes(layout), one[0]))
            left.remove(best)
            yield i, layout, *best


def _strokes(layout: Layout) -> list[tuple]:
    return [(c.axis, c.at, c.measure, c.off) for c in layout.cuts]


def _labels(old: Worked, new: Worked, renamed: dict[str, str]) -> Iterator[Difference]:
    for i, before, j, after in paired_layouts(old, new):
        if _strokes(before) != _strokes(after):
            continue
        now = {leaf.rect: leaf for leaf in pieces(after.tree)}
        groups: dict[tuple[str, str], list[Leaf]] = {}
        for leaf in pieces(before.tree):
            other = now.get(leaf.rect)
            if other is not None and other.label != leaf.label:
                groups.setdefault((leaf.label, other.label), []).append(leaf)
        for (was, is_), leaves in groups.items():
            rects = tuple(leaf.rect for leaf in leaves)
            what = _pieces_called(new, is_, len(leaves))
            # One rectangle, so one size, whatever its letter.
            yield Difference(
                "label",
                "write in",
                f"on sheet {j + 1}, {after.name}, the {what} {_are(len(leaves))} {is_}, not {was}; sizes and cuts unchanged",
                was,
                is_,
                (Mark("sheet", i, rects),),
                (Mark("sheet", j, rects),),
            )
    for k, (one, other) in enumerate(zip(old.faces, new.faces)):
        swapped: dict[tuple[str, str], list[Placed]] = {}
        now = {(p.rect, p.paper): p for p in other.stack}
        for placed in one.stack:
            there = now.get((placed.rect, placed.paper))
            if there is not None and there.label != placed.label and (placed.label in old.sizes and there.label in new.sizes):
                swapped.setdefault((placed.label, there.label), []).append(there)
        if k:
            continue
        for (was, is_), placed in swapped.items():
            rects = tuple(p.rect for p in placed)
            yield Difference(
                "label",
                "write in",
                f"on the card, {_one_or_both(len(placed), _use(new, is_, len(placed)))} {_are(len(placed))} {is_}, not {was}; its place is unchanged"
                if len(placed) == 1
                else f"on the card, the {_pieces_called(new, is_, len(placed))} are {is_}, not {was}; their places are unchanged",
                was,
                is_,
                (Mark("front", k, rects),),
                (Mark("front", k, rects),),
            )


def _one_or_both(n: int, what: str) -> str:
    return f"the {what}" if n == 1 else f"the {spelled(n)} {what}"


def _use(worked: Worked, label: str, n: int) -> str:
    """What a label is for, as it is counted: `short panel`, `short panels`."""
    if label == BASE:
        return "base" if n == 1 else "bases"
    use = worked.kit.spec.pieces[label].use or "piece"
    if n == 1:
        return use
    head, of, rest = use.partition(" of ")
    return f"{head if head.endswith('s') else f'{head}s'}{of}{rest}"


def _pieces_called(worked: Worked, label: str, n: int) -> str:
    return _use(worked, label, n) if n == 1 else f"{spelled(n)} {_use(worked, label, n)}"


def _are(n: int) -> str:
    return "is" if n == 1 else "are"


# --- sizes and counts -----------------------------------------------------------------------------


def _sizes(old: Worked, new: Worked, renamed: dict[str, str]) -> Iterator[Difference]:
    unit = new.kit.spec.unit
    for label, size in old.sizes.items():
        after = renamed.get(label, label)
        if after not in new.sizes:
            yield Difference("size", "write in", f"there is no {label} any more", size_text(size, unit), "", _marks(old, label), ())
            continue
        now = new.sizes[after]
        if size == now:
            continue
        name = "the base" if label == BASE else after
        yield Difference(
            "size",
            "recut",
            f"{name} is {size_text(now, unit)}, not {size_text(size, unit)}{_how(size, now, unit)}",
            size_text(size, unit),
            size_text(now, unit),
            _marks(old, label),
            _marks(new, after),
        )
    for label in new.sizes:
        if label not in old.sizes and label not in renamed.values():
            yield Difference(
                "size",
                "recut",
                f"{label} is new: {_use(new, label, 1)}, {size_text(new.sizes[label], unit)}",
                "",
                size_text(new.sizes[label], unit),
                (),
                _marks(new, label),
            )
    for label, piece in old.kit.spec.pieces.items():
        other = new.kit.spec.pieces.get(renamed.get(label, label))
        if other and (piece.notch != other.notch or piece.shape != other.shape):
            yield Difference(
                "size",
                "recut",
                f"{renamed.get(label, label)} has another outline: see the new drawing",
                "",
                "",
                _marks(old, label),
                _marks(new, renamed.get(label, label)),
            )
        elif other and piece.use != other.use:
            yield Difference(
                "words", "cosmetic", f"{renamed.get(label, label)} is called “{other.use}”, not “{piece.use}”", piece.use, other.use
            )
        if other and piece.may_turn != other.may_turn:
            yield Difference(
                "cut",
                "write in",
                f"{renamed.get(label, label)} {'may be turned on the sheet' if other.may_turn else 'must stay upright on the sheet'}",
            )


def _how(was: Size, now: Size, unit: str) -> str:
    """By how much, and whether what is cut can be trimmed."""
    wide, high = now.width - was.width, now.height - was.height
    said = [
        f"{length_text(abs(d), unit)} {more if d.inches > 0 else less}"
        for d, more, less in ((wide, "wider", "narrower"), (high, "taller", "lower"))
        if d
    ]
    trim = "; pieces already cut can be trimmed" if wide.inches <= 0 and high.inches <= 0 else ""
    return f": {listed(said)}{trim}"


def _marks(worked: Worked, label: str) -> tuple[Mark, ...]:
    """Where a label shows: on every sheet that gives it, and on the first front."""
    found = [
        Mark("sheet", i, tuple(leaf.rect for leaf in pieces(layout.tree) if leaf.label == label)) for i, layout in enumerate(worked.layouts)
    ]
    found.append(Mark("front", 0, tuple(p.rect for p in worked.face.stack if p.label == label and label != BASE)))
    return tuple(mark for mark in found if mark.rects)


def _counts(old: Worked, new: Worked, renamed: dict[str, str]) -> Iterator[Difference]:
    if old.kit.spec.cards != new.kit.spec.cards:
        yield Difference(
            "count",
            "recut" if new.kit.spec.cards > old.kit.spec.cards else "write in",
            f"the batch is {number(new.kit.spec.cards, 'card', 'cards')}, not {old.kit.spec.cards}",
            str(old.kit.spec.cards),
            str(new.kit.spec.cards),
        )
    for label in old.sizes:
        after = renamed.get(label, label)
        if after not in new.sizes:
            continue
        if old.kit.spec.cards != new.kit.spec.cards and _share(old, label) == _share(new, after):
            continue
        was, now = old.counts(label), new.counts(after)
        for paper in dict.fromkeys([*was, *now]):
            n, m = was.get(paper, 0), now.get(paper, 0)
            if n != m:
                yield Difference(
                    "count",
                    "recut" if m > n else "write in",
                    f"the batch takes {m or 'no'} {_plural(after, m)} from {_paper(new, old, paper)}, not {n or 'none'}",
                    str(n),
                    str(m),
                    _marks(old, label),
                    _marks(new, after),
                )


def _share(worked: Worked, label: str) -> dict:
    return {} if label == BASE else worked.kit.spec.pieces[label].share


def _plural(label: str, n: int) -> str:
    return ("base" if n == 1 else "bases") if label == BASE else label


def _paper(new: Worked, old: Worked, key: str) -> str:
    return (new.kit.papers.get(key) or old.kit.papers[key]).name


def _papers(old: Worked, new: Worked, _: dict[str, str]) -> Iterator[Difference]:
    unit = new.kit.spec.unit
    for plan in old.plans:
        after = new.plan(plan.paper)
        name = _paper(new, old, plan.paper)
        if after is None:
            yield Difference("sheet", "recut", f"{name} is not used any more")
            continue
        if plan.demand.sheet != after.demand.sheet:
            yield Difference(
                "sheet",
                "recut",
                f"a sheet of {name} is {size_text(after.demand.sheet, unit)}, not {size_text(plan.demand.sheet, unit)}",
                size_text(plan.demand.sheet, unit),
                size_text(after.demand.sheet, unit),
            )
        if plan.sheets != after.sheets:
            yield Difference(
                "sheet",
                "recut" if after.sheets > plan.sheets else "write in",
                f"the batch takes {sheets_text(after.sheets)} of {name}, not {sheets_text(plan.sheets)}",
                sheets_text(plan.sheets),
                sheets_text(after.sheets),
            )
        was, now = old.kit.papers[plan.paper], new.kit.papers[plan.paper]
        if was.name != now.name:
            yield Difference("words", "cosmetic", f"the paper {was.name} is called {now.name}", was.name, now.name)
        if was.weight != now.weight and now.weight:
            yield Difference(
                "words",
                "write in",
                f"{now.name} is {now.weight.text}" + (f", not {was.weight.text}" if was.weight else ""),
                was.weight.text if was.weight else "",
                now.weight.text,
            )
        if was.grain != now.grain and now.grain:
            yield Difference("words", "write in", f"the grain of {now.name} runs along its {now.grain} side", was.grain or "", now.grain)
        if (was.front.up, was.back and was.back.up) != (now.front.up, now.back and now.back.up):
            yield Difference("cut", "recut", f"{now.name} {'is one-way: mind its up' if now.front.up else 'has no up'}")
        elif (was.front, was.back) != (now.front, now.back):
            yield Difference("words", "cosmetic", f"{now.name} is drawn with another look")
    for plan in new.plans:
        if old.plan(plan.paper) is None:
            yield Difference(
                "sheet", "recut", f"{_paper(new, old, plan.paper)} is new: {sheets_text(plan.sheets)}", "", sheets_text(plan.sheets)
            )


# --- cuts -----------------------------------------------------------------------------------------


def _cuts(old: Worked, new: Worked, renamed: dict[str, str]) -> Iterator[Difference]:
    unit, seen = new.kit.spec.unit, set()
    matched: set[int] = set()
    for i, before, j, after in paired_layouts(old, new):
        matched.add(j)
        if before.name != after.name and _strokes(before) == _strokes(after):
            yield Difference("words", "cosmetic", f"sheet {j + 1} is called “{after.name}”, not “{before.name}”", before.name, after.name)
        if _strokes(before) == _strokes(after):
            continue
        fine = Counter(_piece_key(leaf, renamed) for leaf in pieces(before.tree)) == Counter(
            _piece_key(leaf, {}) for leaf in pieces(after.tree)
        )
        grade: Grade = "write in" if fine else "recut"
        was, now = before.cuts, after.cuts
        changed = [(a, b) for a, b in zip(was, now) if a.measure != b.measure]
        where = f"on sheet {j + 1}, {after.name}"
        marks = (
            (Mark("sheet", i, tuple(r for a, _ in changed for r in [_stroke_rect(a)])),),
            (Mark("sheet", j, tuple(_stroke_rect(b) for _, b in changed)),),
        )
        if len(was) == len(now) and changed and all(a.axis == b.axis and a.off == b.off for a, b in zip(was, now)):
            measures = list(dict.fromkeys((length_text(b.measure, unit), length_text(a.measure, unit)) for a, b in changed))
            for b, a in measures:
                numbers = [two.number for one, two in changed if (length_text(two.measure, unit), length_text(one.measure, unit)) == (b, a)]
                yield Difference(
                    "cut",
                    grade,
                    f"{where}, cut{'s' if len(numbers) > 1 else ''} {_runs(numbers)} {_are(len(numbers))} at {b}, not {a}",
                    a,
                    b,
                    *marks,
                )
        else:
            tail = "; the pieces keep their sizes" if fine else ""
            yield Difference(
                "cut",
                grade,
                f"{where}, the cuts go another way: {number(len(now), 'cut', 'cuts')}, not {len(was)}{tail}",
                number(len(was), "cut", "cuts"),
                number(len(now), "cut", "cuts"),
                (Mark("sheet", i, (Rect.of(before.sheet),)),),
                (Mark("sheet", j, (Rect.of(after.sheet),)),),
            )
    for j, layout in enumerate(new.layouts):
        if j not in matched and layout.name not in seen:
            yield Difference(
                "cut",
                "recut",
                f"sheet {j + 1}, {layout.name}, is a guide of its own",
                "",
                layout.name,
                (),
                (Mark("sheet", j, (Rect.of(layout.sheet),)),),
            )
    gone = [l for i, l in enumerate(old.layouts) if i not in {p[0] for p in paired_layouts(old, new)}]
    for layout in gone:
        yield Difference("cut", "write in", f"the guide of {layout.name} is gone", layout.name)


def _runs(numbers: list[int]) -> str:
    """Numbers in words, neighbours drawn together: `3, 5 and 13 to 30`."""
    runs: list[list[int]] = []
    for n in numbers:
        if runs and n == runs[-1][-1] + 1:
            runs[-1].append(n)
        else:
            runs.append([n])
    return listed([part for run in runs for part in ([f"{run[0]} to {run[-1]}"] if len(run) > 2 else map(str, run))])


def _piece_key(leaf: Leaf, renamed: dict[str, str]) -> tuple:
    return renamed.get(leaf.label, leaf.label), leaf.rect.width, leaf.rect.height


def _stroke_rect(cut) -> Rect:
    """A narrow rectangle around a stroke, for a circle."""
    (x1, y1), (x2, y2) = cut.line
    return Rect(x1, y1, x2 - x1, y2 - y1)


# --- the card -------------------------------------------------------------------------------------


def _positions(old: Worked, new: Worked, renamed: dict[str, str]) -> Iterator[Difference]:
    unit = new.kit.spec.unit
    for k, (one, other) in enumerate(zip(old.faces, new.faces)):
        moved = [(p, q) for p, q in _placed_pairs(one, other, renamed) if _moved(p, q, old, new)]
        # A look after the first repeats what the first has told.
        for was, now in moved if k == 0 else []:
            said = _where(was, now, one, other, unit)
            if said:
                yield Difference(
                    "position",
                    "write in",
                    f"on the card, {now.label} {said}",
                    "",
                    "",
                    (Mark("front", k, (was.rect,)),),
                    (Mark("front", k, (now.rect,)),),
                )
        papers = [(p, q) for p, q in _in_place(one, other) if p.paper != q.paper or p.face != q.face]
        for was, now in papers:
            yield Difference(
                "label",
                "write in",
                f"on the card{_look(other)}, {now.label} is {_shown_paper(new, now)}, not {_shown_paper(old, was)}",
                _shown_paper(old, was),
                _shown_paper(new, now),
                (Mark("front", k, (was.rect,)),),
                (Mark("front", k, (now.rect,)),),
            )
        if (one.name or other.name) and (one.cards, one.name) != (other.cards, other.name):
            yield Difference(
                "count",
                "write in",
                f"{number(other.cards, 'card', 'cards')} of the batch {'is' if other.cards == 1 else 'are'} {other.name or 'alike'}, not {one.cards} {one.name}".rstrip(),
            )
    if len(old.faces) != len(new.faces):
        yield Difference(
            "count",
            "write in",
            f"the batch has {number(len(new.faces), 'look', 'looks')}, not {len(old.faces)}",
            str(len(old.faces)),
            str(len(new.faces)),
        )
    a, b = old.face.sentiment, new.face.sentiment
    if (a and a.rect) != (b and b.rect):
        yield Difference(
            "position",
            "write in",
            "the sentiment has another place or size: see the new sketch" if a and b else f"the card has {'a' if b else 'no'} sentiment",
            "",
            "",
            (Mark("front", 0, (a.rect,)),) if a else (),
            (Mark("front", 0, (b.rect,)),) if b else (),
        )
    if [(s.name, s.rect, s.optional) for s in old.face.spots] != [(s.name, s.rect, s.optional) for s in new.face.spots]:
        yield Difference("position", "write in", "the decoration has another place: see the new sketch", "", "", _spots(old), _spots(new))


def _spots(worked: Worked) -> tuple[Mark, ...]:
    rects = tuple(spot.rect for spot in worked.face.spots)
    return (Mark("front", 0, rects),) if rects else ()


def _placed_pairs(one: Face, other: Face, renamed: dict[str, str]) -> Iterator[tuple[Placed, Placed]]:
    """The same piece on both fronts: by label and paper, those that did not move first.

    Places that merely changed hands, where one label lies instead of another, are told as labels.
    """
    there = {(q.rect, q.paper): q for q in other.stack}
    changed = {
        (p.rect, p.paper) for p in one.stack if (p.rect, p.paper) in there and there[p.rect, p.paper].label != renamed.get(p.label, p.label)
    }
    left = [q for q in other.stack if (q.rect, q.paper) not in changed]
    for placed in (p for p in one.stack if (p.rect, p.paper) not in changed):
        same = [q for q in left if q.label == renamed.get(placed.label, placed.label) and q.paper == placed.paper]
        if same:
            best = next((q for q in same if q.rect == placed.rect), same[0])
            left.remove(best)
            yield placed, best


def _in_place(one: Face, other: Face) -> Iterator[tuple[Placed, Placed]]:
    now = {(q.label, q.rect): q for q in other.stack}
    for placed in one.stack:
        if (placed.label, placed.rect) in now:
            yield placed, now[placed.label, placed.rect]


def _moved(p: Placed, q: Placed, old: Worked, new: Worked) -> bool:
    """Whether a piece lies elsewhere, and did not merely grow from where it lies."""
    if p.label == BASE:
        return False
    grown = old.sizes.get(p.label) != new.sizes.get(q.label)
    across = p.rect.x == q.rect.x or (grown and (p.rect.right == q.rect.right or p.rect.centre[0] == q.rect.centre[0]))
    along = p.rect.y == q.rect.y or (grown and (p.rect.bottom == q.rect.bottom or p.rect.centre[1] == q.rect.centre[1]))
    return not (across and along) or (p.turned, p.raised) != (q.turned, q.raised)


def _where(was: Placed, now: Placed, one: Face, other: Face, unit: str) -> str:
    said = []
    if was.turned != now.turned:
        said.append("lies turned" if now.turned else "lies upright")
    if was.raised != now.raised:
        said.append("stands on foam" if now.raised else "lies flat")
    for edge, a, b in (
        ("left", was.rect.x - one.field.x, now.rect.x - other.field.x),
        ("top", was.rect.y - one.field.y, now.rect.y - other.field.y),
    ):
        if a != b:
            said.append(f"lies {_far(b, unit)} from the {edge} of {_ground(other)}, not {_far(a, unit)}")
    return listed(said)


def _ground(face: Face) -> str:
    """What the front is built on."""
    label = next((p.label for p in reversed(face.layers) if p.rect == face.field), BASE)
    return "the base" if label == BASE else label


def _far(distance: Length, unit: str) -> str:
    return length_text(distance, unit)


def _look(face: Face) -> str:
    return f" ({face.name})" if face.name else ""


def _shown_paper(worked: Worked, placed: Placed) -> str:
    name = worked.kit.papers[placed.paper].name
    return f"the back of {name}" if placed.face == "back" else name


def _card(old: Worked, new: Worked, _: dict[str, str]) -> Iterator[Difference]:
    unit, a, b = new.kit.spec.unit, old.base, new.base
    if a.fold != b.fold:
        yield Difference("position", "recut", f"the card folds at the {b.fold}, not at the {a.fold}", a.fold, b.fold, *_scored(a, b))
    elif a.score != b.score:
        yield Difference(
            "cut",
            "recut",
            f"the base is scored at {length_text(b.score, unit)}, not {length_text(a.score, unit)}",
            length_text(a.score, unit),
            length_text(b.score, unit),
            *_scored(a, b),
        )
    if [l.piece for l in old.kit.spec.card.layers] != [l.piece for l in new.kit.spec.card.layers]:
        yield Difference(
            "position", "write in", f"the layers on the base are {listed([l.piece for l in new.kit.spec.card.layers]) or 'none'}"
        )
    was, now = old.kit.spec.card.envelope, new.kit.spec.card.envelope
    if was != now:

        def say(e) -> str:
            return (e.name or size_text(e.size, unit)) if e else "none"

        yield Difference("words", "write in", f"the envelope is {say(now)}, not {say(was)}", say(was), say(now))


def _scored(*bases: Base) -> Iterator[tuple[Mark, ...]]:
    """The score line of each base."""
    for base in bases:
        line = Rect(base.score, ZERO, ZERO, base.cut.height) if base.fold == "side" else Rect(ZERO, base.score, base.cut.width, ZERO)
        yield (Mark("base", 0, (line,)),)


# --- words ----------------------------------------------------------------------------------------


def _words(old: Worked, new: Worked, _: dict[str, str]) -> Iterator[Difference]:
    a, b = old.kit.spec, new.kit.spec
    if a.title != b.title:
        yield Difference("words", "cosmetic", f"the kit is called “{b.title}”, not “{a.title}”", a.title, b.title)
    said: list[tuple[str, Callable]] = [
        ("the summary", lambda w: own_state(w).get("summary")),
        ("the notes", lambda w: own_state(w).get("notes")),
        ("the tags", lambda w: own_state(w).get("tags")),
    ]
    for what, get in said:
        if get(old) != get(new):
            yield Difference("words", "cosmetic", f"{what} {'were' if what.endswith('s') else 'was'} reworded")
    if a.unit != b.unit:
        yield Difference("words", "cosmetic", f"{'millimetres' if b.unit == 'mm' else 'inches'} are shown first", a.unit, b.unit)
    if a.sentiment and b.sentiment and a.sentiment.text != b.sentiment.text:
        yield Difference(
            "words", "cosmetic", f"the sentiment reads “{b.sentiment.text}”, not “{a.sentiment.text}”", a.sentiment.text, b.sentiment.text
        )
    for key, what in (
        ("terms", "the terms of use are new: read them before you share the printable"),
        ("cautions", "the cautions were reworded"),
        ("trimmer", "the steps are told for another trimmer"),
    ):
        if club_state(old)[key] != club_state(new)[key]:
            yield Difference("words", "cosmetic", what)


def _steps(old: Worked, new: Worked, _: dict[str, str]) -> Iterator[Difference]:
    """The author's own steps; derived ones follow from what is told elsewhere."""
    was, now = {s.stage: s for s in steps_of(old)}, {s.stage: s for s in steps_of(new)}
    for stage in dict.fromkeys([*was, *now]):
        a, b = was.get(stage), now.get(stage)
        if (a and a.own) or (b and b.own):
            if (a and a.lines) != (b and b.lines):
                title = (b or a).title
                yield Difference(
                    "step",
                    "write in",
                    f"the step “{title}” was reworded" if a and b else f"the step “{title}” {'is new' if b else 'is gone'}",
                    " ".join(a.lines) if a else "",
                    " ".join(b.lines) if b else "",
                )
