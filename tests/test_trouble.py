"""The script that breaks kits and kills commands: it is alive, and a few of its tries, always the same ones, go well."""

from __future__ import annotations

from pathlib import Path

import pytest
import trying
from ground import Ground
from trials import TRIALS
from trying import attempt


@pytest.fixture(scope="module")
def ground(tmp_path_factory) -> Ground:
    return Ground(tmp_path_factory.mktemp("ground"))


@pytest.mark.parametrize("kind, tries", [("mutants", 8), ("pictures", 4)])
def test_broken_kits_and_odd_pictures_do_no_harm(ground, kind, tries):
    for n in range(tries):
        for result in TRIALS[kind](ground, f"suite-{kind}-{n}"):
            assert not result.faults, f"{result.name}: {result.faults}\n{result.output}"


def _reads(path: Path):
    return lambda: path.read_text() and 0


@pytest.mark.parametrize(
    "fault, act",
    [
        ("traceback", lambda home: lambda: 1 // 0),
        ("without a word", lambda home: lambda: 1),
        ("exit status 9", lambda home: lambda: 9),
        ("wrote outside", lambda home: lambda: (home.parent / "elsewhere").write_text("x") and 0),
        ("os.mkdir outside", lambda home: lambda: (home.parent / "folder").mkdir()),
        ("read a secret", lambda home: _reads(home / "secret")),
    ],
    ids=lambda each: each if isinstance(each, str) else "",
)
def test_a_try_tells_what_it_is_there_to_tell(tmp_path, fault, act):
    home = tmp_path / "home"
    home.mkdir()
    (home / "secret").write_text("s")
    assert any(fault in told for told in attempt(act(home), home, secrets=(home / "secret",)).faults)


def test_a_quiet_try_has_no_faults(tmp_path):
    def act() -> int:
        (tmp_path / "file").write_text("x")
        print("well")
        return 0

    assert attempt(act, tmp_path).faults == []


def test_memory_is_measured(tmp_path, monkeypatch):
    monkeypatch.setattr(trying, "MOST_MEMORY", 1 << 20)
    assert any(told.startswith("memory") for told in attempt(lambda: len(b"x" * (64 << 20)) and 0, tmp_path).faults)
