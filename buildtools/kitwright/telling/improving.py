"""What a few sizes changed a little would better in a kit, in words and for other programs."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

from kitwright.proposing.freedom import Why
from kitwright.proposing.improve import shown
from kitwright.proposing.near.figures import GAINS, Figures, Gain
from kitwright.proposing.near.records import Improved, Moved, Nearby, Shows
from kitwright.telling.post import mass_text, thickness_text
from kitwright.telling.words import led, listed, number, sheets_text, spelled
from kitwright.units import Length, Size, length_text, rounded, size_text
from kitwright.work.worked import Worked


def improve_text(improved: Improved) -> list[str]:
    """Line after line: how the kit is now, what would be better and what else changes with it, how much was looked at."""
    unit = improved.worked.unit
    told = [f"{improved.worked.kit.spec.title} as it is: {'; '.join(_figure(improved.now, gain, unit) for gain in GAINS)}."]
    told += _keep(improved.kept)
    for i, one in enumerate(improved.nearby, 1):
        told += ["", f"{i}. {led('; '.join(_sizes(improved.worked, one, unit)))}."]
        told += [f"   {line}" for line in _lines(improved, one, unit)]
    return [*told, "", *_looked(improved, unit)]


_WHY: Mapping[Why, tuple[str, str]] = {
    "punch": ("a punch makes it", "a punch makes them"),
    "die": ("a die makes it", "a die makes them"),
    "drawn": ("its outline is drawn for it", "their outlines are drawn for them"),
    "follows": ("it follows from what it goes round or takes", "they follow from what they go round or take"),
    "held": ("it has to suit what it lies in or over", "they have to suit what they lie in or over"),
    "placed": ("it is placed on something else", "they are placed on something else"),
}
"""Of one piece, and of several."""


def _keep(kept: Mapping[str, Why]) -> Iterator[str]:
    """Which pieces were left as they are, and why."""
    for why, (one, several) in _WHY.items():
        labels = [label for label, its in kept.items() if its == why]
        if labels:
            yield f"{listed(labels)} {'keep their sizes: ' + several if len(labels) > 1 else 'keeps its size: ' + one}."


def _figure(figures: Figures, what: Gain, unit: str) -> str:
    return {
        "sheets": lambda: sheets_text(figures.sheets),
        "waste": lambda: f"{_part(figures.waste) if figures.waste else 'nothing'} left over",
        "slack": lambda: f"sheets may be {length_text(figures.slack, unit)} short" if figures.slack else "no room for a short sheet",
        "measures": lambda: number(figures.measures, "measure", "measures"),
    }[what]()


def _part(part: Fraction) -> str:
    """A share in hundredths, with a decimal where that tells more: `14.5%`."""
    tenths = rounded(part * 1000)
    if part and not tenths:
        return "under 0.1%"
    whole, tenth = divmod(tenths, 10)
    return f"{whole}.{tenth}%" if tenth else f"{whole}%"


def _sizes(worked: Worked, one: Nearby, unit: str) -> Iterator[str]:
    """Each size to type, the pieces first."""
    for label, (before, after) in one.sizes(worked).items():
        yield f"{label} {size_text(after, unit)} instead of {size_text(before, unit)}"
    for moved in one.moved:
        if not moved.label:
            yield f"{_of_a_face(moved, worked)} {length_text(moved.after, unit)} instead of {length_text(moved.before, unit)}"


def _of_a_face(moved: Moved, worked: Worked) -> str:
    face = f" {moved.path[1]}" if moved.path[:1] == ("faces",) else ""
    return f"{moved.what}{f' of {moved.design}' if moved.design else ''}{face}"


def _lines(improved: Improved, one: Nearby, unit: str) -> Iterator[str]:
    better = [_figure(one.figures, gain, unit) for gain in one.gains]
    worse = [_figure(one.figures, gain, unit) for gain in one.losses]
    yield f"Better: {'; '.join(better)}." + (f" Less good: {'; '.join(worse)}." if worse else "")
    yield "Cut stroke for stroke as before." if one.same_cuts else "The sheets are cut otherwise; kitwright has planned them anew."
    if alike := _become_one(improved.worked, one):
        yield f"{alike} are of one size then, and one label is enough for them."
    face = [_shows(each, unit) for each in shown(improved.worked, one)]
    yield f"On the face: {listed(face)}." if face else "On the face no border, gap or band changes."
    yield _envelope(improved.worked, one.changed, unit)


def _become_one(worked: Worked, one: Nearby) -> str:
    """Labels that are of one size now and were not before; empty where none are."""
    old, alike = worked.kit.spec.pieces, defaultdict[Size, list[str]](list)
    for label, piece in one.changed.kit.spec.pieces.items():
        alike[piece.size].append(label)
    return next((listed(labels) for labels in alike.values() if len({old[label].size for label in labels}) > 1), "")


def _shows(one: Shows, unit: str) -> str:
    where = " ".join(filter(None, (one.face and f"on {one.face}", one.design and f"of {one.design}")))
    what = f"what shows round {one.label}" if one.what == "shows" else f"the {one.what}"
    return f"{what}{f' {where}' if where else ''} is {length_text(abs(one.after - one.before), unit)} {_more(one)}"


def _more(one: Shows) -> str:
    return ("higher" if one.after > one.before else "lower") if one.what == "band" else ("wider" if one.after > one.before else "narrower")


def _envelope(worked: Worked, changed: Worked, unit: str) -> str:
    told = []
    for before, after in zip(worked.designs, changed.designs):
        old, new = before.enclosed.parcel, after.enclosed.parcel
        of = f" for {before.kit.design}" if before.kit.design else ""
        if old and new and thickness_text(old.thickness, unit) != thickness_text(new.thickness, unit):
            told.append(f"{thickness_text(new.thickness, unit)} thick instead of {thickness_text(old.thickness, unit)}{of}")
        if old and new and mass_text(old.mass) != mass_text(new.mass):
            told.append(f"{mass_text(new.mass)} instead of {mass_text(old.mass)}{of}")
        if before.enclosed.room != after.enclosed.room and after.enclosed.room is not None:
            room = min(after.enclosed.room.width, after.enclosed.room.height)
            told.append(f"{length_text(room, unit)} of room{of}")
    return f"In the envelope: {listed(told)}." if told else "In the envelope nothing changes."


def _looked(improved: Improved, unit: str) -> Iterator[str]:
    most = length_text(improved.step * improved.reach, unit)
    if not improved.nearby:
        yield "Nothing better nearby."
    tried = f", {spelled(improved.tried)} {'was' if improved.tried == 1 else 'were'} tried on the whole kit" if improved.tried else ""
    yield (
        f"{improved.looked:,} ways to change sizes by up to {most}, in steps of {length_text(improved.step, unit)}, that keep every sum"
        f"{'' if improved.whole else ', those that change few sizes'}: {improved.come_out:,} of them come out of the sheets by the same cuts{tried}."
    )
    if improved.nearby:
        yield "Each was checked whole: nothing is found in it that is not found in the kit as it is."


# --- for other programs -----------------------------------------------------------------------------


def as_json(improved: Improved) -> dict[str, Any]:
    """The same as plain values: lengths are exact, in inches, as text."""
    return {
        "kit": improved.worked.kit.id,
        "now": _figures_json(improved.now),
        "nearby": [_nearby_json(improved, one) for one in improved.nearby],
        "kept": dict(improved.kept),
        "looked at": improved.looked,
        "by the same cuts": improved.come_out,
        "tried": improved.tried,
        "step": _exact(improved.step),
        "reach": _exact(improved.step * improved.reach),
        "all within reach": improved.whole,
    }


def _nearby_json(improved: Improved, one: Nearby) -> dict[str, Any]:
    return {
        "pieces": {
            label: {"before": [_exact(s) for s in (old.width, old.height)], "after": [_exact(s) for s in (new.width, new.height)]}
            for label, (old, new) in one.sizes(improved.worked).items()
        },
        "faces": [
            {"what": each.what, "design": each.design, "face": each.face, "label": each.label}
            | {"before": _exact(each.before), "after": _exact(each.after)}
            for each in shown(improved.worked, one)
        ],
        "better": list(one.gains),
        "worse": list(one.losses),
        "same cuts": one.same_cuts,
        **_figures_json(one.figures),
    }


def _figures_json(figures: Figures) -> dict[str, Any]:
    return {"sheets": str(figures.sheets), "left over": str(figures.waste), "slack": _exact(figures.slack), "measures": figures.measures}


def _exact(length: Length) -> str:
    return str(length.inches)
