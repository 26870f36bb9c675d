"""What a kit of another's pieces keeps of it: papers, cardstock and pieces as the first one's own file says them, and its scans."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import Literal

import yaml

from kitwright.archive.entries import entry_at, last_of
from kitwright.kit.read import KIT_FILE
from kitwright.papers import NamedSize
from kitwright.proposing.written import Kept
from kitwright.work.traits import leading_plans
from kitwright.work.worked import Worked

_COUNTED = ("sheets",)
"""What an entry of a paper says of one batch."""
_LAID = ("size", "paper", "papers", "per card")
"""What an entry of a piece says that another card's may say otherwise."""


def kept_of(worked: Worked, labels: Mapping[str, str]) -> Kept:
    """What goes on as it is.

    Args:
        worked: the kit whose pieces these are.
        labels: by the label that a piece has on the other card, the kit's own.
    """
    worked = worked.whole
    text = (worked.kit.folder / KIT_FILE).read_text(encoding="utf-8")
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    papers, pieces = (_entries(entry_at(root, (key,))) for key in ("papers", "pieces"))
    said = {label: _flowed(pieces[own], _LAID) for label, own in labels.items() if own in pieces}
    return Kept(worked.kit.spec.title, {key: _lines(text, entry) for key, entry in papers.items()}, said, _cardstock(worked))


def copy_scans(worked: Worked, folder: Path) -> None:
    """Put the scans of a kit's patterned papers where its papers are said anew: they are of the very sheets."""
    for plan in leading_plans(worked.whole):
        paper = worked.whole.kit.papers[plan.paper]
        for face in filter(None, (paper.front, paper.back)):
            if face.scan and (source := worked.whole.kit.folder / face.scan).is_file():
                (folder / face.scan).parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(source, folder / face.scan)


def _cardstock(worked: Worked) -> dict[Literal["bases", "mats"], tuple[str, NamedSize]]:
    """Of which papers its bases and its mats are, where no patterned piece is of them."""
    spec, patterned = worked.designs[0].kit.spec, {plan.paper for plan in leading_plans(worked)}
    layers = [worked.kit.spec.pieces[layer.piece].paper for layer in spec.card.layers]
    mats = next((key for key in layers if key), None)
    named: dict[Literal["bases", "mats"], str | None] = {"bases": spec.card.base.paper, "mats": mats}
    return {what: (key, worked.kit.papers[key].size) for what, key in named.items() if key and key not in patterned}


# --- entries as they are typed ------------------------------------------------------------------------


def _entries(node: yaml.Node | None) -> dict[str, yaml.MappingNode]:
    return (
        {key.value: entry for key, entry in node.value if isinstance(entry, yaml.MappingNode)} if isinstance(node, yaml.MappingNode) else {}
    )


def _lines(text: str, entry: yaml.MappingNode) -> tuple[str, ...]:
    """The lines of a paper's entry, remarks too, from the left edge."""
    if entry.flow_style:
        return _flowed(entry, _COUNTED)
    indent, found = entry.start_mark.column, []
    lines = text.split("\n")
    for key, value in entry.value:
        last = _last_line(value)
        if key.value not in _COUNTED:
            found += [line[indent:] for line in lines[key.start_mark.line : last + 1]]
    return tuple(found)


def _last_line(node: yaml.Node) -> int:
    """The line on which it ends; that of words in lines of their own ends before the next."""
    last = last_of(node)
    end = last.end_mark
    return int(end.line - 1 if end.column == 0 and end.line > last.start_mark.line else end.line)


def _flowed(entry: yaml.MappingNode, but: tuple[str, ...]) -> tuple[str, ...]:
    """Its further entries, each in one line."""
    return tuple(_in_a_line(key, value) for key, value in entry.value if key.value not in but and "[[" not in str(value.value))


def _in_a_line(key: yaml.Node, value: yaml.Node) -> str:
    _flow(value)
    said = yaml.serialize(yaml.MappingNode("tag:yaml.org,2002:map", [(key, value)], flow_style=True), width=10**6, allow_unicode=True)
    return str(said).strip()[1:-1]


def _flow(node: yaml.Node) -> None:
    """Whatever was typed in lines of its own, side by side."""
    if isinstance(node, yaml.CollectionNode):
        node.flow_style = True
        for part in node.value:
            for one in part if isinstance(part, tuple) else (part,):
                _flow(one)
    elif isinstance(node, yaml.ScalarNode) and node.style in ("|", ">"):
        node.style = '"'
