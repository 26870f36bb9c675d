"""Types, lint and layout of the code: no error, and nothing passed over without its reason.

mypy (with pydantic's plug-in) and ruff are run as programs; what they look for stands in
pyproject.toml.
"""

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
CODE = [path for folder in ("buildtools", "tests") for path in sorted((ROOT / folder).rglob("*.py"))]


@pytest.mark.parametrize("words", [["mypy"], ["ruff", "check"], ["ruff", "format", "--check"]], ids=" ".join)
def test_no_error(words):
    done = subprocess.run([sys.executable, "-m", *words], cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, f"{' '.join(words)}\n{done.stdout}{done.stderr}"


def test_what_is_passed_over_says_what_and_why():
    """`# type: ignore[code]  # the reason`; `# noqa: CODE`, with its reason in the package."""
    for path in CODE:
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            where = f"{path.relative_to(ROOT)}:{number}"
            if "# type: " + "ignore" in line and path != Path(__file__):
                assert re.search(r"# type: ignore\[[a-z-]+\]  # \w.+", line), where
            if "# no" + "qa" in line and path != Path(__file__):
                assert re.search(r"# noqa: [A-Z]+\d+", line), where
                if "kitwright" in path.parts:
                    assert re.search(r"# noqa: [A-Z0-9, ]+ - \w.+", line), where
