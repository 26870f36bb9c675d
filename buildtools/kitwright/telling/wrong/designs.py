"""What is wrong with a kit of several designs."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.words import listed


def beside(word: str) -> Said:
    return f"this kit has designs, and “{word}” stands beside them", f"“{word}” stands under each design: move it there"


def another_sum(said: int | None, total: int) -> Said:
    return f"the designs make {total} cards, and {said} stand here", f"make it {total}, or leave this line out: it is counted"


def too_many_cards(total: int, most: int) -> Said:
    return f"the designs make {total} cards together", f"a kit holds {most} at most: make it two kits"


def per_card(label: str, papers: tuple[str, ...]) -> Said:
    instead = f"and write  papers: [{', '.join(papers)}]" if papers else "and keep the line of its paper"
    return f"in a kit of several designs, how many {label} a card takes is counted on the fronts", f"take “per card” out, {instead}"


def alike(name: str, other: str) -> Said:
    return f"two designs are called {listed([other, name])}, which is one name to many a disk", "give one of them another name"


def unknown(name: str, near: str | None, known: tuple[str, ...]) -> Said:
    remedy = f"did you mean {near}?" if near else f"designs here: {', '.join(known)}" if known else "it has no designs: leave this line out"
    return f"this kit has no design called {name[:40]}", remedy


def no_name(text: str | None) -> Said:
    return (
        f"{'this' if text is None else f'“{text[:40]}”'} is no name for a design",
        "begin with a letter; then letters, digits, spaces and dashes, 30 at most: Tall, Spring 2",
    )
