"""Shared by all tests: how many examples hypothesis tries, and always the same ones in CI."""

import functools
import gc
import os
import shutil
import sys
import tempfile
from pathlib import Path

import kitwright.telling  # noqa: F401 - opens the catalogue, so that errors have words
import planned
import pytest
from compiled import compile_all
from examples import TIMES
from hypothesis import HealthCheck, settings
from kitwright.kit import yamlparts

os.cpu_count = lambda: 1
"""A test process has one core to itself, the others have theirs: a build in it draws its kits one after the other.

Helping processes would have to read the program, cut down the fonts and more before they draw what takes no longer; the
tests that are about several at once ask for them. It stands here since `from os import cpu_count` looks only once."""

yamlparts._whole = functools.lru_cache(1_000)(yamlparts._whole)
"""A text that was composed is not composed again: what is read most is one club, one kit and two people, thousands of times.

Nodes are only read, so those who come later are given what the first was; a text that can't be read fails each time anew."""

COMMON = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow, HealthCheck.function_scoped_fixture]}
EXAMPLES = max(1, round(25 * TIMES))
settings.register_profile("ci", derandomize=True, max_examples=EXAMPLES, database=None, **COMMON)
settings.register_profile("desk", max_examples=EXAMPLES, **COMMON)
settings.load_profile("ci" if os.environ.get("CI") else "desk")

JUDGE = "ortools"
"""The library that judges the planner; as long as it has no build for Python 3.15, these files are left out there, and there alone."""
collect_ignore = (
    [str(path) for path in Path(__file__).parent.rglob("test_*.py") if f"from {JUDGE}" in path.read_text(encoding="utf-8")]
    if sys.version_info >= (3, 15)
    else []
)


MEMORY = Path("/dev/shm")
"""Where files lie in memory, on a system that has such a place."""
ROOM = 6 * 2**30
"""Bytes that must be free there, and of memory, for the tests to write there: they write less than half of it, in tens of thousands of small files."""
TEMPORARY = "PYTEST_DEBUG_TEMPROOT"
"""The variable by which pytest is told where its folders for the tests go."""


def free_memory() -> int:
    """Bytes of memory that nobody needs; 0 where the system does not tell."""
    try:
        told = dict(line.split(":") for line in Path("/proc/meminfo").read_text(encoding="utf-8").splitlines())
        return int(told["MemAvailable"].split()[0]) * 1024
    except (OSError, KeyError, ValueError):
        return 0


def pytest_configure(config: pytest.Config):
    """What the tests write stays in memory where there is room for it: a fourth of what some take is the disk's keeping of books.

    Several processes have what they need compiled before they begin, and share what they asked the planner."""
    begins = not hasattr(config, "workerinput") and config.option.basetemp is None and TEMPORARY not in os.environ
    if begins and MEMORY.is_dir() and os.access(MEMORY, os.W_OK) and min(free_memory(), shutil.disk_usage(MEMORY).free) > ROOM:
        os.environ[TEMPORARY] = str(MEMORY)
        config.add_cleanup(lambda: os.environ.pop(TEMPORARY))
    if hasattr(config, "workerinput"):
        planned.share(os.environ[planned.FOLDER])
    elif config.getoption("numprocesses", None):
        compile_all(config)
        os.environ[planned.FOLDER] = tempfile.mkdtemp(prefix="planned-", dir=os.environ.get(TEMPORARY))
        config.add_cleanup(lambda: shutil.rmtree(os.environ.pop(planned.FOLDER)))


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session: pytest.Session, exitstatus: int):
    """Memory is given back once all went well; what a failure left is there to be looked at."""
    folder = session.config._tmp_path_factory._basetemp
    if exitstatus == 0 and os.environ.get(TEMPORARY) == str(MEMORY) and folder and not hasattr(session.config, "workerinput"):
        shutil.rmtree(folder, ignore_errors=True)


LONG = Path(__file__).parent / "site", Path(__file__).with_name("test_style.py")
"""What drives a browser, and what types are checked by: minutes, and a quarter of one at a stroke."""


def pytest_collection_modifyitems(items: list[pytest.Item]):
    """The long ones first, at the head of what the first two of three processes begin with: none is left for the end, while the others have nothing to do."""
    browsing, checking = ([item for item in items if item.path.is_relative_to(long)] for long in LONG)
    others = [item for item in items if not any(item.path.is_relative_to(long) for long in LONG)]
    middle = max(1, len(items) // 3 - len(browsing))
    while middle < len(others) and others[middle].path == others[middle - 1].path:
        middle += 1  # what a file of tests makes for itself is made once
    items[:] = [*browsing, *others[:middle], *checking, *others[middle:]]


def pytest_collection_finish():
    """Thousands of collected tests live to the end: the collector need not walk over them again and again."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 20)


def pytest_report_header():
    """Says what is left out."""
    left_out = [Path(path).name for path in collect_ignore]
    return f"left out, since {JUDGE} has no build for this Python: {', '.join(left_out)}" if left_out else None


@pytest.fixture(autouse=True, scope="session")
def unsynced():
    """No test outlives a power failure, so nothing waits for the disk."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "fsync", lambda opened: None)
        if hasattr(os, "sync"):
            patch.setattr(os, "sync", lambda: None)
        yield
