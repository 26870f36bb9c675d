"""Every sentence that an odd kit gives reads as a person would write it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import fields, is_dataclass

import pytest
from archive.rendered import kit_page, phrases
from kitwright.archive.pictures import pictures_of
from kitwright.archive.your_paper import your_paper
from kitwright.check import errors
from kitwright.kit.model import Anniversaries
from kitwright.kit.theme import Theme
from kitwright.otherwise.checked import check
from kitwright.otherwise.edition import in_edition
from kitwright.otherwise.planned import planned
from kitwright.printable.card_facts import facts
from kitwright.printable.edition import EDITIONS
from kitwright.printable.job import Job
from kitwright.release.stamp import PreviewStamp
from kitwright.telling import contents
from kitwright.telling.answers import computed
from kitwright.telling.backs import backs_on
from kitwright.telling.brief import brief
from kitwright.telling.briefly import briefly
from kitwright.telling.cutplan import as_text, verdict
from kitwright.telling.facts import tables
from kitwright.telling.goes import goes_on
from kitwright.telling.guidetexts import ALSO_LEFT, SLACK, gives_texts, left_text, slack_told
from kitwright.telling.kitpage import folded
from kitwright.telling.post import post_lines
from kitwright.telling.printed import edition_text, piece_text
from kitwright.telling.steps import steps_of
from kitwright.telling.supplies import cost_lines, supply_lines
from kitwright.work.post import mailing
from kitwright.work.supplies import supplies
from making import make_worked
from oddkits import ODD
from plainwords import faults


def texts(value: object) -> Iterator[str]:
    """Every text inside a value."""
    if isinstance(value, str):
        yield value
    elif is_dataclass(value):
        for each in fields(value):
            yield from texts(getattr(value, each.name))
    elif isinstance(value, dict):
        for key, each in value.items():
            yield from texts(key)
            yield from texts(each)
    elif isinstance(value, (list, tuple)):
        for each in value:
            yield from texts(each)


def told(worked, whole: bool = True) -> Iterator[str]:
    """Sentences of the pages, the printables, the briefs and the terminal; other batches and other paper, which take long, only of the whole."""
    pictures = pictures_of(worked)
    yield from texts([[step.title, *step.lines] for step in steps_of(worked)])
    yield from texts([table.rows for table in tables(worked)])
    found, post = supplies(worked), mailing(worked)
    yield from texts([f"{line.title}: {line.whole}." for line in (*supply_lines(worked, found), *cost_lines(worked, found))])
    yield from texts([line.text for line in post_lines(worked, post)])
    yield from as_text(worked, planned(worked))
    yield from phrases(kit_page(worked))
    yield from texts([verdict(worked, layout) for layout in worked.layouts])
    yield from texts(
        [text.text for picture in pictures.values() for text in picture.wide.texts] + [picture.alt for picture in pictures.values()]
    )
    if whole:
        yield from texts(your_paper(worked)[0])
    job = Job(worked, EDITIONS["letter"], "full", PreviewStamp(""))
    yield from texts(
        [
            facts(job, looks=True),
            [piece_text(worked, label, folded(worked, label)) for label in worked.sizes],
            [
                " ".join(gives_texts(layout, job.unit, layout.yields, backs_on(worked, layout), goes_on(worked, layout)))
                for layout in worked.layouts
            ],
            [
                " ".join((ALSO_LEFT, left_text([(rest.size, 1) for rest in layout.leftovers], job.unit)))
                for layout in worked.layouts
                if layout.leftovers
            ],
            [" ".join((SLACK, slack_told(layout, job.unit))) for layout in worked.layouts],
            briefly(worked),
            [": ".join(edition_text(worked, note)) for sheet in ("A4", "Letter") if (note := in_edition(worked, sheet).note)],
        ]
    )
    yield from texts(
        [computed(worked, what) for what in ("A4", "Letter", "other sheets", "one sheet", "other fold", "more cards")]
        + [computed(worked, "more cards", 1)]
    )
    yield from texts([contents.piece_title(worked, label) + "; " + contents.piece_counts(worked, label) for label in worked.sizes])
    yield from brief(worked.kit, "team", Theme(), {}, Anniversaries(), dt.datetime(2029, 1, 1, tzinfo=dt.UTC), plain=True).split("\n")


@pytest.mark.parametrize("name", ODD)
def test_every_sentence_reads_well(tmp_path, name):
    worked = make_worked(tmp_path, ODD[name])
    findings = check(worked)
    assert not errors(findings), errors(findings)[0]
    said = [*told(worked, "everything" in name or "bare" in name), *(text for f in findings for text in (f.problem, f.remedy))]
    assert len(said) > 100
    assert sorted({fault for text in said for line in text.split("\n") for fault in faults(line.strip())}) == []


@pytest.mark.parametrize(
    "text, what",
    [
        ("Cut 1 sheets.", "one of several"),
        ("It makes 3 card.", "several of one"),
        ("0 in across", "nought"),
        ("a 8 × 8 in card", "article"),
        ("an 6 × 6 in card", "article"),
        ("the the card", "twice"),
        ("cut , then", "marks"),
        ("None of them", "code"),
        ("A and", "dangling"),
    ],
)
def test_the_check_itself_sees_them(text, what):
    assert [fault.split(":")[0] for fault in faults(text)] == [what]


@pytest.mark.parametrize(
    "text",
    [
        "2½ sheets and 1½ sheets",
        "1 sheet, 9 cards",
        "an 8 × 8 in card and a 6 × 6 in one",
        "two columns",
        "one half",
        "21 cards",
        "Nobody could cut it from fewer than 1 sheet.",
    ],
)
def test_and_lets_good_ones_pass(text):
    assert faults(text) == []
