"""The exact state of a kit as plain canonical data, from which its code is made.

What counts is content: the spec as it was understood, its cuts as they divide the sheet,
the words of the notes, and what the kit takes from the club (terms, cautions, trimmer, the
usual papers that it uses). White space, comments, the order of keys, other ways to write
one length, and other words for the same cuts do not count; nor do people and whatever else
may change after a release (`kitwright.kit.model.LIVING`). A field that has its default
value is left out, so that a later kitwright with more fields gives old kits the same state.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import leaves
from kitwright.folding import Score
from kitwright.kit.model import LIVING, Guide, KitSpec, Spec
from kitwright.papers import NamedSize, Weight
from kitwright.release.codes import code_of
from kitwright.units import Length, Size
from kitwright.work.worked import Worked, needs_of

IN_ORDER = {"papers", "pieces", "designs", "mix"}
"""Mappings whose order shows on the pages, so that it counts."""


def state_of(worked: Worked) -> dict[str, Any]:
    """The whole state of a kit: plain data, the same for every way to write it."""
    return {"kit": own_state(worked), "club": club_state(worked)}


def own_state(worked: Worked) -> dict[str, Any]:
    """What the kit's own files say."""
    kit = worked.kit
    spec = kit.typed or kit.spec
    fields = {name: getattr(spec, name) for name in KitSpec.model_fields if name not in (*LIVING, "guides", *spec.copies)}
    state = {name: _plain(value, name) for name, value in fields.items() if value != _default(KitSpec, name)}
    guides = [_guide(guide, [each for each in worked.layouts if each.guide == i]) for i, guide in enumerate(spec.guides)]
    notes = words_of(kit.notes)
    return {"id": kit.id, **state} | ({"guides": guides} if guides else {}) | ({"notes": notes} if notes else {})


def club_state(worked: Worked) -> dict[str, Any]:
    """What the kit takes from the club."""
    kit = worked.kit
    return {
        "terms": _plain(kit.club.terms),
        "cautions": _plain(kit.club.cautions),
        "trimmer": _plain(kit.club.trimmer),
        "papers": [[key, _plain(kit.papers[key])] for key in club_papers(worked)],
    }


def club_papers(worked: Worked) -> list[str]:
    """Keys of the club's usual papers that the kit uses, in the club's order."""
    kit = worked.kit
    looks = [look for design in kit.designs for look in design.spec.front.looks]
    used = (
        set(needs_of(kit))
        | {p for look in looks for pair in look.swap.items() for p in pair}
        | {p for guide in kit.spec.guides for p in guide.papers}
    )
    return [key for key in kit.club.papers if key in used and key not in kit.spec.papers]


def changed_keys(was: Mapping[str, Any], now: Mapping[str, Any]) -> list[str]:
    """Keys of a state that differ, in the order of the spec."""
    return [key for key in dict.fromkeys([*now, *was]) if was.get(key) != now.get(key)]


def _guide(guide: Guide, layouts: list[Layout]) -> dict[str, Any]:
    said = {name: getattr(guide, name) for name in type(guide).model_fields if name != "cuts"}
    state = {name: _plain(value) for name, value in said.items() if value != _default(type(guide), name)}
    if layouts:
        state["cuts"] = [_cuts(layout) for layout in layouts]
    elif guide.cuts is not None:
        state["cuts"] = _plain(guide.cuts)
    return state


def _cuts(layout: Layout) -> dict[str, Any]:
    """A sheet as it is divided: the strokes in order, and what comes of them."""
    return {
        "strokes": [[c.axis, _plain(c.at), c.off, _plain(c.measure)] for c in layout.cuts],
        "pieces": [
            [
                leaf.label,
                leaf.turned,
                *map(_plain, (leaf.rect.x, leaf.rect.y, leaf.rect.width, leaf.rect.height)),
                *filter(None, [leaf.diagonal]),
            ]
            for leaf in leaves(layout.tree)
        ],
    }


def lasting(value: Any) -> Any:
    """A value without what may change after a release."""
    return value.lasting if isinstance(value, Spec) else value


def _default(model: type[Spec], name: str) -> Any:
    return model.model_fields[name].get_default(call_default_factory=True)


def _plain(value: Any, name: str = "") -> Any:
    """A value of the model as JSON data; exact numbers become text with what they are."""
    if isinstance(value, Spec):
        fields = {n: getattr(value, n) for n in type(value).model_fields if n not in value.living}
        return {n: _plain(v, n) for n, v in fields.items() if lasting(v) != _default(type(value), n)}
    if isinstance(value, Length):
        return ["length", str(value.inches)]
    if isinstance(value, Fraction):
        return ["number", str(value)]
    if isinstance(value, Size):
        return ["size", str(value.width.inches), str(value.height.inches)]
    if isinstance(value, NamedSize):
        return ["named", value.name, *_plain(value.size)[1:]]
    if isinstance(value, Score):
        return ["score", _plain(value.at), value.direction]
    if isinstance(value, Weight):
        return ["weight", _plain(value.text), str(value.grammage)]
    if isinstance(value, dict):
        pairs = [[str(key), _plain(each)] for key, each in value.items()]
        return pairs if name in IN_ORDER else sorted(pairs, key=lambda p: p[0])
    if isinstance(value, (list, tuple)):
        return [_plain(each) for each in value]
    if isinstance(value, str):
        return " ".join(value.split())
    if value is None or isinstance(value, (bool, int)):
        return value
    raise TypeError(f"the state of a kit knows no {type(value).__name__}")


_BLOCK = re.compile(r"\s*(?:[-*+]\s|\d+[.)]\s|#|>|\||```|~~~|:|\[\^|</?\w)|\s{4,}\S")
_FENCE = re.compile(r"\s*(```|~~~)")


def words_of(notes: str) -> list[str]:
    """The words of the notes, a paragraph, an entry or a line of code each.

    Lines that merely run on are joined, comments (`<!-- … -->`) and empty lines left out.
    """
    lines = re.sub(r"<!--.*?-->", "", notes, flags=re.DOTALL).replace("\r\n", "\n").split("\n")
    found: list[str] = []
    fenced, joined = False, False
    for line in lines:
        if _FENCE.match(line):
            fenced = not fenced
        if not line.strip() and not fenced:
            joined = False
        elif fenced or _FENCE.match(line):
            found.append(line.rstrip())
            joined = False
        elif joined and not _BLOCK.match(line):
            found[-1] += " " + " ".join(line.split())
        else:
            indent = line[: len(line) - len(line.lstrip())].expandtabs(4)
            found.append(indent + " ".join(line.split()))
            joined = not line.lstrip().startswith(("#", "|"))
    return found


# --- codes ------------------------------------------------------------------------------------


def canonical(state: Any) -> bytes:
    """Plain data as bytes, the same every time."""
    return json.dumps(state, sort_keys=True, ensure_ascii=False, separators=(",", ":")).encode()


def digest(worked: Worked) -> str:
    """A checksum of the whole state."""
    return hashlib.sha256(canonical(state_of(worked))).hexdigest()


def preview_code(worked: Worked) -> str:
    """The code of printables made before the release of this very state."""
    return code_of(b"preview\n" + canonical(state_of(worked)))


def release_code(worked: Worked, revision: int) -> str:
    """The code of a revision."""
    return code_of(f"revision {revision}\n".encode() + canonical(state_of(worked)))


def is_tested(worked: Worked) -> bool:
    """Whether somebody cut this very state, by the code that she gave."""
    code = preview_code(worked)
    return any(_same(test.code, code) for test in worked.kit.spec.tested)


def _same(typed: str, code: str) -> bool:
    return re.sub(r"\W", "", typed).upper() == code.replace("-", "")
