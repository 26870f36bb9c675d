"""What holds for each kind of paper, and what follows from it: bounds, the post, the order, the words."""

from fractions import Fraction as F
from typing import get_args

import pytest
from kitwright.card.post import US_LETTERS, Stock, Verdict, verdicts
from kitwright.materials import MATERIALS, Kind, Range
from kitwright.telling.materials import HANDLING
from kitwright.telling.numbers import all_known
from kitwright.telling.steps import steps_of
from kitwright.telling.supplies import supply_lines
from kitwright.telling.your_paper import on_your_paper
from kitwright.units import Length
from kitwright.work.post import mailing
from kitwright.work.supplies import supplies
from making import BATCH, CLUB, changed, look_over, make_worked

WINDOW = changed(
    BATCH,
    ("  white:\n", "  clear:\n    kind: film\n    name: Clear film\n    size: Letter\n  white:\n"),
    ("    paper: cream\n", "    paper: clear\n"),
)
"""The mat is of clear film."""


def of(text: str, kind: str, name: str) -> str:
    return text.replace("kind: film", f"kind: {kind}").replace("Clear film", name)


def test_every_kind_has_its_values_and_its_words():
    assert tuple(MATERIALS) == get_args(Kind) == tuple(HANDLING)
    for kind, material in MATERIALS.items():
        assert material.kind == kind and (material.weighs is None) != (material.thick is None)
        assert set(material.asked) <= set(dict(material.sold))
    assert {kind for kind, each in HANDLING.items() if each.glue} == {"vellum", "film", "chipboard", "foam"}


@pytest.mark.parametrize("kind", get_args(Kind))
@pytest.mark.parametrize("grams, thick", [(None, None), (F(200), None), (None, F(1, 4)), (F(200), F(1, 4))])
def test_bounds_of_mass_and_thickness_agree_by_density(kind, grams, thick):
    """Grammage is density times thickness: g/m² = 1000 mm ÷ (cm³/g). What is given is exact; what is not holds whatever its bulk."""
    material = MATERIALS[kind]
    mass, calliper = material.stock(grams, Length.mm(thick) if thick else None)
    assert mass == Range.exact(grams) if grams else mass.low < mass.high
    assert calliper == Range.exact(thick) if thick else calliper.low < calliper.high
    if grams and not thick:
        assert calliper == Range(grams * material.bulk.low / 1000, grams * material.bulk.high / 1000)
    if thick and not grams and material.thick:
        assert mass == Range(thick * 1000 / material.bulk.high, thick * 1000 / material.bulk.low)


def test_a_sheet_of_film_weighs_what_its_plastic_does():
    """Density of polyester film 1.38 to 1.40 g/cm³ (from memory), a value within the bounds."""
    mass, _ = MATERIALS["film"].stock(None, Length(F(5, 1000)))
    assert mass.low < F("1.39") * F("0.127") * 1000 < mass.high


def test_chipboard_makes_a_letter_stiff_and_its_post_office_decides(tmp_path):
    worked = make_worked(tmp_path, of(WINDOW, "chipboard", "Chipboard"))
    found = mailing(worked)
    assert found and found.parcel.stiff and Verdict("stiff", None, True) in found.verdicts
    plain = make_worked(tmp_path / "plain", WINDOW)
    assert not mailing(plain).parcel.stiff
    assert Verdict("stiff", None, True) not in verdicts(mailing(plain).parcel, US_LETTERS)
    assert not Stock.of(None, None, MATERIALS["chipboard"]).flexible


def test_steps_and_tables_speak_of_what_is_no_paper(tmp_path):
    worked = make_worked(tmp_path, WINDOW)
    told = " ".join(line for step in steps_of(worked) for line in step.lines)
    assert HANDLING["film"].glue in told and HANDLING["film"].ink in told, "the sentiment stands on it"
    assert HANDLING["vellum"].glue not in told
    assert "For clear film" in [line.title for line in supply_lines(worked, supplies(worked))]
    assert [table.title for table in on_your_paper(worked).stock] == [
        "Patterned paper",
        "Cardstock: Letter and A4",
        "Clear film: Letter, A4 and 12 × 12 in",
    ]


def test_each_value_stands_on_the_page_of_sources():
    names = [each.what for _, group in all_known() for each in group]
    for what in ("Vellum", "Clear film", "Chipboard", "Foam sheet", "Thickness of clear film", "Weight of vellum", "Bulk of chipboard"):
        assert names.count(what) == 1, what


@pytest.mark.parametrize(
    "kind, code", [("vellum", "base.patterned"), ("chipboard", "base.breaks"), ("foam", "base.breaks"), ("film", None)]
)
def test_a_base_is_of_what_folds_and_stands(tmp_path, kind, code):
    text = changed(BATCH, ("  white:\n    kind: cardstock", f"  white:\n    kind: {kind}"))
    found = [one for one in look_over(tmp_path, text) if one.code.startswith("base.")]
    assert [one.code for one in found] == ([code] if code else [])


def test_a_sheet_of_each_kind_has_its_price(tmp_path):
    prices = "prices:\n  currency: $\n  patterned: 1\n  cardstock: 0.50\n  film: 2.25\n  foam: 3 for 4 x 6 in\n  foam sheet: 0.75\n"
    worked = make_worked(tmp_path, WINDOW, club=CLUB + prices)
    assert supplies(worked).costs["paper clear"] == F(9, 4) * worked.cut("clear").sheets
    worked = make_worked(tmp_path / "foam", of(WINDOW, "foam", "White foam"), club=CLUB + prices)
    assert supplies(worked).costs["paper clear"] == F(3, 4) * worked.cut("clear").sheets, "not the price of what raises layers"


@pytest.mark.parametrize("kind, told", [("film", True), ("foam", True), ("vellum", False), ("chipboard", False)])
def test_a_grain_is_of_what_has_one(tmp_path, kind, told):
    text = of(WINDOW, kind, "Sheet").replace("    name: Sheet\n", "    name: Sheet\n    grain: long\n")
    assert any(one.code == "pieces.no-grain" for one in look_over(tmp_path, text)) == told


def test_ink_on_film_is_told_whichever_of_the_words_stands_there(tmp_path):
    text = changed(WINDOW, ("  on: band\n", "  on: A\n")) + "sentiments:\n  - {text: hello, size: 1 x 1/2, on: M, place: bottom}\n"
    told = [line for step in steps_of(make_worked(tmp_path, text)) if step.stage == "stamp" for line in step.lines]
    assert told[-1] == HANDLING["film"].ink and sum(line == HANDLING["film"].ink for line in told) == 1
