"""The edition for another sheet, in the file itself: what it changes stands under the title, and where it may it is cut from its own sheet."""

from __future__ import annotations

import datetime as dt
import io
from pathlib import Path

import pypdfium2
import pytest
from kitwright.printable import printable_pdf
from kitwright.release.changes import changes
from kitwright.release.history import copy_now
from kitwright.release.stamp import Stamp
from making import BATCH, changed, make_worked


def said(data: bytes) -> list[str]:
    return [" ".join(page.get_textpage().get_text_bounded().split()) for page in pypdfium2.PdfDocument(io.BytesIO(data))]


@pytest.fixture(scope="module")
def plain(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("plain"), BATCH)


def test_an_edition_says_first_what_it_changes_and_keeps_the_guides_of_the_kit(plain):
    first, second = said(printable_pdf(plain, "a4"))
    told = first.partition("The batch")[0]
    assert "If your cardstock is A4: White cardstock takes 9 sheets, not 4½" in told and "(≈209.5 × 139.5 mm)" in told
    assert "White cardstock Letter 4½" in first and "8½ × 5½" in second and "A4" not in second


def test_where_it_may_it_is_cut_from_its_own_sheet_throughout(tmp_path: Path):
    worked = make_worked(tmp_path, BATCH + "also from: A4\n")
    first, second = said(printable_pdf(worked, "a4"))
    assert "For A4 cardstock: What you need, the cuts and the guides here are for it, not for Letter." in first
    assert "White cardstock A4 9" in first and "Letter" not in second and "9 sheets" in second
    # The kit's own edition says nothing of it.
    own = " ".join(said(printable_pdf(worked, "letter")))
    assert "A4" not in own and "White cardstock Letter 4½" in own


def test_a_revision_says_what_it_corrects_where_its_edition_changes_nothing(plain, tmp_path: Path):
    new = make_worked(tmp_path, changed(BATCH, ("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4")))
    stamp = Stamp(2, dt.date(2030, 1, 9), "AAAA-AAAA", changes(copy_now(plain), copy_now(new)).told)
    first = said(printable_pdf(new, "letter", stamp=stamp))[0]
    assert "Corrected in revision 2: B is 3¾ × ¾ in, not 3¾ × ⅞ in" in first.partition("The batch")[0]


@pytest.mark.parametrize("edition", ["letter", "a4"])
def test_a_kit_in_millimetres_has_them_first_on_either_sheet(pdf_of, edition):
    first, second = said(pdf_of("2027-07-night-ferry", edition))
    assert "105 × 148 mm ≈4⅛ × 5 13/16 in" in first and "45 × 60 mm ≈1¾ × 2⅜ in" in first
    assert second.count("Line up, mm in ") == second.count("Line up,") > 0 and "(≈11/16 in)" in second
