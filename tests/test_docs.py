"""The README names every command, option and key: nothing that can be typed is left unsaid."""

import re
import runpy
import shlex
import tomllib
from pathlib import Path
from types import UnionType
from typing import get_args

import click
import pytest
import yaml
from kitwright.cli import cli
from kitwright.cutting.guide import LEFT_OVER
from kitwright.kit.looks import COLOURS, LOOKS
from kitwright.kit.model import Anniversaries, Club, KitSpec, Meant, PastSpec, PersonSpec, Spec
from kitwright.kit.read import read_club
from kitwright.papers import BASIS, ENVELOPES, SHEETS
from kitwright.proposing.asked import read_question
from kitwright.proposing.question import QuestionSpec
from kitwright.telling.help import COMMANDS
from kitwright.telling.layout_names import what
from kitwright.telling.wrong.cite import EXAMPLES

README = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
CODE = "\n".join(re.findall(r"```.*?```|`[^`\n]+`", README, re.DOTALL))
"""All that stands in code blocks and code spans."""


def said(word: str) -> bool:
    """Whether a word stands in the README's code, not as part of a longer one."""
    return re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", CODE) is not None


def typed(key: str) -> bool:
    """Whether a key stands in the README as it is typed, with its colon, or as a code span of its own."""
    return re.search(rf"(?<![\w-]){re.escape(key)}:|`{re.escape(key)}`", CODE) is not None


def commands(group: click.Group, before: str = "kitwright"):
    for name, command in sorted(group.commands.items()):
        yield f"{before} {name}", command
        if isinstance(command, click.Group):
            yield from commands(command, f"{before} {name}")


ROWS = {row.split()[1]: row for row in re.findall(r"^\| `(kitwright [^`]+)` \|.*$", README, re.MULTILINE)}
"""How each command is typed, as the README's table of commands has it, with all it takes."""


def options(command: click.Command) -> set[str]:
    return {o for p in command.params if isinstance(p, click.Option) for o in (*p.opts, *p.secondary_opts) if o.startswith("--")}


@pytest.mark.parametrize("name, command", list(commands(cli)), ids=lambda v: v if isinstance(v, str) else "")
def test_every_command_and_option(name, command):
    """In its own row of the table, whole: no option is left out there, and none is named that it does not take."""
    row = ROWS[name.split()[1]]
    assert set(re.findall(r"--[\w-]+", row)) == options(command)
    short = [o for p in command.params for o in p.opts if not o.startswith("--") and o.startswith("-")]
    assert all(said(o) for o in short), short
    assert command.help and len(command.help.split()) > 5 and "kitwright " in command.epilog


def test_every_command_is_a_module_and_every_word_of_help_is_used():
    assert set(ROWS) == set(COMMANDS) == {name.split()[1] for name, _ in commands(cli)}
    for name, command in commands(cli):
        assert set(COMMANDS[name.split()[1]].options) == {p.opts[0] for p in command.params if isinstance(p, click.Option)}


def test_the_options_of_the_whole_command():
    assert [o for p in cli.params for o in p.opts if not said(o)] == []
    assert said("--help") and said("-h")


def test_no_command_is_named_that_does_not_exist():
    known = {name.split()[1] for name, _ in commands(cli)}
    assert set(re.findall(r"`kitwright (\w+)", README)) <= known
    assert set(re.findall(r"run\.py (\w+)", README)) <= known | {"test", "pins", "build"}


def models(top: type[Spec]):
    """The model and every model inside it."""
    waiting, seen = [top], []
    while waiting:
        model = waiting.pop()
        if model in seen:
            continue
        seen.append(model)
        for field in model.model_fields.values():
            waiting += [t for t in inner(field.annotation) if isinstance(t, type) and issubclass(t, Spec)]
    return seen


def inner(annotation):
    yield annotation
    for part in get_args(annotation):
        if not isinstance(part, str):
            yield from inner(part)
    assert not isinstance(annotation, UnionType) or get_args(annotation)


@pytest.mark.parametrize(
    "model",
    sorted(
        {m for top in (KitSpec, PastSpec, Club, PersonSpec, Anniversaries, QuestionSpec) for m in models(top)}, key=lambda m: m.__name__
    ),
    ids=lambda m: m.__name__,
)
def test_every_key(model):
    keys = [field.alias or name for name, field in model.model_fields.items()]
    missing = [key for key in keys if not typed(key)]
    assert not missing, f"{model.__name__}: {', '.join(missing)}"


def test_the_models_were_found():
    names = {m.__name__ for m in models(KitSpec)}
    assert {
        "Paper",
        "PaperFace",
        "Piece",
        "Notch",
        "Layer",
        "Laid",
        "Item",
        "Look",
        "Guide",
        "Photo",
        "Steps",
        "Decoration",
        "SentimentSpec",
    } <= names


@pytest.mark.parametrize(
    "what, words",
    [
        ("looks", LOOKS),
        ("colours", COLOURS),
        ("sheets", [n.name for n in SHEETS]),
        ("envelopes", [n.name for n in ENVELOPES]),
        ("kinds of pounds", BASIS),
        ("what can be meant", get_args(Meant)),
    ],
)
def test_every_word_that_has_a_meaning(what, words):
    spaced = " ".join(README.split())
    missing = [word for word in words if not re.search(rf"(?<!\w){re.escape(word)}(?!\w)", spaced)]
    assert not missing, f"{what}: {', '.join(missing)}"


@pytest.mark.parametrize("phrase", re.findall(r"\[\[(.*?)\]\]", EXAMPLES))
def test_every_kind_of_citation(phrase):
    pattern = re.escape(phrase).replace("PAPER", r"[\w-]+").replace("DESIGN", r"\w+").replace("FACE", r"[\w ]+").replace(r"\ ", r"\s+")
    pattern = re.sub(r"\bA\b", r"\\w+", pattern)
    assert re.search(rf"\[\[{pattern}\]\]", CODE), phrase


@pytest.mark.parametrize(
    "phrase", ["off the", "halve at", "halve", "turn", "the rest", "the rest in", LEFT_OVER[0], "columns of", "strips of", "auto"]
)
def test_every_kind_of_cut(phrase):
    assert phrase in CODE


def test_every_yaml_block_is_yaml_whose_keys_are_known():
    """Examples in the README never go stale."""
    known = {
        field.alias or name
        for top in (KitSpec, PastSpec, Club, PersonSpec, Anniversaries, QuestionSpec)
        for m in models(top)
        for name, field in m.model_fields.items()
    }
    blocks = re.findall(r"```yaml\n(.*?)```", README, re.DOTALL)
    assert blocks
    for block in blocks:
        data = yaml.load(block, Loader=yaml.BaseLoader)
        assert isinstance(data, (dict, list)), block
        if isinstance(data, dict):
            assert set(data) <= known, f"{set(data) - known}"


def test_the_picture_is_of_the_question_beside_it_and_of_what_that_gives_today():
    tool = runpy.run_path(str(Path(__file__).parents[1] / "buildtools" / "readme_picture.py"))
    question, said_of_it, file = re.findall(r"`(--paper [^`]+)` gives:\n\n!\[([^\]]+)\]\(([^)]+)\)", README)[0]
    typed_ = shlex.split(question)
    asked = tool["QUESTION"]
    assert typed_ == [
        word for key, value in asked.items() for each in ([value] if isinstance(value, str) else value) for word in (f"--{key}", each)
    ]
    wish = read_question(asked, read_club(Path(__file__).parents[1] / "kits"), None)
    # Where this fails, draw it anew and say what it shows.
    assert all(what(one)[1:] in said_of_it for one in tool["shown"](wish))
    assert (Path(__file__).parents[1] / file).stat().st_size < 120_000


def test_the_changelog_tells_of_this_version():
    told = (Path(__file__).parents[1] / "buildtools" / "CHANGELOG.md").read_text(encoding="utf-8")
    versions = re.findall(r"^## (\d+\.\d+\.\d+)\b", told, re.MULTILINE)
    assert versions[0] == tomllib.loads((Path(__file__).parents[1] / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
    assert versions == sorted(versions, key=lambda v: [int(n) for n in v.split(".")], reverse=True)
    entries = re.split(r"^## ", told, flags=re.MULTILINE)[1:]
    assert all(entry.count("\n- ") for entry in entries) and "(buildtools/CHANGELOG.md)" in README
    known = {name.split()[1] for name, _ in commands(cli)}
    assert set(re.findall(r"`kitwright (\w+)", told)) <= known
