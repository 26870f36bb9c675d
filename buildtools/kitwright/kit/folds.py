"""The score lines of a card base, as its spec has them; and what is wrong with them."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.errors import UserError
from kitwright.folding import Blocked, Closed, Scored, closed
from kitwright.folding.kinds import kinds, scored
from kitwright.folding.kinds.kind import Asked
from kitwright.folding.scored import Runs
from kitwright.kit.model.card import CardSpec

Path = tuple[str | int, ...]


def scored_of(card: CardSpec, unit: str) -> Scored:
    """The flat base of a card, scored where its fold usually is unless said.

    Args:
        card: as it is typed.
        unit: the kit's, `in` or `mm`.
    """
    size, fold = card.base.size, card.fold
    if isinstance(fold, str):
        length = size.width if kinds()[fold].runs == "down" else size.height
        return scored(fold, length, Asked(card.score, unit == "mm"))
    runs: Runs = "down" if fold.along == "up and down" else "across"
    length = size.width if runs == "down" else size.height
    return Scored(length, fold.lies, runs, tuple(fold.scores), tuple(fold.panels), fold.front, fold.back)


def faults(card: CardSpec, unit: str) -> Iterator[tuple[Path, UserError]]:
    """What keeps a base from being folded, each with the path of its entry below `card`.

    The one score line of a fold in two may lie anywhere here: `check` tells one that is past its base.
    """
    base, own = scored_of(card, unit), not isinstance(card.fold, str)
    if card.fold in ("side", "top"):
        return
    wrong = base.misplaced()
    if not own and card.score is not None and len(base.scores) > 1 and card.score * 2 >= base.length:
        yield ("score",), UserError("fold.no-back", at=card.score, middle=base.length / 2, unit=unit)
        return
    for slip in wrong:
        at = base.scores[slip.score].at
        path: Path = ("fold", "scores", slip.score) if own else ("score",) if card.score is not None else ("base", "size")
        if slip.twin is not None:
            yield path, UserError("fold.scored-twice", at=at, unit=unit)
        else:
            yield path, UserError("fold.score-outside", at=at, length=base.length, runs=base.runs, unit=unit)
    found = closed(base) if not wrong else None
    if isinstance(found, Closed):
        for role, name, seen in _hidden(found):
            path = ("fold", role) if not isinstance(card.fold, str) and role in card.fold.model_fields_set else ("fold",)
            yield path, UserError("fold.hidden", role=role, name=name, seen=seen)
    if isinstance(found, Blocked):
        path = ("fold", "scores", found.score) if own else ("fold",)
        yield (
            path,
            UserError("fold.blocked", at=base.scores[found.score].at, panel=found.panel, by=found.by, before=found.creases, unit=unit),
        )


def _hidden(shut: Closed) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """A front of which nothing is seen of the closed card, or a back that it does not lie on; with the panels that would do."""
    base, back = shut.base, shut.base.panels.index(shut.base.back)
    if shut.leading_side is None:
        # As it is turned now and turned over: either may be the front.
        seen = dict.fromkeys(panel for panel, _ in sorted(shut.outer) if panel != base.back)
        yield "front", base.front, tuple(panel for panel in base.panels if panel in seen)
    elif not any(cell.panels[0] == back for cell in shut.cells):
        lowest = {cell.panels[0] for cell in shut.cells}
        yield "back", base.back, tuple(panel for i, panel in enumerate(base.panels) if i in lowest and panel != base.front)
