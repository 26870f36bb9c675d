"""The command: what it prints, its exit status, and that bad input writes nothing."""

import datetime as dt
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from examples import tried
from hypothesis import example, given
from hypothesis import strategies as st
from kitwright.archive.build import MARKER
from kitwright.check import typed
from kitwright.cli import cli
from kitwright.errors import Place
from kitwright.kit.project import find_root, kit_folder
from kitwright.kit.read import check_id, near_id
from making import BATCH, CLUB, ID, changed, line_of, make_archive
from pdfs import pdf


def run(root: Path, *words: str, ok: tuple[int, ...] = (0, 1, 2)):
    """The command in this folder: nothing but a status in `ok` may come of it."""
    result = CliRunner().invoke(cli, ["--root", str(root), *words])
    assert result.exception is None or isinstance(result.exception, SystemExit), repr(result.exception)
    assert result.exit_code in ok and "Traceback" not in result.output
    return result


@pytest.fixture
def root(tmp_path):
    make_archive(tmp_path, BATCH, "Cut [[count of A]].\n")
    return tmp_path


def kit_file(root: Path) -> Path:
    return root / "kits" / ID / "kit.yaml"


def picture(root: Path) -> dict[str, bytes | None]:
    """Everything under a folder, byte for byte."""
    return {str(p.relative_to(root)): p.read_bytes() if p.is_file() else None for p in sorted(root.rglob("*"))}


def make_site(root: Path) -> None:
    """Yesterday's site."""
    (root / "site").mkdir()
    (root / "site" / MARKER).write_text("x")
    (root / "site" / "index.html").write_text("yesterday")


# --- good ----------------------------------------------------------------------------------------


def test_check_is_silent_on_a_good_kit(root):
    for words in ((), (ID,), (str(root / "kits" / ID),), (str(kit_file(root)),)):
        result = run(root, "check", *words, ok=(0,))
        assert ID in result.output and "nothing to mend" in result.output


def test_check_prints_findings_and_returns_1(root):
    text = changed(BATCH, ("    per card: 2\n", "    per card: 3\n"))
    kit_file(root).write_text(text)
    result = run(root, "check", ok=(1,))
    assert f"kit.yaml:{line_of(text, 'per card: 3')}: error:" in result.output and "27 asked for, but 18 lie" in result.output


def test_a_line_number_is_printed_as_it_is(root):
    """`:100:` is the short name of a pictograph, and no terminal may make one of it."""
    text = changed(BATCH, ("    per card: 2\n", "    per card: 3\n"))
    text = "#\n" * (100 - line_of(text, "per card: 3")) + text
    kit_file(root).write_text(text)
    assert "kit.yaml:100: error: " in run(root, "check", ok=(1,)).output


def test_hints_alone_are_no_findings_and_can_be_left_out(root):
    text = changed(
        BATCH,
        ("  M:\n", "  C:\n    size: 3-3/4 x 1-1/4\n    paper: river\n  M:\n"),
        ("    - A\n    - B\n    - band\n", "    - C\n    - band\n"),
        ("    per card: 1\n", "    per card: 1\n"),
    )
    text = changed(
        text,
        (
            "  A:\n    size: 3-3/4 x 1-1/4\n    for: tall strip\n    paper: river\n    per card: 1\n",
            "  A:\n    size: 3-3/4 x 1-1/4\n    for: x\n    paper: river\n",
        ),
        ("    per card: 2\n", ""),
        ("    - B\n", "    - A\n"),
    )
    start = text.index("  B:\n")
    text = text[:start] + text[text.index("  C:\n") :]
    text = text.replace("          - 6 strips of 7/8 off the top: B\n", "          - 3 strips of 1-1/4 off the top: C\n")
    kit_file(root).write_text(text)
    result = run(root, "check", ok=(0,))
    assert "hint" in result.output and "same size" in result.output
    assert "same size" not in run(root, "check", "--quiet", ok=(0,)).output


def test_show_prints_the_computed_facts(root):
    result = run(root, "show", ID, ok=(0,))
    for words in (
        "Nine strips",
        "4¼ × 5½ in",
        "1⅝",
        "2½ sheets",
        "4½ sheets",
        "9 A, 18 B",
        "US A2 envelope",
        "border ⅛ in + A 1¼ in + gap ⅛ in + B ⅞ in + gap ⅛ in + band 1⅝ in",
    ):
        assert words in result.output, words


def test_show_prints_what_is_known_and_returns_1_when_a_kit_has_errors(root):
    kit_file(root).write_text(changed(BATCH, ("    per card: 2\n", "    per card: 3\n")))
    result = run(root, "show", ID, ok=(1,))
    assert "Nine strips" in result.output and "27 asked for" in result.output


def test_output_to_a_pipe_has_no_colour(root):
    assert "\x1b" not in run(root, "show", ID).output + run(root, "check").output


def test_colours_are_the_terminals_and_what_a_stranger_wrote_moves_no_cursor(root, monkeypatch):
    kit_file(root).write_text(changed(BATCH, ("    per card: 2\n", "    per card: 3\n")))
    command = ["--root", str(root), "check"]
    assert "\x1b[31m\x1b[1merror\x1b[0m" in CliRunner().invoke(cli, command, color=True).output
    told = CliRunner().invoke(cli, [*command, "x\x1b[2J\x07y"], color=True).output
    assert "there is no kit x[2Jy" in told and "\x07" not in told
    # The NO_COLOR convention, from memory: any value but an empty one.
    monkeypatch.setenv("NO_COLOR", "1")
    assert "\x1b" not in CliRunner().invoke(cli, command, color=True).output


def test_a_past_kit_is_listed_as_an_old_printable(root):
    folder = make_archive(root / "more", "past: yes\ntitle: Old [one]\nprintable: old.pdf\nfacts: {papers: any}\n", name="2029-01-old")
    (folder / "old.pdf").write_bytes(pdf("Old one"))
    folder.rename(root / "kits" / "2029-01-old")
    assert "1 old printable: nothing to mend" in run(root, "check", ok=(0,)).output
    assert "2029-01-old: an old printable; nothing to mend" in run(root, "check", "2029-01-old", ok=(0,)).output
    shown = run(root, "show", "2029-01-old", ok=(0,)).output
    assert "Old [one]" in shown and "An old printable" in shown and "1 page, Letter" in shown and "papers: any" in shown


def test_help_teaches_by_example():
    for words in ((), ("check",), ("show",), ("new",), ("build",), ("preview",)):
        result = CliRunner().invoke(cli, [*words, "--help"])
        assert result.exit_code == 0 and "kitwright " in result.output
        assert any(line.strip().startswith("kitwright ") for line in result.output.splitlines()), f"no example in {words}"


def test_an_unknown_command_or_option_is_told_with_status_2(root):
    for words in (("chekc",), ("check", "--loud"), ("show",), ("show", ID, ID), ("preview", "--port", "0")):
        assert run(root, *words, ok=(2,)).output


# --- new -----------------------------------------------------------------------------------------------


def test_new_writes_a_starter_that_passes_check(root):
    run(root, "new", "2031-02-first-kit", ok=(0,))
    folder = root / "kits" / "2031-02-first-kit"
    assert sorted(p.name for p in folder.iterdir()) == ["kit.yaml", "notes.md"]
    assert "nothing to mend" in run(root, "check", "2031-02-first-kit", ok=(0,)).output
    assert sum(line.count("#") > 0 for line in (folder / "kit.yaml").read_text().splitlines()) > 8, "it is commented"
    assert not [p for p in (root / "kits").iterdir() if p.name.startswith(".")]


def test_new_in_an_archive_that_is_only_begun(tmp_path):
    (tmp_path / "kits").mkdir()
    (tmp_path / "kits" / "club.yaml").write_text(CLUB)
    run(tmp_path, "new", "2031-02-first-kit", ok=(0,))
    run(tmp_path, "check", ok=(0,))


def test_new_never_overwrites(root):
    before = picture(root)
    result = run(root, "new", ID, ok=(2,))
    assert "already" in result.output and picture(root) == before


@pytest.mark.parametrize(
    "name",
    [
        "first",
        "2031-02",
        "2031-02-",
        "2031-13-x",
        "../2031-02-x",
        "2031-02-a/b",
        "2031-02-X",
        "",
        "2031-02-" + "x" * 300,
        "2031-02-\n",
        ".",
    ],
)
def test_new_refuses_a_name_that_is_no_id_and_writes_nothing(root, name):
    before = picture(root)
    result = run(root, "new", name, ok=(2,))
    like = result.output.split("name the folder like ")[1].split(":")[0]
    check_id(like, Place())
    assert like in (near_id(name), "2027-03-river-stones") and picture(root) == before


@tried(60)
@example("0X0")
@example("3 x 4")
@given(
    st.one_of(
        st.text(max_size=130),
        st.sampled_from(
            [
                "null",
                "Null",
                "~",
                "yes",
                "a: b",
                "# x",
                '"',
                "\\",
                "'",
                "- a",
                "{x}",
                "[x]",
                "%",
                "&a",
                "*a",
                "!x",
                "\t",
                "é 🂡",
                "a\nb",
                "\x07",
            ]
        ),
    )
)
def test_any_title_gives_a_kit_that_passes_check_or_is_refused(tmp_path_factory, title):
    root = tmp_path_factory.mktemp("new")
    (root / "kits").mkdir()
    (root / "kits" / "club.yaml").write_text(CLUB)
    result = run(root, "new", "2031-02-x", "--title", title, ok=(0, 2))
    if result.exit_code == 0:
        # A title may well say a size, and is then held to it like any other words of the author's.
        says_a_size = any(typed.sizes(title, "in"))
        shown = run(root, "check", ok=(0, 1) if says_a_size else (0,)).output
        assert "nothing to mend" in shown or says_a_size and "is said here" in shown
        run(root, "show", "2031-02-x", ok=(0,))
    else:
        assert sorted(p.name for p in (root / "kits").iterdir()) == ["club.yaml"]


# --- bad input --------------------------------------------------------------------------------------------

HOSTILE = {
    "not YAML": ("title: [", 1),
    "empty": ("", 1),
    "only a comment": ("# nothing\n", 1),
    "a list": ("- a\n- b\n", 1),
    "a tab": ("title: x\n\tcards: 9\n", 2),
    "an unknown key": (changed(BATCH, ("  border: 1/8\n", "  bordr: 1/8\n")), None),
    "a key twice": (changed(BATCH, ("cards: 9\n", "cards: 9\ncards: 8\n")), None),
    "a negative size": (changed(BATCH, ("size: 3-3/4 x 1-1/4", "size: 3-3/4 x -1-1/4")), None),
    "zero cards": (changed(BATCH, ("cards: 9\n", "cards: 0\n")), None),
    "1/0": (changed(BATCH, ("size: 3-3/4 x 1-1/4", "size: 1/0 x 1-1/4")), None),
    "200 digits": (changed(BATCH, ("cards: 9\n", f"cards: {'7' * 200}\n")), None),
    "200 digits of a size": (changed(BATCH, ("size: 3-3/4 x 1-1/4", f"size: {'7' * 200} x 1")), None),
    "A2": (changed(BATCH, ("US A2 envelope", "A2")), None),
    "binary": (b"\x00\xff\xfe\x89PNG" * 40, 1),
    "not UTF-8": ("title: caf\u00e9\n".encode("latin-1"), 1),
    "huge": (b"a: " + b"x" * 3_000_000, 0),
    "deep": ("a: " + "[" * 60, 1),
    "an alias": ("a: &a [x]\nb: *a\n", None),
    "a file that is a folder": (None, 0),
    "wrong types": ("title: {}\nsummary: []\ncards: {}\n", None),
    "an unknown piece": (changed(BATCH, ("    - A\n", "    - Q\n")), None),
    "a path outside": (BATCH + "photos:\n  - file: ../../../etc/passwd\n", None),
    "a NUL in a path": (BATCH + 'photos:\n  - file: "a\\0b"\n', None),
    "markup": (changed(BATCH, ("  border: 1/8", "  border: '[bold]a[/]'")), None),
}


def make_hostile(root: Path, name: str) -> None:
    content, _ = HOSTILE[name]
    folder = make_archive(root, BATCH)
    file = folder / "kit.yaml"
    if content is None:
        file.unlink()
        file.mkdir()
    else:
        file.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
    make_site(root)


@pytest.mark.parametrize("command", ["check", "show", "build"])
@pytest.mark.parametrize("name", HOSTILE)
def test_bad_input_is_one_clear_error_and_writes_nothing(tmp_path, name, command):
    make_hostile(tmp_path, name)
    before = picture(tmp_path)
    result = run(tmp_path, command, *([ID] if command == "show" else []), ok=(2,))
    assert picture(tmp_path) == before, "the old site and everything else is untouched"
    line = HOSTILE[name][1]
    assert "kit.yaml" in result.output and len(result.output) < 1200
    if line != 0:
        assert f"kit.yaml:{line}:" in result.output if line else "kit.yaml:" in result.output, result.output
    assert len(result.output.strip().splitlines()) >= 2, "what would be right stands on a line of its own"


def test_markup_in_a_spec_is_printed_as_it_is(tmp_path):
    make_hostile(tmp_path, "markup")
    assert "[bold]a[/]" in run(tmp_path, "check", ok=(2,)).output


@pytest.mark.parametrize("command", [("check",), ("build",), ("show", ID)])
@pytest.mark.parametrize(
    "how", ["no club", "club is a folder", "club is not YAML", "no kits", "no kits folder", "kits is a file", "two with one id", "a bad id"]
)
def test_a_broken_archive_is_one_clear_error(tmp_path, how, command):
    folder = make_archive(tmp_path, BATCH)
    club, kits = tmp_path / "kits" / "club.yaml", tmp_path / "kits"
    if how.startswith("club") or how == "no club":
        club.unlink()
        if how == "club is a folder":
            club.mkdir()
        elif how == "club is not YAML":
            club.write_text("name: [")
    elif how in ("no kits", "no kits folder", "kits is a file"):
        (folder / "kit.yaml").unlink()
        folder.rmdir()
        if how != "no kits":
            club.unlink()
            kits.rmdir()
        if how == "kits is a file":
            kits.write_text("x")
    elif command[0] == "show":
        return  # show reads one kit, the others don't matter to it
    else:
        (kits / ("2030-01-TEST-kit" if how == "two with one id" else "stones")).mkdir()
    make_site(tmp_path)
    before = picture(tmp_path)
    result = run(tmp_path, *command, ok=(2,))
    assert picture(tmp_path) == before and result.output.strip() and len(result.output) < 1200


def test_errors_refuse_a_build_and_leave_the_old_site(root, monkeypatch):
    kit_file(root).write_text(changed(BATCH, ("    per card: 2\n", "    per card: 3\n")))
    make_site(root)
    before = picture(root)
    monkeypatch.setattr("kitwright.cli.build.now", lambda: dt.datetime(2031, 1, 2, tzinfo=dt.UTC))
    result = run(root, "build", "--as-of", "2031-01-01 10:00", ok=(1,))
    assert "27 asked for" in result.output and picture(root) == before


def test_a_build_into_a_file_is_refused(root):
    (root / "site").write_text("a file")
    before = picture(root)
    run(root, "build", ok=(2,))
    assert picture(root) == before


@pytest.mark.parametrize("out", ["kits", ".", "kits/" + ID])
def test_a_build_never_swaps_away_what_is_not_a_site(root, out):
    before = picture(root)
    run(root, "build", "--out", str(root / out), ok=(2,))
    assert picture(root) == before


def test_a_bad_citation_is_caught_by_check(root):
    (root / "kits" / ID / "notes.md").write_text("One.\n\n[[size of Q]]\n")
    result = run(root, "check", ok=(1, 2))
    assert "notes.md:3:" in result.output


@pytest.mark.parametrize("name", ["2030-01-none", "test", "", ".", "..", "/", "x" * 5000, "a\0b", "kits", "~"])
def test_a_kit_that_is_not_there(root, name):
    result = run(root, "show", name, ok=(2,))
    assert result.output.strip() and len(result.output) < 12_000


def test_a_near_name_is_offered(root):
    for near in ("test", "30-01-test-kit", "kits/test-kit"):
        assert f"did you mean {ID}" in run(root, "show", near, ok=(2,)).output


def test_a_kit_is_named_in_short_where_only_one_has_the_name(root):
    assert "Nine strips" in run(root, "show", "test-kit", ok=(0,)).output
    make_archive(root / "more", BATCH, name="2031-01-test-kit").rename(root / "kits" / "2031-01-test-kit")
    assert f"did you mean {ID}" in run(root, "show", "test-kit", ok=(2,)).output


def test_the_archive_is_found_from_anywhere_inside_it_and_a_kit_named_from_there(root, monkeypatch):
    """In a kit's own folders, in the folder of kits, and in a built site, whose pages lie in a folder called kits too."""
    make_site(root)
    folders = ("kits", f"kits/{ID}/photos", f"kits/{ID}/published", "site", f"site/kits/{ID}")
    for inside in folders:
        (root / inside).mkdir(parents=True, exist_ok=True)
    for inside in folders:
        monkeypatch.chdir(root / inside)
        for name in (ID, "test-kit", f"kits/{ID}", f"kits/{ID}/kit.yaml", str(root / "kits" / ID / "photos")):
            assert kit_folder(find_root(Path.cwd()), name) == root / "kits" / ID, (inside, name)
    told = CliRunner().invoke(cli, ["check", f"kits/{ID}"])
    assert told.exit_code == 0 and f"{ID}: nothing to mend" in told.output
    for inside, name in ((f"kits/{ID}/photos", "."), (f"kits/{ID}/photos", ".."), (f"kits/{ID}", "kit.yaml"), ("kits", ID)):
        monkeypatch.chdir(root / inside)
        assert kit_folder(find_root(Path.cwd()), name) == root / "kits" / ID, (inside, name)
    # What is written without a place goes to the top, not among the kits, where it would be taken for one.
    monkeypatch.chdir(root / "kits")
    assert CliRunner().invoke(cli, ["cutfiles", ID, "--mat", "A4"]).exit_code == 0
    assert (root / f"{ID}-cut-files").is_dir() and sorted(os.listdir(root / "kits")) == [ID, "club.yaml"]
    # Nor where it is asked for there.
    for words in (["draw", ID], ["cutfiles", ID], ["pictures", ID], ["brief", ID, "--all"]):
        done = CliRunner().invoke(cli, [*words, "--out", "mine"])
        assert done.exit_code == 2 and "among the kits" in done.output and not (root / "kits" / "mine").exists()
    for inside, name in (("kits", "."), ("site", ".."), (".", "kits"), (f"kits/{ID}", "..")):
        monkeypatch.chdir(root / inside)
        assert CliRunner().invoke(cli, ["show", name]).exit_code == 2, (inside, name)


def test_one_bad_kit_does_not_hide_the_others(root):
    other = root / "kits" / "2030-02-bad"
    other.mkdir()
    (other / "kit.yaml").write_text("title: [")
    result = run(root, "check", ok=(2,))
    assert f"{ID}: nothing to mend" in result.output and "2030-02-bad" in result.output


def test_without_root_the_folder_is_found_from_below(root, monkeypatch):
    monkeypatch.chdir(root / "kits" / ID)
    result = CliRunner().invoke(cli, ["check"])
    assert result.exit_code == 0 and ID in result.output
    monkeypatch.chdir("/")
    result = CliRunner().invoke(cli, ["check"])
    assert result.exit_code == 2 and "no kits folder" in result.output


# --- plan -----------------------------------------------------------------------------------------------


def test_plan_says_how_the_sheets_are_cut(root):
    shown = run(root, "plan", ID, ok=(0,)).output
    assert all(words in shown for words in ("River", "Cream cardstock", "White cardstock"))
    data = json.loads(run(root, "plan", ID, "--json", ok=(0,)).output)
    assert data


@pytest.mark.parametrize(
    "words",
    [
        ("--cards", "0"),
        ("--cards", "-3"),
        ("--cards", "x"),
        ("--paper", "river"),
        ("--paper", "moss=A4"),
        ("--paper", "river=A2"),
        ("--paper", "river=1/0 x 3"),
        ("--one-way", "moss"),
        ("--paper", "river=1 x 1"),
        ("--paper", "river=A4", "--paper", "river=Letter"),
        ("--cards", "9" * 200),
    ],
)
def test_plan_refuses_what_it_cannot_plan(root, words):
    assert run(root, "plan", ID, *words, ok=(1, 2)).output.strip()


def test_the_same_words_in_every_process(root):
    """No set's or dict's accidental order reaches the output; and the module runs as a program."""
    outputs = set()
    for seed in ("1", "2", "3"):
        done = subprocess.run(
            [sys.executable, "-m", "kitwright", "--root", str(root), "show", ID],
            capture_output=True,
            text=True,
            encoding="utf-8",
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONIOENCODING": "utf-8"},
            check=False,
        )
        assert done.returncode == 0, done.stderr
        outputs.add(done.stdout)
    assert len(outputs) == 1


def test_bad_input_as_a_program_sees_it(root):
    kit_file(root).write_text("title: [\n")
    done = subprocess.run(
        [sys.executable, "-m", "kitwright", "--root", str(root), "check"],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONIOENCODING": "utf-8"},
        check=False,
    )
    assert done.returncode == 2 and "kit.yaml:" in done.stderr and "Traceback" not in done.stderr


@pytest.mark.parametrize("name", ["", " "])
def test_no_kit_is_named(root, name):
    assert "no kit is named" in run(root, "show", name, ok=(2,)).output


def test_a_piece_far_larger_than_its_sheet_is_told_at_its_line(root):
    # It lies on the author's own guide, so that no planner meets it first.
    text = changed(BATCH, ("    size: 3-3/4 x 1-1/4\n", "    size: 50 x 50\n"))
    kit_file(root).write_text(text, encoding="utf-8")
    for command in ("check", "plan", "show"):
        said = run(root, command, ID, ok=(1,)).output
        assert "larger than the sheet" in said and f"kit.yaml:{line_of(text, '    size: 50 x 50')}: error" in said
