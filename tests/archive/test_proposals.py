"""Proposed layouts as a folder to look at: its page, its pictures, its file to print."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from kitwright.archive import proposals_page
from kitwright.archive.policy import fault_of
from kitwright.archive.proposals import PAGE, PDF, WHOLE, LookedAt, overview_of
from kitwright.drawing.proposals.plate import as_made, plates, wide_row
from kitwright.errors import UserError
from kitwright.exact import Exact
from kitwright.findings import Note
from kitwright.kit.model import Club
from kitwright.kit.read import read_club
from kitwright.kit.theme import Theme
from kitwright.printable.proposals import proposals_pdf
from kitwright.proposing.records import Answer
from kitwright.telling.layout_names import what
from kitwright.telling.proposals_page import choices, facts, orders
from making import CLUB
from PIL import Image
from proposed import a_few, answer
from pypdfium2 import PdfDocument


@pytest.fixture(scope="module")
def club(tmp_path_factory) -> Club:
    folder = tmp_path_factory.mktemp("club")
    (folder / "club.yaml").write_text(CLUB, encoding="utf-8")
    return read_club(folder)


@pytest.fixture
def shelf(tmp_path, club, monkeypatch) -> LookedAt:
    # Cutting type takes longer than all the rest together, and is looked at elsewhere.
    monkeypatch.setattr(proposals_page.webfonts, "files_of", lambda fonts: {})
    return LookedAt(tmp_path / "out", club, Theme(), lambda number: f"kitwright propose --pick {number} --into kits/<id>")


def files_in(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


class Links(HTMLParser):
    """What a page loads or leads to, and what its pictures say."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.to: set[str] = set()
        self.alts: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag, attrs) -> None:
        said = dict(attrs)
        self.to |= {said[name] for name in ("href", "src") if said.get(name)}
        self.alts += [said["alt"]] if tag == "img" else []


def test_the_folder_is_whole_and_holds_all_that_its_page_leads_to(shelf):
    found = a_few()
    shelf.put(found, done=False)
    first = files_in(shelf.folder)
    assert PDF not in first and WHOLE not in first and "Still looking" in (shelf.folder / PAGE).read_text(encoding="utf-8")
    before = (shelf.folder / "pictures/layout-01.png").stat()
    shelf.put(found)
    text = (shelf.folder / PAGE).read_text(encoding="utf-8")
    links = Links(text)
    assert {link for link in links.to if not link.startswith("#")} <= files_in(shelf.folder) and fault_of(text) is None
    assert {PDF, WHOLE, "look/proposals.css", "look/proposals.js"} <= links.to | {PAGE}
    # Of each its card and its sheets.
    assert len(links.alts) == 6 and all("3¾ × 1 in" in links.alts[i] for i in (0, 1, 4, 5)) and "<span" not in "".join(links.alts)
    assert ["Card front" in alt for alt in links.alts] == [True, False] * 3 and ["cut so" in alt for alt in links.alts] == [False, True] * 3
    said = re.sub("</?span>", "", text)
    assert "kitwright propose --pick 2 --into kits/&lt;id&gt;</code>" in said and "Also A" in text and "Still looking" not in text
    # What had been drawn before is the very file.
    assert (shelf.folder / "pictures/layout-01.png").stat().st_ino == before.st_ino
    assert Image.open(shelf.folder / WHOLE).width > 1500


def test_an_answer_with_fewer_layouts_takes_the_others_away(shelf):
    shelf.put(a_few(), done=False)
    shelf.put(answer(a_few().proposals[1]), done=False)
    assert {name for name in files_in(shelf.folder) if name.startswith("pictures/")} == {
        "pictures/layout-02.png",
        "pictures/layout-02-sheet.png",
    }


def test_a_folder_of_somebody_else_is_refused_before_anything_is_looked_for(tmp_path, club):
    (tmp_path / "mine.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(UserError) as caught:
        LookedAt(tmp_path, club, Theme())
    assert caught.value.code == "commands.not-proposed-here" and files_in(tmp_path) == {"mine.txt"}


def test_an_empty_answer_says_why_and_shows_nothing(shelf):
    shelf.put(answer())
    text = (shelf.folder / PAGE).read_text(encoding="utf-8")
    assert "<img" not in text and "No layout comes out" in text and PDF not in files_in(shelf.folder)


def wasteful(found: Answer) -> Answer:
    """The same with much left over, and looked at in part."""
    return replace(found, why=(Note("proposing.with-cards", cards=30, more=True),), scopes=(replace(found.scopes[0], whole=False),))


def text_of(pdf: bytes) -> str:
    document = PdfDocument(io.BytesIO(pdf))
    text = " ".join(one.get_textpage().get_text_bounded() for one in document)
    document.close()
    return text


def test_a_wasteful_answer_says_so_and_what_would_help(shelf):
    found = wasteful(a_few())
    shelf.put(replace(found, proposals=found.proposals[:1]))
    text = (shelf.folder / PAGE).read_text(encoding="utf-8")
    assert "The sheets give 30: ask for --cards 30" in re.sub(r"\s+", " ", text) and "Not every set of pieces of rows was decided" in text
    said = " ".join(text.text for text in overview_of(found, as_made(found)).texts)
    assert "The sheets give 30" in said and "Not every set of pieces of rows" in said


def test_each_choice_takes_some_away_and_leaves_some():
    found = a_few()
    fits = {"is": lambda has, to: has == to, "most": lambda has, to: int(has) <= int(to), "least": lambda has, to: int(has) >= int(to)}
    told = choices(found)
    assert {choice.key for choice in told} == {"family", "waste", "slack", "measures"}
    for choice in told:
        for option in choice.options:
            kept = [one for one in found.proposals if fits[choice.how](facts(one)[choice.key], option.value)]
            assert 0 < len(kept) < len(found.proposals), (choice.key, option)
    assert [order.value for order in orders(found.proposals)] == ["", "waste", "-slack", "measures", "strokes"]
    assert not choices(answer(found.proposals[0])) and len(orders(found.proposals[:1])) == 1


def test_what_is_printed_shows_every_layout_the_scale_and_the_cautions(club):
    found = a_few()
    for region, page in (("us", (612, 792)), ("metric", (595, 842))):
        data = proposals_pdf(found, club.model_copy(update={"region": region}))
        document = PdfDocument(io.BytesIO(data))
        assert tuple(round(edge) for edge in document[0].get_size()) == page
        text = " ".join(one.get_textpage().get_text_bounded() for one in document)
        flat = re.sub(r"\s+", " ", text)
        names = [f"{one.number} {what(one)}" for one in found.proposals]
        for words in (*names, "Cards are drawn at", "no kit yet", *club.cautions):
            assert words in flat, words
        document.close()
    assert proposals_pdf(found, club) == proposals_pdf(found, club)
    short = re.sub(r"\s+", " ", text_of(proposals_pdf(wasteful(found), club, in_file=True)))
    assert "The sheets give 30: say cards: 30" in short
    many = replace(found, proposals=tuple(replace(found.proposals[i % 2], number=i + 1) for i in range(12)))
    document = PdfDocument(io.BytesIO(proposals_pdf(many, club)))
    assert len(document) == 2
    document.close()
    # Where sheets are cut in two ways, a card and both stand in one row.
    two = replace(found.proposals[0], cuts=tuple(one.cuts[0] for one in found.proposals[:2]))
    (row,) = plates(found.wish, [(found.wish, two)], 300, wide_row(found.wish))[0].rows
    assert len(row) == 3


def test_the_page_of_a_small_answer_asks_for_nothing(shelf):
    shelf.put(answer(a_few().proposals[0]), done=False)
    assert "<form" not in (shelf.folder / PAGE).read_text(encoding="utf-8")


def test_facts_are_whole_numbers_however_odd_the_sizes():
    one = a_few().proposals[0]
    odd = replace(one, measured=replace(one.measured, waste=Exact(1, 3)))
    assert facts(odd)["waste"] == "3333" and facts(odd)["slack"] == "3175"
