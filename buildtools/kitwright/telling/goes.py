"""To which design of a kit pieces go, said wherever a hand acts on them; nothing in a kit of one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from kitwright.card.face import Face
from kitwright.cutting.plan import Layout
from kitwright.labels import is_base
from kitwright.telling.kitpage import counted_text
from kitwright.telling.words import led, listed, number
from kitwright.work.worked import Worked, lying_on


def goes_on(worked: Worked, layout: Layout) -> Mapping[str, str]:
    """For every label of a sheet’s layout the designs on whose cards it lies: `Tall`, `both`; bases say so by their names."""
    if len(worked.designs) < 2:
        return {}
    return {label: text for label in layout.yields if (text := _goes(worked, layout, label))}


def _goes(worked: Worked, layout: Layout, label: str) -> str:
    uses = worked.once(("goes",), lambda: [(design.kit.design, lying_on(design.kit, design.faces)) for design in worked.designs])
    names = [name for name, counts in uses if any(counts[label, paper] for paper in layout.papers)]
    every = len(names) == len(uses)
    return "both" if every and len(names) == 2 else "all designs" if every else listed(names)


def dealt(worked: Worked, paper: str | None = None) -> dict[str, dict[str, int]]:
    """How many pieces of each label go to each design, of one paper or of all; bases say so by their names. Empty for a kit of one."""
    if len(worked.designs) < 2:
        return {}
    found: dict[str, dict[str, int]] = {}
    for design in worked.designs:
        counts = {label: design.counts(label) for label in design.sizes}
        here = {label: sum(n for key, n in by_paper.items() if paper in (None, key)) for label, by_paper in counts.items()}
        found[design.kit.design] = {label: n for label, n in here.items() if n and not is_base(label)}
    return {name: labels for name, labels in found.items() if labels}


def dealt_text(worked: Worked, paper: str | None = None) -> str:
    """The same in words: `8 A and 8 B for Tall, 8 B and 16 C for Wide`; empty for a kit of one design."""
    return ", ".join(f"{counted_text(labels.items())} for {name}" for name, labels in dealt(worked, paper).items())


def split_text(worked: Worked) -> str:
    """How any number of cards is shared among several designs; empty for a kit of one."""
    if len(worked.designs) < 2:
        return ""
    each = listed([f"{design.kit.spec.cards} {design.kit.design}" for design in worked.designs])
    return f"Cards are shared among the designs as in the batch: of {worked.kit.spec.cards}, {each}. What does not come out even is counted up."


def given_text(worked: Worked, label: str, paper: str) -> str:
    """To which designs pieces of a label go, and how many: `Tall 4, Wide 4`; empty for a kit of one, and for bases, which say so by their names."""
    return ", ".join(f"{name} {labels[label]}" for name, labels in dealt(worked, paper).items() if label in labels)


def design_text(worked: Worked) -> str:
    """What stands over a design: its name and how many cards of it the batch has."""
    return f"{worked.kit.design} · {number(worked.kit.spec.cards, 'card', 'cards')}"


def side_text(worked: Worked, side: Face) -> str:
    """What stands over a face besides the leading one."""
    return led(side.on) if not worked.kit.design else f"{worked.kit.design}, {side.on}"


@dataclass(frozen=True, slots=True)
class GoesRow:
    """One label: how many go to each design, and what is to spare."""

    label: str
    told: tuple[str, ...]
    """Design by design, `2 a card`; empty where none goes."""
    spare: int


@dataclass(frozen=True, slots=True)
class GoesTable:
    """Which piece goes to which design."""

    designs: tuple[tuple[str, int], ...]
    """Each by its name, with its cards."""
    rows: tuple[GoesRow, ...]

    @property
    def spare(self) -> bool:
        """Whether anything is to spare."""
        return any(row.spare for row in self.rows)


def goes_table(worked: Worked) -> GoesTable | None:
    """Every piece with the designs that it goes to; None for a kit of one."""
    given = dealt(worked)
    if not given:
        return None
    designs = tuple((design.kit.design, design.kit.spec.cards) for design in worked.designs)
    spare = sum((Counter(plan.spare) for plan in worked.plans), Counter())
    rows = (
        GoesRow(label, tuple(_a_card(given.get(name, {}).get(label, 0), cards) for name, cards in designs), spare[label])
        for label in worked.sizes
        if not is_base(label)
    )
    return GoesTable(designs, tuple(rows))


def _a_card(n: int, cards: int) -> str:
    """`2 a card`; the number of all where cards differ in it."""
    return "" if not n else str(n) if n % cards else f"{n // cards} a card"
