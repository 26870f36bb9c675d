"""The post box of a kit: sums done by hand, limits from the rule books, words that say what is not known."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from kitwright.card.post import OUNCE, SMALL_LETTERS, US_LETTERS
from kitwright.papers import grammage
from kitwright.telling.post import post_lines
from kitwright.units import MM
from kitwright.work.post import mailing
from making import BATCH, changed, make_worked

KNOWN = changed(
    BATCH,
    (
        "    front: {look: stripes, colours: [sky, white]}\n",
        "    front: {look: stripes, colours: [sky, white]}\n    weight: 120 gsm\n    thickness: 0.2 mm\n",
    ),
    (
        "    name: Cream cardstock\n    size: Letter\n",
        "    name: Cream cardstock\n    size: Letter\n    weight: 200 gsm\n    thickness: 0.25 mm\n",
    ),
    (
        "    name: White cardstock\n    size: Letter\n",
        "    name: White cardstock\n    size: Letter\n    weight: 300 gsm\n    thickness: 0.4 mm\n",
    ),
    ("  envelope: US A2 envelope\n", "  envelope: US A2 envelope\n  envelope weight: 100 gsm\n"),
)
"""Everything weighed and measured."""


def said(worked) -> dict[str, str]:
    return {line.title: line.text for line in post_lines(worked, mailing(worked))}


def test_the_mass_is_that_of_its_parts(tmp_path):
    found_worked = make_worked(tmp_path, KNOWN)
    found = mailing(found_worked)
    square_metre = Fraction(10000, 254) ** 2  # in square inches; 1 in = 25.4 mm (NIST SP 811)
    parts = [
        (Fraction(17, 2) * Fraction(11, 2), 300),
        (4 * Fraction(21, 4), 200),
        (Fraction(15, 4) * (Fraction(5, 4) + 2 * Fraction(7, 8)), 120),
        (Fraction(9, 4) * Fraction(23, 4) * Fraction(35, 8), 100),
    ]
    assert found.parcel.mass.known
    assert found.parcel.mass.low == sum(area * gsm for area, gsm in parts) / square_metre


def test_the_thickness_is_that_of_the_pile(tmp_path):
    # Two of the folded base, the mat, one strip; the envelope's own two sheets stay a range of 1.1 to 1.7 cm³/g.
    found_worked = make_worked(tmp_path, KNOWN)
    found = mailing(found_worked)
    pile = Fraction(2 * 40 + 25 + 20, 100)
    assert found.parcel.thickness.low == pile + 2 * 100 * Fraction(11, 10) / 1000
    assert found.parcel.thickness.high == pile + 2 * 100 * Fraction(17, 10) / 1000
    assert said(found_worked)["Thickness"] == "0.05 to 0.07 in at the thickest place, sealed."
    assert said(found_worked)["Envelope"] == "Fits a US A2 envelope, with ⅛ in of room for its thickness."


def test_foam_raises_by_what_it_is(tmp_path):
    raised = changed(KNOWN, ("    - M\n  envelope", "    - {piece: M, raised: yes}\n  envelope"))
    without = mailing(make_worked(tmp_path / "a", KNOWN)).parcel.thickness
    given_worked = make_worked(tmp_path / "b", changed(raised, ("  envelope weight", "  foam: 2 mm\n  envelope weight")))
    given = mailing(given_worked)
    assert given.parcel.thickness.low - without.low == 2
    assert said(given_worked)["Mind"] == "Lumps and stiff parts can cost more."
    unknown_worked = make_worked(tmp_path / "c", raised)
    assert said(unknown_worked)["Thickness"].endswith("(a range, since the thickness of foam is not given).")


def test_what_is_not_measured_is_a_marked_range(tmp_path):
    found_worked = make_worked(tmp_path, BATCH)
    found = mailing(found_worked)
    assert not found.parcel.thickness.known and not found.parcel.mass.known
    assert "since the thickness of papers is not given" in said(found_worked)["Thickness"]


@pytest.mark.parametrize(
    ("size", "finished", "envelope", "words"),
    [("10-1/2 x 5-1/4", "5 x 5", "5½ square envelope", "A square card costs more."), ("7 x 8-1/2", "3 x 8", "slimline envelope", None)],
)
def test_shape_is_judged_by_the_sealed_envelope(tmp_path, size, finished, envelope, words):
    # USPS Domestic Mail Manual 101 and 201: length ÷ height from 1.3 to 2.5. 5½ ÷ 5½ = 1; 8¾ ÷ 3¾ = 2⅓.
    text = changed(
        KNOWN,
        ("size: 8-1/2 x 5-1/2", f"size: {size}"),
        ("US A2 envelope", envelope),
        ("size: 4 x 5-1/4", f"size: {finished}"),
        ("    size: 3-3/4 x 1-1/4", "    size: 2-3/4 x 1-1/4"),
        ("    size: 3-3/4 x 7/8", "    size: 2-3/4 x 7/8"),
    )
    found_worked = make_worked(tmp_path, text)
    found = mailing(found_worked)
    assert said(found_worked).get("Mind") == words
    assert found.within is True  # dearer, and still a letter


def test_a_second_ounce_is_told(tmp_path):
    heavy = changed(
        KNOWN, ("weight: 300 gsm", "weight: 600 gsm"), ("weight: 200 gsm", "weight: 350 gsm"), ("weight: 120 gsm", "weight: 300 gsm")
    )
    found_worked = make_worked(tmp_path, heavy)
    found = mailing(found_worked)
    assert OUNCE < found.parcel.mass.low < 2 * OUNCE
    assert said(found_worked)["Weight"] == "about 29 g with its envelope: in the US post’s second price step, over 1 oz."


def test_a_metric_kit_is_held_against_the_small_letter(tmp_path):
    text = changed(
        KNOWN,
        ("cards: 9\n", "cards: 9\nunit: mm\n"),
        ("border: 1/8", "border: 1/8 in"),
        ("gap: 1/8", "gap: 1/8 in"),
        ("US A2 envelope", "ISO C6 envelope"),
    )
    for old in ("12 x 12", "3-3/4 x 1-1/4", "3-3/4 x 7/8", "4 x 5-1/4", "8-1/2 x 5-1/2", "2-1/2 x 3/4"):
        text = text.replace(f"size: {old}\n", f"size: {old} in\n")
    text = text.replace("of 3-3/4 off", "of 3-3/4 in off").replace("of 1-1/4 off", "of 1-1/4 in off").replace("of 7/8 off", "of 7/8 in off")
    found_worked = make_worked(tmp_path, text)
    found = mailing(found_worked)
    assert found.letters is SMALL_LETTERS
    assert "mm" in said(found_worked)["Thickness"] and "an ISO C6 envelope" in said(found_worked)["Envelope"]
    assert "Universal Postal Union" in said(found_worked)["Source"] and "2026" in said(found_worked)["Source"]
    # The price steps of one country are no rule of the world's.
    assert not re.search(r"price|step| oz|ounce", said(found_worked)["Weight"])


@pytest.mark.parametrize(
    "text", [KNOWN, changed(KNOWN, ("cards: 9\n", "cards: 9\nunit: mm\n"), ("border: 1/8", "border: 1/8 in"), ("gap: 1/8", "gap: 1/8 in"))]
)
def test_memory_is_no_matter_for_a_printable(tmp_path, text):
    if "unit: mm" in text:
        text = re.sub(r"(size: [\d /x-]+)\n", r"\1 in\n", text.replace("12 x 12\n", "12 x 12 in\n")).replace(" in in", " in")
        text = re.sub(r"of ([\d/-]+) off", r"of \1 in off", text)
    assert "memory" not in " ".join(said(make_worked(tmp_path, text)).values())


def test_no_envelope_no_box(tmp_path):
    assert mailing(make_worked(tmp_path, changed(BATCH, ("  envelope: US A2 envelope\n", "")))) is None


def test_the_limits_are_those_of_the_rule_books():
    # USPS Domestic Mail Manual 101 and 201: 3½ × 5 to 6⅛ × 11½ in, 0.007 to ¼ in, to 3.5 oz; an ounce is 28.349523125 g.
    assert (US_LETTERS.thinnest.low * MM, US_LETTERS.thinnest.high * MM) == (Fraction(7, 1000), Fraction(1, 4))
    assert float(US_LETTERS.heaviest) == pytest.approx(3.5 * 28.349523125)
    assert US_LETTERS.ratio == (Fraction(13, 10), Fraction(5, 2))
    # Universal Postal Union letter-post regulations, from memory: 90 × 140 to 165 × 245 mm, to 5 mm, to 100 g.
    assert SMALL_LETTERS.most.width.millimetres == 245 and SMALL_LETTERS.thinnest.high == 5 and SMALL_LETTERS.heaviest == 100
    # Arithmetic from the definition: 80 lb cover is about 216 g/m².
    assert round(grammage(80, "cover")) == 216
