"""A kit of several designs from other sheets: every base that would have to change is changed in its own design."""

import pytest
from kitwright.otherwise.changed import fitting
from kitwright.otherwise.planned import from_stock
from kitwright.otherwise.usual import cardstock_from, one_sheet
from kitwright.papers import sheet_named
from making import make_worked
from several import SEVERAL


@pytest.fixture(scope="module")
def worked(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("several"), SEVERAL)


def test_bases_of_every_design_are_fitted_to_a_smaller_sheet(worked):
    small = from_stock(worked, worked.cut("white"), "A5", sheet_named("A5").size)
    found = fitting(worked, small)
    assert set(found.sizes) == {"Standing base", "Lying base"} and found.changed is not None
    # A5 is 5.83 × 8.27 in, so each base loses what is over 8¼ in on its long side.
    assert [str(design.base.cut) for design in found.changed.designs] == ["8¼ × 5½ in", "5½ × 8¼ in"]


def test_usual_questions_are_answered_of_the_whole(worked):
    assert one_sheet(worked).cards == 16
    ((plan, other),) = cardstock_from(worked, "A4")
    # A4 is a hair narrower than a base is long, so it gives one.
    assert plan.paper == "white" and other.fits and other.sheets == 16
