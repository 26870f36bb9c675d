"""Envelope liners: worked out from the envelope and the depth of its flap."""

from dataclasses import replace
from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card.liner import Liner, liners_of
from kitwright.errors import UserError
from kitwright.papers import ENVELOPES, envelope_named
from kitwright.release.kept import read_results, results_text, worked_again
from kitwright.telling.steps import steps_of
from kitwright.telling.wrong import spec as words
from kitwright.units import Length, Size, parse_size
from kitwright.work.supplies import supplies
from making import BATCH, changed, line_of, look_over, make_worked, serious

LINED = changed(BATCH, ("  M:\n", "  L:\n    for: liner\n    paper: white\n    liner: {envelope: US A2 envelope, flap: 2-1/2}\n  M:\n"))


def test_the_us_a2_liner(tmp_path):
    """The envelope is 5¾ × 4⅜ (common practice, no source): less ¼ across; with a flap of 2½, less ½ for the gum, along."""
    worked = make_worked(tmp_path, LINED)
    assert worked.sizes["L"] == parse_size("5-1/2 x 6-3/8")
    assert worked.counts("L") == {"white": 9} and not worked.troubles
    assert serious(look_over(tmp_path / "again", LINED)) == serious(look_over(tmp_path / "plain", BATCH))


def test_an_iso_c6_liner_in_a_metric_kit():
    """ISO 269: C6 is 114 × 162 mm; 6 mm less across, 12 mm free for the gum."""
    made = Liner(envelope_named("ISO C6 envelope").size, Length.mm(60), Length.mm(12), "mm")
    assert made.size == Size(Length.mm(156), Length.mm(114 + 48))


@given(st.sampled_from(ENVELOPES), st.integers(9, 40), st.integers(0, 8), st.sampled_from(["in", "mm"]))
def test_a_liner_goes_in_and_stops_short_of_the_gum(envelope, flap, gum, unit):
    size = envelope.size
    made = Liner(size, Length(F(flap, 16)), Length(F(gum, 16)), unit)
    assert made.size == Liner(size.turned, made.flap, made.gum, unit).size, "whichever way the envelope is typed"
    long, short = max(size.width, size.height), min(size.width, size.height)
    assert made.size.width < long and short < made.size.height + Length(F(1, 16)) and made.size.height <= short + made.flap - made.gum
    assert made.size.width.inches * 16 % 1 == 0 or made.size.width.millimetres * 2 % 1 == 0


def test_steps_supplies_and_post_know_it(tmp_path):
    worked, plain = make_worked(tmp_path, LINED), make_worked(tmp_path / "plain", BATCH)
    assert any("Slide L into each envelope" in line and "½ in inside" in line for line in steps_of(worked)[-1].lines)
    # A run along the four edges of what covers the flap: 5½ × 2.
    assert supplies(worked).adhesive - supplies(plain).adhesive == Length(F(15)) * 9
    was, now = plain.enclosed.parcel, worked.enclosed.parcel
    assert now.mass.low > was.mass.low and now.thickness.high > was.thickness.high
    (found,) = liners_of(worked.kit).values()
    assert found.covers == Length(2)


@pytest.mark.parametrize("envelope, told", [("US A2 envelope", False), ("4-3/8 x 5-3/4", False), ("US A6 envelope", True)])
def test_a_liner_of_another_envelope_is_told_and_travels_with_no_card(tmp_path, envelope, told):
    text = LINED.replace("liner: {envelope: US A2 envelope", f"liner: {{envelope: {envelope}")
    found = [one for one in look_over(tmp_path / "look", text) if one.code == "pieces.liner-of-another"]
    assert bool(found) == told and all("US A2 envelope" in one.remedy for one in found)
    plain = make_worked(tmp_path / "plain", BATCH).enclosed.parcel
    assert (make_worked(tmp_path, text).enclosed.parcel == plain) == told


@pytest.mark.parametrize("flap, told", [("1/2", True), ("9/16", False)])
def test_a_flap_that_is_gum_all_over_is_told(tmp_path, flap, told):
    text = changed(LINED, ("flap: 2-1/2", f"flap: {flap}"))
    found = [one for one in look_over(tmp_path, text) if one.code == "pieces.flap-all-gum"]
    assert [one.place.line for one in found] == [line_of(text, "liner:")] * told


def test_what_a_revision_kept_stands(tmp_path):
    """Read back from its results, a kit has liners, shapes of decorations and a stiff letter as they were published."""
    text = LINED.replace("  cream:\n    kind: cardstock", "  cream:\n    kind: chipboard")
    text += "decorations:\n  - {name: a leaf, shape: leaf, colour: sage, size: 1/4 x 1/4, on: band, left: 0, top: 0}\n"
    worked = make_worked(tmp_path, text)
    typed = replace(worked.kit, spec=worked.kit.typed, typed=None)
    found = worked_again(typed, read_results(results_text(worked)))
    assert found.sizes == worked.sizes and found.face == worked.face and found.face.spots[0].edges
    assert found.enclosed == worked.enclosed and found.enclosed.parcel.stiff


@pytest.mark.parametrize(
    "typed, code",
    [
        ("liner: {envelope: US A2 envelope}", "spec.missing"),
        ("liner: {envelope: US A2 envelope, flap: 4-3/8}", "spec.flap-too-deep"),
        ("liner: {envelope: US A2 envelope, flap: 1, gum: 1}", "spec.gum-past-the-flap"),
        ("liner: {envelope: A2, flap: 2}", "papers.two-meanings"),
        ("liner:", "spec.empty"),
        ("band:", "spec.empty"),
        ("liner: {envelope: US A2 envelope, flap: 2}\n    size: 2 x 2", "spec.size-that-follows"),
        ("liner: {envelope: US A2 envelope, flap: 2}\n    shape: circle", "spec.liner-and-shape"),
    ],
)
def test_slips_are_told(tmp_path, typed, code):
    with pytest.raises(UserError) as caught:
        make_worked(tmp_path, LINED.replace("liner: {envelope: US A2 envelope, flap: 2-1/2}", typed))
    assert [one.code for one in caught.value.each] == [code] and words
