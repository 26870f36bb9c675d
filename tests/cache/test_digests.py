"""One digest over values: of equal ones the same in every process, of others another."""

import datetime as dt
import enum
import hashlib
import os
import subprocess
import sys
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path, PurePosixPath
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cache import digests
from kitwright.cache.digests import code, digest
from kitwright.errors import Place
from kitwright.findings import Finding
from kitwright.kit.model import Club


@dataclass(frozen=True)
class Card:
    width: Fraction
    labels: tuple[str, ...] = ()


@dataclass(frozen=True)
class Sheet:
    width: Fraction
    labels: tuple[str, ...] = ()


class Side(enum.Enum):
    FRONT = "front"
    BACK = "back"


PLAIN = st.one_of(
    st.none(), st.booleans(), st.integers(-3, 3), st.text("ab1", max_size=2), st.binary(max_size=2), st.fractions(-2, 2, max_denominator=3)
)
VALUES = st.recursive(
    PLAIN,
    lambda inner: st.lists(inner, max_size=3) | st.lists(inner, max_size=3).map(tuple) | st.dictionaries(st.text("ab", max_size=1), inner),
)


def shape(value):
    """A value with its types, so that 1, True and 1/1 are three."""
    if isinstance(value, (list, tuple)):
        return type(value).__name__, tuple(map(shape, value))
    if isinstance(value, dict):
        return "dict", tuple((name, shape(each)) for name, each in value.items())
    return type(value).__name__, value


@given(VALUES, VALUES)
def test_equal_values_have_one_digest_and_others_another(one, other):
    assert (digest(one) == digest(other)) == (shape(one) == shape(other))


@given(st.lists(st.text("ab", max_size=2), max_size=4), st.lists(st.text("ab", max_size=2), max_size=4))
def test_no_two_rows_of_texts_run_together(one, other):
    assert (digest(*one) == digest(*other)) == (one == other)


@pytest.mark.parametrize(
    "one, other",
    [
        (Card(Fraction(1)), Sheet(Fraction(1))),
        (Card(Fraction(1)), Card(Fraction(2))),
        (Card(Fraction(1)), Card(Fraction(1), ("A",))),
        (Side.FRONT, Side.BACK),
        (Side.FRONT, "front"),
        (Path("a/b"), "a/b"),
        (dt.datetime(2027, 4, 1), dt.datetime(2027, 4, 1, tzinfo=dt.UTC)),
        (dt.datetime(2027, 4, 1, tzinfo=ZoneInfo("Europe/Zurich")), dt.datetime(2027, 4, 1, tzinfo=ZoneInfo("Europe/Paris"))),
        (dt.date(2027, 4, 1), dt.datetime(2027, 4, 1)),
        ({"a": 1, "b": 2}, {"b": 2, "a": 1}),
        (frozenset("ab"), frozenset("a")),
        (Card, Sheet),
    ],
)
def test_what_differs_has_another_digest(one, other):
    assert digest(one) != digest(other)


def test_sets_have_no_order_and_paths_no_system():
    assert digest({"b", "a", "c"}) == digest(frozenset(["c", "b", "a"]))
    assert digest(Path("a/b")) == digest(PurePosixPath("a/b"))


def test_models_count_by_their_fields():
    club = {"name": "Paper Tide", "region": "us", "trimmer": {"name": "12 in trimmer", "longest": "12 in", "least": "1 in"}}
    fields = Club.model_construct(**club)
    assert digest(fields) == digest(Club.model_construct(**club))
    assert digest(fields) != digest(Club.model_construct(**club | {"name": "Paper Tides"}))
    assert digest(fields) != digest(club)


def test_what_nothing_is_known_of_has_none():
    with pytest.raises(TypeError):
        digest(object())
    with pytest.raises(TypeError):
        digest((1, [iter("ab")]))


class Moment(dt.datetime):
    """As whoever notes comparisons makes one."""


def test_a_moment_of_another_class_counts_as_what_it_is():
    assert digest(Moment(2027, 4, 1, tzinfo=dt.UTC)) == digest(dt.datetime(2027, 4, 1, tzinfo=dt.UTC))


def test_a_digest_is_the_same_in_every_process():
    asked = "from kitwright.cache import digest; print(digest({'a', 'b', 'c'}, {'x': (1, None)}, frozenset('pqr')))"
    told = {
        subprocess.run(
            [sys.executable, "-c", asked], env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, text=True, check=True
        ).stdout
        for seed in ("1", "2")
    }
    assert told == {digest({"a", "b", "c"}, {"x": (1, None)}, frozenset("pqr")) + "\n"}


def test_it_is_sha_256():
    """FIPS 180-4, through Python's own library: over the letter of the type, the length, and the text."""
    assert digest("abc") == hashlib.sha256(b"s3:abc").hexdigest()
    assert digest() == hashlib.sha256(b"").hexdigest() == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"


def test_the_code_is_all_of_the_package_and_every_library(tmp_path, monkeypatch):
    (tmp_path / "kit").mkdir()
    (tmp_path / "kit" / "read.py").write_text("one = 1\n")
    (tmp_path / "words.txt").write_text("words\n")
    (tmp_path / "leaf-2.0.dist-info").mkdir()
    monkeypatch.setattr(digests, "_PACKAGE", tmp_path)
    monkeypatch.setattr(sys, "path", [str(tmp_path)])
    seen = [code.__wrapped__()]
    (tmp_path / "kit" / "read.py").write_text("one = 2\n")
    seen.append(code.__wrapped__())
    (tmp_path / "words.txt").write_text("word\n")
    seen.append(code.__wrapped__())
    (tmp_path / "leaf-2.0.dist-info").rename(tmp_path / "leaf-2.1.dist-info")
    seen.append(code.__wrapped__())
    (tmp_path / "kit" / "read.cpython-311.pyc").write_text("made by Python\n")
    assert len(set(seen)) == 4 and code.__wrapped__() == seen[-1]


def test_a_changed_card_is_another(tmp_path):
    assert len({digest(replace(Card(Fraction(n, 8)), labels=labels)) for n in range(9) for labels in ((), ("A",), ("A", "B"))}) == 27


def test_what_stood_in_the_way_of_a_kit_counts():
    """A kit whose working out has something to warn of can be drawn: what is found has a digest, by all that tells it."""
    found = Finding("warning", Place("kit.yaml", 3), "guide.left-to-auto", labels=("base",), name="White", paper="white")
    assert digest(found) == digest(
        Finding("warning", Place("kit.yaml", 3), "guide.left-to-auto", paper="white", name="White", labels=("base",))
    )
    others = [("hint", 3, "White"), ("warning", 4, "White"), ("warning", 3, "Cream")]
    told = {
        digest(Finding(level, Place("kit.yaml", line), "guide.left-to-auto", labels=("base",), name=name, paper="white"))
        for level, line, name in others
    }
    assert len(told | {digest(found)}) == 4
