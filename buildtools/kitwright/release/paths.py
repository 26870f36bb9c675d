"""What a change at a path does, and how it is told: one table for every path of `values`.

The grade follows from what the path means to hands, post and supplies: `recut`: pieces cut
by the old one are wrong, or too few; `write in`: an old copy is right again once the change
is written on it (what the page said, what the card is to the post, what a batch takes);
`cosmetic`: nothing on the card changes.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from kitwright.papers import NamedSize
from kitwright.release.designpaths import within
from kitwright.release.values import Value, Values

Grade = Literal["cosmetic", "write in", "recut"]
GRADES: tuple[Grade, ...] = ("cosmetic", "write in", "recut")


def worst(grades: Iterable[Grade]) -> Grade:
    """The gravest grade."""
    return max(grades, key=GRADES.index, default="cosmetic")


@dataclass(frozen=True, slots=True)
class PathRule:
    """What holds for the paths of one pattern."""

    pattern: str
    """A path without its indices; `*` stands for one part, `**` at the end for one or more."""
    grade: Grade | Callable[[Value, Value], Grade]
    kind: str
    """How a change there is told by itself, where nothing else tells it."""
    through: tuple[str, ...] = ()
    """A stated path whose effect is told: any change told at one of these tells it too."""
    follows: tuple[str, ...] = ()
    """A number that follows: beside a change told at one of these it is listed, and not told twice."""


def _more(was: Value, now: Value) -> Grade:
    """More is needed than an old copy had cut; less is only to be written in."""
    return "recut" if _count(now) > _count(was) else "write in"


def _more_to_a_card(was: Value, now: Value) -> Grade:
    """The same, where one to a card need not be said."""
    return _more(1 if was is None else was, 1 if now is None else now)


def _count(value: Value) -> Fraction:
    return Fraction(value) if isinstance(value, (int, Fraction)) else Fraction(0)


def _sheet(was: Value, now: Value) -> Grade:
    same = isinstance(was, NamedSize) and isinstance(now, NamedSize) and was.size == now.size
    return "cosmetic" if same else "recut"


def _gives(was: Value, now: Value) -> Grade:
    """A sheet that is cut otherwise is as good where it gives the same pieces."""
    return "write in" if _given(was) == _given(now) else "recut"


def _given(value: Value) -> Counter[tuple[str, ...]]:
    """The pieces of a sheet by label and size: its leaves are label, turned, and a rectangle; leftovers have no label."""
    leaves = value if isinstance(value, tuple) else ()
    return Counter((label, *sorted(rect[2:])) for label, _, *rect in leaves if label)


def _both(was: Value, now: Value) -> Grade:
    """What the post says by one country's limits is not comparable with another's."""
    return "write in" if was is not None and now is not None else "cosmetic"


FRONTS = ("fronts.**", "card.layers", "card.inside")
MADE = ("card.**", "pieces.**", "counts.**", "papers.**", "fronts.**", "decorations.**", "base.**", "cut.**", "front.**", "sentiment.**")
"""What a card is made of."""
BATCH = ("cards", "sheets.**", "layouts.**", *MADE)

TABLE = (
    # Words.
    PathRule("title", "cosmetic", "title"),
    PathRule("summary", "cosmetic", "reworded"),
    PathRule("tags", "cosmetic", "reworded"),
    PathRule("notes", "cosmetic", "reworded"),
    PathRule("unit", "cosmetic", "unit"),
    PathRule("told.steps.*", "write in", "step"),
    PathRule("steps.**", "cosmetic", "entry", through=("told.steps.*",)),
    PathRule("club.terms", "cosmetic", "terms"),
    PathRule("club.cautions", "cosmetic", "cautions"),
    PathRule("club.trimmer.**", "cosmetic", "trimmer"),
    PathRule("club.papers[]", "cosmetic", "usual-papers", through=("papers.**", "sheets.*")),
    # The batch.
    PathRule("cards", _more, "cards"),
    PathRule("counts.*.*", _more, "count", follows=("cards",)),
    PathRule("sheets.*", _more, "sheets"),
    # Papers.
    PathRule("papers.*.name", "cosmetic", "paper-name"),
    PathRule("papers.*.kind", "write in", "paper-kind"),
    PathRule("papers.*.size", _sheet, "sheet-size"),
    PathRule("papers.*.weight", "write in", "weight"),
    PathRule("papers.*.thickness", "write in", "thickness"),
    PathRule("papers.*.grain", "write in", "grain"),
    PathRule("papers.*.sheets", "write in", "at-hand"),
    PathRule("papers.*.front.up", "recut", "one-way"),
    PathRule("papers.*.back.up", "recut", "one-way"),
    PathRule("papers.*.front.**", "cosmetic", "look"),
    PathRule("papers.*.back.**", "cosmetic", "look"),
    PathRule("papers.*.back", "cosmetic", "look"),
    PathRule("papers.*.from", "cosmetic", "usual-papers", through=("papers.**", "sheets.*")),
    PathRule("papers[]", "cosmetic", "entry", through=("papers.**", "sheets.*")),
    PathRule("sheet.*", "recut", "sheet-size", through=("papers.*.size", "sheets.*")),
    # Pieces.
    PathRule("pieces.*.size", "recut", "size"),
    PathRule("cut.*", "recut", "size", through=("pieces.*.size", "card.base.size")),
    PathRule("pieces.*.use", "cosmetic", "use"),
    PathRule("pieces.*.notch.**", "recut", "outline"),
    PathRule("pieces.*.notch", "recut", "outline"),
    PathRule("pieces.*.shape.**", "recut", "outline"),
    PathRule("pieces.*.made_with.**", "cosmetic", "entry", through=("pieces.*.size",)),
    PathRule("pieces.*.made_with", "cosmetic", "entry", through=("pieces.*.size",)),
    PathRule("pieces.*.may_turn", "write in", "may-turn"),
    PathRule("pieces.*.pocket.thumb_notch", "recut", "outline"),
    PathRule("pieces.*.pocket.**", "write in", "held"),
    PathRule("pieces.*.pocket", "write in", "held"),
    PathRule("pieces.*.band.**", "cosmetic", "entry", through=("cut.*",)),
    PathRule("pieces.*.liner.**", "cosmetic", "entry", through=("pieces.*.size", "cut.*")),
    PathRule("pieces.*.paper", "cosmetic", "entry", through=("counts.**",)),
    PathRule("pieces.*.papers", "cosmetic", "entry", through=("counts.**",)),
    PathRule("pieces.*.per_card.*", _more_to_a_card, "per-card", through=("counts.**",)),
    PathRule("pieces[]", "cosmetic", "entry", through=("pieces.**", "counts.**", "layouts.**")),
    # The card.
    PathRule("card.base.size", "recut", "size"),
    PathRule("card.base.paper", "cosmetic", "entry", through=("counts.base.*",)),
    PathRule("card.base.meant", "cosmetic", "entry", through=("card.base.size",)),
    PathRule("card.meant", "cosmetic", "entry", through=("card.fold", "card.fold.**", "fronts.**")),
    PathRule("card.fold", "recut", "fold", follows=("card.fold.**",)),
    PathRule("card.fold.**", "recut", "scored-otherwise"),
    PathRule("base.scores", "recut", "worked-anew", through=("card.fold", "card.fold.**", "card.score", "card.base.size")),
    PathRule("base.score", "recut", "score", follows=("card.fold", "card.fold.**")),
    PathRule("card.score", "cosmetic", "entry", through=("base.score", "base.scores", "card.fold")),
    PathRule("base.fold", "recut", "worked-anew", through=("card.fold", "card.fold.**")),
    PathRule("base.cut", "recut", "worked-anew", through=("card.base.size",)),
    PathRule("base.finished", "recut", "finished", follows=("card.fold", "card.fold.**", "card.base.size", "base.score")),
    PathRule("card.layers.**", "write in", "entry", through=("card.layers", "fronts.*")),
    PathRule("card.inside.**", "write in", "inside"),
    PathRule("card.envelope", "write in", "envelope"),
    PathRule("card.envelope_weight", "write in", "envelope-weight"),
    PathRule("card.foam", "write in", "foam"),
    # What lies on it.
    PathRule("decorations.thickness", "write in", "decoration-thickness"),
    PathRule("decorations.shape", "cosmetic", "drawn-as"),
    PathRule("decorations.colour", "cosmetic", "drawn-as"),
    PathRule("fronts.bands", "write in", "band", follows=MADE),
    PathRule("fronts.cards", "write in", "look-counts", follows=("cards",)),
    PathRule("fronts.**", "write in", "places", follows=BATCH),
    PathRule("front.over.shaker.**", "write in", "held-on-the-front"),
    PathRule("front.over.fixing", "write in", "held-on-the-front"),
    PathRule("front.**", "cosmetic", "entry", through=FRONTS),
    PathRule("faces.**", "cosmetic", "entry", through=("fronts.sides", "fronts.**")),
    PathRule("sentiments.text", "cosmetic", "sentiment-text"),
    PathRule("sentiments.**", "cosmetic", "entry", through=("fronts.words", "fronts.sides", "fronts.sentiment")),
    PathRule("sentiment.text", "cosmetic", "sentiment-text"),
    PathRule("sentiment.**", "cosmetic", "entry", through=("fronts.sentiment",)),
    PathRule("decorations.**", "cosmetic", "entry", through=("fronts.spots", "decorations.thickness")),
    # How it is cut.
    PathRule("guides.**", "cosmetic", "entry", through=("layouts.**", "sheets.*")),
    PathRule("layouts.papers", "write in", "worked-anew", follows=BATCH),
    PathRule("layouts.cuts", "write in", "worked-anew", follows=BATCH),
    PathRule("layouts.pieces", _gives, "worked-anew", follows=BATCH),
    PathRule("layouts.**", "recut", "worked-anew", follows=BATCH),
    PathRule("runs.*", "cosmetic", "worked-anew", follows=("**",)),
    PathRule("made.**", "cosmetic", "spare", follows=BATCH),
    # The post, and what a batch takes.
    PathRule("envelope.room", "write in", "room", follows=MADE),
    PathRule("post.thickness", "write in", "post-thickness", follows=MADE),
    PathRule("post.mass", "write in", "post-mass", follows=MADE),
    PathRule("post.*.step", _both, "post-step", follows=("unit", "card.envelope")),
    PathRule("post.*.limits", _both, "post-limits", follows=("unit", "card.envelope")),
    PathRule("supplies.adhesive", "write in", "adhesive", follows=BATCH),
    PathRule("supplies.foam", "write in", "foam-area", follows=BATCH),
    PathRule("supplies.envelopes", "write in", "envelopes", follows=("cards", "card.envelope")),
    PathRule("designs.*", "write in", "designs"),
    PathRule("designs[]", "cosmetic", "designs"),
    PathRule("also_from", "cosmetic", "also-from"),
    PathRule("arrangements.**", "cosmetic", "entry"),
    PathRule("**", "cosmetic", "entry"),
)
"""The first that fits counts; the last fits whatever a later kitwright adds."""


@lru_cache(maxsize=8192)
def rule_of(path: str) -> PathRule:
    """What holds for a path; of a design what holds for the same of a kit of one."""
    _, path = within(path)
    return next(rule for rule in TABLE if fits(rule.pattern, path))


def grade_of(path: str, was: Value, now: Value) -> Grade:
    """What a change at a path asks of a reader."""
    grade = rule_of(path).grade
    return grade(was, now) if callable(grade) else grade


def fits(pattern: str, path: str) -> bool:
    """Whether a path is one that a pattern means."""
    asked, parts = pattern.split("."), re.sub(r"\[\d+\]", "", path).split(".")
    if asked[-1] == "**":
        return len(parts) >= len(asked) and all(a in ("*", p) for a, p in zip(asked[:-1], parts))
    return len(asked) == len(parts) and all(a in ("*", p) for a, p in zip(asked, parts))


def any_fits(patterns: Iterable[str], paths: Iterable[str]) -> bool:
    """Whether any of these paths is meant by any of these patterns, those of a design by what they are there."""
    known = [within(path)[1] for path in paths]
    return any(fits(pattern, path) for pattern in patterns for path in known)


def differing(old: Values, new: Values) -> Iterator[str]:
    """Every path at which two states say something else, in the order of the new one."""
    return (path for path in dict.fromkeys([*new, *old]) if old.get(path) != new.get(path))
