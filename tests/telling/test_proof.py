"""Proofs in words: each reason, and the same reason in a kit's own unit."""

from difflib import SequenceMatcher
from fractions import Fraction
from pathlib import Path
from typing import get_args

import demo
import pytest
from kitwright.cutting.batch.proof import Bare, OneLabel, Priced, Proof, TooLittle
from kitwright.telling.proof import area_text, why_text

KITS = Path(__file__).parents[2] / "kits"
HALF = Fraction(1, 2)


def fewest(reason, least, proved=True) -> Proof:
    return Proof("sheets", proved, (least if proved else least + HALF,), (least,), reason)


# Nine mats of 4 × 5¼ cover 189 sq in; two Letter sheets have 187. A square inch is 2.54² = 6.4516 cm², exactly.
@pytest.mark.parametrize(
    "proof, unit, why",
    [
        (fewest(TooLittle(Fraction(189), Fraction(187)), Fraction(5, 2)), "in", "The pieces cover 189 sq in, and 2 sheets have 187 sq in."),
        (fewest(TooLittle(Fraction(189), Fraction(187)), Fraction(5, 2)), "mm", "The pieces cover ≈1219 cm², and 2 sheets have ≈1206 cm²."),
        (
            fewest(TooLittle(Fraction(405, 4), Fraction(217, 3)), Fraction(1)),
            "in",
            "The pieces cover 101¼ sq in, and half a sheet has ≈72.33 sq in.",
        ),
        (
            fewest(OneLabel("M", 2, 1, 5, 6), Fraction(3)),
            "in",
            "A sheet yields at most 2 M, half a sheet 1: 2½ sheets can’t give more than 5 of the 6.",
        ),
        (
            fewest(OneLabel("base", 2, 0, 4, 5), Fraction(3)),
            "in",
            "A sheet yields at most 2 bases, half a sheet none: 2½ sheets can’t give more than 4 of the 5.",
        ),
        (
            fewest(OneLabel("M", 2, None, 4, 5), Fraction(5, 2)),
            "in",
            "A sheet yields at most 2 M: 2 sheets can’t give more than 4 of the 5.",
        ),
        (
            fewest(Priced((("base", 4), ("M", 1)), 200, 4, 2), Fraction(50)),
            "in",
            "Count 4 for each base and 1 for each M: the batch comes to 200, and no sheet can give more "
            "than 4, and half a sheet no more than 2, so 49½ sheets can’t do it.",
        ),
        (fewest("half-a-sheet", HALF), "mm", "There is nothing less than half a sheet."),
        (
            fewest("every-yield", Fraction(3), proved=False),
            "in",
            "No plan takes fewer than 3 sheets. Every set of pieces that a sheet can yield was looked at: 2½ sheets can’t give the batch.",
        ),
        (
            Proof("alike", True, (Fraction(3),), (Fraction(3),), "no-fewer-ways"),
            "in",
            "Of all that a sheet can yield, no two ways of cutting together give the batch from so few sheets.",
        ),
        (Proof("alike", False, (Fraction(4),), (Fraction(2),), "some-ways"), "in", "At least two ways of cutting a sheet are needed."),
        (
            Proof("slack", True, (Fraction(1),), (Fraction(1),), "tight-however"),
            "mm",
            "A sheet a millimetre and a half short can’t yield these pieces, however it is cut: measure it before you cut.",
        ),
    ],
)
def test_a_reason_in_words(proof, unit, why):
    assert why_text(proof, unit) == why


LEVELS_OF = {
    "sheets": ("half-a-sheet", "every-yield"),
    "alike": ("one-sheet", "all-alike", "not-known", "no-single-way", "no-fewer-ways", "some-ways"),
    "order": ("chosen-together", "none-simpler", "natural", "not-natural"),
    "slack": ("not-tight", "tight-however", "tight-here"),
    "leftover": ("no-leftover", "one-leftover", "no-larger", "largest-found"),
}


def plain_proofs() -> list[Proof]:
    return [Proof(level, True, (Fraction(2),), (Fraction(2),), reason) for level, reasons in LEVELS_OF.items() for reason in reasons]


def demo_proofs() -> list[Proof]:
    return [proof for kit in demo.BY_ID for plan in demo.worked(kit).plans for proof in plan.proof]


def test_every_reason_without_numbers_has_words():
    assert {reason for reasons in LEVELS_OF.values() for reason in reasons} == set(get_args(Bare))
    for proof in plain_proofs():
        for unit in ("in", "mm"):
            said = why_text(proof, unit)
            assert said[0].isupper() and said.endswith(".")


def test_units_differ_only_where_lengths_and_areas_stand():
    """The demo's own proofs, and each reason without numbers: word by word, in both units."""
    proofs = demo_proofs() + plain_proofs()
    assert any(isinstance(proof.reason, TooLittle) for proof in proofs)
    for proof in proofs:
        inches, metric = why_text(proof, "in").split(), why_text(proof, "mm").split()
        assert not {"sq", "inch", "inch.", "inch:"} & set(metric), proof
        measures = {"sixteenth of an inch": "millimetre and a half"}
        if isinstance(proof.reason, TooLittle):
            measures |= {area_text(area, "in"): area_text(area, "mm") for area in (proof.reason.pieces, proof.reason.fewer)}
        words = {(*one.split(),): (*other.split(),) for one, other in measures.items()}
        for kind, a, b, c, d in SequenceMatcher(None, inches, metric, autojunk=False).get_opcodes():
            if kind != "equal":
                one, other = (tuple(word.rstrip(".,:") for word in part) for part in (inches[a:b], metric[c:d]))
                assert words.get(one) == other, (inches, metric)
