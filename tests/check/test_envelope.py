"""The closed card and its envelope: each way of not going in is caught where it stands, and what goes in is silent."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from making import BATCH, changed, line_of, look_over, serious

TOP = changed(BATCH, ("size: 8-1/2 x 5-1/2", "size: 4-1/4 x 11"), ("fold: side", "fold: top"))
METRIC = changed(
    BATCH,
    ("cards: 9\n", "cards: 9\nunit: mm\n"),
    ("size: 8-1/2 x 5-1/2", "size: 210 mm x 148 mm"),
    ("US A2 envelope", "ISO C6 envelope"),
    ("size: 4 x 5-1/4", "size: 99 x 142"),
    ("  border: 1/8\n  gap: 1/8\n", "  on: M\n  meant: uneven\n"),
    ("3-3/4 x 1-1/4", "3-3/4 in x 1-1/4 in"),
    ("3-3/4 x 7/8", "3-3/4 in x 7/8 in"),
    ("2-1/2 x 3/4", "50 x 10"),
    (BATCH[BATCH.index("guides:") :], ""),
)


def strip(text: str, size: str, at: str = "") -> str:
    """The card with a strip that is meant to overhang."""
    return changed(
        text,
        ("  M:\n", f"  S: {{size: {size}, for: strip, paper: cream}}\n  M:\n"),
        ("sentiment:\n", f"  over:\n    - {{piece: S, on: M{at}, meant: overhang}}\nsentiment:\n"),
    )


def panel(text: str, size: str, at: str = "", envelope: str = "US A2 envelope") -> str:
    return changed(
        text,
        ("  M:\n", f"  P: {{size: {size}, for: panel, paper: cream}}\n  M:\n"),
        (f"  envelope: {envelope}\n", f"  inside: {{piece: P{at}}}\n  envelope: {envelope}\n"),
    )


def scored(text: str, score: str) -> str:
    fold = "side" if "fold: side" in text else "top"
    return changed(text, (f"  fold: {fold}\n", f"  fold: {fold}\n  score: {score}\n"))


def own(text: str) -> list:
    """What is found about envelope, closing and the panel inside."""
    with tempfile.TemporaryDirectory() as folder:
        return [
            f for f in serious(look_over(Path(folder), text)) if any(w in f.problem for w in ("envelope", "inside panel", "past the base"))
        ]


BROKEN = {
    # name: (text, level, words of its line, words of the problem, words of the remedy)
    "back panel too wide": (
        scored(BATCH, "4-1/2"),
        "error",
        "score:",
        "back panel of the folded card, 4½ × 5½ in, does not fit US A2",
        "score at 4¼ in",
    ),
    "front panel too wide": (
        scored(changed(BATCH, ("border: 1/8", "border: 1/8\n  meant: uneven")), "4"),
        "error",
        "score:",
        "front panel of the folded card, 4½ × 5½ in, does not fit",
        "score at 4¼ in",
    ),
    "back panel too high": (
        scored(TOP, "6"),
        "error",
        "score:",
        "back panel of the folded card, 4¼ × 6 in, does not fit",
        "score at 5½ in",
    ),
    "front panel too high": (
        scored(TOP, "5"),
        "error",
        "score:",
        "front panel of the folded card, 4¼ × 6 in, does not fit",
        "score at 5½ in",
    ),
    "a back panel that jams": (
        scored(BATCH, "4-11/32"),
        "warning",
        "score:",
        "the back panel, ≈4⅜ × 5½ in, has less than a sixteenth",
        "score at 4¼ in",
    ),
    "strip longer than the envelope": (
        strip(BATCH, "6 x 1"),
        "error",
        "on: M, meant: overhang",
        "with S sticking out ⅞ in at the left, the closed card is 6 × 5½ in and does not fit US A2 envelope",
        "use a larger envelope",
    ),
    "metric strip longer than the envelope": (
        strip(METRIC, "120 x 16"),
        "error",
        "on: M, meant: overhang",
        "with S sticking out 7.5 mm at the left, the closed card is 120 × 148 mm and does not fit ISO C6 envelope",
        "let it reach 3.5 mm at most, at both ends",
    ),
    "strip as long as the envelope, on an upright card": (
        strip(BATCH, "6 x 1").replace("on: M, meant", "on: M, left: 0, meant"),
        "error",
        "on: M, left: 0, meant: overhang",
        "with S sticking out 1⅞ in at the right, the closed card is 6⅛ × 5½ in",
        "let it reach 1⁄16 in at most",
    ),
    "strip that jams": (strip(BATCH, "4-11/32 x 1"), "warning", "on: M, meant: overhang", "has less than a sixteenth", "larger envelope"),
    "metric strip that jams": (
        strip(METRIC, "113 x 16"),
        "warning",
        "on: M, meant: overhang",
        "has less than 1.6 mm of room",
        "larger envelope",
    ),
    "strip past the foot": (strip(TOP, "1 x 6"), "error", "on: M, meant: overhang", "the closed card is 4¼ × 6 in", "envelope"),
    "mat larger than the envelope": (
        changed(
            BATCH,
            ("size: 4 x 5-1/4", "size: 4-1/2 x 5-1/4"),
            ("    - M\n", "    - {piece: M, meant: larger}\n"),
            ("  border: 1/8", "  meant: uneven\n  border: 1/8"),
        ),
        "error",
        "{piece: M, meant: larger}",
        "with M sticking out ⅛ in at the left, the closed card is 4½ × 5½ in",
        "use a larger envelope",
    ),
    "decoration past the edge": (
        changed(
            BATCH, ("guides:\n", "decorations:\n  - {name: a bow, size: 1 x 1, on: base, left: 3-5/8, top: 1, meant: overhang}\nguides:\n")
        ),
        "error",
        "a bow",
        "with a bow sticking out ⅜ in at the right, the closed card is 4⅝ × 5½ in",
        "1⁄16 in at most",
    ),
    "panel inside larger than its panel": (panel(BATCH, "4-3/8 x 5"), "error", "inside:", "larger than the card", "smaller"),
    "panel inside larger than a narrow back": (
        panel(scored(changed(BATCH, ("US A2 envelope", "US A6 envelope")), "4"), "4-1/8 x 5", envelope="US A6 envelope"),
        "error",
        "inside:",
        "is larger than the back panel, 4 × 5½ in",
        "smaller",
    ),
    "panel inside past the edge": (
        panel(BATCH, "4 x 5", ", left: 1/2"),
        "error",
        "inside:",
        "reaches ¼ in past the right edge",
        "move it in",
    ),
    "panel inside into the fold": (panel(BATCH, "4-1/4 x 5"), "warning", "inside:", "reaches right into the fold", "narrower"),
    "panel inside close to the fold": (panel(BATCH, "4 x 5", ", left: 1/32"), "warning", "inside:", "too close to the fold", "narrower"),
    "panel inside into a top fold": (panel(TOP, "4 x 5-1/2"), "warning", "inside:", "reaches right into the fold", "lower"),
}


@pytest.mark.parametrize("name", BROKEN)
def test_what_does_not_go_in_is_caught_where_it_stands(name):
    text, level, line, problem, remedy = BROKEN[name]
    told = own(text)
    hit = [f for f in told if problem in f.problem]
    assert hit, [str(f) for f in told]
    assert {(f.level, f.place.line) for f in hit} == {(level, line_of(text, line))} and remedy in hit[0].remedy, [str(f) for f in told]


SOUND = {
    "side fold": BATCH,
    "top fold": TOP,
    "metric": METRIC,
    "strip that overhangs within its room": strip(BATCH, "4-5/16 x 1"),
    "metric strip within its room": strip(METRIC, "111 x 16"),
    "uneven within its room": scored(changed(BATCH, ("US A2 envelope", "US A6 envelope")), "4"),
    "the envelope the other way round": changed(BATCH, ("US A2 envelope", "5-3/4 x 4-3/8")),
    "and back": changed(BATCH, ("US A2 envelope", "4-3/8 x 5-3/4")),
    "panel inside": panel(BATCH, "4 x 5"),
    "panel inside at one side": panel(BATCH, "2 x 5", ", right: 1/8"),
    "panel larger, and meant": panel(
        changed(BATCH, ("US A2 envelope", "US A7 envelope")), "4-1/2 x 5", ", meant: larger", "US A7 envelope"
    ),
    "no envelope": changed(strip(BATCH, "6 x 1"), ("  envelope: US A2 envelope\n", "")),
}


@pytest.mark.parametrize("name", SOUND)
def test_what_goes_in_is_silent(name):
    assert own(SOUND[name]) == []
