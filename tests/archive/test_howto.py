"""A kit as structured data: well-formed JSON-LD in the names of schema.org, which nothing in a kit can break out of."""

import json
from dataclasses import replace

import demo
import pytest
from kitwright.archive.howto import data_of, howto
from kitwright.archive.make import Made
from kitwright.archive.policy import fault_of
from making import BATCH, CLUB, make_worked

PAGE = "https://bench.example/kits/2030-01-a/index.html"
# The properties that https://schema.org/HowTo, /HowToStep, /HowToSupply and /HowToTool list (own ones and those of CreativeWork, Thing and
# ListItem), as far as they are used here; noted from memory.
NAMES = {
    "HowTo": "@context @id url name description image inLanguage datePublished publisher keywords yield supply tool step".split(),
    "HowToStep": "position name text url image".split(),
    "HowToSupply": "name requiredQuantity".split(),
    "HowToTool": "name requiredQuantity".split(),
    "Organization": "name url".split(),
}


def things(data):
    """Everything that has a type, at any depth."""
    if isinstance(data, dict):
        yield data
        for value in data.values():
            yield from things(value)
    elif isinstance(data, list):
        for value in data:
            yield from things(value)


def bare(worked) -> Made:
    return Made(worked, {}, {}, {"full": ()})


@pytest.mark.parametrize("kit", ["2026-04-kitchen-garden", "2026-08-rock-pool"])
def test_every_name_is_the_vocabularys_own(kit):
    data = data_of(bare(demo.worked(kit)), PAGE)
    assert data["@context"] == "https://schema.org"
    for thing in things(data):
        assert set(thing) - {"@type"} <= set(NAMES[thing["@type"]]), thing
        assert all(value for value in thing.values()), "nothing is said empty"
    assert [step["position"] for step in data["step"]] == list(range(1, len(data["step"]) + 1))
    urls = [step["url"] for step in data["step"]]
    assert len(set(urls)) == len(urls) and all(url.startswith(f"{PAGE}#step-") for url in urls)
    assert {"@type": "HowToTool", "name": "paper trimmer"} in data["tool"]


def test_sheets_are_those_to_have_at_hand():
    data = data_of(bare(demo.worked("2026-11-weathervane")), PAGE)
    assert data["yield"] == "12 cards in two looks" and data["datePublished"] == "2026-11-18", "the day of its reveal, as the club has it"
    supply = {one["name"]: one.get("requiredQuantity") for one in data["supply"]}
    assert supply["Breeze, patterned paper, 12 × 12 in"] == "1 sheet" and supply["adhesive for paper"] is None
    assert supply["5½ square envelope"] == "12"


def test_the_content_policy_lets_data_be_and_no_script():
    block = '<script type="{}">{}</script>'
    assert fault_of(block.format("application/ld+json", "{}")) is None and fault_of(block.format("text/javascript", "1")) is not None
    assert fault_of("<script>1</script>") is not None and fault_of(block.format("module", "1")) is not None


def test_nothing_in_a_kit_ends_the_block(tmp_path):
    title = "Strips </script><script>alert(1)</script> & <!-- more"
    text = BATCH.replace("Nine strips", f"'{title}'")
    made = bare(make_worked(tmp_path, text, club=CLUB + "address: https://bench.example\n"))
    block = str(howto(made))
    assert not set("<>&") & set(block) and json.loads(block)["name"] == title
    assert json.loads(block)["url"].startswith("https://bench.example/kits/")
    club = made.worked.kit.club.model_copy(update={"address": None})
    assert howto(bare(replace(made.worked, kit=replace(made.worked.kit, club=club)))) is None, "whole addresses alone"
