"""A published correction in words: who is affected, what to do, and what each group of copies has to know."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from kitwright.release.changes import Differences
from kitwright.release.errata import Erratum, ErratumDraft
from kitwright.release.history import Copies
from kitwright.release.paths import Grade
from kitwright.telling.changes import GRADE_WORDS, besides, sentence, told_beside, told_lines
from kitwright.telling.words import date_text, led, listed

TO_DO: dict[Grade, str] = {
    "cosmetic": "Nothing need be done.",
    "write in": "Write the change on your copy by hand, or print the new one.",
    "recut": "Print the new one, and cut the pieces named here again.",
}
"""What a grade asks of a reader who has an old copy."""
ASKS: dict[Grade, str] = {grade: led(words) for grade, words in GRADE_WORDS.items()}
"""The same in the fewest words."""
MEANS: dict[Grade, str] = {
    "cosmetic": "Only words or pictures changed. Sizes, cuts and places are as they were.",
    "write in": "The pieces that you have cut are good. Something that the page said was wrong.",
    "recut": "A size or a cut was wrong. Pieces cut by the old page don’t fit, or there are too few.",
}
CHANGED_AGAIN = "A later revision changed some of this again: what the newest says counts."
"""What a correction means that asks less now than when it was made."""


def draft_lines(made: ErratumDraft) -> list[str]:
    """A draft: a line for each change, and then for each group of copies that has something else to know."""
    lines = [f"{sentence(c)} ({GRADE_WORDS[c.grade]})" for c in made.changes.told]
    if other := besides(made.changes.besides):
        lines.append(other)
    return lines


def group_lines(made: ErratumDraft) -> list[str]:
    """What copies of earlier revisions have to know, where that is not what the draft itself says."""
    lines = []
    for one in grouped(made.groups[:-1], made.changes, ""):
        lines += [f"{one.copies}: {GRADE_WORDS[one.grade]}.", *(f"  {words}" for words in (*one.says, *one.advice))]
    return lines


def affected(erratum: Erratum) -> str:
    """Who is affected, in a sentence."""
    numbers = wrong_in(erratum)
    if not numbers:
        return "No copy is affected now."
    if erratum.early:
        return f"Only copies that were handed out before the kit was public are affected: those that say {_revisions(numbers)}."
    undated = f", or names no revision and was downloaded before {date_text(erratum.date)}" if 1 in numbers else ""
    return f"Your copy is affected if it says {_revisions(numbers)}{undated}."


def wrong_in(erratum: Erratum) -> tuple[int, ...]:
    """Revisions whose copies are affected; without anything to do, those that say it otherwise, if the author advises something."""
    if erratum.groups:
        return tuple(group.number for group in erratum.groups if group.affected)
    return tuple(number for number, grade in erratum.still_wrong.items() if grade != "cosmetic" or erratum.advice)


def to_do(erratum: Erratum) -> str:
    """What to do, in a sentence or two: the author's advice, or what the grade says."""
    return erratum.advice or TO_DO[erratum.asks]


def to_print(erratum: Erratum) -> str:
    """What to do before anything is cut; what to do with pieces already cut, the author may say beside it."""
    # Advice on the pieces already cut may save them, so "cut them again" would gainsay it.
    return "Print the new one before you cut any more." if erratum.advice and erratum.asks == "recut" else TO_DO[erratum.asks]


def means(erratum: Erratum) -> str:
    """What it means for pieces already cut, in a sentence or two."""
    return MEANS[erratum.asks] if erratum.asks == erratum.grade else CHANGED_AGAIN


def asked_lines(erratum: Erratum) -> list[str]:
    """Who is affected and what to do; group by group where they have different things to do."""
    groups = groups_of(erratum)
    if not groups:
        return [affected(erratum), to_do(erratum)]
    return [affected(erratum), *(" ".join([f"{one.copies}: {GRADE_WORDS[one.grade]}.", *one.says, *one.advice]) for one in groups)]


@dataclass(frozen=True)
class AskedCopies:
    """What a group of copies has to know."""

    copies: str
    """`Revision 1 or PREVIEW`."""
    grade: Grade
    asks: str
    """In the fewest words, to lead a line."""
    says: tuple[str, ...]
    """All that the newest says otherwise, in sentences."""
    advice: tuple[str, ...]
    """The authors', on pieces already cut."""
    beside: tuple[str, ...]
    """What it says, in the other unit."""

    @property
    def css(self) -> str:
        """The grade as the name of a style."""
        return self.grade.replace(" ", "-")


def groups_of(erratum: Erratum) -> tuple[AskedCopies, ...]:
    """The groups of copies that an erratum tells apart; none where all have to know what it mends, and nothing else."""
    return grouped(erratum.groups, erratum.changes, erratum.advice)


def grouped(groups: Iterable[Copies], changes: Differences, advice: str) -> tuple[AskedCopies, ...]:
    """The same, from the groups and from what the erratum itself tells and advises."""
    together: dict[tuple[tuple[str, ...], tuple[str, ...], Grade], list[int]] = {}
    others: dict[tuple[str, ...], tuple[str, ...]] = {}
    alike = True
    for group in groups:
        alike &= not group.affected or (_matter(group.changes) == _matter(changes) and set(group.advice) <= {advice})
        said = tuple(told_lines(group.changes)) if group.affected else ()
        others[said] = tuple(told_beside(group.changes)) if group.affected else ()
        together.setdefault((said, group.advice, group.grade), []).append(group.number)
    if alike:
        return ()
    return tuple(
        AskedCopies(led(_revisions(numbers)), grade, ASKS[grade], said, advised, others[said])
        for (said, advised, grade), numbers in together.items()
    )


def _matter(changes: Differences) -> tuple[object, ...]:
    return tuple((c.kind, c.path, c.was, c.now, c.values) for c in changes.told if c.grade != "cosmetic")


def _revisions(numbers: Iterable[int]) -> str:
    """`revision 1 or 2 or PREVIEW`: what was printed before the release goes with the first revision."""
    said = list(numbers)
    return f"revision {listed([str(n) for n in said], 'or')}{' or PREVIEW' if 1 in said else ''}"
