"""What is found is told by values: whatever `look_over` finds, in whichever test, is held against the rule that is tried here."""

from fractions import Fraction
from pathlib import Path

import pytest
from kitwright.card.face import Sum, Term
from kitwright.errors import Place
from kitwright.findings import Finding
from kitwright.units import Length
from making import BATCH, changed, look_over, told_by_values

QUARTER = Length(Fraction(1, 4))


def found(**values) -> Finding:
    return Finding("error", Place(Path("kit.yaml"), 1), "front.sum-off", **values)


@pytest.mark.parametrize(
    "values",
    [
        {"label": "A", "by": QUARTER, "unit": "in"},
        {"name": "a sprig of dried lavender", "label": None},
        {"line": Sum("across", "base", (Term("border", QUARTER),), QUARTER)},
        {"gaps": (QUARTER, QUARTER), "others": ((3, "A"), (4, "B"))},
    ],
)
def test_values_and_what_the_author_typed_pass(values):
    assert told_by_values(found(**values), "  - name: A sprig  of dried\n      lavender\n")


@pytest.mark.parametrize(
    "values",
    [
        {"why": "this base is typed turned"},
        {"parts": (("the piece in hand is smaller", 1),)},
        {"line": Sum("across", "base", (Term("the border that was asked for", QUARTER),), QUARTER)},
    ],
)
def test_a_sentence_does_not_however_deep_it_lies(values):
    assert not told_by_values(found(**values), BATCH)


def test_a_list_can_be_no_value():
    with pytest.raises(TypeError, match="unhashable"):
        told_by_values(found(labels=["A", "B"]), BATCH)


def test_two_findings_are_one_where_their_values_are(tmp_path):
    """A kit of the same text in the same place gives the same records, whatever they are worded like."""
    text = changed(BATCH, ("- band", "- band 1-3/4"), ("US A2 envelope", "5-1/2 x 4"))
    first = look_over(tmp_path / "one", text)
    again = [Finding(f.level, f.place, f.code, **f.values) for f in first]
    assert first and again == first and len({*first, *again}) == len(first)
    assert Finding(first[0].level, first[0].place, first[0].code, **{**first[0].values, "unit": "mm"}) != first[0]
