"""Every text of the model either has its citations filled in or refuses them: none can reach a page as brackets."""

import re
from pathlib import Path
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

import pytest
from kitwright.check import errors
from kitwright.errors import UserError
from kitwright.kit import model
from kitwright.kit.model import Anniversaries, Club, KitSpec, PastSpec, PersonSpec, Spec
from kitwright.kit.read import read_club, read_kit
from kitwright.otherwise.checked import check
from kitwright.release.people import read_people
from kitwright.work.cite import OPEN, may_cite, prose
from kitwright.work.working import said, work
from making import BATCH, CLUB, changed, line_of, make_archive, make_kit, make_worked
from pydantic import AfterValidator, BeforeValidator, StringConstraints

LOOKED_UP = {
    *((spec, "on") for spec in (model.Laid, model.Front, model.FaceSpec, model.SentimentSpec, model.Decoration)),
    (model.Piece, "per_card"),
    (model.BandSpec, "design"),
}
"""Bare text that is the name of something; one that nobody knows is an error at its line."""


def specs(top: type[Spec]) -> list[type[Spec]]:
    found, waiting = [], [top]
    while waiting:
        one = waiting.pop()
        if one not in found:
            found.append(one)
            waiting += [
                t
                for hint in get_type_hints(one, include_extras=True).values()
                for t in leaves(hint)
                if isinstance(t, type) and issubclass(t, Spec)
            ]
    return found


def leaves(hint: Any) -> list[Any]:
    """The innermost types; text keeps its marks."""
    if get_origin(hint) is Annotated:
        inner, *marks = get_args(hint)
        return [hint] if inner is str else list(leaves(inner))
    if get_origin(hint) in (Union, UnionType, list, tuple, dict):
        return [leaf for each in get_args(hint) for leaf in leaves(each)]
    return [hint]


def refuses(hint: Any) -> bool:
    """Whether text of this type can't hold the beginning of a citation."""
    if get_origin(hint) is Literal:
        return True
    if get_origin(hint) is not Annotated:
        return False
    for mark in get_args(hint)[1:]:
        if isinstance(mark, StringConstraints) and mark.pattern:
            return not re.search(mark.pattern, "[[cards]]")
        if isinstance(mark, (AfterValidator, BeforeValidator)):
            with pytest.raises(ValueError):
                mark.func("https://cards.example/[[cards]]")
            return True
    return False


@pytest.mark.parametrize("top", [KitSpec, PastSpec, Club, PersonSpec, Anniversaries], ids=lambda m: m.__name__)
def test_every_text_of_the_model_is_filled_in_or_refuses(top):
    loose = []
    for spec in specs(top):
        for name, hint in get_type_hints(spec, include_extras=True).items():
            if name not in spec.model_fields or (spec, name) in LOOKED_UP:
                continue
            texts = [leaf for leaf in leaves(hint) if leaf is str or get_origin(leaf) is Annotated and get_args(leaf)[0] is str]
            loose += [f"{spec.__name__}.{name}" for leaf in texts if not may_cite(leaf) and not refuses(leaf)]
            if top is not KitSpec:
                assert not any(map(may_cite, texts)), f"{spec.__name__}.{name} may cite, and belongs to no kit that is worked out"
    assert not loose


LIVING = """\
steps:
  stamp: Stamp all [[count of cards]] bands.
photos:
  - {file: photos/a.png, alt: "[[cards]] in a row", caption: "From [[sheets of river]]"}
decorations:
  - {name: "a dot for each of [[cards]]", size: 1/4 x 1/4, on: band, left: 1/8}
moments:
  samples: {at: 2030-02-01 10:00, show: "all [[cards]]"}
team:
  - {who: ada-bell, make: "[[cards]] in your colours", by: samples}
samples:
  - by: ada-bell
    photo: a.png
    alt: "Two of [[cards]]"
    changed: "The band is [[band]] tall."
    used: [{kind: ink, words: "enough for [[cards]]"}]
questions:
  - {ask: "Do [[cards]] need [[sheets of cream]]?", answer: "Yes, [[sheets of cream]]."}
video:
  address: https://video.example/x
  chapters: {"How [[cards]] travel": 1:00}
links:
  - {for: "[[count of cards]] envelopes", address: "https://shop.example/x"}
members:
  - {file: extras/a.svg, name: "a file for [[cards]]"}
"""
FULL = (
    changed(
        BATCH,
        ("summary: Nine cards from one sheet.", 'summary: "[[cards]] from [[sheets of river]]."'),
        ("for: mat", 'for: "mat of [[size of M]]"'),
    )
    + LIVING
)
"""A citation in every text that may have one, but what shakes."""
SHAKEN = changed(
    BATCH,
    ("  white:\n", "  clear: {kind: film, name: Clear film, size: Letter}\n  white:\n"),
    ("  M:\n", "  F: {size: 2 x 1-1/4, paper: cream, shape: {window: {border: 1/2}}}\n  M:\n"),
    ("sentiment:\n", '  over:\n    - {piece: F, on: A, shaker: {film: clear, inside: "a sequin for each of [[cards]]"}}\nsentiment:\n'),
)


def test_that_kit_cites_in_every_text_that_may(tmp_path):
    shaken = make_kit(tmp_path / "shaken", SHAKEN)
    assert "a sequin for each of 9 cards" in {text for _, text in prose(work(shaken).kit.spec)}
    paths = [path for kit in (make_full(tmp_path), shaken) for path, text in prose(kit.spec) if OPEN in text]
    cited = {next(step for step in reversed(path) if isinstance(step, str)) for path in paths}
    may = {
        spec.model_fields[name].alias or name
        for spec in specs(KitSpec)
        for name, hint in get_type_hints(spec, include_extras=True).items()
        if name in spec.model_fields and any(map(may_cite, leaves(hint)))
    }
    # A stage of the steps stands for all six, a chapter for its name.
    assert may - {"cut", "score", "build", "mount", "finish"} - {"chapters"} <= cited and "How [[cards]] travel" in cited


def make_full(root: Path, text: str = FULL):
    folder = make_archive(root, text)
    for name in ("photos/a.png", "extras/a.svg"):
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_bytes(b"x")
    person = root / "kits" / "people" / "ada-bell"
    person.mkdir(parents=True)
    (person / "person.yaml").write_text("name: Ada Bell\nconsent: {on: 2030-01-01, to: [name, samples]}\n", encoding="utf-8")
    (person / "a.png").write_bytes(b"x")
    return read_kit(folder, read_club(root / "kits"))


def test_all_of_it_is_filled_in(tmp_path):
    kit = make_full(tmp_path)
    worked = work(kit)
    texts = [text for _, text in prose(worked.kit.spec)]
    assert len(texts) == len(prose(kit.spec)) and not [text for text in texts if "[[" in text or "]]" in text]
    assert worked.kit.spec.summary == "9 cards from 1 sheet."
    assert worked.face.spots[0].name == "a dot for each of 9 cards"
    assert worked.kit.spec.video.chapters == {"How 9 cards travel": 60}
    assert worked.kit.typed == kit.spec and errors(check(worked)) == []


def test_what_is_sent_and_what_machines_read_have_no_brackets(tmp_path):
    import datetime as dt

    from kitwright.archive import ics
    from kitwright.kit.model import Anniversaries
    from kitwright.kit.theme import Theme
    from kitwright.telling import brief

    kit = make_full(tmp_path)
    people = read_people(tmp_path / "kits")
    text = brief.brief(kit, "team", Theme(), people, Anniversaries(), dt.datetime(2030, 1, 1, tzinfo=dt.UTC))
    assert "[[" not in text and "9 cards in your colours" in text and "all 9 cards" in text
    assert "[[" not in ics.calendar_text(kit.club, [said(kit)])


@pytest.mark.parametrize("needle", [line.strip() for line in FULL.splitlines() if OPEN in line])
def test_a_citation_of_nothing_is_told_at_its_line_wherever_it_stands(tmp_path, needle):
    text = FULL.replace(needle, re.sub(r"\[\[[^\]]*\]\]", "[[size of Q]]", needle, count=1))
    kit = make_full(tmp_path, text)
    found = [f for f in check(work(kit)) if f.level == "error"]
    assert [(f.place.file.name, f.place.line) for f in found] == [("kit.yaml", line_of(text, "[[size of Q]]"))] and "size of Q" in found[
        0
    ].problem
    with pytest.raises(UserError):
        said(kit)
    assert not errors(work(kit).troubles), "a slip in words keeps nobody from planning her cuts"


def test_one_that_never_ends_is_told_too(tmp_path):
    text = FULL.replace('summary: "[[cards]] from', 'summary: "[[cards from')
    found = [f for f in check(work(make_full(tmp_path, text))) if f.level == "error"]
    assert [f.place.line for f in found] == [line_of(text, "summary:")] and "does not end" in found[0].problem


@pytest.mark.parametrize(
    "old, new",
    [
        ("title: Nine strips", 'title: "[[cards]]"'),
        ("    name: River", '    name: "River [[cards]]"'),
        ("  text: thank you", '  text: "[[cards]]"'),
        ("cards: 9\n", 'cards: 9\ntags: ["[[cards]]"]\n'),
        ("  - papers: river\n", '  - papers: river\n    name: "[[cards]]"\n'),
        ("  envelope: US A2 envelope", '  envelope: "[[envelope]]"'),
        ("    - band\n", '    - "[[band]]"\n'),
    ],
)
def test_where_none_can_stand_it_is_refused_at_its_line(tmp_path, old, new):
    text = changed(BATCH, (old, new))
    with pytest.raises(UserError) as caught:
        make_kit(tmp_path, text)
    assert caught.value.place.line == line_of(text, new.splitlines()[-1].strip())


@pytest.mark.parametrize(
    "line, new",
    [
        ("about: Kits", "about: '[[cards]]' #"),
        ("terms: For", "terms: '[[cards]]' #"),
        ("tagline: Cards", "tagline: '[[cards]]' #"),
        ("  - Keep", "  - '[[cards]]'\n  - Keep"),
    ],
)
def test_the_club_has_nothing_to_cite(tmp_path, line, new):
    club = changed(CLUB, (line, new))
    with pytest.raises(UserError, match="cited") as caught:
        make_kit(tmp_path, BATCH, club=club)
    assert caught.value.place.file.name == "club.yaml" and caught.value.place.line == line_of(club, "[[cards]]")


def test_the_state_of_a_kit_is_what_was_typed(tmp_path):
    from kitwright.release.state import own_state

    worked = make_worked(tmp_path, changed(BATCH, ("summary: Nine cards from one sheet.", 'summary: "[[cards]]."')))
    assert own_state(worked)["summary"] == "[[cards]]." and worked.kit.spec.summary == "9 cards."
