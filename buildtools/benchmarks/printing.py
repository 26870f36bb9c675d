"""What readers print of every kit: pages, bytes, how full the pages are, and how long they take.

    PYTHONPATH=buildtools .venv/bin/python buildtools/benchmarks/printing.py [KITS]

KITS is a folder of kits, the demo's if left out. Times are of the processor.
"""

from __future__ import annotations

import io
import sys
import time
from pathlib import Path

import pypdfium2
from kitwright.kit.kit import Kit
from kitwright.kit.read import kit_folders, read_club, read_kit
from kitwright.printable.edition import EDITIONS
from kitwright.printable.job import Job
from kitwright.printable.pages import INKS
from kitwright.printable.two_pages import two_pages
from kitwright.printable.workbook import workbook_pages, workbook_pdf
from kitwright.release.revisions import as_it_stands
from kitwright.work.worked import Worked


def pages(data: bytes) -> int:
    """How many pages a file has."""
    return len(pypdfium2.PdfDocument(io.BytesIO(data)))


def measured(worked: Worked) -> None:
    """Two lines of the table: one for each edition."""
    for edition, form in EDITIONS.items():
        start = time.process_time()
        sheet = two_pages(worked, edition)
        middle = time.process_time()
        book = workbook_pdf(worked, edition)
        end = time.process_time()
        fills = [page.fill for page in workbook_pages(Job.for_edition(worked, edition, "full", None))]
        sizes = " ".join(f"{len(sheet[ink]) / 1000:6.1f}" for ink in INKS)
        least = min(fills[:-1], default=1)
        print(
            f"{worked.kit.id:26} {form.name:6} {pages(sheet['full']):5} {sizes} {middle - start:6.2f}"
            f"  | {pages(book):5} {len(book) / 1000:6.1f} {end - middle:6.2f} {least:6.0%} {sum(fills) / len(fills):6.0%}",
            flush=True,
        )


def main() -> None:
    """Print the table."""
    kits = Path(sys.argv[1] if len(sys.argv) > 1 else "kits")
    club = read_club(kits)
    print(f"{'kit':26} {'':6} pages   full  light   outl      s  | workb     kB      s  least   mean fill")
    for folder in kit_folders(kits):
        kit = read_kit(folder, club)
        if isinstance(kit, Kit):
            measured(as_it_stands(kit))


if __name__ == "__main__":
    main()
