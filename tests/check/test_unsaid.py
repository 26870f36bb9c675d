"""What was typed and says nothing is told where it stands, in every file that a crafter types."""

import pytest
from click.testing import CliRunner
from kitwright.check.unsaid import typed_in
from kitwright.cli import cli
from making import BATCH, changed, line_of, look_over, make_archive, make_kit


@pytest.mark.parametrize(
    "pair, code, line",
    [
        (("colours: [sky, white]", "colours: []"), "unsaid.nothing-in-it", "colours: []"),
        (("cards: 9", "cards: 9\ntags: [spring, '-']"), "unsaid.no-word", "tags:"),
        (("cards: 9", "cards: 9\ntags: '...'"), "unsaid.no-word", "tags:"),
        (("title: Nine strips", "title: '—'"), "unsaid.no-word", "title:"),
        (("for: mat", "for: '?'"), "unsaid.no-word", "for: '?'"),
        (("cards: 9", "cards: 9\nsteps: {}"), "unsaid.nothing-in-it", "steps:"),
    ],
)
def test_an_empty_list_and_words_without_a_letter_are_told(tmp_path, pair, code, line):
    text = changed(BATCH, pair)
    found = [one for one in look_over(tmp_path, text) if one.level != "hint"]
    assert [(one.code, one.place.line, one.level) for one in found] == [(code, line_of(text, line), "warning")]


def test_what_a_card_says_may_be_a_sign(tmp_path):
    """An ampersand alone stands on many a wedding card (common practice, no source)."""
    assert list(typed_in(make_kit(tmp_path, changed(BATCH, ("text: thank you", "text: '&'"))).document)) == []


def test_consent_to_nothing_is_said_by_an_empty_list(tmp_path):
    make_archive(tmp_path, BATCH)
    person = tmp_path / "kits" / "people" / "ada-bellwether" / "person.yaml"
    person.parent.mkdir(parents=True)
    person.write_text("name: Ada Bellwether\nconsent: {on: 2029-12-01, to: []}\n", "utf-8")
    told = CliRunner().invoke(cli, ["--root", str(tmp_path), "check"])
    assert told.exit_code == 0 and " warning: " not in told.output


def test_club_and_notes_are_looked_at_too(tmp_path):
    make_archive(tmp_path, BATCH, "# Strips\n\n##\n\n- one\n-\n\nTwo\n-\n\n```\n##\n```\n")
    club = tmp_path / "kits" / "club.yaml"
    text = club.read_text("utf-8") + "links: []\n"
    club.write_text(text, "utf-8")
    told = CliRunner().invoke(cli, ["--root", str(tmp_path), "check"])
    lines = [line.split(" warning: ")[0].rsplit("/", 1)[-1] for line in told.output.splitlines() if " warning: " in line]
    assert told.exit_code == 1 and lines == [f"club.yaml:{len(text.splitlines())}:", "notes.md:3:", "notes.md:6:"]
