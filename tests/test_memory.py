"""Python's own sweeping is put off in every process of ours, and comes all the same."""

from __future__ import annotations

import gc
import weakref
from collections.abc import Iterator

import pytest
from kitwright import cli, memory
from kitwright.archive import workers


@pytest.fixture(autouse=True)
def as_before() -> Iterator[None]:
    before = gc.get_threshold()
    yield
    gc.set_threshold(*before)


class Circle:
    def __init__(self) -> None:
        self.own = self


def test_what_nobody_needs_goes_in_the_end():
    memory.sweep_seldom()
    gone = weakref.ref(Circle())
    kept: list[list[int]] = []
    while gone() and len(kept) < 2 * memory.SOON:
        kept.append([])
    assert gone() is None and len(kept) > 700


def test_a_command_and_each_helping_process_sweep_seldom(monkeypatch):
    monkeypatch.setattr(cli, "cli", lambda prog_name: None)
    monkeypatch.setattr(cli.signal, "signal", lambda *given: None)
    monkeypatch.setattr(cli, "patient_streams", lambda: None)
    for begin in (cli.main, workers.helping):
        gc.set_threshold(700, 10, 10)
        begin()
        assert gc.get_threshold() == (memory.SOON, memory.LATER, memory.LAST)
