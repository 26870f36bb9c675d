"""Citations: prose that names a size or count of the spec instead of retyping it.

In notes.md, and in the author's own steps, `[[size of A]]` stands for the size of A.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.units import Length, length_text, size_text
from kitwright.words import number, sheets_text
from kitwright.worked import Worked

CITATION = re.compile(r"\[\[([^\[\]]*)\]\]")
EXAMPLES = "known: [[cards]], [[size of A]], [[count of A]], [[count of A in PAPER]], [[sheets of PAPER]], [[A per sheet of PAPER]], [[name of PAPER]], " \
           "[[sheet of PAPER]], [[size of base]], [[size of card]], [[score]], [[border]], [[gap]], [[band]], [[envelope]], [[sentiment]]"


def cited(worked: Worked, text: str, place: Callable[[int], Place]) -> str:
    """The text with every citation replaced by what it names.

    Args:
        worked: the kit.
        text: prose of one or more lines.
        place: where a line of the text stands, counted from 1.

    Raises:
        UserError: a citation of something that does not exist.
    """
    def named(match: re.Match) -> str:
        try:
            return value(worked, match[1])
        except UserError as error:
            raise error.at(place(text[:match.start()].count("\n") + 1)) from None
    return CITATION.sub(named, text)


def notes_of(worked: Worked) -> str:
    """The kit's notes, citations filled in."""
    file: Path = worked.kit.notes_file
    return cited(worked, worked.kit.notes, lambda line: Place(file, line))


def value(worked: Worked, phrase: str) -> str:
    """What a citation stands for.

    Raises:
        UserError: nothing of that name.
    """
    words = " ".join(phrase.split())
    shown = words if len(words) <= 60 else words[:57] + "…"
    unit = worked.kit.spec.unit
    simple = _simple(worked, unit)
    if words in simple:
        if simple[words] is None:
            raise UserError(f"[[{words}]] is cited, but this kit has none", "take the citation out, or add it to kit.yaml")
        return simple[words]
    if match := re.fullmatch(r"(size|width|height|count) of (\w+)(?: in ([\w-]+))?", words):
        return _of_label(worked, words, *match.groups())
    if match := re.fullmatch(r"(\w+) per sheet of ([\w-]+)", words):
        return _per_sheet(worked, words, *match.groups())
    if match := re.fullmatch(r"(sheets|name|sheet) of ([\w-]+)", words):
        return _of_paper(worked, words, *match.groups())
    raise UserError(f"[[{shown}]] names nothing", EXAMPLES)


def _simple(worked: Worked, unit: str) -> dict[str, str | None]:
    kit, face = worked.kit, worked.face

    def say(length: Length | None) -> str | None:
        return None if length is None else length_text(length, unit)
    band = face.bands[0] if face.bands else None
    envelope = kit.spec.card.envelope
    return {
        "cards": number(kit.spec.cards, "card", "cards"), "title": kit.spec.title,
        "size of card": size_text(worked.base.finished, unit), "score": say(worked.base.score),
        "border": say(face.border), "gap": say(face.gap),
        "band": say(min(band.width, band.height)) if band else None,
        "envelope": (envelope.name or size_text(envelope.size, unit)) if envelope else None,
        "sentiment": kit.spec.sentiment.text if kit.spec.sentiment else None,
    }


def _of_label(worked: Worked, words: str, what: str, label: str, paper: str | None) -> str:
    unit = worked.kit.spec.unit
    if label not in worked.sizes:
        raise UserError(f"[[{words}]] names a piece {label} that this kit does not have",
                        f"pieces here: {', '.join(l for l in worked.sizes)}")
    size = worked.sizes[label]
    if what != "count":
        return {"size": size_text(size, unit), "width": length_text(size.width, unit), "height": length_text(size.height, unit)}[what]
    counts = worked.counts(label)
    if paper is None:
        return str(sum(counts.values()))
    if paper not in counts:
        raise UserError(f"[[{words}]]: {label} is not cut from {paper}", f"it is cut from {', '.join(counts)}")
    return str(counts[paper])


def _per_sheet(worked: Worked, words: str, label: str, key: str) -> str:
    plan = worked.plan(key)
    found = max((run.layout.yields.get(label, 0) for run in plan.runs), default=0) if plan else 0
    if not found:
        raise UserError(f"[[{words}]]: no sheet of {key} gives a piece {label}", f"papers here: {', '.join(p.paper for p in worked.plans)}")
    return str(found)


def _of_paper(worked: Worked, words: str, what: str, key: str) -> str:
    plan = worked.plan(key)
    if key not in worked.kit.papers or (what == "sheets" and plan is None):
        raise UserError(f"[[{words}]] names a paper that this kit does not use", f"papers here: {', '.join(p.paper for p in worked.plans)}")
    paper = worked.kit.papers[key]
    if what == "name":
        return paper.name
    if what == "sheet":
        return paper.size.name or size_text(paper.size.size, worked.kit.spec.unit)
    return sheets_text(plan.sheets)


