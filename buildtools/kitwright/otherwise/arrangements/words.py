"""Arrangements as text for the terminal and as plain data."""

from __future__ import annotations

from typing import Any

from kitwright.otherwise.arrangements.found import Arrangements, Set
from kitwright.telling.words import number

LINES = 12
"""Groups and names beyond this are left to the gallery."""


def as_text(found: Arrangements) -> list[str]:
    """Counts, groups, sets and variations, line by line."""
    counts, kit = found.counts, found.worked.kit
    lines = [
        f"{kit.spec.title}  {kit.id}",
        "",
        f"{number(counts.counted, 'arrangement', 'arrangements')}, {number(counts.different, 'different card', 'different cards')}",
        f"  {proof_text(found)}",
        f"  {found.turning}",
        f"  {found.motions.counted_words}",
    ]
    if counts.if_no_up != (counts.counted, counts.different):
        lines.append(
            f"  If no paper had an up: {number(counts.if_no_up[0], 'arrangement', 'arrangements')}, "
            f"{number(counts.if_no_up[1], 'different card', 'different cards')}."
        )
    lines += [f"  {rule}" for rule in found.rules]
    lines += ["", "Groups"]
    titles = {item.slug: item.name for item in found.items} | {v.slug: v.name for v in found.variations}
    pairs = [group for group in found.groups if group.kind == "same"]
    lines += [f"  {group.title}" for group in pairs[:LINES]]
    if len(pairs) > LINES:
        lines.append(f"  … and {len(pairs) - LINES} more such cards")
    for group in found.groups:
        if group.kind != "same":
            more = f"; … and {len(group.slugs) - LINES} more" if len(group.slugs) > LINES else ""
            lines.append(f"  {group.title}: {'; '.join(titles[s] for s in group.slugs[:LINES])}{more}")
    if found.rule:
        lines.append(f"  {found.rule}")
    lines += ["", "Sets for the batch"]
    for one in found.sets:
        lines += set_lines(one, " (recommended)" if one is found.recommended else "")
    if not found.sets:
        lines.append("  The pieces that the sheets yield don’t make the batch.")
    if found.shortcut:
        lines += ["", "Shortcut", f"  {found.shortcut}"]
    if found.variations or found.refused:
        lines += ["", "Variations"]
        lines += [f"  {v.name}: {' '.join(v.changes)}" for v in found.variations]
        lines += [f"  not {r.name[0].lower()}{r.name[1:]}: {r.why}" for r in found.refused]
    return lines


def proof_text(found: Arrangements) -> str:
    """How the numbers were found."""
    counts = found.counts
    if counts.listed is None:
        return "Counted, not listed: there are too many. Different cards by Burnside’s lemma."
    return (
        f"Counted {counts.counted}, listed {counts.listed}; by Burnside’s lemma {counts.different}, by grouping the list {counts.grouped}."
    )


def set_lines(one: Set, mark: str = "") -> list[str]:
    """One set: its cards, what is left over, and how to go about it."""
    if one.same_as:
        return [f"  {one.name}{mark}: the same as “{one.same_as}”"]
    lines = [f"  {one.name}{mark}"] + [f"    {part.cards} × {part.name}" for part in one.parts]
    left = ", ".join(f"{n} {label} of {paper}" for label, paper, n in one.left)
    lines.append(f"    left over: {left or 'nothing'}")
    return lines + ([f"    {one.note}"] if one.note else [])


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
        "turning": found.turning,
        "counted as one": list(found.motions.counted),
        "rules": list(found.rules),
        "shown": found.rule or "all",
        "shortcut": found.shortcut,
        "arrangements": [
            {
                "name": i.name,
                "slug": i.slug,
                "top": i.top,
                "card": i.card,
                "turned": i.turned,
                "apart": i.apart,
                "own": i.own,
                "differences": list(i.differences),
                "pieces": [{"label": p.label, "paper": p.paper, "face": p.face, "turned": p.turned} for p in i.face.pieces + i.face.over],
            }
            for i in found.items
        ],
        "groups": [{"kind": g.kind, "title": g.title, "slugs": list(g.slugs)} for g in found.groups],
        "sets": [set_json(s) for s in found.sets],
        "recommended": found.recommended.kind if found.recommended else None,
        "variations": [
            {"kind": v.kind, "name": v.name, "slug": v.slug, "needs": v.needs, "changes": list(v.changes)} for v in found.variations
        ],
        "refused": [{"kind": r.kind, "name": r.name, "why": r.why} for r in found.refused],
    }


def set_json(one: Set) -> dict[str, Any]:
    """A set for the batch as plain data."""
    return {
        "kind": one.kind,
        "name": one.name,
        "cards": [{"name": p.name, "slug": p.slug, "cards": p.cards} for p in one.parts],
        "left": [{"label": label, "paper": paper, "pieces": n} for label, paper, n in one.left],
        "note": one.note,
        "same as": one.same_as,
    }
