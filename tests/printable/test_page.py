"""What the PDF itself holds: pages, sizes as drawn, fonts, text. Read back with pypdf, pdfplumber and pdfium."""

from __future__ import annotations

import io
import re
from collections import Counter
from collections.abc import Iterator

import pypdf
import pypdfium2
import pytest
from kitwright.printable import printable_pdf
from kitwright.telling.words import curly
from kitwright.telling.words import listed as listed_words
from kitwright.units import figure, fraction_text, other_unit, size_text
from PIL import Image, ImageChops
from reportlab.lib.pagesizes import A4, LETTER

MM = 72 / 25.4
CLOSE = 0.05 * MM
"""Points: what a drawn size may be off, 0.05 mm."""


def bare(text: str) -> str:
    return text.replace("\u2044", "/")


# --- the page ---------------------------------------------------------------------------------


def test_the_page_is_exactly_letter_or_a4(printed):
    # Source: reportlab's own page sizes, as a reference library.
    wanted = {"Letter": LETTER, "A4": A4}[printed.edition.name]
    for page in pypdf.PdfReader(printed.file).pages:
        box = page.mediabox
        assert [float(v) for v in box] == pytest.approx([0, 0, *wanted], abs=0.01)
        assert page.get("/UserUnit", 1) == 1 and page.rotation == 0


def test_nothing_stands_in_the_margins(printed):
    edition, dots = printed.edition, 2
    for page in pypdfium2.PdfDocument(printed.file):
        picture = page.render(scale=dots).to_pil().convert("L")
        white = Image.new("L", picture.size, 255)
        left, top, right, bottom = ImageChops.difference(picture, white).getbbox()
        assert left >= (edition.left - 1.5) * dots
        assert top >= (edition.top - 16) * dots  # the mark of a preview; a centimetre is 28 points
        assert right <= (edition.page[0] - edition.side + 1.5) * dots
        assert bottom <= (edition.page[1] - 24) * dots


def test_left_margin_takes_punched_holes(printed):
    # ISO 838: holes of 6 mm, their centres 12 mm from the edge; so they end at 15 mm.
    assert printed.edition.left > 15 * MM


# --- sizes as drawn -----------------------------------------------------------------------------


def test_the_scale_bar_is_two_inches_and_fifty_millimetres(printed):
    page = printed.pages[0]
    low = [o for o in page.lines if o["top"] > page.height - printed.edition.bottom - 45 and o["x1"] < printed.edition.left + 150]
    bar = next(o for o in low if o["height"] == 0 and abs(o["linewidth"] - 0.8) < 0.01)
    assert bar["width"] == pytest.approx(2 * 72, abs=CLOSE)
    up = sorted(o["x0"] for o in low if o["width"] == 0 and o["bottom"] <= bar["top"] + 0.01)
    down = sorted(o["x0"] for o in low if o["width"] == 0 and o["top"] >= bar["top"] - 0.01)
    assert len(up) == 17 and len(down) == 51
    for i, x in enumerate(up):
        assert x - up[0] == pytest.approx(i * 72 / 8, abs=CLOSE)
    for i, x in enumerate(down):
        assert x - down[0] == pytest.approx(i * MM, abs=CLOSE)


def scales(text: str) -> set[float]:
    """Every scale that a page states."""
    found = {int(n) / 100 for n in re.findall(r"[Dd]rawn at (\d+) %", text)}
    return found | {1 / int(n) for n in re.findall(r"Scale 1:(\d+)", text)} | ({1.0} if "True size" in text else set())


def outlines(page, width: float) -> list[tuple[float, float]]:
    """Width and height of the rectangles drawn with a line of this width."""
    return [(r["width"], r["height"]) for r in page.rects if r["stroke"] and abs(r["linewidth"] - width) < 0.01]


def agrees(drawn: tuple[float, float], true, scale: float) -> bool:
    return all(abs(d - float(t.inches) * 72 * scale) <= CLOSE for d, t in zip(drawn, (true.width, true.height)))


def test_every_sheet_is_drawn_at_a_stated_scale(printed):
    """Of a sheet that is drawn with a break, since half of it stays whole, no rectangle is drawn: `test_sheetguide.py` measures those."""
    sheets = [layout.sheet for layout in printed.worked.layouts]
    found = []
    for page, text in zip(printed.pages, printed.said):
        for drawn in outlines(page, 1.1):
            match = next((s for s in sheets for scale in scales(text) if agrees(drawn, s, scale)), None)
            assert match, f"a sheet drawn {drawn} points agrees with no stated scale"
            found.append(match)
    broken = sum(text.count("stays whole") for text in printed.said)
    assert len(found) == len(sheets) - broken and not Counter(map(str, found)) - Counter(map(str, sheets))


def test_the_card_is_drawn_at_a_stated_scale(printed):
    page, text = printed.pages[0], printed.said[0]
    drawn = [(r["width"], r["height"]) for r in page.rects]
    assert any(agrees(d, printed.worked.base.finished, scale) for d in drawn for scale in scales(text))


# --- type -----------------------------------------------------------------------------------------


def fonts_of(reader: pypdf.PdfReader) -> Iterator[pypdf.generic.DictionaryObject]:
    for page in reader.pages:
        yield from (font.get_object() for font in page["/Resources"]["/Font"].values())


def test_every_font_is_embedded_as_a_subset(printed):
    names = set()
    for font in fonts_of(pypdf.PdfReader(printed.file)):
        names.add(font["/BaseFont"])
        assert re.match(r"/[A-Z]{6}\+Source(Sans|Serif)Pro-", font["/BaseFont"])
        assert "/FontFile2" in font["/FontDescriptor"]
        assert "/ToUnicode" in font
    assert len(names) >= 4


def test_no_text_is_under_eight_points(printed):
    # The height of a line of its type, with whatever scale the page puts on it; upward text lies on its side.
    sizes = [
        char["size"] if char["upright"] else char["x1"] - char["x0"]
        for page in printed.pages
        for char in page.chars
        if char["text"].strip()
    ]
    assert len(sizes) > 100
    assert min(sizes) >= 8 - 1e-6


def test_no_words_lie_over_each_other(printed):
    for page in printed.pages:
        boxes = []
        for c in page.chars:
            if c["text"].strip() and c["upright"]:
                # The middle of the line, since boxes of lines set close may touch.
                high = c["bottom"] - c["top"]
                boxes.append((c["x0"] + 0.3, c["top"] + high * 0.3, c["x1"] - 0.3, c["bottom"] - high * 0.3, c["text"]))
        boxes.sort(key=lambda b: b[1])
        for i, a in enumerate(boxes):
            for b in boxes[i + 1 :]:
                if b[1] >= a[3]:
                    break
                assert b[0] >= a[2] or a[0] >= b[2], f"page {page.page_number}: {a[4]!r} under {b[4]!r} at {a[:2]}"


# --- what it says ---------------------------------------------------------------------------------


def test_every_piece_is_listed_with_its_size_and_count(printed):
    worked, text = printed.worked, printed.said[0]
    unit = worked.kit.spec.unit
    listed = text[text.index("What you cut") :]
    for label, size in worked.sizes.items():
        sizes = " ".join(bare(size_text(size, each)) for each in (unit, other_unit(unit)))
        row = re.search(rf"\b{label} .{{0,80}}?{re.escape(sizes)} ", listed)
        assert row, f"{label} {sizes} is not in the list"
        counts, rest = worked.counts(label), listed[row.end() :]
        names = listed_words([worked.kit.papers[paper].name for paper in counts])
        each = {*counts.values()}
        told = f"{names} {each.pop()}{' of each' if len(counts) > 1 else ''}" if len(each) == 1 else names
        assert rest.startswith(f"{told} "), f"{told} does not stand behind {label}"


def test_every_sheet_and_what_it_takes_of_it_is_on_the_first_page(printed):
    worked, text = printed.worked, printed.said[0]
    needed = text[text.index("What you need") : text.index("What you cut")]
    for plan in worked.plans:
        assert re.search(rf"{worked.kit.papers[plan.paper].name} .{{3,30}}? {bare(fraction_text(plan.sheets))} ", needed), plan.paper


def test_every_guide_tells_measures_leftovers_and_slack(printed):
    worked, text = printed.worked, " ".join(printed.said[1:])
    unit = worked.kit.spec.unit
    for layout in worked.layouts:
        assert layout.name in text
        for measure in layout.measures:
            assert bare(f" {figure(measure, unit)} {figure(measure, other_unit(unit))} ") in text
    count = len(worked.layouts)
    assert len(re.findall(r"(?:A|Half a) sheet gives", text)) == count
    assert len(re.findall(r"Slack", text)) == count
    assert text.count("drawn at") == count


def test_a_sheet_of_paper_has_it_all(printed):
    """Two sides; the kit of fourteen kinds and eight guides takes one more."""
    assert len(printed.said) == (3 if printed.worked.kit.id == "2027-08-garden" else 2)
    assert printed.file.stat().st_size < (120_000 if len(printed.said) == 2 else 170_000)


def test_the_first_page_has_the_facts(printed):
    first, worked = printed.said[0], printed.worked
    for word in (
        worked.kit.spec.title,
        worked.kit.spec.summary,
        worked.kit.club.name,
        f"{worked.kit.spec.cards} cards",
        "Finished card",
        "Card base",
        "score at",
        "What you need",
        "What you cut",
        "How it goes together",
        "Check your print.",
    ):
        assert word in first
    for plan in worked.plans:
        assert worked.kit.papers[plan.paper].name in first


def test_pages_are_counted_and_closed(printed):
    pages, worked = printed.said, printed.worked
    for i, text in enumerate(pages, 1):
        assert f"page {i} of {len(pages)}" in text
        assert worked.kit.id in text
    # One line of care; the others are the workbook's.
    assert f"Mind your hands. {curly(worked.kit.club.cautions[0])}" in pages[-1]
    assert "PREVIEW, not released" in pages[-1]


def test_care_and_terms_close_the_workbook(bound):
    club = bound.worked.kit.club
    for line in (*club.cautions, club.terms):
        assert curly(line) in " ".join(bound.said)
    assert "’" in curly(club.terms)
    for i, text in enumerate(bound.said, 1):
        assert f"page {i} of {len(bound.said)}" in text and bound.worked.kit.id in text


def test_the_same_kit_gives_the_same_bytes(make_kit, pdf_of):
    assert printable_pdf(make_kit("2027-07-night-ferry"), "a4") == pdf_of("2027-07-night-ferry", "a4")


# --- for machines and ears ----------------------------------------------------------------------


def test_title_author_language_and_bookmarks(printed):
    reader, kit = pypdf.PdfReader(printed.file), printed.worked.kit
    assert reader.metadata.title.startswith(kit.spec.title)
    assert reader.metadata.author == kit.club.name
    root = reader.root_object
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"

    def flat(items) -> Iterator[str]:
        for item in items:
            yield from flat(item) if isinstance(item, list) else (item.title,)

    titles = list(flat(reader.outline))
    assert titles[0] == kit.spec.title
    assert titles[:5] == [kit.spec.title, "What you need", "What you cut", "How it goes together", "Cutting guides"]
    assert len(titles) == 3 + len(printed.said)


def walk(elements) -> Iterator[dict]:
    for element in elements:
        yield element
        yield from walk(element.get("children", []))


def test_structure_has_headings_tables_lists_and_figures(printed):
    assert pypdf.PdfReader(printed.file).root_object["/MarkInfo"]["/Marked"]
    found = [element for page in printed.pages for element in walk(page.structure_tree)]
    kinds = {element["type"] for element in found}
    assert {"H1", "H2", "H3", "P", "Table", "TR", "TH", "TD", "L", "LI", "Lbl", "LBody", "Figure"} <= kinds
    figures = [element for element in found if element["type"] == "Figure"]
    assert all(figure.get("alt_text") for figure in figures)
    worked, said = printed.worked, [figure["alt_text"] for figure in figures]
    # One for each guide, the sketch and the scale bar, and the finished card, or each look of it.
    assert len(said) in (len(worked.layouts) + 2, len(worked.layouts) + 2 + len(worked.faces))
    assert sum(text.startswith("A sheet of") for text in said) == len(worked.layouts)


def test_the_workbook_is_as_sound_for_ears(bound):
    assert pypdf.PdfReader(bound.file).root_object["/MarkInfo"]["/Marked"]
    found = [element for page in bound.pages for element in walk(page.structure_tree)]
    said = [figure.get("alt_text") for figure in found if figure["type"] == "Figure"]
    assert all(said) and not any("\u2044" in text for text in said)
    assert {"H1", "H2", "P", "L", "LI", "Figure"} <= {element["type"] for element in found}


SHOWN = {b"Tj", b"TJ", b"'", b'"', b"S", b"s", b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*", b"Do", b"sh"}
"""Operators that put something on the page (ISO 32000-1, tables 51 and 60)."""


def test_everything_drawn_is_content_or_artifact(printed):
    reader = pypdf.PdfReader(printed.file)
    for page in reader.pages:
        marked: list[bool] = []
        for operands, operator in pypdf.generic.ContentStream(page.get_contents(), reader).operations:
            if operator == b"BMC":
                marked.append(operands[0] == "/Artifact")
            elif operator == b"BDC":
                marked.append("/MCID" in operands[1])
            elif operator == b"EMC":
                marked.pop()
            elif operator in SHOWN:
                assert any(marked), f"{operator} {operands} is neither content nor artifact"
        assert not marked


def test_alternate_text_is_plain(printed):
    texts = [e.get("alt_text") or e.get("actual_text") or "" for page in printed.pages for e in walk(page.structure_tree)]
    assert not any("\u2044" in text for text in texts)


def test_a_fraction_of_sixteenths_is_read_in_plain_digits(pdf_of):
    data = pdf_of("2027-05-three-coves")
    pages = pypdfium2.PdfDocument(io.BytesIO(data))
    assert "3 × 15/16" in " ".join(page.get_textpage().get_text_bounded() for page in pages)
