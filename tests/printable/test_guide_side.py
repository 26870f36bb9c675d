"""Page 2 of the printable: guides at true proportion, labels that are read in a copy, all of it on one page."""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from itertools import combinations
from pathlib import Path

import demo
import numpy as np
import pdfplumber
import pytest
from kitwright.cutting.plan import Layout
from kitwright.drawing.dimensions import RULER
from kitwright.drawing.fonts import Font
from kitwright.drawing.guide import EDGE
from kitwright.drawing.palette import Ink, rgb
from kitwright.drawing.pdf import draw_text, lasting, register
from kitwright.drawing.scene import Text
from kitwright.printable import guide_cell, guide_side, two_pages
from kitwright.printable.blocks import Prose, high
from kitwright.printable.blocks import Side as Beside
from kitwright.printable.edition import EDITIONS, Edition
from kitwright.printable.guide_cell import GuideCell
from kitwright.printable.guide_head import BESIDE, GuideHead, HeadItem, paper_item, up_item
from kitwright.printable.guide_side import HALF_FULL, GuidePage, page_of, pages
from kitwright.printable.job import Job
from kitwright.printable.metadata import metadata
from kitwright.printable.pages import INKS, built
from kitwright.printable.stroke_table import stroke_rows
from kitwright.printable.tables import Cell, Column, Table
from kitwright.printable.tables import Row as TableRow
from kitwright.release.stamp import PreviewStamp
from kitwright.telling.guidetexts import left_text
from kitwright.units import Length, Size
from kitwright.work.worked import Worked
from making import TWO_PAPERS, make_worked
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

CLOSE = 0.02
"""Points: two hundredths, as figures are written."""
DPI = 200
"""A copier's."""
DOT = 72 / DPI
SCREEN = 8 * DOT
"""After so many points the screen repeats by which a copier makes dark blue of black dots."""


def job_of(worked: Worked, edition: str | Edition = "letter", ink: str = "full") -> Job:
    return Job(worked, EDITIONS[edition] if isinstance(edition, str) else edition, ink, PreviewStamp())


@dataclass
class Side:
    """A page of guides and the file with nothing else in it."""

    page: GuidePage
    data: bytes

    @cached_property
    def read(self) -> pdfplumber.page.Page:
        return pdfplumber.open(io.BytesIO(self.data)).pages[0]

    @cached_property
    def code(self) -> str:
        """The page's code."""
        return self.read.page_obj.contents[0].get_data().decode("latin-1")

    @cached_property
    def guides(self) -> list[tuple[GuideCell, int]]:
        """Each guide with its scale in per cent, as they are read."""
        return [(self.page.cells[i], row.percent) for row in self.page.rows for i in row.guides]

    @cached_property
    def sheets(self) -> list[tuple[float, float, float, float]]:
        """The outline of each sheet as it is drawn, in the same order: left, top, right, bottom."""
        ink = self.page.job.worked.kit.club.palette.light["ink"]
        drawn = [
            (o["x0"], o["top"], o["x1"], o["bottom"])
            for o in (*self.read.rects, *self.read.curves)
            if o["stroke"] and abs(o["linewidth"] - 1.1) < 0.01 and near(o["stroking_color"], ink)
        ]
        assert len(drawn) == len(self.guides)
        found = []
        for row in self.page.rows:
            # Rows lie one under another; in each, sheets from left to right.
            these = sorted(drawn, key=lambda box: box[1])[: len(row.guides)]
            found += sorted(these)
            drawn = [box for box in drawn if box not in these]
        return found

    def strokes(self, sheet: tuple[float, float, float, float]) -> list[tuple[float, float, float, float]]:
        """Strokes of the blade on a sheet, from its upper left corner, points."""
        cut = self.page.job.worked.kit.club.palette.light["accent"]
        left, top, right, bottom = sheet
        return sorted(
            (o["x0"] - left, o["top"] - top, o["x1"] - left, o["bottom"] - top)
            for o in self.read.lines
            if abs(o["linewidth"] - 1.1) < 0.01
            and near(o["stroking_color"], cut)
            and left - 1 <= o["x0"] <= right + 1
            and top - 1 <= o["top"] <= bottom + 1
        )


def near(colour: Sequence[float], wanted: str) -> bool:
    red, green, blue = rgb(Ink(wanted)) if not wanted.startswith("#") else (int(wanted[i : i + 2], 16) for i in (1, 3, 5))
    return all(abs(a - b / 255) < 0.01 for a, b in zip(colour, (red, green, blue)))


def file_of(page: GuidePage) -> bytes:
    job = page.job
    return built(job, page.blocks(), metadata(job), 1, [job.level])[job.level]


READ = {
    "inches": ("2027-05-three-coves", "letter"),
    "millimetres": ("2027-07-night-ferry", "a4"),
    "five guides": ("2026-06-street-party", "letter"),
    "halves left whole": ("2026-11-weathervane", "letter"),
}


@pytest.fixture(scope="module")
def side_of(all_kits):
    made: dict[str, Side] = {}

    def make(name: str) -> Side:
        if name not in made:
            kit, edition = READ[name]
            (page,) = pages(job_of(all_kits[kit] if kit in all_kits else demo.worked(kit), edition))
            made[name] = Side(page, file_of(page))
        return made[name]

    return make


@pytest.fixture(params=READ)
def side(request, side_of) -> Side:
    return side_of(request.param)


# --- true proportion ----------------------------------------------------------------------------


def expected(layout: Layout, percent: int) -> list[tuple[float, float, float, float]]:
    """Every stroke as the cut tree has it, in points from the sheet's corner."""

    def points(length) -> float:
        return float(length.inches * 72 * Fraction(percent, 100))

    lines = [line for stroke in (*layout.cuts, *layout.slants) for line in [stroke.line]]
    return sorted((min(points(a[0]), points(b[0])), points(a[1]), max(points(a[0]), points(b[0])), points(b[1])) for a, b in lines)


def agree(drawn: Sequence[Sequence[float]], wanted: Sequence[Sequence[float]]) -> bool:
    """Whether the same lines, wherever floats put them in order."""
    left = list(drawn)
    for line in wanted:
        same = next((other for other in left if all(abs(a - b) <= CLOSE for a, b in zip(line, other))), None)
        if same is None:
            return False
        left.remove(same)
    return not left


def test_every_guide_is_drawn_at_true_proportion(side):
    for (cell, percent), sheet in zip(side.guides, side.sheets):
        wanted = expected(cell.layout, percent)
        assert agree(side.strokes(sheet), wanted), cell.layout.name
        whole = [float(length.inches * 72 * Fraction(percent, 100)) for length in (cell.layout.sheet.width, cell.layout.sheet.height)]
        drawn = sheet[2] - sheet[0], sheet[3] - sheet[1]
        # All of it, or as much as is left where a part that stays whole is cut short.
        short = [size - float(RULER) for size in cell.size(percent)]
        assert any(all(abs(a - b) <= CLOSE for a, b in zip(drawn, size)) for size in (whole, short)), f"{cell.layout.name}: {drawn}"
        assert (short == pytest.approx(whole)) == (cell.drawn(percent).broken is None)


def test_a_part_that_stays_whole_is_cut_short_only_where_there_is_no_room_for_it(side_of):
    side = side_of("halves left whole")
    found = {cell.layout.name: (cell, percent, sheet) for (cell, percent), sheet in zip(side.guides, side.sheets)}
    cell, percent, (left, top, right, bottom) = found["White cardstock"]
    wide, tall = cell.size(percent, whole=True)
    assert cell.drawn(percent).broken and (right - left, bottom - top) == pytest.approx((wide - float(RULER), tall - float(RULER)))
    for room, higher, shown in ((wide, 0, wide), (wide - 1, 0, cell.size(percent)[0])):
        assert cell.picture(percent, room, higher).scene.width - 2 * EDGE == pytest.approx(shown)
    cell, percent, (_, top, _, bottom) = found["All four patterned papers"]
    missing = cell.size(percent, whole=True)[1] - cell.size(percent)[1]
    assert bottom - top == pytest.approx(cell.size(percent)[1] - float(RULER)) and missing > 0
    assert cell.picture(percent, 400, missing).scene.height - cell.picture(percent, 400, missing - 1).scene.height == pytest.approx(missing)


def test_the_measure_sees_a_stroke_that_is_a_hair_off(side_of):
    side = side_of("inches")
    (cell, percent), sheet = side.guides[0], side.sheets[0]
    drawn = side.strokes(sheet)
    assert not agree(drawn, expected(cell.layout, percent + 1)) and not agree(drawn[1:], expected(cell.layout, percent))


def test_each_states_its_scale_under_its_name(side):
    text = side.read.extract_text()
    assert sorted(map(int, re.findall(r"drawn at (\d+) %", text))) == sorted(percent for _, percent in side.guides)
    assert all(" ".join(cell.layout.name.split()) in " ".join(text.split()) for cell, _ in side.guides)


# --- labels in a copy ----------------------------------------------------------------------------


def copied(data: bytes, folder: Path, mode: str) -> np.ndarray:
    """A page as a copier sees it, ink 1 and paper 0; in black and white the dots of a neighbourhood taken together, as eyes do."""
    (folder / "a.pdf").write_bytes(data)
    subprocess.run(["pdftoppm", "-r", str(DPI), f"-{mode}", "-singlefile", folder / "a.pdf", folder / mode], check=True)
    file = next(path for path in folder.iterdir() if path.stem == mode)
    picture = 1 - np.asarray(Image.open(file).convert("L"), dtype=float) / 255
    if mode == "gray":
        return picture
    around = np.pad(picture, 1)
    return sum(around[1 + i : 1 + i + picture.shape[0], 1 + j : 1 + j + picture.shape[1]] for i in (-1, 0, 1) for j in (-1, 0, 1)) / 9


@dataclass(frozen=True)
class Written:
    """A text at a place of a page: where its baseline begins, in points from the page's top left corner."""

    text: Text
    x: float
    y: float

    def window(self, copy: np.ndarray, like: Text, shift: tuple[int, int] = (0, 0)) -> np.ndarray:
        """The part of a copy that a text set here would cover."""
        long, up, down = float(like.width), float(like.size) * 0.75, float(like.size) * 0.1
        box = (self.x - up, self.y - long, self.x + down, self.y) if like.upward else (self.x, self.y - up, self.x + long, self.y + down)
        left, top = (round(v / DOT) + s for v, s in zip(box[:2], shift))
        wide, high = (int((b - a) / DOT) for a, b in zip(box[:2], box[2:]))
        return copy[top : top + high, left : left + wide]


def written(side: Side, role: str) -> Iterator[Written]:
    """The texts of a role on the guides of a page, each at its place."""
    for (cell, percent), sheet in zip(side.guides, side.sheets):
        for text in cell.drawn(percent).scene.texts:
            if text.role == role:
                yield Written(text, sheet[0] + float(text.x - EDGE - RULER), sheet[1] + float(text.y - EDGE - RULER))


def specimen(texts: Sequence[Written]) -> tuple[bytes, list[Written]]:
    """A page with nothing but these texts, each lying on the dots of the copier's screen as at its own place; and where each stands."""
    out, places = io.BytesIO(), []
    high = 30 + 90 * (len(texts) // 10 + 1)
    canvas = Canvas(out, pagesize=(800, high), invariant=1, initialFontName=register(Font()))
    lasting(canvas)
    for i, place in enumerate(texts):
        x, y, text = 20 + 78 * (i % 10), 85 + 90 * (i // 10), place.text
        x, y = (near - near % SCREEN + at % SCREEN for near, at in ((x, place.x), (y, place.y)))
        draw_text(canvas, x, high - y, text.text, text.font, text.size, "start", Ink("ink"), text.upward)
        places.append(Written(text, x, y))
    canvas.save()
    return out.getvalue(), places


def likeness(a: np.ndarray, b: np.ndarray) -> float:
    """How far two pictures agree: 1 where they are alike, 0 where they have nothing to do with each other."""
    high, wide = (min(m, n) for m, n in zip(a.shape, b.shape))
    a, b = a[:high, :wide] - a[:high, :wide].mean(), b[:high, :wide] - b[:high, :wide].mean()
    length = np.sqrt((a * a).sum() * (b * b).sum())
    return float((a * b).sum() / length) if length else 0.0


SHIFTS = [(i, j) for i in (-1, 0, 1) for j in (-1, 0, 1)]
ALIKE = 0.75
"""A text in a copy and the same text by itself agree at least so far."""


def best_match(place: Written, copy: np.ndarray, others: Sequence[Written], alone: np.ndarray) -> tuple[str, float]:
    """Which of these texts a copy shows at a place, and how plainly."""
    found: dict[str, float] = {}
    for other in others:
        shown = other.window(alone, place.text)
        found[other.text.text] = max(likeness(place.window(copy, place.text, shift), shown) for shift in SHIFTS)
    return max(found.items(), key=lambda each: each[1])


@pytest.mark.parametrize("mode", ["gray", "mono"])
@pytest.mark.parametrize("name", ["inches", "halves left whole"])
def test_labels_are_read_back_from_a_copy(side_of, name, mode, tmp_path):
    side = side_of(name)
    labels = {text.text for place in written(side, "label") for text in [place.text]}
    assert labels == {label for cell, _ in side.guides for label in cell.layout.yields} and len(labels) >= 4
    asked = sorted(written(side, "label"), key=lambda place: (place.text.text, place.x, place.y))
    faces = sorted({(place.text.size, place.text.upward) for place in asked})
    candidates = [
        replace(asked[0], text=replace(asked[0].text, text=label, size=size, upward=up)) for size, up in faces for label in sorted(labels)
    ]
    data, places = specimen(candidates)
    copy, alone = copied(side.data, tmp_path, mode), copied(data, tmp_path, mode)
    for place in asked:
        others = [o for o in places if (o.text.size, o.text.upward) == (place.text.size, place.text.upward)]
        seen, how = best_match(place, copy, others, alone)
        assert (seen, how >= ALIKE) == (place.text.text, True), f"{place} is read as {seen}, {how:.2f}"
        # What is no label is not read as one, and a label not as another.
        beside = replace(place, x=place.x + 15, y=place.y + 15)
        assert best_match(beside, copy, others, alone)[1] < ALIKE
        wrong = [o for o in others if o.text.text != place.text.text]
        assert best_match(place, copy, wrong, alone)[1] < how


FRACTIONS = "¼½¾⅛⅜⅝⅞"


def fractions(side: Side) -> Iterator[Written]:
    """Each fraction in the sizes on the guides, at its own place."""
    for place in written(side, "figure"):
        for at, char in enumerate(place.text.text):
            if char in FRACTIONS:
                before = float(replace(place.text, text=place.text.text[:at]).width)
                across, along = (0, -before) if place.text.upward else (before, 0)
                yield Written(replace(place.text, text=char), place.x + across, place.y + along)


@pytest.mark.parametrize("mode", ["gray", "mono"])
def test_fractions_of_sizes_are_read_back_from_a_copy(side_of, mode, tmp_path):
    side = side_of("five guides")
    # One of each in each direction, on as many guides.
    asked = list({(place.text.text, place.text.upward, int(place.y / 200)): place for place in fractions(side)}.values())
    assert len({place.text.text for place in asked}) >= 4 and len(asked) >= 8
    data, places = specimen([replace(place, text=replace(place.text, text=char)) for place in asked for char in FRACTIONS])
    copy, alone = copied(side.data, tmp_path, mode), copied(data, tmp_path, mode)
    for i, place in enumerate(asked):
        seen, how = best_match(place, copy, places[i * len(FRACTIONS) : (i + 1) * len(FRACTIONS)], alone)
        assert (seen, how >= ALIKE) == (place.text.text, True), f"{place} is read as {seen}, {how:.2f}"


# --- room -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("edition", EDITIONS)
def test_all_guides_of_a_demo_kit_fill_one_page(edition):
    """Where there are more than five of them, and they would be too small on one, two."""
    for kit in demo.OWN:
        found = pages(job_of(demo.worked(kit.id), edition))
        layouts = list(demo.worked(kit.id).layouts)
        assert len(found) == 1 or len(found) == 2 and len(layouts) > 5, kit.id
        cells = [page.cells[i] for page in found for row in page.rows for i in row.guides]
        assert [cell.layout for cell in sorted(cells, key=lambda cell: cell.number)] == layouts
        for page in found:
            # Of few guides none grows for ever; from three on they fill the page.
            assert page.full <= 1 and (page.full >= 0.94 or len(cells) < 3 or len(found) > 1), (kit.id, page.full)
            for row in page.rows:
                for cell in (page.cells[i] for i in row.guides):
                    assert row.percent >= cell.floor >= 18, (kit.id, cell.layout.name)
                    assert cell.drawn(row.percent).sound, (kit.id, cell.layout.name)


def short(height: float) -> Edition:
    """A page lower than Letter, on which fewer guides have room."""
    return Edition("Short", (612, height), side=57, top=40, bottom=52)


def test_a_page_more_where_guides_would_be_too_small():
    job = job_of(demo.worked("2026-06-street-party"), short(520))
    first, second = pages(job)
    assert (first.name, second.name) == ("patterned papers", "cardstock")
    assert [cell.printed for page in (first, second) for cell in page.cells] == [True, True, True, False, False]
    every = [*first.cells, *second.cells]
    assert page_of(job, every) is None and page_of(job, every, led=every) is None
    assert all(HALF_FULL <= page.full <= 1 for page in (first, second))
    assert all(row.percent >= page.cells[i].least for page in (first, second) for row in page.rows for i in row.guides)
    assert [page.blocks()[0].plain for page in (first, second)] == ["Cutting guides, patterned papers", "Cutting guides, cardstock"]


def test_guides_are_parted_elsewhere_where_a_page_would_be_too_empty(monkeypatch):
    job = job_of(demo.worked("2026-01-low-tide"), short(520))
    patterned, cardstock = pages(job)
    assert (patterned.name, cardstock.name) == ("patterned papers", "cardstock")
    assert HALF_FULL < patterned.full < 0.9 < cardstock.full
    monkeypatch.setattr(guide_side, "HALF_FULL", 0.9)
    found = pages(job)
    assert [page.name for page in found] == ["", "continued"] and all(page.full >= 0.9 for page in found)
    assert [len(page.cells) for page in found] == [2, 2]


def test_labels_are_led_out_before_a_page_is_added():
    """In order: labels on their pieces, then beside them on as few guides as do, then another page."""
    (page,) = pages(job_of(demo.worked("2026-07-lock-by-lock")))
    under = [page.cells[i] for row in page.rows for i in row.guides if row.percent < page.cells[i].least]
    assert len(under) <= 1, "one guide with labels beside its pieces makes room for all"


def test_more_guides_than_two_pages_hold_go_on():
    found = pages(job_of(demo.worked("2026-06-street-party"), short(430)))
    assert len(found) >= 3 and [cell.number for page in found for cell in page.cells] == [0, 1, 2, 3, 4]
    assert [page.name for page in found] == ["", *["continued"] * (len(found) - 1)]
    for page in found:
        assert page.full <= 1 and all(row.percent >= page.cells[i].floor for row in page.rows for i in row.guides)


# --- what stands there ------------------------------------------------------------------------------


def test_a_guide_says_what_a_maker_asks(side):
    said = " ".join(side.read.extract_text().replace("\n", " ").split())
    for lead in ("Line up", "Off the", "Falls off"):
        assert said.count(lead) >= 1
    assert side.code.count("/H3 <<") == len(side.guides) == side.code.count("/Figure <<")
    assert "Mind your hands." in said and "Cut in the order of the numbers" in said
    assert said.count("sheet gives") == said.count("Slack") == len(side.guides)
    for cell, percent in side.guides:
        guide = cell.drawn(percent)
        if guide.also_left:
            assert "Also left over" in said
        for label in guide.unsized - set(guide.led):
            assert re.search(rf"\d {re.escape(label)}s? (of|\()", said), label


def test_papers_that_auto_cuts_alike_are_all_named_with_their_sheets(tmp_path):
    job = job_of(make_worked(tmp_path, TWO_PAPERS.partition("guides:\n")[0]))
    (shared,) = [cell for cell in (GuideCell(job, layout) for layout in job.worked.layouts) if len(cell.layout.papers) > 1]
    assert [item.text for item in shared.head(30).sheets] == ["River", "Meadow", "1 sheet of each, cut alike"]


def test_nothing_is_small_and_nothing_lies_over_anything(side):
    sizes = {float(size) for size in re.findall(r"/F\d+\+\d+ ([\d.]+) Tf", side.code)}
    assert min(sizes) >= 8
    chars = [c for c in side.read.chars if c["upright"] and c["text"].strip()]
    # Figures are as high as seven tenths of their size; pdfplumber's boxes are those of whole lines.
    boxes = sorted((c["x0"], c["bottom"] - 0.9 * c["size"], c["x1"], c["bottom"] - 0.25 * c["size"], c["text"]) for c in chars)
    for i, a in enumerate(boxes):
        for b in boxes[i + 1 :]:
            if b[0] >= a[2] - 0.6:
                break
            assert a[3] <= b[1] + 0.6 or b[3] <= a[1] + 0.6, (a, b)


def test_the_levels_of_ink_share_one_layout(side_of):
    side = side_of("five guides")
    job = side.page.job
    codes = {}
    for ink in INKS:
        (page,) = pages(replace(job, level=ink))
        assert page.rows == side.page.rows
        codes[ink] = Side(page, file_of(page))
        assert codes[ink].sheets == side.sheets
        dark = {tuple(c["non_stroking_color"]) for c in codes[ink].read.chars if c["text"].strip()}
        inks = job.worked.kit.club.palette.light
        # All in ink, but for the numbers of cuts on their tags; the foot and the mark of a preview are not of this page.
        assert all(any(near(colour, inks[name]) for name in ("ink", "on-accent", "soft", "accent")) for colour in dark)
        body = [c for c in codes[ink].read.chars if job.edition.top < c["top"] < job.edition.page[1] - job.edition.bottom]
        assert all(near(c["non_stroking_color"], inks["ink"]) or near(c["non_stroking_color"], inks["on-accent"]) for c in body)
    texts = {ink: re.findall(r"BT .* ET", each.code) for ink, each in codes.items()}
    assert texts["full"] == texts["light"]


def test_a_page_of_guides_is_light(side):
    data = side.data
    fonts = sum(int(n) for n in re.findall(rb"/Length (\d+)[^>]*/Length1", data)) + sum(
        int(n) for n in re.findall(rb"/Length1 \d+[^>]*/Length (\d+)", data)
    )
    assert fonts > 20_000 and len(data) - fonts < 50_000


def test_a_wrong_number_of_words_is_never_cut_off(side):
    """Every block stays within the page's text."""
    edition = side.page.job.edition
    for c in side.read.chars:
        assert edition.left - 2 <= c["x0"] and c["x1"] <= edition.left + edition.width + 2
    assert all(a.number != b.number for a, b in combinations([cell for cell, _ in side.guides], 2))


@pytest.mark.parametrize("room", [112, 150, 240])
def test_a_heading_keeps_to_its_width(room):
    """However long names are, and whatever stands beside them."""
    job = job_of(demo.worked("2026-06-street-party"))
    look = job.look("bunting")
    long = "half a sheet of White cardstock with a linen finish on both of its sides"
    beside = [HeadItem("drawn at 23 %", BESIDE), up_item("top")]
    head = GuideHead(
        "White cardstock with a linen finish: base and S", beside, [paper_item(look, long), paper_item(look, "2 sheets")], "full"
    )
    _, height = head.wrap(room, 1000)
    assert all(x + item.width <= room + 0.1 for row in head.rows for x, item in row)
    assert height >= len(head.rows) * 11 and [item.text for _, item in head.rows[-1]][-1] == "2 sheets"
    assert " ".join(item.text for row in head.rows for _, item in row) == f"drawn at 23 % this side up {long} 2 sheets"


@pytest.mark.parametrize(
    ("kit", "sheet", "most"),
    [
        ("2026-09-harbour-lights", "Quayside", 4),  # 12 × 12 with many pieces
        ("2026-02-room-keys", "Plum cardstock", 6),  # Letter
        ("2026-02-room-keys", "Linen cardstock", 3),  # Letter with strips of ¾
        ("2026-06-street-party", "Awning stripe", 7),  # 6 × 6
    ],
)
def test_so_many_equal_guides_have_room_on_letter(kit, sheet, most):
    """The trial from which the page was designed held so many."""
    job = job_of(demo.worked(kit))
    cell = next(GuideCell(job, layout) for layout in job.worked.layouts if layout.name == sheet)
    page = page_of(job, [cell] * most)
    assert page is not None and all(row.percent >= cell.least for row in page.rows)


def test_a_table_longer_than_a_page_goes_on_beside_its_guide_drawn_again(monkeypatch):
    job, rows = job_of(demo.worked("2026-04-kitchen-garden")), stroke_rows(demo.worked("2026-04-kitchen-garden").layouts[0], "in")
    monkeypatch.setattr(guide_cell, "stroke_rows", lambda layout, unit: rows * 10)
    found = [page for page in pages(job) if page.cells[0].number == 0]
    told = [row for page in found for cell in page.cells for row in cell.table.rows]
    assert len(found) > 1 and told == rows * 10
    assert all(page.full <= 1 and page.rows[0].percent >= page.cells[0].floor for page in found)


def test_rows_are_looked_for_again_where_guides_say_more_than_was_reckoned_with(monkeypatch):
    below = GuideCell.below
    monkeypatch.setattr(GuideCell, "below", lambda self, percent, width: below(self, percent, width) + (40 if percent > self.floor else 0))
    (page,) = pages(job_of(demo.worked("2026-11-weathervane")))
    assert 0.9 < page.full <= 1


def test_lists_longer_than_a_page_go_on(monkeypatch):
    """Forty kinds of pieces and more."""
    job = job_of(demo.worked("2026-06-street-party"))
    rows = [TableRow((Cell(f"kind {i}"), Cell("12"))) for i in range(90)]
    both = Beside(
        [[Prose("sheets")], [Table([Column("Label"), Column("Pieces", "figure")], rows, "full")]], [150, 330], 18, job.edition.height
    )
    monkeypatch.setattr(two_pages, "lists_over", lambda job: [both])
    found = two_pages._over(job)
    assert len(found) > 1 and all(high(page, job.edition.width) <= job.edition.height for page in found)
    assert sum(len(block.rows) for page in found for block in page if isinstance(block, Table)) == 90


def test_lists_of_their_own_come_before_what_is_cut(monkeypatch, tmp_path):
    monkeypatch.setattr(two_pages, "lists_over", lambda job: [Prose("all that is needed")])
    file = two_pages.two_pages(make_worked(tmp_path, TWO_PAPERS), "letter", inks=("full",))["full"]
    with pdfplumber.open(io.BytesIO(file)) as read:
        told = [page.extract_text() for page in read.pages]
    assert len(told) == 3 and "all that is needed" in told[1] and "Cutting guides" in told[2]


def test_a_sliver_that_no_ruler_shows_is_not_told_as_left_over():
    sliver, strip = Size(Length(Fraction(1, 64)), Length(Fraction(11))), Size(Length(Fraction(1, 8)), Length(Fraction(11)))
    assert left_text([(sliver, 1), (strip, 2)], "in") == left_text([(strip, 2)], "in") != ""
    assert left_text([(sliver, 1)], "in") == ""
