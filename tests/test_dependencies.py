"""What is declared is what is imported, and each has its reason."""

import ast
import re
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

from importing import imports_of
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
NOT_IMPORTED = {
    "mkdocs-material": "a theme, named in theme/mkdocs.yml",
    "tzdata": "read by the standard library's zoneinfo",
    "mypy": "run as a program by test_style.py",
    "ruff": "run as a program by test_style.py",
    "pytest-xdist": "a plug-in of pytest; run.py asks it for two workers",
    "types-markdown": "read by mypy",
    "types-pyyaml": "read by mypy",
    "types-reportlab": "read by mypy",
}


def declared(requirements):
    return {canonicalize_name(Requirement(text).name) for text in requirements}


def imported(folder):
    """The distributions whose modules the files below a folder import, late imports included."""
    modules = set()
    for path in folder.rglob("*.py"):
        for node in imports_of(path):
            if isinstance(node, ast.Import):
                modules |= {alias.name.partition(".")[0] for alias in node.names}
            elif node.module and not node.level:
                modules.add(node.module.partition(".")[0])
    owners = packages_distributions()
    outside = modules - sys.stdlib_module_names - {"kitwright"}
    return {canonicalize_name(owner) for module in outside for owner in owners.get(module, [])} - {"kitwright"}


USED = declared(PROJECT["dependencies"])
CLUSTER = declared(PROJECT["optional-dependencies"]["cluster"])
TESTING = declared(PROJECT["optional-dependencies"]["test"])


def test_the_package_imports_what_is_declared_and_nothing_else():
    assert imported(ROOT / "buildtools" / "kitwright") == (USED | CLUSTER) - NOT_IMPORTED.keys()


def test_the_tests_import_what_is_declared_besides_and_nothing_else():
    assert imported(ROOT / "tests") - USED == TESTING - NOT_IMPORTED.keys()


def test_what_is_not_imported_is_declared_with_its_reason():
    assert NOT_IMPORTED.keys() <= USED | TESTING


def test_each_has_its_reason_for_who_carries_on():
    table = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## What it stands on")[2].partition("\n## ")[0]
    rows = re.findall(r"^\| ([\w, -]+) \| (\w.{5,}) \|$", table, re.M)
    assert sorted(name for names, _ in rows for name in names.split(", ")) == sorted(USED)
