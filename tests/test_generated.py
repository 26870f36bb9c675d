"""The archives that benchmarks make: sound by the way they are made, the same for the same seed, and put together as published ones are."""

from __future__ import annotations

import generated
import pytest
from designs import FAMILIES
from kitwright.check import errors
from kitwright.otherwise.checked import check
from kitwright.release import whole
from kitwright.release.people import read_people
from kitwright.work.working import work

SEED = 7
NUMBERS = {family: number for number, family in enumerate(FAMILIES)}
"""A kit of each family."""


@pytest.mark.parametrize("number", NUMBERS.values(), ids=[family.__name__ for family in NUMBERS])
@pytest.mark.parametrize("slip", [False, True], ids=["", "slip"])
def test_a_design_has_no_errors(tmp_path, number, slip):
    generated.put(tmp_path, {"club.yaml": generated.CLUB.encode()})
    text = f"title: Try\nsummary: A try.\n{generated.design(SEED, number, slip).text}"
    generated.put(tmp_path / "2024-01-try", {"kit.yaml": text.encode()})
    assert not errors(check(work(generated.read(tmp_path / "2024-01-try"))))


@pytest.mark.parametrize("number", [2, 7, 13])
def test_the_same_seed_gives_the_same_bytes_and_another_seed_others(number):
    first = generated.kit_files(SEED, number)
    assert first == generated.kit_files(SEED, number)
    assert first != generated.kit_files(SEED + 1, number)


def test_names_stay_apart_however_many_there_are():
    assert len({generated.id_of(number) for number in range(1200)}) == len({generated.person_key(number) for number in range(1200)}) == 1200


def test_an_archive_of_parts_is_whole_and_a_smaller_one_is_its_newest_kits(tmp_path, monkeypatch):
    """Kits 12 and 13 are released as every further one is, 12 with a correction; what would be drawn for others is made up here."""
    monkeypatch.setattr(generated, "pool", lambda store, number: dict.fromkeys(_parts(), b"%PDF drawn"))
    store = tmp_path / "parts"
    for number in (12, 13):
        generated.make_kit(store, SEED, number, drawn=(3, 5))
    for number in range(12):
        generated.put(store / str(number) / "kits" / generated.id_of(number), generated.kit_files(SEED, number)[0])
    generated.assemble(store, 14, SEED, tmp_path / "all")
    generated.assemble(store, 13, SEED, tmp_path / "fewer")
    kits = tmp_path / "all" / "kits"
    assert not whole.published(kits)
    assert {revision.name for revision in (kits / generated.id_of(12) / "published").iterdir()} == {"r1", "r2"}
    assert len((kits / "releases.yaml").read_text().splitlines()) == 4
    assert {folder.name for folder in (kits / "people").iterdir()} == set(read_people(kits))
    there = {folder.name for folder in kits.iterdir()}
    assert there - {folder.name for folder in (tmp_path / "fewer" / "kits").iterdir()} == {generated.id_of(13)}


def _parts() -> list[str]:
    sizes = [f"-{edition}{ink}.pdf" for edition in ("letter", "a4") for ink in ("", "-light", "-outline")]
    return [*sizes, "-arrangements-letter.pdf", "-arrangements-a4.pdf", "-cut-files.zip"]
