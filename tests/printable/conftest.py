"""Printables of the test kits, made once for all tests."""

from __future__ import annotations

import importlib.util
import io
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path

import pdfplumber
import pypdfium2
import pytest
from kitwright.drawing.styles import Level
from kitwright.printable import EDITIONS, Edition, printable_pdf, workbook_pdf
from kitwright.release.stamp import Stamp
from kitwright.work.worked import Worked

_spec = importlib.util.spec_from_file_location("printable_kits", Path(__file__).with_name("kits.py"))
kits = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(kits)


@dataclass
class Printed:
    """One printable and what it was made from."""

    worked: Worked
    edition: Edition
    file: Path

    @cached_property
    def pages(self) -> list:
        """Its pages as pdfplumber reads them."""
        return pdfplumber.open(io.BytesIO(self.file.read_bytes())).pages

    @cached_property
    def said(self) -> list[str]:
        """The text of each page as a reader copies it; pdfium honours ActualText, so fractions come in plain digits."""
        document = pypdfium2.PdfDocument(self.file)
        return [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]


PRINTED = [
    ("2027-05-three-coves", "letter"),
    ("2027-05-three-coves", "a4"),
    ("2027-06-long-evening", "letter"),
    ("2027-07-night-ferry", "a4"),
    ("2027-08-garden", "letter"),
]


@pytest.fixture(scope="session")
def make_kit(tmp_path_factory):
    """Work out a test kit by its id, or from the text of another spec under that id."""

    def make(name: str, spec: str | None = None, club: str | None = None) -> Worked:
        return kits.worked(tmp_path_factory.mktemp("kits"), name, spec, club)

    return make


@pytest.fixture(scope="session")
def all_kits(make_kit):
    return {name: make_kit(name) for name in kits.KITS}


@pytest.fixture(scope="session")
def pdf_of(all_kits):
    """The printable of a test kit, made once for all tests that ask for the same one."""

    @cache
    def make(name: str, edition: str = "letter", ink: Level = "full", stamp: Stamp | None = None) -> bytes:
        return printable_pdf(all_kits[name], edition, ink=ink, stamp=stamp)

    return make


@pytest.fixture(scope="session")
def workbook_of(all_kits):
    """Its workbook, likewise."""

    @cache
    def make(name: str, edition: str = "letter", stamp: Stamp | None = None) -> bytes:
        return workbook_pdf(all_kits[name], edition, stamp=stamp)

    return make


BOUND = [("2027-05-three-coves", "letter"), ("2027-06-long-evening", "letter"), ("2027-07-night-ferry", "a4")]


@pytest.fixture(scope="session", params=BOUND, ids=lambda p: f"{p[0]}-{p[1]}")
def bound(request, all_kits, workbook_of, tmp_path_factory) -> Printed:
    """The workbooks of some of them."""
    name, edition = request.param
    file = tmp_path_factory.mktemp("workbook") / f"{name}-{edition}.pdf"
    file.write_bytes(workbook_of(name, edition))
    return Printed(all_kits[name], EDITIONS[edition], file)


@pytest.fixture(scope="session", params=PRINTED, ids=lambda p: f"{p[0]}-{p[1]}")
def printed(request, all_kits, pdf_of, tmp_path_factory) -> Printed:
    """Every test kit, the upright one in both editions."""
    name, edition = request.param
    file = tmp_path_factory.mktemp("pdf") / f"{name}-{edition}.pdf"
    file.write_bytes(pdf_of(name, edition))
    return Printed(all_kits[name], EDITIONS[edition], file)


@pytest.fixture(scope="session")
def kit_texts() -> dict[str, str]:
    """The specs of the test kits."""
    return kits.KITS


@pytest.fixture(scope="session")
def club_text() -> str:
    return kits.CLUB


@pytest.fixture(scope="session")
def stress():
    """A spec with so many piece kinds and papers."""
    return kits.stress
