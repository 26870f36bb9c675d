"""From a bare machine to a first published kit, as README tells it: its own lines, typed one after the other.

Left out is the set-up of `.venv`, which takes a minute and a network: tests/test_run.py holds that. Here the program's
folder is a copy of what run.py reads, which would set itself up, as is shown; then an environment is put there that hands
on to the package as it stands. Left out too are `preview`, which does not end, and the hands: printing, cutting, uploading.
"""

from __future__ import annotations

import errno
import importlib.util
import json
import os
import pty
import re
import shlex
import shutil
import signal
import subprocess
import sys
from pathlib import Path
from threading import Timer

import pytest
from archive.pagecheck import faults_of
from pypdf import PdfReader

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
ANSWERS = ["The Paper Bench", "Lisbon", "metric", ""]
"""To the questions that README names, in its order."""
ENOUGH = 240
"""Seconds, after which something waits for an answer that README does not speak of."""


def typed(section: str) -> list[list[str]]:
    """The lines of each code block in a section of README, without what is said beside them."""
    text = README.partition(f"\n## {section}\n")[2].partition("\n## ")[0]
    blocks = re.findall(r"^( *)```\n(.*?)^\1```$", text, re.MULTILINE | re.DOTALL)
    return [[re.split(r" {2,}(?=\S)", line.strip())[0] for line in block.splitlines()] for _, block in blocks]


def at_a_terminal(lines: list[str], cwd: Path, answers: list[str], env: dict[str, str]) -> str:
    """Type lines into a shell at a terminal, and answers as they are asked for; all that stands on the screen."""
    ours, theirs = pty.openpty()
    script = "shopt -s expand_aliases\nset -e\n" + "\n".join(lines)
    words = ["bash", "--norc", "-c", script]
    with subprocess.Popen(words, cwd=cwd, env=env, stdin=theirs, stdout=theirs, stderr=theirs, start_new_session=True) as shell:
        os.close(theirs)
        # What is asked beyond the answers meets the end of what was typed.
        os.write(ours, ("".join(f"{answer}\n" for answer in answers) + "\x04").encode())
        shown, watch = b"", Timer(ENOUGH, os.killpg, (shell.pid, signal.SIGKILL))
        watch.start()
        try:
            while part := os.read(ours, 65536):
                shown += part
        except OSError as error:
            assert error.errno == errno.EIO  # how Linux tells that the other end is closed
        os.close(ours)
        told = shown.decode().replace("\r\n", "\n")
        ended = shell.wait()
        watch.cancel()
        assert ended == 0, told
    return told


@pytest.fixture(scope="module")
def machine(tmp_path_factory):
    """A machine with a folder called kitwright that is set up, and an empty home; its top folder, and the environment."""
    top = tmp_path_factory.mktemp("a bare machine")
    home, program = top / "home", top / "kitwright"
    (program / "buildtools").mkdir(parents=True)
    home.mkdir()
    for name in ("pyproject.toml", "buildtools/run.py", "buildtools/requirements.txt", "buildtools/requirements-test.txt"):
        shutil.copy(ROOT / name, program / name)
    spec = importlib.util.spec_from_file_location("run_on_a_bare_machine", program / "buildtools" / "run.py")
    run = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(run)
    want = run.wanted("build")
    assert not run.is_ready(want), "a bare machine is set up first"
    hands_on = f'#!/bin/sh\nPYTHONPATH={shlex.quote(str(ROOT / "buildtools"))} exec {shlex.quote(sys.executable)} -m kitwright "$@"\n'
    for name in ("python", "kitwright"):
        run.program(name).parent.mkdir(parents=True, exist_ok=True)
        run.program(name).write_text(hands_on)
        run.program(name).chmod(0o755)
    run.write_stamp(want)
    assert run.is_ready(want)
    env = {"PATH": f"{Path(sys.executable).parent}:{os.environ['PATH']}", "HOME": str(home), "SHELL": "/bin/bash", "TERM": "xterm"}
    return top, env | {"LANG": "C.UTF-8", "TZ": "UTC", "NO_COLOR": "1"}


def test_from_nothing_to_the_first_published_kit(machine):
    top, env = machine
    mine, program = top / "my-club", top / "kitwright"

    (begin,) = typed("Make it yours")
    assert len(begin) == 3 and re.match(r"python3 buildtools/run\.py begin ", begin[0])
    told = at_a_terminal(begin, program, ANSWERS, env)
    assert told.partition("Wrote your archive")[0].count("?") == len(ANSWERS) and (mine / "site" / "index.html").is_file(), told
    # The other two are printed as they can be typed from anywhere, and lead to the same.
    go, build, shorter = re.findall(r"^  ((?:cd|\S*python[\d.]*|alias) .*)$", told, re.MULTILINE)
    assert shlex.split(go) == ["cd", str(mine)] and (program / begin[1].split()[1]).resolve() == mine
    assert shlex.split(build)[1:] == [str(program / "buildtools" / "run.py"), "build"]
    assert (mine / begin[2].split()[1]).resolve() == program / "buildtools" / "run.py"
    page = (mine / "site" / "index.html").read_text(encoding="utf-8")
    assert "<h1>The Paper Bench</h1>" in page and "Our first kit" in page and "Hello there" in page and "Printable A4 <small>PDF" in page
    assert "One kit so far." in (mine / "site" / "archive.html").read_text(encoding="utf-8")
    assert faults_of(mine / "site") == []
    assert f"`{shorter}`" not in README and shorter in (mine / "README.md").read_text(encoding="utf-8")

    # From here on README writes one word, which the printed line makes do, anywhere inside.
    blocks = typed("From nothing to your first published kit")
    (kit,) = (mine / "kits").glob("*-hello-there")
    lines = [line for block in blocks for line in block]
    assert [line.split()[1] for line in lines] == ["check", "show", "release", "build"]
    told = at_a_terminal([shorter, *lines], kit, [], env)
    assert f"{kit.name}: nothing to mend" in told and "210 × 148 mm" in told and "published" in told
    code = re.search(r"\b[0-9A-Z]{4}-[0-9A-Z]{4}\b", told)[0]
    made = mine / "site" / "kits" / kit.name
    page = (made / "index.html").read_text(encoding="utf-8")
    assert code in page and "Revision 1" in page and "PREVIEW" not in page
    printable = min(made.glob("*a4.pdf"), key=lambda file: len(file.name))
    assert all(code in leaf.extract_text() and "PREVIEW" not in leaf.extract_text() for leaf in PdfReader(printable).pages)
    assert json.loads((mine / "site" / "kits.json").read_text(encoding="utf-8"))["kits"][0]["id"] == kit.name


def test_a_newer_kitwright_is_met_by_commands_that_stand(machine):
    """The section on renewing types what the route before it did, in the owner's archive."""
    (lines,) = typed("A newer kitwright")
    assert [line.split()[:2] for line in lines] == [["kitwright", "check"], ["kitwright", "build"]]
