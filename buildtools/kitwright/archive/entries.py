"""Where an entry stands in the text of a kit's file, and where it ends."""

from __future__ import annotations

import yaml

from kitwright.kit.yamltext import Path_


def entry_at(node: yaml.Node | None, path: Path_) -> yaml.Node | None:
    """What stands at a path below a node; None where nothing does."""
    for step in path:
        if isinstance(node, yaml.MappingNode):
            node = next((value for key, value in node.value if key.value == step), None)
        elif isinstance(node, yaml.SequenceNode) and isinstance(step, int) and step < len(node.value):
            node = node.value[step]
        else:
            return None
    return node


def last_of(node: yaml.Node) -> yaml.Node:
    """The innermost of its entries that it ends with: a block's own end stands behind the remarks under it."""
    if isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
        last = node.value[-1]
        return last_of(last[1] if isinstance(last, tuple) else last)
    return node


def end_of(node: yaml.Node) -> int:
    """Where it ends in the text, before the remarks under it."""
    return int(last_of(node).end_mark.index)
