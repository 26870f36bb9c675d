"""A kit whose sizes were bettered, as a folder of its own: the first kit's own text with other sizes in their places."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import yaml

from kitwright.archive.entries import end_of, entry_at
from kitwright.archive.recut import recut
from kitwright.archive.starter import found_there, put_new
from kitwright.cutting.tree import Node as Cut
from kitwright.errors import UserError
from kitwright.findings import Finding
from kitwright.kit.faces import fronts
from kitwright.kit.kit import Kit
from kitwright.kit.loose import PUBLISHED
from kitwright.kit.read import KIT_FILE, read_club, read_kit
from kitwright.kit.yamltext import Path_
from kitwright.otherwise.checked import check
from kitwright.proposing.near.records import Nearby
from kitwright.telling.proposed_kit import length_typed, size_typed, text_typed
from kitwright.work.worked import Worked
from kitwright.work.working import work

EDGES = ("left", "right", "top", "bottom")
OF_ITS_OWN = ("reveal", "meant", "moments", "team", "guests", "tested", "samples", "photos", "questions", "video")
"""What a kit says of its own release, of who made it and of how it came out: of another nothing of that is true yet."""


def write_bettered(kits: Path, name: str, worked: Worked, nearby: Nearby, title: str | None = None) -> tuple[Path, list[Finding]]:
    """Write a kit with a few sizes changed as a kit of its own, and return its folder and what `check` finds in it.

    Args:
        kits: the folder of kits, with the club's file.
        name: the new kit's id.
        worked: the kit as it is.
        nearby: what changes.
        title: what it is called; by its id where it is left out.

    Raises:
        UserError: the name is no kit id, the folder is there already, or a size is not typed where it could be changed.
    """

    def fill(folder: Path, words: str) -> list[Finding]:
        source = worked.whole.kit.folder
        shutil.copytree(source, folder, ignore=shutil.ignore_patterns(PUBLISHED, ".*"))
        text = (source / KIT_FILE).read_text(encoding="utf-8")
        (folder / KIT_FILE).write_text(changed_text(text, worked.whole, nearby, words), encoding="utf-8", newline="\n")
        kit = read_kit(folder, read_club(kits))
        assert isinstance(kit, Kit)
        return check(work(kit))

    folder, found = put_new(kits, name, title, fill)
    return folder, found_there(found, folder)


def changed_text(text: str, worked: Worked, nearby: Nearby, title: str) -> str:
    """The text of a kit's file with other sizes, borders, gaps and cuts, and another title.

    Raises:
        UserError: one of them stands in it in a way that is not read here.
    """
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    assert isinstance(root, yaml.MappingNode), "a kit's file is read already"
    edits = [_line_of(text, key, value) for key, value in root.value if key.value in OF_ITS_OWN]
    for path, new in (("title",), text_typed(title)), *_sizes(worked, nearby):
        node = entry_at(root, path)
        if node is None and path[-1] == "band" and isinstance(row := entry_at(root, path[:-1]), yaml.ScalarNode):
            # A row's short form: `band 1-1/2`.
            node, new = row, f"band {new}"
        if not isinstance(node, yaml.ScalarNode):
            raise UserError("proposing.typed-otherwise", path=path)
        edits.append((node.start_mark.index, end_of(node), new))
    for path, old, new_cuts in _cuts(worked, nearby):
        node = entry_at(root, path)
        if node is None or isinstance(node, yaml.MappingNode):
            raise UserError("proposing.typed-otherwise", path=path)
        edits += recut(text, node, old, new_cuts, worked.kit.spec.unit)
    for start, end, new in sorted(edits, reverse=True):
        text = text[:start] + new + text[end:]
    return text.rstrip("\n") + "\n"


def _sizes(worked: Worked, nearby: Nearby) -> Iterator[tuple[Path_, str]]:
    unit = worked.kit.spec.unit
    for label, (_, after) in nearby.sizes(worked).items():
        yield ("pieces", label, "size"), size_typed(after, unit)
    kits = {design.kit.design: design.kit for design in worked.designs}
    for moved in nearby.moved:
        if not moved.label:
            yield kits[moved.design].in_file((*moved.path, moved.what)), length_typed(moved.after, unit)
    for design, new in zip(worked.designs, nearby.changed.designs):
        for (said, path), (now, _) in zip(fronts(design.kit.spec), fronts(new.kit.spec)):
            # What lies as far from an edge as the border is wide goes with it.
            for key in ("places", "over"):
                for i, (one, other) in enumerate(zip(getattr(said, key), getattr(now, key))):
                    for edge in EDGES:
                        if getattr(one, edge) != getattr(other, edge):
                            yield design.kit.in_file((*path, key, i, edge)), length_typed(getattr(other, edge), unit)


def _cuts(worked: Worked, nearby: Nearby) -> Iterator[tuple[Path_, Cut, Cut | None]]:
    """Guides whose cuts change with the sizes: where they stand, how they are and are to be; None where no sheet is cut as it was."""
    found: dict[int, tuple[Cut, Cut | None]] = {}
    for plan in worked.plans:
        new = nearby.changed.plan(plan.paper)
        for i, run in enumerate(plan.runs):
            guide = run.layout.guide
            if guide is None or new is None:
                continue
            if len(new.runs) != len(plan.runs):
                found[guide] = run.layout.tree, None
            elif new.runs[i].layout.tree != run.layout.tree:
                found[guide] = run.layout.tree, new.runs[i].layout.tree
    yield from ((("guides", guide, "cuts"), *trees) for guide, trees in found.items())


def _line_of(text: str, key: yaml.Node, value: yaml.Node) -> tuple[int, int, str]:
    """An entry at the top taken out with its lines, and with the empty one that parts it from the next."""
    end = text.find("\n", end_of(value)) + 1 or len(text)
    return key.start_mark.index, end + text.startswith("\n", end), ""
