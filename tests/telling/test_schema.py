"""The JSON Schemas for editors: jsonschema is the reference that reads them."""

import json
import re
from pathlib import Path

import jsonschema
import pytest
import yaml
from kitwright.kit.fields import WANTED
from kitwright.telling.schema import SCHEMAS, schema_text
from making import BATCH, CLUB, changed
from several import SEVERAL

KITS = Path(__file__).parents[2] / "kits"
DEMO = sorted(KITS.glob("*/kit.yaml"))


def validator(name: str) -> jsonschema.Draft202012Validator:
    schema = json.loads(schema_text(*SCHEMAS[name]))
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


class Editor(yaml.SafeLoader):
    """YAML as an editor reads it by the 1.2 core schema: `on` and `yes` are words, a date stays the text that was typed."""


Editor.yaml_implicit_resolvers = {}
for tag, pattern, first in (
    ("null", "~|null|Null|NULL|", ["~", "n", "N", ""]),
    ("bool", "true|True|TRUE|false|False|FALSE", list("tTfF")),
    ("int", "[-+]?[0-9]+", list("-+0123456789")),
    ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", list("-+.0123456789")),
):
    Editor.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(f"^(?:{pattern})$"), first)


def as_an_editor_reads(text: str):
    """Numbers and truths become what they are."""
    return yaml.load(text, Loader=Editor)


def schema_for(data) -> str:
    return "past.schema.json" if "past" in data else "kit.schema.json"


@pytest.mark.parametrize("name", SCHEMAS)
def test_the_schema_is_one_and_its_bytes_are_always_the_same(name):
    validator(name)
    assert schema_text(*SCHEMAS[name]) == schema_text(*SCHEMAS[name])
    assert WANTED not in schema_text(*SCHEMAS[name]), "what a single value is, is said in words"


@pytest.mark.parametrize("name", SCHEMAS)
def test_the_schema_beside_the_kits_follows_the_model(name):
    assert (KITS / name).read_text(encoding="utf-8") == schema_text(*SCHEMAS[name]), "kitwright build brings it up to date"


@pytest.mark.parametrize("file", DEMO, ids=lambda f: f.parent.name)
def test_every_demo_kit_is_valid(file):
    data = as_an_editor_reads(file.read_text(encoding="utf-8"))
    assert [f"{'/'.join(map(str, e.path))}: {e.message[:200]}" for e in validator(schema_for(data)).iter_errors(data)] == []


def test_there_are_six_kits_and_a_past_one():
    past = [f for f in DEMO if "past" in as_an_editor_reads(f.read_text(encoding="utf-8"))]
    assert len(past) >= 1 and len(DEMO) - len(past) >= 6


def test_the_clubs_are_valid():
    for text in (CLUB, (KITS / "club.yaml").read_text(encoding="utf-8")):
        validator("club.schema.json").validate(as_an_editor_reads(text))


@pytest.mark.parametrize(
    "edit",
    [
        ("cards: 9\n", "crads: 9\n"),
        ("    for: tall strip\n", "    fro: tall strip\n"),
        ("  fold: side\n", "  fodl: side\n"),
        ("  border: 1/8\n", "  broder: 1/8\n"),
        ("  - papers: river\n", "  - paper: river\n"),
        ("    kind: patterned\n", "    kind: glossy\n"),
        ("cards: 9\n", "cards: 0\n"),
        ("title: Nine strips\n", ""),
        ("  A:\n", "  a:\n"),
        ("  on: band\n", "  on: band\n  place: middle\n"),
        ("    - M\n", "    - {peice: M}\n"),
        ("front: {look: stripes", "front: {lok: stripes"),
    ],
    ids=lambda e: e[1].strip(),
)
def test_a_slip_is_seen_by_the_editor(edit):
    good, bad = as_an_editor_reads(BATCH), as_an_editor_reads(changed(BATCH, edit))
    check = validator("kit.schema.json")
    assert check.is_valid(good) and not check.is_valid(bad)


def test_every_field_says_what_it_is():
    """An editor shows the description while you type."""

    def lacking(schema, path=""):
        for name, field in schema.get("properties", {}).items():
            if not any("description" in one or "$ref" in one or "title" in one for one in (field, *field.get("anyOf", []))):
                yield f"{path}{name}"

    schema = json.loads(schema_text(*SCHEMAS["kit.schema.json"]))
    assert [*lacking(schema), *(p for key, d in schema["$defs"].items() for p in lacking(d, f"{key}."))] == []


@pytest.mark.parametrize(
    "edit",
    [
        ("designs:\n", "desings:\n"),
        ("  Lying:\n    cards: 8\n", "  Lying:\n"),
        ("  Lying:\n", "  a/b:\n"),
        ("papers: [moss, shore]", "papers: [Moss]"),
        ("    front:\n", "    fornt:\n"),
    ],
    ids=lambda e: e[1].strip(),
)
def test_a_slip_in_a_kit_of_several_designs_is_seen_too(edit):
    check = validator("kit.schema.json")
    assert check.is_valid(as_an_editor_reads(SEVERAL.replace("Lying", "Grüße 2"))) and check.is_valid(as_an_editor_reads(SEVERAL))
    assert not check.is_valid(as_an_editor_reads(SEVERAL.replace(*edit)))
