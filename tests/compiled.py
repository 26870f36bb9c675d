"""What the tests are made of is compiled once, before several processes of a run each compile all of it for themselves.

On a machine where nothing was run yet, that is two thirds of what it takes to collect the tests.
"""

from __future__ import annotations

import compileall
import contextlib
import importlib
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from _pytest.assertion import rewrite

TESTS = Path(__file__).resolve().parent
PROGRAM = TESTS.parent / "buildtools" / "kitwright"
OURS = {path.stem for folder in (TESTS, PROGRAM.parent, PROGRAM.parent / "benchmarks") for path in folder.iterdir()}


def compile_all(config: pytest.Config) -> None:
    """Compile the tests here, and beside them the program and what both import."""
    kept = {file: rewrite.get_cache_dir(file) / (file.stem + rewrite.PYC_TAIL) for file in TESTS.rglob("test_*.py")}
    missing = {file: compiled for file, compiled in kept.items() if not compiled.exists()}
    if sys.dont_write_bytecode or not missing:
        return  # what was changed since is little
    with subprocess.Popen([sys.executable, __file__], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL):
        for file, compiled in missing.items():
            # As pytest does when it first imports one.
            if rewrite.try_makedirs(compiled.parent):
                digest, code = rewrite._rewrite_test(file, config)
                rewrite._write_pyc(config.stash[rewrite.assertstate_key], code, digest, compiled)


def imported() -> list[str]:
    """The modules of others that stand at the top of any of our files."""
    texts = (file.read_text(encoding="utf-8") for folder in (TESTS, PROGRAM) for file in folder.rglob("*.py"))
    found = {name for text in texts for name in re.findall(r"^(?:from|import) ([\w.]+)", text, re.MULTILINE)}
    return sorted(name for name in found if name.split(".")[0] not in OURS)


if __name__ == "__main__":
    compileall.compile_dir(PROGRAM, quiet=2)
    for each in imported():
        # Words in a text, and what this system does not have.
        with contextlib.suppress(Exception):
            importlib.import_module(each)
    # Some of them would tidy up at the end.
    os._exit(0)
