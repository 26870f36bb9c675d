"""`kitwright propose`: what it prints, what it writes, how it ends; and `new --from`."""

from __future__ import annotations

import json
import signal
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner
from kitwright.cli import cli
from kitwright.cli.stopping import stoppable
from kitwright.errors import Stopped
from kitwright.kit.read import read_club
from kitwright.proposing.asked import read_question
from making import CLUB

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
QUESTION = ("--paper", "1 of 12x12 as Meadow", "--card", "4-1/4 x 5-1/2", "--mat", "1/8", "--cards", "9", "--band", "1-5/8", "--kinds", "2")
FILE = "paper: 1 of 12x12 as Meadow\ncard: 4-1/4 x 5-1/2\nmat: 1/8\ncards: 9\nband: 1-5/8\nkinds: 2\n"


@pytest.fixture(scope="module")
def root(tmp_path_factory) -> Path:
    """One archive for all: what was answered once is kept in it."""
    home = tmp_path_factory.mktemp("archive")
    (home / "kits").mkdir()
    (home / "kits" / "club.yaml").write_text(CLUB)
    return home


def run(root: Path, *words: str, ok: int = 0, command: str = "propose"):
    result = CliRunner().invoke(cli, ["--root", str(root), command, *words])
    assert result.exception is None or isinstance(result.exception, SystemExit), repr(result.exception)
    assert result.exit_code == ok, result.output
    return result


def layouts(root: Path) -> list[dict]:
    return json.loads(run(root, *QUESTION, "--json").stdout)["layouts"]


def test_a_dozen_as_plain_data(root):
    found = layouts(root)
    assert [one["number"] for one in found] == list(range(1, len(found) + 1)) and 3 <= len(found) <= 12
    assert all(Fraction(one["waste"]) <= Fraction(15, 100) and len(one["sizes"]) <= 2 for one in found)
    # Nothing is drawn beside it.
    assert not (root / "proposals").exists()


def test_a_dozen_in_words_and_pictures_and_the_command_that_takes_one(root, tmp_path):
    result = run(root, *QUESTION, "--waste", "8%", "--out", str(tmp_path / "seen"))
    told = " ".join(result.stdout.split())
    assert "From 1 sheet of Meadow (12 × 12 in): 9 cards" in told and "Nothing is missing here: all" in told and "left over" in told
    line = next(line for line in result.stdout.splitlines() if line.startswith("Take one:"))
    assert line.endswith("--waste 8% --pick 1 --into kits/YYYY-MM-short-name") and "--out" not in line
    assert (tmp_path / "seen" / "index.html").is_file()


def test_a_picked_one_becomes_a_sound_kit_of_the_very_sizes(root, tmp_path):
    (tmp_path / "question.yaml").write_text(FILE)
    run(root, "--question", str(tmp_path / "question.yaml"), "--pick", "3", "--into", "kits/2028-05-meadow-strips")
    kit = yaml.safe_load((root / "kits" / "2028-05-meadow-strips" / "kit.yaml").read_text())
    assert kit["cards"] == 9 and {"A", "B"} >= set(kit["pieces"]) - {"M", "S"}
    checked = run(root, "2028-05-meadow-strips", command="check")
    assert "nothing to mend" in checked.output


def test_a_new_kit_from_a_question_is_the_first_layout(root, tmp_path):
    (tmp_path / "question.yaml").write_text(FILE)
    run(root, "2028-06-first", "--from", str(tmp_path / "question.yaml"), "--title", "First of all", command="new")
    assert "title: First of all\n" in (root / "kits" / "2028-06-first" / "kit.yaml").read_text()


@pytest.mark.parametrize(
    "words, say",
    [
        ((), "no paper is named"),
        (("--paper", "3 of 8x8", "--pick", "3"), "nothing says into which kit"),
        (("--paper", "3 of 8x8", "--into", "kits/2028-05-x"), "nothing says which layout"),
        ((*QUESTION, "--pick", "99", "--into", "2028-05-x"), "there is no layout 99"),
        ((*QUESTION, "--pick", "1", "--into", "elsewhere/2028-05-x"), "no folder among the kits"),
        ((*QUESTION, "--pick", "1", "--into", "strips"), "strips"),
        (("--paper", "3 of 8x8", "--improve", "strips"), "a kit that is there"),
        (("--improve", "strips", "--pick", "1"), "--into"),
        (("--same-pieces", "strips", "--pick", "1"), "--into"),
        (("--paper", "6x6", "--card", "5x7"), "larger than every sheet"),
    ],
)
def test_bad_input_is_one_clear_error_and_writes_nothing(root, words, say):
    before = sorted(root.rglob("*/kit.yaml"))
    result = run(root, *words, ok=2)
    assert say in result.stderr and "Traceback" not in result.output
    assert sorted(root.rglob("*/kit.yaml")) == before and not (root / "proposals").exists()


def test_an_empty_answer_has_its_reason(root):
    result = run(root, "--paper", "1 of 6x6", "--card", "3x4", "--cards", "3", "--grid", "1/4", ok=1)
    first, *ways = result.stdout.splitlines()
    assert first.startswith("No layout comes out") and "ask for  --waste" in ways[0]


def test_the_way_out_that_is_told_is_one(root):
    told = run(root, "--paper", "1 of 6x6", "--card", "3x4", "--cards", "3", "--grid", "1/4", ok=1).stdout.splitlines()[1]
    waste = told.rpartition(" ")[2]
    run(root, "--paper", "1 of 6x6", "--card", "3x4", "--cards", "3", "--grid", "1/4", "--waste", waste, "--json")


def test_the_file_that_the_readme_shows_is_a_question(root, tmp_path):
    text = README.partition("## From paper to kit")[2].partition("```yaml\n")[2].partition("```")[0]
    (tmp_path / "question.yaml").write_text(text)
    wish = read_question({}, read_club(root / "kits"), tmp_path / "question.yaml")
    assert wish.designs == 2 and len(wish.stocks) == 2 and wish.made and wish.sharing == "share"


@pytest.fixture
def heeded() -> Iterator[None]:
    """Ctrl+C as a terminal has it: whoever starts the tests in the background has it passed over."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.usefixtures("heeded")
def test_the_first_signal_ends_the_search_and_the_second_the_command():
    with stoppable() as stop:
        assert not stop.asked()
        signal.raise_signal(signal.SIGINT)
        assert stop.asked() and stop.number == signal.SIGINT
        with pytest.raises(Stopped):
            signal.raise_signal(signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) != stop.heard


@pytest.mark.usefixtures("heeded")
def test_what_was_found_until_it_was_stopped_is_told(root, monkeypatch):
    def stopped(wish, told, stop):
        signal.raise_signal(signal.SIGINT)
        assert stop()
        answer = propose(wish, None, told, None)
        return type(answer)(answer.wish, answer.proposals, answer.scopes, answer.counted, stopped=True)

    from kitwright.proposing import answered
    from kitwright.proposing.search import propose

    monkeypatch.setattr(answered, "answered", stopped)
    words = ("--paper", "1 of 6x6", "--card", "3x4", "--cards", "3", "--grid", "1/4", "--waste", "25%")
    result = run(root, *words, "--json", ok=130)
    data = json.loads(result.stdout)
    assert data["stopped"] and data["layouts"]
