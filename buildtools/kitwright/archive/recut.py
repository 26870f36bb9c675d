"""A guide's lines in a kit's file with other sizes: each measure in its place, so that words and remarks stay as she typed them."""

from __future__ import annotations

import re
from collections.abc import Iterator

import yaml

from kitwright.archive.entries import end_of
from kitwright.cutting.guide import measure_in
from kitwright.cutting.tree import Node
from kitwright.errors import MeasureError
from kitwright.proposing.written import GuideLine, lines
from kitwright.telling.proposed_kit import cut_lines, length_typed
from kitwright.units import Length, parse_length

Edit = tuple[int, int, str]
"""From where to where in the text, and what stands there now."""
_REMARK = re.compile(r"(?:^|(?<=\s))#.*$")


def recut(text: str, node: yaml.Node, old: Node, new: Node | None, unit: str) -> list[Edit]:
    """What changes in the text of a guide's cuts.

    Args:
        text: of the kit's file.
        node: its cuts.
        old: the sheet as they cut it.
        new: the sheet as it is to be cut; None where the planner is to say.
        unit: the kit's own.

    Returns:
        Its measures alone, where each has one that it becomes; else all of it, with its remarks before it.
    """
    if new is not None:
        in_place = _in_place(text, node, _becomes(lines(old), lines(new)), unit)
        if in_place is not None:
            return in_place
    said = ["auto"] if new is None else list(cut_lines(lines(new), "mm" if unit == "mm" else "in"))
    start, end = node.start_mark.index, end_of(node)
    remarks = [found[0] for line in text[start:end].split("\n") if (found := _REMARK.search(line))]
    return [(start, end, ("\n" + " " * node.start_mark.column).join([*remarks, *said]))]


def _becomes(old: tuple[GuideLine, ...], new: tuple[GuideLine, ...]) -> dict[Length, set[Length]]:
    """By each measure of the old cuts, what it becomes; empty where the lines are others."""
    found: dict[Length, set[Length]] = {}
    if len(old) != len(new):
        return {}
    for one, other in zip(old, new):
        if (one.what, one.count, one.label, len(one.inside)) != (other.what, other.count, other.label, len(other.inside)):
            return {}
        inner = _becomes(one.inside, other.inside)
        if one.inside and not inner and _measures(one.inside):
            return {}
        for measure, becomes in ((one.measure, {other.measure}), *inner.items()):
            found.setdefault(measure, set()).update(becomes)
    return found


def _measures(some: tuple[GuideLine, ...]) -> bool:
    return any(one.what == "off" or _measures(one.inside) for one in some)


def _in_place(text: str, node: yaml.Node, becomes: dict[Length, set[Length]], unit: str) -> list[Edit] | None:
    """Each measure that changes, where it stands; None where one is not told by what it was."""
    edits: list[Edit] = []
    for line in _typed(node):
        said = measure_in(line.value)
        if said is None:
            continue
        try:
            measure = parse_length(said, unit)
        except MeasureError:
            return None
        new = becomes.get(measure, set())
        at = text.find(said, line.start_mark.index, line.end_mark.index)
        if len(new) != 1 or at < 0:
            return None
        (length,) = new
        if length != measure:
            edits.append((at, at + len(said), length_typed(length, "mm" if unit == "mm" else "in")))
    return edits


def _typed(node: yaml.Node) -> Iterator[yaml.ScalarNode]:
    """The lines of cuts, in whatever depth; not what becomes of a part."""
    for entry in node.value if isinstance(node, yaml.SequenceNode) else ():
        if isinstance(entry, yaml.ScalarNode):
            yield entry
        elif isinstance(entry, yaml.MappingNode):
            for key, value in entry.value:
                yield key
                yield from _typed(value)
