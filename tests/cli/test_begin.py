"""`kitwright begin`: an archive of one's own, whole or not at all, by questions or by options."""

import datetime as dt
import importlib.util
import json
import os
import shlex
import subprocess
from pathlib import Path, PureWindowsPath

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from kitwright.archive import begin as beginning
from kitwright.archive.begin import Beginning, HowTyped, club_name, place_for, write_archive
from kitwright.archive.starter import as_yaml
from kitwright.cli import cli
from kitwright.cli.typed import STARTED, Typed, typed_here
from kitwright.errors import UserError
from kitwright.kit.clock import zone_of
from kitwright.kit.model import Club
from kitwright.kit.project import MARKER
from kitwright.kit.read import kit_folders, read_club, read_kit
from kitwright.kit.yamltext import read_yaml
from kitwright.telling.begun import club_text
from PIL import Image

ROOT = Path(__file__).parents[2]
ALL = ["--name", "The Paper Bench", "--time-zone", "Europe/Lisbon", "--region", "metric"]
NOW = dt.datetime(2026, 11, 30, 23, 30, tzinfo=dt.UTC)


def run(*words: str, ok: int = 0, typed: str | None = None):
    result = CliRunner().invoke(cli, list(words), input=typed)
    assert result.exception is None or isinstance(result.exception, SystemExit), repr(result.exception)
    assert result.exit_code == ok and "Traceback" not in result.output, result.output
    return result


def below(folder: Path) -> list[str]:
    return sorted(f.relative_to(folder).as_posix() for f in folder.rglob("*") if f.is_file())


@pytest.fixture(autouse=True)
def clocks(monkeypatch):
    monkeypatch.setenv("TZ", "Europe/Lisbon")


@pytest.fixture
def at_a_terminal(monkeypatch):
    monkeypatch.setattr("kitwright.cli.begin.at_a_terminal", lambda: True)


# --- what is written ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("region", "unit", "sheet", "pad", "envelope"),
    [("us", "in", "Letter", "8 x 8", "US A2 envelope"), ("metric", "mm", "A4", "15.2 cm x 15.2 cm", "ISO C6 envelope")],
)
def test_an_archive_that_is_sound_in_her_unit_and_for_her_sheets(tmp_path, region, unit, sheet, pad, envelope):
    mine = tmp_path / "my club"
    run("begin", str(mine), "--name", "The Paper Bench", "--region", region)
    (first,) = kit_folders(mine / "kits")
    assert below(mine) == sorted(
        f"{folder}{name}"
        for folder, names in {
            "": (".gitattributes", ".gitignore", "README.md"),
            "kits/": ("club.yaml", "club.schema.json", "kit.schema.json", "past.schema.json"),
            "kits/people/": (".gitkeep",),
            f"kits/{first.name}/": ("kit.yaml", "notes.md"),
        }.items()
        for name in names
    )
    run("--root", str(mine), "new", "2031-04-second")
    club = read_club(mine / "kits")
    assert (club.name, club.time_zone, club.region, club.address) == ("The Paper Bench", "Europe/Lisbon", region, None)
    for folder in kit_folders(mine / "kits"):
        kit, text = read_kit(folder, club), (folder / "kit.yaml").read_text(encoding="utf-8")
        assert (kit.spec.unit, kit.spec.card.envelope.name) == (unit, envelope) and f"size: {sheet} " in text and f"size: {pad}\n" in text
    told = run("--root", str(mine), "check").output
    assert told.count("nothing to mend") == 2 and "hint" not in told
    assert not list(tmp_path.rglob(".kitwright-*"))


def test_the_first_kit_is_of_the_month_that_it_is_in_the_club(tmp_path):
    """So that it is public at once, and the first build shows it."""
    how = HowTyped("kitwright", "", "")
    for place, month in (("America/Denver", "2026-11"), ("Pacific/Auckland", "2026-12")):
        made = write_archive(tmp_path / place, Beginning("Bench", place, "us", None), how, NOW)
        assert made == f"{month}-hello-there"
        read = read_kit(tmp_path / place / "kits" / made, read_club(tmp_path / place / "kits"))
        assert read.reveal == dt.datetime.fromisoformat(f"{month}-01")
    assert "kitwright new 2027-01-river-stones" in (tmp_path / "Pacific/Auckland" / "README.md").read_text(encoding="utf-8")


def test_what_must_not_be_kept_is_not_kept(tmp_path):
    run("begin", str(tmp_path / "mine"), *ALL)
    ignored = (tmp_path / "mine" / ".gitignore").read_text().splitlines()
    assert {"/site/", "/site-team/", "/site-members/", "/tomorrow/", "private.yaml", ".kitwright-*"} <= set(ignored)
    kept = (tmp_path / "mine" / ".gitattributes").read_text().splitlines()
    ours = (ROOT / ".gitattributes").read_text().splitlines()
    # Printables and pictures too: git takes a PDF without a zero byte for text.
    lies_there = ("kits/", "*.pdf ", "*.jpg ", "*.jpeg ", "*.png ", "*.webp ")
    assert {line for line in kept if not line.startswith("#")} == {line for line in ours if line.startswith(lies_there)}


@pytest.mark.parametrize("region", ["us", "metric"])
def test_what_is_asleep_in_the_club_file_can_be_woken(tmp_path, region):
    text = club_text("Bench", "Europe/Lisbon", region, None)
    asleep = [line for line in text.splitlines() if line.startswith("#") and line[1:2] not in ("", " ")]
    awake = text.replace("\n#  ", "\n  ")
    for line in asleep:
        awake = awake.replace(f"\n{line}", f"\n{line[1:]}")
    (tmp_path / "club.yaml").write_text(awake, encoding="utf-8")
    (tmp_path / "logo.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path fill="#8e2458" d="M0 0h9v9z"/></svg>'
    )
    Image.new("RGB", (1200, 630), (142, 36, 88)).save(tmp_path / "share.jpg")
    club = read_club(tmp_path)
    assert (
        club.address == "https://cards.example/" and club.prices.currency and club.papers["linen"].size and club.team[0].who == "ada-bell"
    )
    keys = {field.alias or key for key, field in Club.model_fields.items()}
    assert keys - read_yaml(tmp_path / "club.yaml").data.keys() == NOT_FOR_A_BEGINNING


NOT_FOR_A_BEGINNING = {"former addresses"}
"""What no new club can have: every other key stands in its file, awake or asleep, so that she comes upon it."""
NAMES = [
    'Éva’s "Bench"',
    "Ink: paper, glue",
    "#1 Cards",
    "-x-",
    "- Müllers Kärtchen -",
    "yes",
    "null",
    "No",
    "~ tilde ~",
    "{braces} [and] {0}",
    "%s & <b>",
    "紙の机",
    "🌸",
    "👩\u200d🎨 cards",
    "back\\slash \\n",
    "'single'",
    "2026",
    "a  b",
    "!tag",
    "*alias",
    "x: |",
    "é",
]


@pytest.mark.parametrize("name", NAMES)
def test_a_name_comes_back_as_it_was_typed(tmp_path, name):
    run("begin", str(tmp_path / "mine"), "--name", f"  {name} ", "--region", "us", "--time-zone", "UTC")
    assert read_club(tmp_path / "mine" / "kits").name == name
    assert f"# {name}\n" in (tmp_path / "mine" / "README.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("any")


@given(st.text(max_size=125))
def test_any_text_is_a_name_or_is_refused(folder, text):
    try:
        name = club_name(text)
    except UserError as error:
        assert error.code == "begin.no-name" and error.problem and "\n" not in error.problem
        return
    (folder / "club.yaml").write_text(club_text(as_yaml(name), "UTC", "us", None), encoding="utf-8", newline="\n")
    assert read_club(folder).name == name


# --- asked, and not asked -------------------------------------------------------------------------


def test_away_from_a_terminal_nothing_is_asked(tmp_path, monkeypatch):
    told = run("begin", str(tmp_path / "mine"), typed="The Paper Bench\n" * 9, ok=2).output
    assert '--name "The Paper Bench"' in told and "--region" not in told and not list(tmp_path.iterdir())
    monkeypatch.setenv("TZ", "UTC")
    told = run("begin", str(tmp_path / "mine"), typed="x\n" * 9, ok=2).output
    assert "--name" in told and "--region us" in told and not list(tmp_path.iterdir())
    told = run("begin", str(tmp_path / "mine"), "--name", "Bench", "--region", "us", typed="x\n").output
    assert "names no place" in told and read_club(tmp_path / "mine" / "kits").time_zone == "UTC"
    monkeypatch.setenv("TZ", "America/Toronto")
    run("begin", str(tmp_path / "other"), "--name", "Bench", typed="x\n")
    club = read_club(tmp_path / "other" / "kits")
    assert (club.time_zone, club.region) == ("America/Toronto", "us")


def test_at_a_terminal_four_questions_and_no_more(tmp_path, at_a_terminal):
    told = run("begin", str(tmp_path / "mine"), typed="Bench\n\n\n\n").output
    assert "[Europe/Lisbon]" in told and "[metric]" in told and told.count("?") == 4
    club = read_club(tmp_path / "mine" / "kits")
    assert (club.name, club.time_zone, club.region, club.address) == ("Bench", "Europe/Lisbon", "metric", None)


def test_an_answer_that_can_t_be_is_told_and_asked_for_again(tmp_path, at_a_terminal, monkeypatch):
    monkeypatch.setenv("TZ", "UTC")
    told = run("begin", str(tmp_path / "mine"), typed="—\nBench\nEST\nNowhere\nnew york\neu\nInches\ncards\nhttps://cards.example\n").output
    for words in ("can’t be a club’s name", "no place", "not a time zone", "“eu” is neither", "not a web address"):
        assert words in told
    club = read_club(tmp_path / "mine" / "kits")
    assert (club.name, club.time_zone, club.region, club.address) == ("Bench", "America/New_York", "us", "https://cards.example")


@pytest.mark.parametrize(
    ("typed", "region"), [("mm", "metric"), ("Millimetres", "metric"), ("A4", "metric"), ("letter", "us"), ("in", "us")]
)
def test_inches_or_millimetres_may_be_answered_as_the_question_has_it(tmp_path, at_a_terminal, typed, region):
    run("begin", str(tmp_path / "mine"), "--name", "Bench", "--time-zone", "Lisbon", typed=f"{typed}\n\n")
    assert read_club(tmp_path / "mine" / "kits").region == region


def test_what_is_given_is_not_asked(tmp_path, at_a_terminal):
    told = run("begin", str(tmp_path / "mine"), *ALL, "--address", "https://cards.example/", typed="").output
    assert told.startswith("Wrote") and read_club(tmp_path / "mine" / "kits").address == "https://cards.example/"


def test_no_answer_writes_nothing(tmp_path, at_a_terminal):
    run("begin", str(tmp_path / "mine"), typed="Bench\n", ok=1)
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("lisbon", "Europe/Lisbon"),
        ("New York", "America/New_York"),
        ("Buenos Aires", "America/Argentina/Buenos_Aires"),
        ("utc", "UTC"),
        ("São Paulo", "America/Sao_Paulo"),
    ],
)
def test_a_city_alone_will_do(typed, name):
    assert zone_of(typed) == name


# --- refused --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["--name", " "], "can’t be a club’s name"),
        (["--name", "— ·"], "can’t be a club’s name"),
        (["--name", "two\nlines"], "can’t be a club’s name"),
        (["--name", "x" * 121], "can’t be a club’s name"),
        (["--name", "[[size of A]]"], "can’t be a club’s name"),
        (["--name", "bell\a"], "can’t be a club’s name"),
        (["--time-zone", "CEST"], "Europe/Berlin"),
        (["--time-zone", "UTC+1"], "no place"),
        (["--time-zone", ""], "not a time zone"),
        (["--region", "eu"], "'eu' is not one of"),
        (["--address", "cards.example"], "is not a web address"),
        (["--address", "https://two words.example"], "is not a web address"),
    ],
)
def test_what_can_t_be_is_one_clear_error(tmp_path, more, words):
    told = run("begin", str(tmp_path / "mine"), *ALL, *more, ok=2).output
    assert words in told and not list(tmp_path.iterdir())


def test_a_place_that_won_t_do_is_one_clear_error_before_anything_is_asked(tmp_path, at_a_terminal):
    run("begin", str(tmp_path / "club"), *ALL, "--address", "")
    (tmp_path / "club" / "site").mkdir()
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / MARKER).write_text("x")
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "letter.txt").write_text("x")
    (tmp_path / "half" / "kits").mkdir(parents=True)
    (tmp_path / "a file").write_text("x")
    before = below(tmp_path)
    for place, words in {
        "club": "holds an archive already",
        "half": "holds an archive already",
        "club/kits/2027-01-new": "inside another archive",
        "club/kits/people/eve": "inside another archive",
        "club/site/mine": "inside another archive",
        "site": "inside a built site",
        "site/kits/mine": "inside a built site",
        "kits": "can’t be called that itself",
        "full": "holds other files, such as letter.txt",
        "a file": "is a file",
        "a file/mine": "is a file",
        "nul\0": "can’t be a folder",
        "two\nlines": "can’t be a folder",
    }.items():
        told = run("begin", str(tmp_path / place), ok=2)
        assert words in told.output and told.output.count("nothing was written") == 1, place
        assert below(tmp_path) == before, place
    for nothing in ("", "  "):
        assert "no folder is named" in run("begin", nothing, ok=2).output
    assert "inside another archive" in run("begin", str(ROOT / "my-club"), ok=2).output and not (ROOT / "my-club").exists()


# --- whole or not at all --------------------------------------------------------------------------


def test_an_empty_folder_will_do_even_the_one_she_stands_in(tmp_path, monkeypatch):
    (tmp_path / "mine" / ".git").mkdir(parents=True)
    monkeypatch.chdir(tmp_path / "mine")
    run("begin", ".", *ALL)
    assert "nothing to mend" in run("check").output and (tmp_path / "mine" / ".gitignore").is_file()
    assert not list((tmp_path / "mine").glob(".kitwright-*"))


@pytest.mark.parametrize("there", [True, False])
def test_a_disk_that_says_no_leaves_nothing(tmp_path, monkeypatch, there):
    folder = tmp_path / "mine"
    if there:
        folder.mkdir()
    real, calls = os.rename, []

    def rename(old, new):
        calls.append(new)
        if len(calls) == (3 if there else 1):
            raise OSError(28, "No space left on device", str(new))
        real(old, new)

    monkeypatch.setattr(beginning.os, "rename", rename)
    assert "make room" in run("begin", str(folder), *ALL, ok=2).output
    assert not list(folder.iterdir()) if there else not list(tmp_path.iterdir())


def test_who_was_there_first_keeps_her_archive(tmp_path, monkeypatch):
    mine = tmp_path / "mine"
    fill = beginning.fill_starter

    def meanwhile(*given):
        monkeypatch.setattr(beginning, "fill_starter", fill)
        write_archive(mine, Beginning("First", "UTC", "us", None), HowTyped("k", "", ""), NOW)
        fill(*given)

    monkeypatch.setattr(beginning, "fill_starter", meanwhile)
    assert "holds an archive already" in run("begin", str(mine), *ALL, ok=2).output
    assert read_club(mine / "kits").name == "First" and not list(tmp_path.glob(".kitwright-*"))


def test_the_place_is_where_a_link_leads(tmp_path):
    (tmp_path / "far").mkdir()
    (tmp_path / "near").symlink_to(tmp_path / "far")
    assert place_for(str(tmp_path / "near")) == tmp_path / "far"


# --- how it is typed ------------------------------------------------------------------------------


@pytest.mark.parametrize("folder", ["plain", "two words", "Éva's", 'a "quoted" one', "cost$s & `more`", "100 % !"])
def test_what_is_printed_can_be_typed_into_a_shell(tmp_path, folder):
    """Bash's own quoting, and its word for the archive from anywhere inside."""
    program = tmp_path / folder / "run.py"
    program.parent.mkdir()
    program.write_text('pwd\nprintf "<%s>\\n" "$@"\n')
    typed = Typed(("sh", str(program)), windows=False)
    script = f"shopt -s expand_aliases\n{typed.go(program.parent)}\n{typed.line('build')}\n{typed.shorter}\nkitwright check 'a b'\n"
    told = subprocess.run(["bash", "-c", script], capture_output=True, text=True, check=True).stdout
    assert told == f"{program.parent}\n<build>\n{program.parent}\n<check>\n<a b>\n"


def test_on_windows_it_is_typed_alike_into_both_shells(monkeypatch):
    """PowerShell and cmd take a path in double quotes; pushd, which both know, changes the drive too. From memory: no Windows was here."""
    typed = Typed(("py", r"C:\My tools\kitwright\buildtools\run.py"), windows=True)
    assert typed.line("build") == r'py "C:\My tools\kitwright\buildtools\run.py" build'
    monkeypatch.setattr("kitwright.cli.typed.Path", type("Here", (), {"cwd": staticmethod(lambda: PureWindowsPath("C:/Users"))}))
    assert typed.go(PureWindowsPath(r"C:\cards\my club")) == r'cd "C:\cards\my club"'
    assert typed.go(PureWindowsPath(r"D:\cards")) == r"pushd D:\cards"
    powershell, cmd = typed.shorter.split("\n")
    assert powershell == rf"function kitwright {{ {typed.line()} @args }}" and cmd == rf"doskey kitwright={typed.line()} $*"


def test_run_py_says_how_it_was_started(monkeypatch):
    spec = importlib.util.spec_from_file_location("run_that_says", ROOT / "buildtools" / "run.py")
    script = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(script)
    handed = {}
    monkeypatch.setattr(script, "set_up", lambda task: None)
    monkeypatch.setattr(script, "hand_over", lambda command, env: handed.update(env) or 0)
    assert script.start(["begin", "../my club"]) == 0
    monkeypatch.setenv(STARTED, handed[STARTED])
    words = typed_here().words
    assert words == (script.python_typed(), str(ROOT / "buildtools" / "run.py"))
    assert subprocess.run([words[0], "--version"], capture_output=True).returncode == 0
    monkeypatch.setattr(script.shutil, "which", lambda word: None)
    assert script.python_typed() == script.base_python()
    monkeypatch.setattr(script, "WINDOWS", True)
    assert script.python_typed() == "python"
    monkeypatch.setattr(script.shutil, "which", lambda word: "C:/Windows/py.exe")
    assert script.python_typed() == "py"


@pytest.mark.parametrize(("argv", "words"), [("/x/.venv/bin/kitwright", ("/x/.venv/bin/kitwright",)), ("/x/kitwright/__main__.py", None)])
def test_without_run_py_it_is_typed_as_it_was_started(monkeypatch, argv, words):
    monkeypatch.setattr("sys.argv", [argv])
    for started in (None, "no json", json.dumps([]), json.dumps([1])):
        monkeypatch.delenv(STARTED, raising=False) if started is None else monkeypatch.setenv(STARTED, started)
        typed = typed_here()
        assert typed.words == words or words is None and typed.words[1:] == ("-m", "kitwright")
    assert shlex.split(typed.line("build"))[-1] == "build"
