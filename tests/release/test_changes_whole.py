"""Any set of changed paths is told whole: each by a change of its own, through what it does, or among what changed besides."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path
from typing import get_args

from hypothesis import given
from hypothesis import strategies as st
from kitwright.kit.model import LIVING, KitSpec, Spec
from kitwright.kit.model.club import Trimmer
from kitwright.release.both import Copy
from kitwright.release.changes import changes
from kitwright.release.history import copy_now
from kitwright.release.numbers import numbers_of
from kitwright.release.paths import GRADES, TABLE, grade_of, rule_of
from kitwright.release.state import state_of
from kitwright.telling import changes as changes_told
from kitwright.telling.changes import besides, words
from kitwright.units import Length, Size
from making import CLUB, TWO_PAPERS, changed, make_worked

BASE = changed(
    TWO_PAPERS,
    ("  fold: side\n", "  fold: side\n  foam: 1 mm\n  envelope weight: 100 gsm\n"),
    ("    - M\n", "    - {piece: M, raised: yes}\n"),
    (
        "sentiment:\n",
        "decorations:\n  - {name: a dot, size: 1/4 x 1/4, on: band, left: 1/8, thickness: 1/16}\nsteps:\n  score: Score once.\nsentiment:\n",
    ),
    ("    name: White cardstock\n", "    name: White cardstock\n    weight: 80 lb cover\n    thickness: 0.3 mm\n    grain: long\n"),
)
EDITS: dict[str, tuple[tuple[str, str], str]] = {
    "title": (("title: Nine strips", "title: Nine fine strips"), "the kit is called “Nine fine strips”, not “Nine strips”"),
    "summary": (("summary: Nine cards", "summary: Some cards"), "the summary was reworded"),
    "cards": (("cards: 18\n", "cards: 36\n"), "the batch is 36 cards, not 18"),
    "tags": (("sentiment:\n", "tags: [a, b]\nsentiment:\n"), "the tags were reworded"),
    "paper name": (("    name: River\n", "    name: Stream\n"), "the paper River is called Stream"),
    "sheet": (
        ("    name: Meadow\n    size: 12 x 12\n", "    name: Meadow\n    size: 12 x 12-1/2\n"),
        "a sheet of Meadow is 12 × 12½ in, not 12 × 12 in",
    ),
    "colours": (("colours: [sage, white]", "colours: [white, sage]"), "Meadow is drawn with another look"),
    "up": (("look: stripes, colours: [sky, white]", "look: stripes, colours: [sky, white], up: top"), "is one-way: mind its up"),
    "weight": (("weight: 80 lb cover", "weight: 100 lb cover"), "White cardstock is 100 lb cover, not 80 lb cover"),
    "thickness": (("thickness: 0.3 mm", "thickness: 0.4 mm"), "a sheet of White cardstock is 0.0157 in thick, not 0.0118 in"),
    "grain": (("grain: long", "grain: short"), "the grain of White cardstock runs along its short side"),
    "sheets": (("    name: Cream cardstock\n", "    name: Cream cardstock\n    sheets: 9\n"), "of Cream cardstock, 9 sheets are at hand"),
    "base": (("8-1/2 x 5-1/2", "8-1/2 x 5-3/8"), "the base is 8½ × 5⅜ in, not 8½ × 5½ in"),
    "use": (("    for: mat\n", "    for: dark mat\n"), "M is called “dark mat”, not “mat”"),
    "outline": (("    size: 4 x 5-1/4\n", "    size: 4 x 5-1/4\n    shape: {rounded: 1/4}\n"), "M has another outline"),
    "notch": (("    for: low strip\n", "    for: low strip\n    notch: {ends: left}\n"), "B has another outline"),
    "turn": (("    for: tall strip\n", "    for: tall strip\n    may turn: no\n"), "A must stay upright on the sheet"),
    "envelope": (("US A2 envelope", "US A6 envelope"), "the envelope is US A6 envelope, not US A2 envelope"),
    "envelope weight": (("envelope weight: 100 gsm", "envelope weight: 120 gsm"), "the envelope’s paper is 120 g/m², not 100 g/m²"),
    "foam": (("foam: 1 mm", "foam: 3 mm"), "the foam is 0.118 in (3 mm) thick, not 0.0394 in (1 mm)"),
    "score": (("  fold: side\n", "  fold: side\n  score: 4-1/8\n"), "the base is scored at 4⅛ in, not 4¼ in"),
    "gap": (("  gap: 1/8\n", "  gap: 3/16\n"), "on the card, B lies"),
    "greeting": (("text: thank you", "text: thanks"), "the sentiment reads “thanks”, not “thank you”"),
    "greeting's size": (("  size: 2-1/2 x 3/4", "  size: 2-1/2 x 1/2"), "the sentiment has another place or size"),
    "dot": (("thickness: 1/16", "thickness: 1/8"), "“a dot” stands up ⅛ in, not 1⁄16 in"),
    "dot's place": (("on: band, left: 1/8", "on: band, left: 1/4"), "the decoration has another place"),
    "step": (("score: Score once.", "score: Score twice."), "the step “Score and fold the bases” was reworded"),
    "arrangements": (("sentiment:\n", "arrangements: {mirror: yes}\nsentiment:\n"), "“arrangements” of the kit says something else"),
    "also from": (("guides:\n", "also from: A4\nguides:\n"), "it may also be cut from A4, with guides for that"),
    "cuts": (("6 strips of 7/8 off the top: B", "6 strips of 7/8 off the bottom: B"), "Meadow"),
}
"""Changes of the spec that don't touch one another, and what each is told as, whatever else changed."""

WORDS = {"title", "summary", "tags", "paper name", "colours", "use", "greeting", "arrangements"}


@cache
def copy(edits: frozenset[str], notes: str = "One.", club: str = CLUB) -> Copy:
    text = BASE
    for name in EDITS:
        if name in edits:
            (old, new), _ = EDITS[name]
            assert old in text
            text = text.replace(old, new, 1)
    return copy_now(make_worked(Path(tempfile.mkdtemp()), text, notes, club=club))


SOME = st.frozensets(st.sampled_from(sorted(EDITS)), max_size=5)
NOTES = st.sampled_from(["One.", "Two."])
CLUBS = st.sampled_from([CLUB, CLUB.replace("For the tests alone.", "For everybody."), CLUB.replace("least hold: 1", "least hold: 3/4")])


@given(SOME, SOME, NOTES, CLUBS)
def test_every_path_that_differs_is_told_or_listed_besides(some, others, notes, club):
    old, new = copy(some), copy(others, notes, club)
    found = changes(old, new)
    differing = {p for p in {*old.values, *new.values} if old.values.get(p) != new.values.get(p)}
    assert differing <= found.paths, differing - found.paths
    assert bool(differing) == (state_of(old.worked) != state_of(new.worked)) == bool(found)
    assert all(words(change) for change in found) and bool(besides(found.besides)) == bool(found.besides)
    # Whatever hands or the post meet is never cosmetic, and words alone always are.
    assert numbers_of(old.worked) == numbers_of(new.worked) or found.grade != "cosmetic"
    assert old.worked.enclosed == new.worked.enclosed or found.grade != "cosmetic"
    assert not (some ^ others) <= WORDS or found.grade == "cosmetic"
    # What is stated is never told as less grave than its path is.
    for path in differing:
        if not rule_of(path).follows and not rule_of(path).through:
            grade = grade_of(path, old.values.get(path), new.values.get(path))
            assert GRADES.index(found.grade) >= GRADES.index(grade), path


@given(st.frozensets(st.sampled_from(sorted(EDITS)), min_size=2, max_size=6))
def test_none_hides_another(edits):
    said = "\n".join(words(change) for change in changes(copy(frozenset()), copy(edits)).told)
    for name in edits:
        assert EDITS[name][1] in said, (name, said)


def test_every_kind_has_its_words():
    told = Path(changes_told.__file__).read_text(encoding="utf-8")
    assert all(f"def {rule.kind.replace('-', '_')}(" in told for rule in TABLE)


def test_numbers_published_otherwise_are_told_though_the_spec_is_the_same():
    """As an earlier kitwright may have worked them out: whatever it is, it is found by its path."""
    new = copy(frozenset())
    for path, other, grade in (
        ("envelope.room", Size(Length(9), Length(9)), "write in"),
        ("layouts[0].cuts", (), "write in"),
        ("layouts[0].pieces", (), "recut"),
        ("counts.A.river", 3, "recut"),
        ("base.finished", Size(Length(9), Length(9)), "recut"),
        ("fronts[0].pieces", (), "write in"),
    ):
        found = changes(Copy(new.worked, {**new.values, path: other}), new)
        assert [(c.path, c.grade) for c in found.told] == [(path, grade)] and words(found.told[0]) and not found.besides


def test_the_same_is_nothing():
    assert not changes(copy(frozenset()), copy(frozenset()))


def _keys(model: type[Spec], path: str):
    """Every path that a spec of this class may have."""
    for name, field in model.model_fields.items():
        if model is KitSpec and name in LIVING:
            continue
        yield from _below(field.annotation, f"{path}.{name}" if path else name)


def _below(kind, path: str):
    inner = [each for each in get_args(kind) if each is not type(None)]
    if isinstance(kind, type) and issubclass(kind, Spec):
        yield from _keys(kind, path) if path.count("inside") + path.count("pinwheel") < 2 else [path]
    elif any(_specs(each) for each in inner):
        name = f"{path}.X" if getattr(kind, "__origin__", None) is dict else path
        for each in inner:
            if _specs(each):
                yield from _below(each, name)
    else:
        yield f"{path}.X" if getattr(kind, "__origin__", None) is dict else path


def _specs(kind) -> bool:
    return (isinstance(kind, type) and issubclass(kind, Spec)) or any(map(_specs, get_args(kind)))


def test_every_key_of_the_spec_has_its_line_in_the_table():
    """A new key is thought of, and not merely caught by the last line."""
    paths = [*_keys(KitSpec, ""), *_keys(Trimmer, "club.trimmer"), "club.terms", "club.cautions"]
    assert len(paths) > 90 and any(p.startswith("front.rows.inside") for p in paths) and "guides.cuts" in paths
    assert {p for p in paths if rule_of(p).pattern == "**"} == set()
