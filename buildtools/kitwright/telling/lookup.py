"""The answers of the code page in words, and the table for its script."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass

from kitwright.release import codes
from kitwright.release.history import Copies
from kitwright.release.lookup import Answer
from kitwright.telling.changes import told_lines
from kitwright.telling.words import date_text

UNKNOWN = "This code is sound, but it names nothing that is public. If your pages say PREVIEW, ask whoever gave them to you."


@dataclass(frozen=True)
class ToldCopy:
    """What a group of copies is told."""

    do: str
    """What to do, in a sentence or two."""
    changes: tuple[str, ...]
    """All that the newest says otherwise, a sentence each; none where it is nothing to a maker."""
    advice: tuple[str, ...]
    """On pieces already cut."""


def told(group: Copies) -> ToldCopy:
    """What the newest says otherwise, and what to do about it."""
    do = {
        "cosmetic": "Your copy is fine to cut from; only words have changed since.",
        "write in": "Write the changes on your copy by hand. The pieces keep their sizes.",
        "recut": "Stop before you cut: the newest says it otherwise.",
    }[group.grade]
    if not group.changes:
        do = f"Your copy is fine to cut from: the newest says the same{_otherwise_new(group)}."
    return ToldCopy(do, tuple(told_lines(group.changes)), group.advice)


def _otherwise_new(group: Copies) -> str:
    """What the newest has besides, where it says the same."""
    moved = ", and its code leads to where this site stands now" if group.readdressed else ""
    return f" in a new form{moved}" if group.redrawn else moved


def says(answer: Answer) -> str:
    """What a code stands for, in a sentence or two."""
    match answer.became:
        case "upcoming":
            return f"{answer.title}, a preview of the kit as it is now. It is not public yet."
        case "unreleased":
            return f"{answer.title}, a preview of the kit as it is now. It was not released yet, so it may still change."
        case "outdated":
            return f"{answer.title}, a preview from while the kit was being tested. It is out of date."
        case "taken back":
            return f"{answer.title}, a test copy of revision {answer.revision}, which was replaced before it was public."
        case "revised":
            return f"{answer.title}, a preview of what became revision {answer.revision}."
    on = f", released {date_text(answer.released)}" if answer.released else ""
    then = "It is the newest." if answer.current else f"Revision {answer.newest} replaces it."
    return f"{answer.title}, revision {answer.revision}{on}. {then}"


def do(answer: Answer) -> ToldCopy:
    """What to do with such a copy."""
    if answer.group is not None:
        return told(answer.group)
    match answer.became:
        case "upcoming":
            words = "Cut and try it, and tell what you find. Please show it to nobody before the reveal."
        case "unreleased":
            words = "Cut along, and look here again before you cut a large batch."
        case "outdated" | "taken back":
            words = "Print the newest one." if answer.newest else "Print a new preview."
        case "revised":
            words = "It is the same as the newest, only headed PREVIEW."
        case _:
            words = "Cut along: nothing need be changed."
    return ToldCopy(words, (), ())


def table_json(answers: dict[str, Answer]) -> str:
    """The table for the code page, with all that its script needs to tell a slip; the same text every time."""
    return codes_json({code: code_data(answer) for code, answer in answers.items()})


def codes_json(found: Mapping[str, Mapping[str, object]]) -> str:
    """The same, from what is said of each code."""
    data = {
        "alphabet": codes.ALPHABET,
        "root": codes.ROOT,
        "length": codes.DATA + 1,
        "group": codes.GROUP,
        "unknown": UNKNOWN,
        "codes": dict(found),
    }
    return json.dumps(data, ensure_ascii=False, sort_keys=True, indent=1) + "\n"


def code_data(answer: Answer) -> dict[str, object]:
    """What the code page's script is told of a code."""
    asked = do(answer)
    return {
        "kit": answer.kit,
        "title": answer.title,
        "current": answer.current,
        "says": says(answer),
        "do": asked.do,
        "changes": list(asked.changes),
        "advice": list(asked.advice),
        "see": answer.see,
    }
