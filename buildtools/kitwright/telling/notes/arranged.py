"""Arrangements: what they are called, what a turn makes of them, how they were counted and how a batch is put together."""

from __future__ import annotations

from collections.abc import Sequence

from kitwright.card.face import BACK_UP
from kitwright.telling.motions import later_text, one_after_another
from kitwright.telling.words import led, listed, number, spelled

# --- names ------------------------------------------------------------------------------------------


def as_sketched() -> str:
    return "As sketched"


def everywhere(paper: str) -> str:
    return led(f"{paper} everywhere")


def in_turn(lead: str, where: str, others: Sequence[str]) -> str:
    return led(f"{lead} {where}, then {one_after_another(others)}")


def papers(at: Sequence[tuple[str, Sequence[str]]]) -> str:
    return led(", ".join(f"{paper} {listed(where)}" for paper, where in at))


def other_way(name: str) -> str:
    return f"{name}, the other way"


def differs(fill: str, back: bool, where: str, drawn: str) -> str:
    return f"{fill}{f' ({BACK_UP})' if back else ''} {where}, not {drawn}"


def apart(papers: Sequence[str], twin: str) -> str:
    return f"Turned round, {listed(papers)} would hang upside down, so this and “{twin}” are two different cards."


# --- what a turn does -------------------------------------------------------------------------------


def turned_round(later: Sequence[str]) -> str:
    return f"Until {later_text(later)}, the whole front can be turned round: then two of these are one card."


def by_quarters(later: Sequence[str]) -> str:
    return (
        f"Until {later_text(later)}, the whole front can be turned, by quarters too since it is square: "
        "then as many as four of these are one card."
    )


def on_the_base() -> str:
    return "The pieces lie on the base itself, so the front can’t be turned round: the card would open at the wrong edge."


def one_way_below(paper: str) -> str:
    return f"{paper}, on which the pieces lie, is one-way, so the front can’t be turned round."


def other_layout() -> str:
    return "Turned round, the places don’t fall on one another: that makes another layout, not another order."


def not_allowed() -> str:
    return "Turned round, some pieces come where they are not allowed, so no two fronts are the same card."


def all_stay() -> str:
    return "Turned round, every piece stays in its place."


def quarter_other_layout() -> str:
    return "By a quarter it makes another layout."


def quarter_kept(labels: Sequence[str]) -> str:
    return f"By a quarter it is not: {listed(labels)} may not be turned."


def quarter_not_allowed() -> str:
    return "By a quarter it is not: some pieces would come where they are not allowed."


def not_so(papers: Sequence[str], quarter: bool) -> str:
    return f"Not so where {listed(list(papers), 'or')} shows: it would {'no longer hang upright' if quarter else 'hang upside down'}."


# --- how was counted, and which are shown -------------------------------------------------------------


def covers() -> str:
    return "A piece may lie in every place that it covers exactly, upright or a quarter turned, with either printed face up."


def square() -> str:
    return "A square piece turned by a quarter counts as the same."


def upright() -> str:
    return "A one-way paper lies upright only."


def any_paper() -> str:
    return "A piece may come from any of its papers."


def dealt() -> str:
    return "A card keeps the papers that the kit deals it."


def other_designs() -> str:
    return "What the kit’s other designs take from the sheets is theirs; of spare pieces whichever design comes first has them."


def sampled(total: int, shown: int, step: int, lead: str, alike: bool) -> str:
    mates = ", each with the same card the other way round" if alike else ""
    return (
        f"Of {total} arrangements {shown} are shown: the kit’s own, those of the suggested sets, and every "
        f"{_nth(step)} in the order of the list, which goes by the paper {lead} first{mates}."
    )


def _nth(n: int) -> str:
    if n == 2:
        return "second"
    return f"{n}{'th' if n % 100 in (11, 12, 13) else {1: 'st', 2: 'nd', 3: 'rd'}.get(n % 10, 'th')}"


# --- the batch -----------------------------------------------------------------------------------------


def put_together(orders: int, turns: Sequence[tuple[str, int]]) -> str:
    return f"Put the fronts together in {number(orders, 'order', 'orders')}, then turn {_turns(turns, ' of them')}."


def one_motion(builds: Sequence[tuple[int, str, Sequence[tuple[str, int]]]], stamped: bool) -> str:
    told = [f"{n} fronts in the order of “{name}”" + (f", of which you turn {_turns(turns)}" if turns else "") for n, name, turns in builds]
    start = "One motion makes the whole batch" if len(builds) == 1 else f"{led(spelled(len(builds)))} motions make the whole batch"
    return f"{start}: put together {'; '.join(told)} before anything else goes on.{' Stamp only then.' if stamped else ''}"


def turn_later(cards: int, stamped: bool) -> str:
    last = (
        "and turn as many as you like round. Stamp only then"
        if stamped
        else "then turn as many as you like round before anything else goes on"
    )
    return f"Put all {cards} fronts together in the sketch’s order, {last}: two looks from the same work."


def _turns(turns: Sequence[tuple[str, int]], of_them: str = "") -> str:
    """`3 of them round and 2 by a quarter`."""
    return listed([f"{n}{of_them if i == 0 else ''} {way}" for i, (way, n) in enumerate(turns)])
