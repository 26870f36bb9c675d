"""Old printables in words: what an import would do and did, their kit files, and what the site says of them."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from fractions import Fraction

from kitwright.papers import SHEETS
from kitwright.past.guess import From, Month, Title
from kitwright.past.kept import OldPrintable, old_printable
from kitwright.past.plan import NewKit, Plan
from kitwright.past.write import printable_name
from kitwright.telling.words import MONTHS, date_text, listed, month_text, number
from kitwright.units import VULGAR, Length, Size, on_grid, rounded, size_text

LOOKING = "Looking at the PDFs"
WRITING = "Writing the kits"

OLD = "old printable"
"""What a past kit is, in lists."""

# --- pages and paper ------------------------------------------------------------------------------------

AS_GOOD_AS = Length(Fraction(3, 144))
"""How far a page may be off the sheet that it is meant for: a point and a half, since programs round the points of A4 (common practice, no source)."""


def pages_text(old: OldPrintable) -> str:
    """`2 pages`."""
    return number(old.pages, "page", "pages")


def paper_text(old: OldPrintable) -> str:
    """`Letter`, `A4, landscape`, `8 × 8 in`, `Letter and A4`."""
    return listed(list(dict.fromkeys(map(_sheet, old.sizes[:4])))) + (" and others" if len(old.sizes) > 4 else "")


def _sheet(size: Size) -> str:
    upright = Size(min(size.width, size.height), max(size.width, size.height))
    for sheet in SHEETS:
        if abs(sheet.size.width - upright.width) <= AS_GOOD_AS and abs(sheet.size.height - upright.height) <= AS_GOOD_AS:
            return f"{sheet.name}, landscape" if size.width > size.height else sheet.name
    if on_grid(size.width) and on_grid(size.height):
        return size_text(size)
    return size_text(Size(_metric(size.width), _metric(size.height)), "mm")


def _metric(length: Length) -> Length:
    """A whole millimetre where nothing but the rounding of points keeps it from being one: 200 mm is written as 566.929."""
    whole = Length.mm(rounded(length.millimetres))
    return whole if abs(whole - length) <= Length(Fraction(1, 72_000)) else length


def first_page(title: str) -> str:
    """What the picture of page 1 shows."""
    return f"The first page of the printable of {title}"


# --- its words ------------------------------------------------------------------------------------------

_FRACTION = re.compile(r"(?<![\d/⁄.,])(?:(\d{1,3})(?:\s*-\s*|\s+))?(\d{1,2})\s?[/⁄]\s?(2|3|4|8|16|32)(?![\d/⁄])")
_GLYPHS = {(value.numerator, value.denominator): glyph for glyph, value in VULGAR.items()}


def sizes_as_written(line: str) -> str:
    """A line of an old printable with its sizes written as the site writes them, so that search finds them: `3-1/2 x 4` → `3½ × 4`."""

    def written(match: re.Match[str]) -> str:
        whole, above, below = match[1] or "", int(match[2]), int(match[3])
        if above >= below:
            return match[0]
        glyph = _GLYPHS.get((above, below))
        return f"{whole}{glyph}" if glyph else f"{whole} {above}⁄{below}".lstrip()

    line = _FRACTION.sub(written, line)
    number = rf"[\d{''.join(VULGAR)}]"
    line = re.sub(rf"(?<=[{''.join(VULGAR)}])(?=[″”\"])", " ", line)
    return re.sub(rf"(?<={number})(\s?(?:in\b|[\"”″]))?\s*[xX×]\s*(?={number})", r"\1 × ", line)


# --- what an import would do ------------------------------------------------------------------------------

_FROM: dict[From, str] = {
    "name": "the file’s name",
    "folder": "the folder’s name",
    "noted": "the PDF’s own title",
    "pdf": "the day on which the PDF was made",
    "typed": "what you typed",
}


def title_text(kit: NewKit) -> str:
    """The title, or what stands in for it."""
    return kit.title.text or f"Kit of {month_text(kit.month.first)}"


def when_text(month: Month) -> str:
    """`July 2019`, or with its day: `5 July 2019`."""
    return date_text(month.first.replace(day=month.day)) if month.day else month_text(month.first)


def _dated_by(month: Month) -> str:
    """From what, and how sure."""
    if month.year_from == month.month_from:
        by = _FROM[month.month_from]
    else:
        by = f"the year from {_FROM[month.year_from]}, the month from {_FROM[month.month_from]}"
    if month.other:
        return f"from {by}; unsure: it may be {MONTHS[month.other - 1]} as well"
    said = by if by.startswith("the year") else f"from {by}"
    return {"sure": said, "likely": f"{said}; likely", "unsure": f"{said}; unsure"}[month.sure]


LIKELY = "The month of these is put together:"
UNSURE = "The month of these is unsure; look at them first:"


def _lines(kit: NewKit) -> Iterator[str]:
    """A kit that would be written, in lines that a terminal of eighty columns mostly holds."""
    old = old_printable(kit.found)
    yield f"{kit.id}: {title_text(kit)}; {pages_text(old)}, {paper_text(old)}"
    yield f"  {kit.name}"
    if kit.month.sure != "sure":
        by = _dated_by(kit.month)
        yield f"  {when_text(kit.month)}{',' if by.startswith('the year') else ''} {by}"
    if kit.twin:
        yield f"  perhaps another version of {kit.twin}"


def plan_lines(found: Plan) -> Iterator[str]:
    """What would be done, kit by kit, what may be wrong last; and what needs nothing."""
    sure = [kit for kit in found.kits if kit.month.sure == "sure"]
    guessed = [kit for kit in found.kits if kit.month.sure == "likely"]
    unsure = [kit for kit in found.kits if kit.month.sure == "unsure"]
    for heading, these in (("", sure), (LIKELY, guessed), (UNSURE, unsure)):
        if heading and these:
            yield from ("", heading)
        for kit in these:
            yield from _lines(kit)
    if found.same or found.spare or found.renewed or found.unknown or found.known:
        yield ""
    for name, first in found.same:
        yield f"{name} is the same PDF as {first}: left out"
    for name, kit_id in found.spare:
        yield f"{name} lies in {kit_id} already: nothing needs this one, so you can delete it"
    for each in found.renewed:
        yield f"{each.kit.id} stays as it is; page 1 and the words are kept beside it"
    if found.unknown:
        yield f"{number(len(found.unknown), 'PDF', 'PDFs')} of no month left out, such as {found.unknown[0]}; import asks again next time"
    if found.known:
        kits = number(len({kit for _, kit in found.known}), "kit", "kits")
        yield f"{number(len(found.known), 'PDF is', 'PDFs are')} in {kits} already: left as they are"


def ask_months(undated: int) -> str:
    """Before the questions for months that nothing tells."""
    return (
        f"Nothing tells the month of {number(undated, 'PDF', 'PDFs')}. If you know it, type it like 2019-07, or the month alone where a year is shown;\n"
        "Enter leaves one out, a full stop all that are left."
    )


def ask_month(name: str, year: int | None) -> str:
    """One of these questions."""
    return f"{name} ({year})" if year else name


NO_MONTH = "That is no month that is over or has begun. Type it like 2019-07."


def nothing_new(seen: int) -> str:
    """There is nothing to import."""
    return "Nothing is imported." if seen else "There are no PDFs here; nothing is imported."


def ask(kits: int, renewed: int) -> str:
    """Whether to go on."""
    if not kits:
        return f"Keep pictures and words beside {number(renewed, 'past kit', 'past kits')}?"
    return f"Write {number(kits, 'past kit', 'past kits')}?"


def imported(kits: Sequence[str], renewed: int) -> str:
    """It was done."""
    if not kits:
        return f"Kept pictures and words beside {number(renewed, 'past kit', 'past kits')}."
    return (
        f"Wrote {number(len(kits), 'past kit', 'past kits')}. Correct in each kit.yaml what was guessed, such as in {kits[0]}, "
        "then run  kitwright check"
    )


# --- the kit file -----------------------------------------------------------------------------------------


def kit_text(kit: NewKit) -> str:
    """A new past kit's kit.yaml: what was guessed, from what, and how sure; and what else can be said."""
    reveal = f"reveal: {kit.month.first.replace(day=kit.month.day)}" if kit.month.day else f"# reveal: {kit.month.first}"
    comments = [
        f"An old printable, imported from {_quoted(kit.name)}.",
        f"Month: {when_text(kit.month)}, {_dated_by(kit.month)}. To change it, rename this folder too.",
        _titled_by(kit.title),
        *([f"Perhaps another version, or another size, of {kit.twin}: then delete one of the two folders."] if kit.twin else []),
    ]
    return "\n".join(
        (
            "# yaml-language-server: $schema=../past.schema.json",
            "#",
            *(f"# {line}" for line in comments),
            "",
            "past: yes",
            f"title: {_quoted(title_text(kit))}",
            f"printable: {_quoted(printable_name(kit))}",
            f"{reveal:29} # the day, if you know it" if reveal.startswith("#") else reveal,
            "# summary: One sentence, for the lists.",
            "# cards: 6                    # only if known",
            "# tags: [summer]",
            "# thumbnail: cards.jpg        # a picture of your own instead of page 1",
            "",
        )
    )


def _titled_by(title: Title) -> str:
    if title.source is None:
        return "Title: nothing names it, so it is called by its month."
    by = {
        "name": "the file’s name",
        "folder": "the folder’s name",
        "noted": "the PDF’s own title",
        "pdf": "the PDF’s own title",
        "typed": "what you typed",
    }[title.source]
    return f"Title: from {by}" + (f", without {listed([_quoted(each) for each in title.dropped])}." if title.dropped else ".")


def _quoted(text: str) -> str:
    """As YAML reads it back, whatever it holds, on one line."""
    return json.dumps(text, ensure_ascii=False)
