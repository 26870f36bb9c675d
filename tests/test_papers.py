"""Sheets, envelopes and weights by name: unmistakable, or refused."""

import pytest
from kitwright.errors import UserError
from kitwright.papers import ENVELOPES, SHEETS, envelope_named, parse_weight, sheet_named
from kitwright.units import Length, Size


@pytest.mark.parametrize("named", SHEETS, ids=lambda n: n.name)
def test_every_sheet_by_its_name(named):
    assert sheet_named(named.name) == sheet_named(f"  {named.name.upper()} ") == named
    assert named.source


@pytest.mark.parametrize("named", ENVELOPES, ids=lambda n: n.name)
def test_every_envelope_by_its_name(named):
    assert envelope_named(named.name) == envelope_named(named.name.lower()) == named
    assert named.source


@pytest.mark.parametrize("name", ["A2", "a6", "A7", "A6 envelope", "C6", "B5", "DL", "A2 envelope", "C4", "A8"])
def test_names_with_two_meanings_or_half_a_meaning_are_refused(name):
    with pytest.raises(UserError) as caught:
        envelope_named(name)
    assert name in caught.value.problem and caught.value.remedy


@pytest.mark.parametrize("name, both", [("A6", ("US A6 envelope", "ISO A6")), ("A7", ("US A7 envelope", "ISO A7"))])
def test_the_remedy_names_what_could_be_meant(name, both):
    for read in (sheet_named, envelope_named):
        with pytest.raises(UserError) as caught:
            read(name)
        assert all(one in caught.value.remedy for one in both)


@pytest.mark.parametrize("name", ["A2", "A6", "A7", "A0", "A1", "B2", "C6"])
def test_the_same_for_sheets(name):
    with pytest.raises(UserError):
        sheet_named(name)


@pytest.mark.parametrize("text", ["", "letterhead", "12", "12 x", "0 x 12", "-12 x 12", "9" * 200, "twelve by twelve", "US A2 envelope"])
def test_what_is_no_sheet(text):
    with pytest.raises(UserError) as caught:
        sheet_named(text)
    assert caught.value.remedy


@pytest.mark.parametrize("typed, name", [("DIN A4", "A4"), ("ISO A4", "A4"), ("din a6", "ISO A6"), ("DIN C6 envelope", "ISO C6 envelope")])
def test_the_same_sheets_by_their_other_standard(typed, name):
    """From memory: DIN 476 is where the sizes of ISO 216 come from, and a sheet is sold in Germany as DIN A4."""
    assert (envelope_named if "envelope" in name else sheet_named)(typed).name == name


def test_by_measure():
    assert sheet_named("8 x 8").size == Size(Length(8), Length(8))
    assert sheet_named("152 x 152", "mm").size == Size(Length.mm(152), Length.mm(152))
    assert envelope_named("5-3/4 x 4-3/8").size == envelope_named("US A2 envelope").size


@pytest.mark.parametrize(
    "text",
    [
        "110 lb",
        "80lb",
        "65 #",
        "110 lb card",
        "",
        "heavy",
        "216",
        "-80 lb cover",
        "80.5 lb cover",
        "9999 gsm",
        "0 gsm",
        "0 lb cover",
        "80 lb cover stock",
    ],
)
def test_weights_that_say_too_little(text):
    with pytest.raises(UserError) as caught:
        parse_weight(text)
    assert caught.value.remedy


def test_pounds_without_a_kind_are_told_why():
    with pytest.raises(UserError, match="which pounds") as caught:
        parse_weight("110 lb")
    assert "cover" in caught.value.remedy and "index" in caught.value.remedy


@pytest.mark.parametrize("text", ["216 gsm", "216 g/m2", "216 g/m²", "216g"])
def test_grammage_as_typed(text):
    assert parse_weight(text).grammage == 216


@pytest.mark.parametrize("text", ["80 lb cover", "80lb cover", "80 LB Cover", "80 lbs cover", "80# cover"])
def test_pounds_with_their_kind(text):
    weight = parse_weight(text)
    assert weight.text == "80 lb cover" and round(weight.grammage) == 216
