"""A fold of a new kind is one module: nothing else knows of it, and a kit may be made with it at once."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import kitwright
import pytest
from kitwright.folding.kinds import kinds
from making import make_archive

PACKAGE = Path(kitwright.__file__).parent
SCROLL = '''\
"""A roll of four: each panel rolled in is a little shorter than the one that closes over it."""

from kitwright.folding.kinds.kind import Asked, Kind
from kitwright.folding.scored import Score
from kitwright.units import Length


def _scores(length: Length, asked: Asked) -> tuple[Score, ...]:
    panel = asked.marked((length + asked.room * 3) / 4)
    first, second, third = panel, panel * 2, panel * 3 - asked.room
    return Score(third, "forward"), Score(second, "forward"), Score(first, "forward")


KIND = Kind(8, "scroll", "inside up", ("front", "back", "third", "end"), "front", "back", _scores)
'''
KIT = """\
title: Scroll
summary: A strip that rolls up.
cards: 1
papers:
  rose: {kind: patterned, name: Rose, size: 12 x 12, thickness: 0.008, front: {look: dots, colours: [linen, blush]}}
  white: {kind: cardstock, name: White cardstock, size: 12 x 12, thickness: 0.012}
pieces:
  A: {size: 2-7/8 x 3-3/4, for: front, paper: rose}
card:
  base: {size: 12 x 4, paper: white}
  fold: scroll
faces:
  front: {border: 1/8, rows: [{piece: A, place: left}]}
  inside third: {rows: [band]}
sentiments:
  - {text: and on, size: 1 x 1/2, on: inside end}
"""
RUN = """\
import sys
import kitwright.folding.kinds
kitwright.folding.kinds.__path__.append(sys.argv[1])
from kitwright.cli import cli
for command in (["check", "test-kit"], ["show", "test-kit"]):
    try:
        cli(command, prog_name="kitwright")
    except SystemExit as left:
        assert not left.code, left.code
"""


@pytest.mark.parametrize("module", sorted(path.stem for path in (PACKAGE / "folding" / "kinds").glob("half*.py")))
def test_nothing_else_names_the_half_z(module):
    (name,) = [name for name in kinds() if name.replace(" ", "") == module]
    for path in PACKAGE.rglob("*.py"):
        if path.stem != module:
            assert name not in path.read_text(encoding="utf-8") and module not in path.read_text(encoding="utf-8"), path


def test_a_module_more_and_a_kit_is_checked_and_shown(tmp_path):
    (tmp_path / "more").mkdir()
    (tmp_path / "more" / "scroll.py").write_text(SCROLL, encoding="utf-8")
    make_archive(tmp_path / "club", KIT)
    env = os.environ | {"PYTHONPATH": str(PACKAGE.parent), "PYTHONDONTWRITEBYTECODE": "1"}
    done = subprocess.run(
        [sys.executable, "-c", RUN, str(tmp_path / "more")],
        cwd=tmp_path / "club",
        env=env,
        capture_output=True,
        text=True,
        encoding="utf-8",
    )
    assert done.returncode == 0, done.stdout + done.stderr
    # (12 + ⅜) / 4 is 3³⁄₃₂, up to the mark 3⅛; scored at 9¼, 6¼ and 3⅛.
    assert "error" not in done.stdout and "9¼ in" in done.stdout and "scroll fold" in done.stdout, done.stdout
