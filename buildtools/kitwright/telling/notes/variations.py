"""A card made otherwise: what changes, or why it can't be."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from kitwright.card.notches import Way
from kitwright.card.post import Letters, Verdict
from kitwright.materials import Range
from kitwright.telling.folds import hinge_text
from kitwright.telling.motions import later_text
from kitwright.telling.notches import tool_called
from kitwright.telling.post import thickness_text, verdict_text
from kitwright.telling.words import label_text, listed, sheets_text
from kitwright.units import Length, Size, length_text, size_text

# --- what is different --------------------------------------------------------------------------------


def turned_whole(later: Sequence[str]) -> str:
    return f"Built in the same order as the sketch, then turned round as a whole before {later_text(later)}."


def folds(fold: str) -> str:
    return f"The front stays as it is; the card folds at the {hinge_text(fold)}."


def quarter(fold: str) -> str:
    return f"The front is turned a quarter to the left; the words stay level. The card folds at the {hinge_text(fold)}."


def mat_lies(label: str, border: Length, end: str, unit: str) -> str:
    return f"{label} lies {length_text(border, unit)} from the {end} edge of the base; the rest of the base shows at the other end."


def goes(what: str, end: str) -> str:
    return f"The {what} goes {'in the middle' if end == 'centre' else f'at the {end} end'}."


def flat() -> str:
    return "The strip is glued flat."


def on_foam() -> str:
    return "The strip stands on foam."


def stamped() -> str:
    return "There is no strip: the sentiment is stamped on the band before the pieces are glued. Choose an ink that shows on its paper."


def cut(n: int, label: str, size: Size, way: Way | None, instead: Size | None, paper: str, unit: str) -> str:
    before = f" instead of {size_text(instead, unit)}" if instead else ""
    return f"Cut {n} {label_text(label, n)} of {size_text(size, unit)}{_punch(way, unit)}{before} from {paper}."


def no_longer_cut(n: int, label: str, size: Size, way: Way | None, paper: str, unit: str) -> str:
    return f"No longer cut {n} {label_text(label, n)} of {size_text(size, unit)}{_punch(way, unit)} from {paper}."


def _punch(way: Way | None, unit: str) -> str:
    """The punch that the size to cut holds for, in brackets."""
    tool = tool_called(way, unit) if way else ""
    return f" ({tool})" if tool else ""


def sheets(paper: str, new: Fraction, old: Fraction) -> str:
    return f"{paper}: {sheets_text(new) if new else 'none'} instead of {sheets_text(old) if old else 'none'}."


def foam() -> str:
    return "You need foam."


def no_foam() -> str:
    return "No foam is needed."


def no_room(decorations: Sequence[str]) -> str:
    return f"There is no room for {listed(decorations)}, which may be left out."


def nothing_more() -> str:
    return "Cuts and supplies stay the same."


def by_post(verdict: Verdict, letters: Letters) -> str:
    return f"By post: {verdict_text(verdict, letters)}{'' if verdict.within is False else ', perhaps'}."


def thicker(by: Range, thicker: bool, unit: str) -> str:
    return f"It is {thickness_text(by, unit)} {'thicker' if thicker else 'thinner'} at the strip."


# --- why it can't be -----------------------------------------------------------------------------------


def upside_down(papers: Sequence[str]) -> str:
    return f"{listed(papers)} would hang upside down"


def on_its_side(papers: Sequence[str]) -> str:
    return f"{listed(papers)} would lie on {'its' if len(papers) == 1 else 'their'} side"


def longer_than_band(label: str, band: Size, unit: str) -> str:
    return f"{label} is longer than the free band, {size_text(band, unit)}"


def one_notched_end() -> str:
    return "a piece with one notched end would point the other way"


def notched_layer() -> str:
    return "a notched layer can’t be turned on its side"


def no_mat() -> str:
    return "there is no mat"


def even_mat() -> str:
    return "the mat has even borders all round, so it has nowhere to go"


def larger_mat() -> str:
    return "the mat is larger than the card"


def no_sentiment() -> str:
    return "there is no sentiment"


def fills(what: str, on: str) -> str:
    return f"the {what} fills {_ground(on)} from end to end"


def no_strip() -> str:
    return "the sentiment has no strip of its own"


def no_band() -> str:
    return "there is no free band to stamp on"


def off_band(on: str) -> str:
    return f"the strip lies on {_ground(on)}, not on the free band"


def _ground(on: str) -> str:
    return f"the {on}" if on in ("front", "band") else on
