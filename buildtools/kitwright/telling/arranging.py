"""Arrangements as text for the terminal and as plain data."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from kitwright.findings import Note
from kitwright.otherwise.arrangements.found import Arrangements, Group, Set
from kitwright.otherwise.arrangements.turning import Motions
from kitwright.otherwise.arrangements.variations import Refused
from kitwright.telling.words import listed, number

GROUPS = {
    "alone": "Each a card of its own",
    "order": "Same order, turned later",
    "changes": "Made otherwise from the same cuts",
    "cuts": "Needs other cuts",
}
"""Titles of groups by their kind; that of one card, seen in several ways, says in which."""
SETS = {
    "mix": "The author’s own mix",
    "own": "The kit’s own looks",
    "alike": "As alike as the pieces allow",
    "one order": "One order, half of them turned",
    "varied": "As varied as possible",
}
LINES = 12
"""Groups and names beyond this are left to the gallery."""


def as_text(found: Arrangements) -> list[str]:
    """Counts, groups, sets and variations, line by line."""
    counts, kit = found.counts, found.worked.kit
    lines = [
        f"{titled(kit.spec.title, kit.design)}  {kit.id}",
        "",
        f"{number(counts.counted, 'arrangement', 'arrangements')}, {number(counts.different, 'different card', 'different cards')}",
        f"  {proof_text(found)}",
        f"  {turning_text(found)}",
        f"  {counted_text(found.motions)}",
    ]
    if counts.if_no_up != (counts.counted, counts.different):
        lines.append(
            f"  If no paper had an up: {number(counts.if_no_up[0], 'arrangement', 'arrangements')}, "
            f"{number(counts.if_no_up[1], 'different card', 'different cards')}."
        )
    lines += [f"  {rule.words}" for rule in found.rules]
    lines += ["", "Groups"]
    titles = {item.slug: item.name for item in found.items} | {v.slug: v.name for v in found.variations}
    pairs = [group for group in found.groups if group.kind == "same"]
    lines += [f"  {_whole_title(found, group)}" for group in pairs[:LINES]]
    if len(pairs) > LINES:
        lines.append(f"  … and {len(pairs) - LINES} more such cards")
    for group in found.groups:
        if group.kind != "same":
            more = f"; … and {len(group.slugs) - LINES} more" if len(group.slugs) > LINES else ""
            lines.append(f"  {group_title(found, group)}: {'; '.join(titles[s] for s in group.slugs[:LINES])}{more}")
    if found.rule:
        lines.append(f"  {found.rule.words}")
    lines += ["", "Sets for the batch"]
    for one in found.sets:
        lines += set_lines(found, one, " (recommended)" if one is found.recommended else "")
    if not found.sets:
        lines.append("  The pieces that the sheets yield don’t make the batch.")
    if found.shortcut:
        lines += ["", "Shortcut", f"  {found.shortcut.words}"]
    if found.variations or found.refused:
        lines += ["", "Variations"]
        lines += [f"  {v.name}: {' '.join(c.words for c in v.changes)}" for v in found.variations]
        lines += [f"  not {r.name[0].lower()}{r.name[1:]}: {why_text(r)}" for r in found.refused]
    return lines


def titled(kit: str, design: str) -> str:
    """A kit by its title, with the design where it has several."""
    return f"{kit}, {design}" if design else kit


def turning_text(found: Arrangements) -> str:
    """What a turn does here."""
    return " ".join(note.words for note in found.motions.why)


def counted_text(motions: Motions) -> str:
    """What makes one card of two arrangements."""
    if not motions.counted:
        return "No turn makes two of these one card."
    return f"Counted as one card: {listed([f'{name}s' for name in motions.counted])}."


def alike_text(motions: Motions) -> str:
    """How one card is seen as several arrangements: `turned round`, `turned by quarters or mirrored`."""
    turned = "turned by quarters" if motions.quarter else "turned round" if motions.turn else ""
    return " or ".join(filter(None, (turned, "mirrored" if motions.mirror else "")))


def group_title(found: Arrangements, group: Group) -> str:
    """What a group is called."""
    return f"One card, {alike_text(found.motions)}" if group.kind == "same" else GROUPS[group.kind]


def _whole_title(found: Arrangements, group: Group) -> str:
    """The same, one card's arrangements by name."""
    names = {item.slug: item.name for item in found.items}
    which = f": {listed([f'“{names[slug]}”' for slug in group.slugs])}" if group.kind == "same" else ""
    return f"{group_title(found, group)}{which}"


def set_name(found: Arrangements, one: Set) -> str:
    """What a set is called."""
    if one.kind == "tops":
        return f"Each paper {found.lead} as often"
    return "All alike" if one.kind == "alike" and len(one.parts) == 1 else SETS[one.kind]


def why_text(refused: Refused) -> str:
    """What stands in the way of a variation."""
    return refused.why.words if isinstance(refused.why, Note) else refused.why.problem


def _said(note: Note | None) -> str:
    return note.words if note else ""


def proof_text(found: Arrangements) -> str:
    """How the numbers were found."""
    counts = found.counts
    if counts.listed is None:
        return "Counted, not listed: there are too many. Different cards by Burnside’s lemma."
    return (
        f"Counted {counts.counted}, listed {counts.listed}; by Burnside’s lemma {counts.different}, by grouping the list {counts.grouped}."
    )


def set_lines(found: Arrangements, one: Set, mark: str = "") -> list[str]:
    """One set: its cards, what is left over, and how to go about it."""
    if one.same_as:
        twin = next(other for other in found.sets if other.kind == one.same_as)
        return [f"  {set_name(found, one)}{mark}: the same as “{set_name(found, twin)}”"]
    lines = [f"  {set_name(found, one)}{mark}"] + [f"    {part.cards} × {part.name}" for part in one.parts]
    left = ", ".join(f"{n} {label} of {paper}" for label, paper, n in one.left)
    lines.append(f"    left over: {left or 'nothing'}")
    return lines + ([f"    {one.note.words}"] if one.note else [])


def every_as_json(found: Sequence[Arrangements]) -> dict[str, Any]:
    """The same as plain data; of several designs each by its name."""
    if not found[0].worked.kit.design:
        return as_json(found[0])
    return {"kit": found[0].worked.kit.id, "designs": {one.worked.kit.design: as_json(one) for one in found}}


def as_json(found: Arrangements) -> dict[str, Any]:
    """The same as plain data."""
    counts = found.counts
    return {
        "kit": found.worked.kit.id,
        "counts": {
            "counted": counts.counted,
            "listed": counts.listed,
            "different": counts.different,
            "grouped": counts.grouped,
            "if no up": dict(zip(("counted", "different"), counts.if_no_up)),
        },
        "turning": turning_text(found),
        "counted as one": list(found.motions.counted),
        "rules": [rule.words for rule in found.rules],
        "shown": _said(found.rule) or "all",
        "shortcut": _said(found.shortcut),
        "arrangements": [
            {
                "name": i.name,
                "slug": i.slug,
                "top": i.top,
                "card": i.card,
                "turned": i.turned,
                "apart": _said(i.apart),
                "own": i.own,
                "differences": [d.words for d in i.differences],
                "pieces": [
                    {"label": p.label, "paper": p.paper, "face": p.face, "turned": p.turned}
                    | ({"lies": list(p.lies[1:])} if p.lies[1:] else {})
                    for p in i.face.pieces + i.face.over
                ],
            }
            for i in found.items
        ],
        "groups": [{"kind": g.kind, "title": _whole_title(found, g), "slugs": list(g.slugs)} for g in found.groups],
        "sets": [set_json(found, s) for s in found.sets],
        "recommended": found.recommended.kind if found.recommended else None,
        "variations": [
            {"kind": v.kind, "name": v.name, "slug": v.slug, "needs": v.needs, "changes": [c.words for c in v.changes]}
            for v in found.variations
        ],
        "refused": [{"kind": r.kind, "name": r.name, "why": why_text(r)} for r in found.refused],
    }


def set_json(found: Arrangements, one: Set) -> dict[str, Any]:
    """A set for the batch as plain data."""
    return {
        "kind": one.kind,
        "name": set_name(found, one),
        "cards": [{"name": p.name, "slug": p.slug, "cards": p.cards} for p in one.parts],
        "left": [{"label": label, "paper": paper, "pieces": n} for label, paper, n in one.left],
        "note": _said(one.note),
        "same as": next((set_name(found, other) for other in found.sets if other.kind == one.same_as), ""),
    }
