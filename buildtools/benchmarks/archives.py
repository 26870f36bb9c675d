"""What archives of many sizes cost to build, cold and warm, beside bare MkDocs on the same pages: `archives.py [--kits 9,24,120,600,1200] [--seed N]`.

Makes archives of generated kits (`generated.py`) and prints `name kits value unit`, a line for
each thing measured, and nothing else; how far it is goes to the terminal's other stream. Every
command is typed as its author types it, `python3 -m kitwright …`, in a fresh process.

    cold        the first build, with nothing kept
    nothing     again, with nothing changed
    size        with one size changed in the kit that is public and not released
    notes       with a word changed in its notes
    question    with an answer changed in a released kit
    release     with that kit released since
    style       with a style sheet of the archive's own changed
    template    with a template of its own changed
    team        for the team, cold: its site is another, of the same kits and those to come
    upcoming    for the team, with one size changed in a kit to come
    mkdocs      `mkdocs build` by itself, on the very pages that `cold` handed to it
    search      in Chromium, as it is and four times slower: from the stroke of a key to painted results
    check       all kits, and one; cold and warm
    draw        one kit's printables and pictures, released and not; cold and warm
    same        whether what was built warm is, byte for byte, what is built cold

Of a build: wall and processor seconds (the system's among them, all processes), peak memory of
the main process and of the largest worker; of the site its files, bytes and those of its search
index. `cold.beyond` is what a cold build takes of the processors beyond bare MkDocs, a kit;
`size.of-mkdocs` the share of bare MkDocs' processor seconds. The slopes of `slope.*` are those of the line
that fits all sizes best, and `bend.*` says by how much the largest lies above the line through the others.
"""

from __future__ import annotations

import argparse
import gzip
import hashlib
import json
import os
import shutil
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

import generated
from kitwright.archive.search.index import FOLDER, MAP
from measured import Took, kitwright, run
from searching import answered

CACHE, SITE, TEAM = ".made", "site", "site-team"
HERE = Path(__file__).resolve().parent


@dataclass
class Bench:
    """One archive on which everything is measured, and what was found."""

    kits: int
    root: Path
    lines: dict[tuple[str, int], tuple[float, str]] = field(default_factory=dict)

    def found(self, name: str, value: float, unit: str) -> None:
        """Print a line."""
        self.lines[name, self.kits] = value, unit
        print(name, self.kits, shown(value), unit, flush=True)

    def took(self, name: str, took: Took) -> Took:
        """The lines of a command."""
        self.found(f"{name}.wall", took.wall, "s")
        self.found(f"{name}.processor", took.processor, "s")
        self.found(f"{name}.main", took.main, "MB")
        if took.worker:
            self.found(f"{name}.worker", took.worker, "MB")
            self.found(f"{name}.together", took.together, "MB")
        return took

    @property
    def note(self) -> list[dict[str, object]]:
        """The kits, as they were made."""
        return json.loads((self.root / generated.NOTE).read_text(encoding="utf-8"))["kits"]

    @property
    def seed(self) -> int:
        return json.loads((self.root / generated.NOTE).read_text(encoding="utf-8"))["seed"]

    def kit(self, number: int) -> Path:
        """A kit's folder."""
        return self.root / "kits" / generated.id_of(number)


def shown(value: float) -> str:
    """Three figures, or a whole number."""
    return str(int(value)) if value == int(value) and abs(value) >= 100 else f"{value:.0f}" if abs(value) >= 1000 else f"{value:.3g}"


# --- what is measured -----------------------------------------------------------------------------


def cold(bench: Bench) -> None:
    for folder in (CACHE, SITE, f".{SITE}-before"):
        shutil.rmtree(bench.root / folder, ignore_errors=True)
    bench.took("cold", kitwright(bench.root, "build"))
    files = [f for f in (bench.root / SITE).rglob("*") if f.is_file()]
    bench.found("files", len(files), "files")
    bench.found("pages", sum(f.suffix == ".html" for f in files), "files")
    bench.found("bytes", sum(f.stat().st_size for f in files) / 1e6, "MB")
    index = [f.stat().st_size for f in (bench.root / SITE / FOLDER).iterdir()]
    bench.found("search-index", sum(index) / 1e3, "kB")
    bench.found("search-index.parts", len(index), "files")
    bench.found("cache", sum(f.stat().st_size for f in (bench.root / CACHE).rglob("*") if f.is_file()) / 1e6, "MB")


def nothing(bench: Bench) -> None:
    bench.took("nothing", kitwright(bench.root, "build"))


def size(bench: Bench) -> None:
    _change_size(bench, generated.OPEN)
    bench.took("size", kitwright(bench.root, "build"))


def _change_size(bench: Bench, number: int) -> None:
    files, _ = generated.kit_files(bench.seed, number, slip=True)
    assert (bench.kit(number) / "kit.yaml").read_bytes() != files["kit.yaml"]
    (bench.kit(number) / "kit.yaml").write_bytes(files["kit.yaml"])


def notes(bench: Bench) -> None:
    _append(bench.kit(generated.OPEN) / "notes.md", "\nRhubarb.\n")
    bench.took("notes", kitwright(bench.root, "build"))


def question(bench: Bench) -> None:
    number = next(n for n in range(bench.kits) if generated.state(n) == "released")
    file = bench.kit(number) / "kit.yaml"
    text, asked = file.read_text(encoding="utf-8"), '  - {ask: "May I sew it?", answer: "You may."}\n'
    file.write_text(
        text.replace("questions:\n", f"questions:\n{asked}") if "questions:\n" in text else f"{text}questions:\n{asked}", "utf-8"
    )
    bench.took("question", kitwright(bench.root, "build"))


def release(bench: Bench) -> None:
    bench.took("release.command", kitwright(bench.root, "release", generated.id_of(generated.OPEN)))
    bench.took("release", kitwright(bench.root, "build"))


def style(bench: Bench) -> None:
    _take(bench, "assets/site.css", "\n.md-typeset h1 { letter-spacing: 0.01em; }\n")
    bench.took("style", kitwright(bench.root, "build"))


def template(bench: Bench) -> None:
    _take(bench, "templates/kit.md", "\nRhubarb.\n")
    bench.took("template", kitwright(bench.root, "build"))


def _take(bench: Bench, name: str, more: str) -> None:
    kitwright(bench.root, "theme", name, "--take")
    _append(bench.root / "theme" / name, more)


def _append(file: Path, text: str) -> None:
    file.write_text(file.read_text(encoding="utf-8") + text, encoding="utf-8")


def team(bench: Bench) -> None:
    bench.took("team", kitwright(bench.root, "build", "--for", "team"))


def upcoming(bench: Bench) -> None:
    if not (bench.root / TEAM).exists():
        kitwright(bench.root, "build", "--for", "team")
    _change_size(bench, 0)
    bench.took("upcoming", kitwright(bench.root, "build", "--for", "team"))


def search(bench: Bench) -> None:
    site = bench.root / SITE
    before = [site / MAP, *(site / "look" / name for name in ("search.js", "sizes.js", "search.css"))]
    bench.found("search.before-first", sum(f.stat().st_size for f in before) / 1e3, "kB")
    bench.found("search.before-first.packed", sum(len(gzip.compress(f.read_bytes(), mtime=0)) for f in before) / 1e3, "kB")
    for slower in (1, 4):
        for name, value, unit in answered(site, slower):
            bench.found(f"search.{name}.slower-{slower}", float(str(value)), unit)


def mkdocs(bench: Bench) -> None:
    with tempfile.TemporaryDirectory(dir=bench.root.parent) as passing:
        tree, made = Path(passing) / "tree", Path(passing) / "made"
        run([sys.executable, HERE / "content.py", bench.root, tree], bench.root)
        words = [sys.executable, "-m", "mkdocs", "build", "--quiet", "--config-file", tree / "mkdocs.yml", "--site-dir", made]
        bench.took("mkdocs", run(words, Path(passing), {"NO_MKDOCS_2_WARNING": "1", "SOURCE_DATE_EPOCH": "1732701600"}))
        bench.found("mkdocs.pages", sum(1 for _ in made.rglob("*.html")), "files")


def check(bench: Bench) -> None:
    one = generated.id_of(generated.OPEN)
    for name, words in (("check", ()), ("check-one", (one,))):
        for kept in ("cold", "warm"):
            if kept == "cold":
                shutil.rmtree(bench.root / CACHE, ignore_errors=True)
            bench.took(f"{name}.{kept}", kitwright(bench.root, "check", *words, may_fail=True))


def draw(bench: Bench) -> None:
    for name, number in (("draw", generated.OPEN), ("draw-released", generated.OPEN + 1)):
        for kept in ("cold", "warm"):
            if kept == "cold":
                shutil.rmtree(bench.root / CACHE, ignore_errors=True)
            with tempfile.TemporaryDirectory() as passing:
                bench.took(f"{name}.{kept}", kitwright(bench.root, "draw", generated.id_of(number), "--out", Path(passing) / "drawn"))


def same(bench: Bench) -> None:
    with tempfile.TemporaryDirectory(dir=bench.root.parent) as passing:
        other = Path(passing) / "again"
        shutil.copytree(bench.root, other, ignore=shutil.ignore_patterns(CACHE, SITE, TEAM, ".site*"))
        kitwright(bench.root, "build")
        kitwright(other, "build")
        apart = {name for name, digest in (contents(bench.root / SITE) ^ contents(other / SITE))}
    for name in sorted(apart)[:10]:
        print(f"not the same: {name}", file=sys.stderr)
    print("same", bench.kits, len(apart), "differing" if apart else "yes", flush=True)


def contents(site: Path) -> set[tuple[str, str]]:
    """Every file of a site with its digest, but the record of when it was built."""
    files = (f for f in site.rglob("*") if f.is_file() and f.name != ".kitwright.json")
    return {(f.relative_to(site).as_posix(), hashlib.sha256(f.read_bytes()).hexdigest()) for f in files}


STEPS: dict[str, Callable[[Bench], None]] = {
    step.__name__: step
    for step in (cold, nothing, mkdocs, search, size, notes, question, style, template, same, team, upcoming, release, draw, check)
}
"""In this order: each finds the archive as the one before left it."""
BUILDS = ("cold", "nothing", "size", "notes", "question", "style", "template", "team", "upcoming", "release")
LARGE, SMALL_ONLY = 600, ("same", "team", "upcoming", "template", "notes", "question", "release", "draw", "check")
"""From so many kits on the last are left out unless they are asked for: they would say little more, and take an hour."""


# --- over all sizes -------------------------------------------------------------------------------


def beside(bench: Bench) -> None:
    """What builds take beside bare MkDocs."""
    bare = bench.lines.get(("mkdocs.processor", bench.kits))
    if not bare:
        return
    for name in BUILDS:
        if (took := bench.lines.get((f"{name}.processor", bench.kits))) is None:
            continue
        if name == "cold":
            bench.found("cold.beyond", (took[0] - bare[0]) / bench.kits, "s/kit")
        else:
            bench.found(f"{name}.of-mkdocs", took[0] / bare[0], "x")


def slopes(benches: list[Bench]) -> None:
    """A line for everything that was measured at three sizes or more."""
    measured: dict[tuple[str, str], list[tuple[int, float]]] = {}
    for bench in benches:
        for (name, kits), (value, unit) in bench.lines.items():
            measured.setdefault((name, unit), []).append((kits, value))
    for (name, unit), points in measured.items():
        if len(points) < 3 or unit in ("x", "s/kit"):
            continue
        slope, start = line(points)
        print(f"slope.{name}", f"{points[0][0]}-{points[-1][0]}", f"{slope:.4g}", f"{unit}/kit", flush=True)
        before, (last, value) = points[:-1], points[-1]
        slope, start = line(before)
        if start + slope * last > 0:
            print(f"bend.{name}", last, f"{value / (start + slope * last):.2f}", "x", flush=True)


def line(points: list[tuple[int, float]]) -> tuple[float, float]:
    """Slope and start of the line of least squares."""
    n, xs, ys = len(points), [Fraction(x) for x, _ in points], [Fraction(y) for _, y in points]
    mean_x, mean_y = sum(xs) / n, sum(ys) / n
    slope = sum((x - mean_x) * (y - mean_y) for x, y in zip(xs, ys)) / sum((x - mean_x) ** 2 for x in xs)
    return float(slope), float(mean_y - slope * mean_x)


def main(arguments: Iterable[str] | None = None) -> int:
    """Run from the command line; returns the exit status."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--kits", default="9,24,120,600,1200", metavar="N,N", help="sizes of archives")
    parser.add_argument("--seed", type=int, default=1, metavar="N")
    parser.add_argument("--only", default="", metavar="NAME,NAME", help="of what stands above")
    parser.add_argument(
        "--keep", type=Path, metavar="DIR", help="leave the archives here, and the parts of which others of this seed can be made"
    )
    said = parser.parse_args(list(arguments) if arguments is not None else None)
    sizes, only = sorted({int(n) for n in said.kits.split(",")}), [name for name in said.only.split(",") if name]
    if unknown := set(only) - set(STEPS):
        parser.error(f"not measured here: {', '.join(sorted(unknown))}")
    benches, failed, started = [], [], time.monotonic()

    def tell(what: str) -> None:
        print(f"{time.monotonic() - started:6.0f} s  {what}; load {os.getloadavg()[0]:.1f}", file=sys.stderr, flush=True)

    with tempfile.TemporaryDirectory() as passing:
        home = said.keep or Path(passing)
        tell(f"making {sizes[-1]} kits")
        generated.make_parts(home / "parts", sizes[-1], said.seed)
        for kits in sizes:
            bench = Bench(kits, home / f"kits-{kits}")
            shutil.rmtree(bench.root, ignore_errors=True)
            generated.assemble(home / "parts", kits, said.seed, bench.root)
            for name, step in STEPS.items():
                if name in only or not only and not (kits >= LARGE and name in SMALL_ONLY):
                    tell(f"{kits} kits: {name}")
                    try:
                        step(bench)
                    except Exception:
                        # The others are worth having all the same.
                        traceback.print_exc()
                        failed.append(f"{name} of {kits}")
            beside(bench)
            benches.append(bench)
            if not said.keep:
                shutil.rmtree(bench.root)
        slopes(benches)
    tell(f"failed: {', '.join(failed)}" if failed else "done")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
