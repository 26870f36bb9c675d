"""How long `kitwright import` takes for many old printables, and a build of the site of them: seconds by the clock, and of processor time.

    .venv/bin/python buildtools/benchmarks/old_printables.py [--pdfs N] [--build] [--keep DIR]

The PDFs are of many kinds: text, drawings, photos, scans of many megapixels, many pages; a twentieth
are broken, locked or the same twice. They are the same at every run.
"""

from __future__ import annotations

import argparse
import io
import os
import random
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from PIL import Image
from reportlab.lib.pdfencrypt import StandardEncryption
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

HERE = Path(__file__).resolve().parents[2]
WORDS = (
    "paper card strip fold score panel mat banner sheet cut glue foam cord stamp ink window door boat star leaf hill river stone".split()
)
CLUB = "name: The Old Bench\ntagline: Since 1999\nabout: Old printables.\ntime zone: UTC\nregion: us\ntrimmer: {cut length: 12-1/2, finest mark: 1/16, least hold: 1/2}\nterms: For trying.\ncautions: [Blades are sharp.]\n"
MONTHS = "January February March April May June July August September October November December".split()


def photo(dice: random.Random, width: int, height: int) -> ImageReader:
    """A picture with the grain of a photo."""
    small = Image.frombytes("RGB", (width // 16, height // 16), dice.randbytes((width // 16) * (height // 16) * 3))
    data = io.BytesIO()
    small.resize((width, height), Image.Resampling.BILINEAR).save(data, "JPEG", quality=88)
    return ImageReader(data)


def one(number: int) -> bytes:
    """An old printable; which kind follows from its number."""
    dice, out = random.Random(number), io.BytesIO()
    lock = StandardEncryption("secret", strength=128) if number % 60 == 7 else None
    size = dice.choice([(612, 792), (612, 792), (595.28, 841.89), (792, 612), (576, 576)])
    canvas = Canvas(out, pagesize=size, invariant=1, encrypt=lock)
    for page in range(dice.choice([1, 2, 2, 3, 4, 12])):
        if number % 12 == 3 and page < 2:
            # A scan: the whole page in 300 dots to the inch.
            canvas.drawImage(photo(dice, 2550, 3300), 0, 0, *size)
        for line in range(dice.randrange(10, 45)):
            canvas.drawString(48, size[1] - 60 - 15 * line, " ".join(dice.choices(WORDS, k=9)) + f" {number}.{page}")
        if number % 4 == 1:
            canvas.drawImage(photo(dice, 1200, 900), 300, 60, 240, 180)
        for _ in range(dice.randrange(5, 400)):
            canvas.setFillColorRGB(dice.random(), dice.random(), dice.random())
            canvas.rect(dice.random() * size[0], dice.random() * size[1], 30, 20, fill=1)
        canvas.showPage()
    canvas.save()
    data = out.getvalue()
    return data[: len(data) // 3] if number % 60 == 11 else data


def named(number: int) -> str:
    """A name as people give them."""
    year, month = 2001 + number // 12, number % 12 + 1
    words = f"{WORDS[number % len(WORDS)]} {WORDS[(number // 7 + 3) % len(WORDS)]}"
    return (
        f"{year}-{month:02} {words.title()}.pdf",
        f"{year}/{MONTHS[month - 1]} {year} - {words} v2 FINAL.pdf",
        f"{words.replace(' ', '_')}_{month:02}-{year}.pdf",
        f"{year}/{month:02}/{words}.pdf",
    )[number % 4]


def command(*words: str | Path) -> tuple[float, float, str]:
    """Seconds, seconds of processor time, and what was said."""
    before, started = resource.getrusage(resource.RUSAGE_CHILDREN), time.monotonic()
    done = subprocess.run(
        [sys.executable, "-m", "kitwright", *map(str, words)],
        capture_output=True,
        text=True,
        env=os.environ | {"PYTHONPATH": str(HERE / "buildtools")},
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    if done.returncode == 2:
        sys.exit(done.stderr)
    spent = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return time.monotonic() - started, spent, done.stdout


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--pdfs", type=int, default=300)
    asked.add_argument("--build", action="store_true", help="build the site, too")
    asked.add_argument("--keep", type=Path, help="leave the archive in this empty folder")
    said = asked.parse_args()
    with tempfile.TemporaryDirectory() as passing:
        home = said.keep or Path(passing)
        (home / "club" / "kits").mkdir(parents=True)
        (home / "club" / "kits" / "club.yaml").write_text(CLUB, encoding="utf-8")
        total = 0
        for number in range(said.pdfs):
            file, data = home / "old" / named(number), one(number - 1 if number % 60 == 13 else number)
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(data)
            total += len(data)
        print(f"{said.pdfs} PDFs, {total / 1e6:.0f} MB, on {os.cpu_count()} cores; load {os.getloadavg()[0]:.1f}")
        for name, words in (("import", ("import", home / "old", "--yes")), ("again", ("import", home / "old"))):
            clock, spent, told = command("--root", home / "club", *words)
            print(f"{name:7} {clock:6.1f} s, {spent:6.1f} s of processor time; {told.strip().splitlines()[-1]}")
        if said.build:
            for name in ("build", "again"):
                clock, spent, told = command("--root", home / "club", "build")
                print(f"{name:7} {clock:6.1f} s, {spent:6.1f} s of processor time; {told.strip().splitlines()[-1]}")


if __name__ == "__main__":
    main()
