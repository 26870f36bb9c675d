"""Makes an archive of generated kits that differ as real ones do: `generated.py DIR [--kits N] [--seed N]`.

The same seed gives the same bytes. Kits are numbered from the newest: a smaller archive is the
newest kits of a larger one, one a week into the past. Two are to come (in 2090, whatever the
clock says), the third is public and not released yet, so that a change of it is seen at once;
every tenth exists only as a PDF; the others are released, one in twelve of them corrected since.

A kit is released by kitwright's own code in an archive of its own, and the ledger is written over
all of them, since a release beside a thousand others would look them all over. Eight kits are
really drawn; further ones keep copies of those files under names of their own, which is what
takes time: drawing them would take two hours, `check` among it. Drawn or not, a build only copies them.
"""

from __future__ import annotations

import argparse
import contextlib
import datetime as dt
import io
import json
import lzma
import os
import random
import shutil
import sys
import tempfile
import textwrap
from collections.abc import Iterable, Iterator, Mapping
from concurrent.futures import Executor, ProcessPoolExecutor
from functools import cache, partial
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import invented
from designs import FAMILIES, Design, design, flow
from kitwright.archive import offered
from kitwright.archive.cutters import cut_files_name
from kitwright.kit.kit import Kit
from kitwright.kit.read import CLUB_FILE, KIT_FILE, read_club, read_kit
from kitwright.past.found import Found
from kitwright.past.kept import checksum, files_for
from kitwright.printable.edition import EDITIONS
from kitwright.printable.pages import INKS
from kitwright.release import errata, publish
from kitwright.release.ledger import appended, read_ledger
from kitwright.release.packed import packed, unpacked
from kitwright.release.people import PEOPLE, PERSON_FILE
from kitwright.release.stamp import PreviewStamp, Stamp
from kitwright.work.worked import Worked

NEWEST = dt.date(2024, 11, 27)
"""The reveal of the newest public kit: in the past for every clock that this runs by."""
COMING = (dt.date(2090, 2, 1), dt.date(2090, 1, 4))
"""Reveals that are still to come, the last first."""
OPEN = len(COMING)
"""The number of the kit that is public and not released."""
DRAWN = 8
"""How many released kits are really drawn."""
NOTE = "generated.json"
"""Beside `kits/`: what there is, for whoever measures."""
TEAM = 4
CLUB = """\
name: The Generated Bench
tagline: A kit a week, and none of them by hand.
about: An archive of kits that a program invented, so that kitwright can be measured at any size.
address: https://generated-bench.example
time zone: Europe/Lisbon
region: us
links:
  - {name: Our channel, address: "https://video.example/generated"}
trimmer: {cut length: 12, finest mark: 1/16, least hold: 5/8}
papers:
  white: {kind: cardstock, name: White cardstock, size: Letter, front: {look: plain, colours: white}, weight: 100 lb cover, grain: long}
  linen: {kind: cardstock, name: Linen cardstock, size: Letter, front: {look: plain, colours: linen}, weight: 80 lb cover, grain: long}
prices: {currency: $, patterned: 0.95, cardstock: 0.28, envelope: 0.16, adhesive: 4.20 for 8 m, foam: 2.80 for 4 x 6 in}
terms: Make as many cards as you like. Please send a friend to the kit's page instead of passing the printables on.
cautions:
  - Blades are sharp. Close the trimmer when you look away.
"""
_NAMES = "jo xa qui zu je xi ju zo xe jin zan quo".split()


# --- what is where ----------------------------------------------------------------------------------


def state(number: int) -> str:
    """Which state a kit is in: coming, open, past, released or corrected."""
    if number < OPEN:
        return "coming"
    if number == OPEN:
        return "open"
    if number % 10 == 7:
        return "past"
    return "corrected" if number == 8 or number % 12 == 0 else "released"


def reveal(number: int) -> dt.date:
    """From when on it is public."""
    return COMING[number] if number < OPEN else NEWEST - dt.timedelta(days=7 * (number - OPEN))


def id_of(number: int) -> str:
    """Its folder."""
    return f"{reveal(number):%Y-%m}-{invented.title(number).lower().replace(' ', '-')}"


def drawn_numbers(kits: int) -> list[int]:
    """The kits that are really drawn."""
    return [n for n in range(kits) if state(n) in ("released", "corrected")][:DRAWN]


# --- people ---------------------------------------------------------------------------------------


def person_key(number: int) -> str:
    """Of somebody on file, another for every number."""
    digits = [(number * 1_009 + 77) // 12**place % 12 for place in range(5)]
    parts = [_NAMES[digit] for digit in digits]
    return f"{parts[0]}{parts[3]}-{parts[2]}{parts[1]}{parts[4]}"


def person(seed: int, number: int) -> dict[str, bytes]:
    """Somebody on file: her file and her picture, by name."""
    dice = random.Random(f"{seed} person {number}")
    agreed = ["name", "link", "photo", "samples", "thanks"]
    if number >= TEAM and dice.random() < 0.3:
        agreed.remove(dice.choice(agreed))
    name = person_key(number).replace("-", " ").title()
    said: dict[str, Any] = {"name": name, "link": f"https://{person_key(number)}.example/cards/"}
    files = {}
    if dice.random() < 0.5:
        said |= {"photo": "portrait.jpg", "alt": f"{name} at a table"}
        files["portrait.jpg"] = invented.photo(dice, 480, 480)
    said |= {"consent": {"on": "2001-01-01", "to": agreed}}
    return {PERSON_FILE: "".join(f"{key}: {flow(value).removesuffix('...').strip()}\n" for key, value in said.items()).encode()} | files


def somebody(dice: random.Random, number: int) -> int:
    """One of those who were there when a kit was made: the team, and more guests the more kits there were."""
    # Older kits have the lower numbers of people, so that a smaller archive has fewer of them.
    return dice.randrange(TEAM) if dice.random() < 0.4 else TEAM + number // 4 + dice.randrange(6)


# --- a kit's files --------------------------------------------------------------------------------


def kit_files(seed: int, number: int, slip: bool = False) -> tuple[dict[str, bytes], dict[str, bytes]]:
    """A kit's own files, and those of people that go with it (key/file), by name.

    Args:
        seed: of the archive.
        number: of the kit.
        slip: with the slip in one size that an erratum mends.
    """
    if state(number) == "past":
        return past_files(seed, number), {}
    dice, made = random.Random(f"{seed} kit {number}"), design(seed, number, slip)
    short, at = id_of(number)[8:], reveal(number)
    labels = [f"[[size of {label}]]" for label in made.pieces]
    cites = [*labels, "[[title]]", "[[cards]]", "[[envelope]]", "[[size of base]]", *(f"[[name of {key}]]" for key in made.papers)]
    head = {
        "title": invented.title(number),
        "summary": " ".join(invented.sentence(dice) for _ in range(2)),
        "tags": dice.sample(invented.TAGS, dice.randint(2, 5)),
        "reveal": f"{at} 10:00",
        "by": person_key(dice.randrange(TEAM)),
    }
    files = {"notes.md": invented.notes(dice, cites, dice.randrange(120, 420)).encode()}
    theirs: dict[str, bytes] = {}
    living: dict[str, Any] = {}
    if dice.random() < 0.1:
        living["cut files"] = dice.choice(("members", "none"))
    if dice.random() < 0.3:
        living["moments"] = {"samples": {"at": f"{at + dt.timedelta(days=2)} 10:00", "show": "everything"}}
    if dice.random() < 0.35:
        files["photos/card.jpg"] = invented.photo(dice, 1280, 960)
        living["photos"] = [{"file": "photos/card.jpg", "alt": invented.phrase(dice, 8), "caption": invented.phrase(dice, 5)}]
    makers = {somebody(dice, number) for _ in range(dice.randint(1, 5))} if number >= OPEN and dice.random() < 0.35 else ()
    for maker in sorted(makers):
        theirs[f"{person_key(maker)}/{short}.jpg"] = invented.photo(dice, 1280, 960)
        sample = {"by": person_key(maker), "photo": f"{short}.jpg", "alt": invented.phrase(dice, 9), "changed": invented.sentence(dice)}
        living.setdefault("samples", []).append(sample)
    living |= {"questions": asked} if (asked := questions(dice, made, labels)) else {}
    if dice.random() < 0.4:
        living["video"] = {"address": f"https://video.example/{short}"}
    if dice.random() < 0.2:
        living["links"] = [{"for": next(iter(made.papers)), "address": f"https://papers.example/{short}", "earns": "yes"}]
    text = "".join(f"{key}: {flow(value).removesuffix('...').strip()}\n" for key, value in head.items()) + "\n" + made.text
    for key, value in living.items():
        if isinstance(value, list):
            text += f"{key}:\n" + "".join(f"  - {flow(each)}\n" for each in value)
        else:
            text += f"{key}: {flow(value).removesuffix('...').strip()}\n"
    return {KIT_FILE: text.encode()} | files, theirs


def questions(dice: random.Random, made: Design, labels: list[str]) -> list[dict[str, Any]]:
    """What readers asked, and the answers."""
    asked: list[dict[str, Any]] = []
    for _ in range(dice.choice((0, 0, 1, 1, 2, 3))):
        said = {
            "ask": invented.sentence(dice)[:-1] + "?",
            "answer": f"{invented.sentence(dice)} {invented.sentence(dice, dice.choice(labels))}",
        }
        asked.append(said | dice.choice(({}, {"step": "cut"}, {"step": "build"}, {"piece": next(iter(made.pieces))})))
    if dice.random() < 0.3:
        asked.append({"ask": "Can I make more?", "computed": "more cards", "cards": 2 * made.cards})
    if dice.random() < 0.3:
        asked.append({"ask": "We get other sheets here. Does it come out?", "computed": "Letter" if made.metric else "A4"})
    return asked


def past_files(seed: int, number: int) -> dict[str, bytes]:
    """A kit of which only the PDF is left, with what `import` keeps of it."""
    from kitwright.past.pdf import found
    from reportlab.lib.utils import ImageReader
    from reportlab.pdfgen.canvas import Canvas

    dice, data = random.Random(f"{seed} kit {number}"), io.BytesIO()
    short = id_of(number)[8:]
    canvas = Canvas(data, pagesize=dice.choice(((612, 792), (595.28, 841.89))), invariant=1)
    picture = ImageReader(io.BytesIO(invented.photo(dice, 960, 720)))
    for page in range(dice.choice((1, 2, 2, 3))):
        for line, words in enumerate(textwrap.wrap(invented.notes(dice, [""], 250), 80)[:24]):
            canvas.drawString(54, 700 - 15 * line, words)
        if not page:
            canvas.drawImage(picture, 54, 60, 400, 240)
        canvas.showPage()
    canvas.save()
    pdf = data.getvalue()
    read = found(pdf)
    assert isinstance(read, Found)
    said = {"past": "yes", "title": invented.title(number), "printable": f"{short}.pdf", "tags": dice.sample(invented.TAGS, 2)}
    said |= {"summary": invented.sentence(dice), "reveal": f"{reveal(number)}"}
    text = "".join(f"{key}: {value if key == 'past' else flow(value).removesuffix('...').strip()}\n" for key, value in said.items())
    return {KIT_FILE: text.encode(), f"{short}.pdf": pdf} | files_for(read, checksum(pdf))


# --- releasing ------------------------------------------------------------------------------------


def put(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files below a folder."""
    for name, data in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)


def make_kit(store: Path, seed: int, number: int, drawn: tuple[int, ...]) -> None:
    """Make a kit in an archive of its own below `store`, released as its state asks.

    Args:
        store: a folder for the parts of archives; a kit that is there already stays.
        seed: of the archive.
        number: of the kit.
        drawn: the kits that are drawn really, and of which others have the files; all of those are there already for another.
    """
    home, new = store / str(number), store / f"{number}.new"
    if home.exists():
        return
    shutil.rmtree(new, ignore_errors=True)
    kits, kind = new / "kits", state(number)
    folder = kits / id_of(number)
    put(kits, {CLUB_FILE: CLUB.encode()})
    files, theirs = kit_files(seed, number, slip=kind == "corrected")
    put(folder, files)
    if kind in ("released", "corrected"):
        with contextlib.nullcontext() if number in drawn else quickly():
            draw = offered.offered if number in drawn else partial(stand_ins, store, drawn, number)
            at = dt.datetime.combine(reveal(number), dt.time(9), dt.UTC)
            publish.release(read(folder), {}, at - dt.timedelta(days=3), draw)
            if kind == "corrected":
                files, _ = kit_files(seed, number)
                put(folder, {KIT_FILE: files[KIT_FILE]})
                made = errata.draft(read(folder), {})
                errata.publish_erratum(made, at + dt.timedelta(days=9), draw, invented.sentence(random.Random(number)))
    put(kits / PEOPLE, theirs)
    new.rename(home)


def read(folder: Path) -> Kit:
    kit = read_kit(folder, read_club(folder.parent))
    assert isinstance(kit, Kit)
    return kit


def stand_ins(store: Path, drawn: tuple[int, ...], number: int, worked: Worked, stamp: Stamp | PreviewStamp) -> dict[str, bytes]:
    """Every file that readers can download of a kit, with the contents of one that was drawn: the same sizes, and readable.

    The one is of the same family where there is one.
    """
    alike = [n for n in drawn if FAMILIES[n % len(FAMILIES)] is FAMILIES[number % len(FAMILIES)]] or drawn
    one = pool(store, alike[number % len(alike)])
    others = [pool(store, n) for n in drawn]
    kit, found = worked.kit, offered.arrangements_shown(worked)
    wanted = [offered.printable_name(kit, edition, ink) for edition in EDITIONS for ink in INKS]
    wanted += [offered.sheet_name(kit, edition) for edition in EDITIONS] if offered.has_page(found) else []
    wanted += [cut_files_name(kit)] if kit.spec.cut_files != "none" else []
    files = {}
    for name in wanted:
        part = name.removeprefix(kit.id)
        data = next(of[part] for of in (one, *others) if part in of)
        # What follows the end of a PDF is not read; so that each is its own.
        files[name] = data + f"\n% {kit.id} {stamp}\n".encode() if name.endswith(".pdf") else data
    return files


@cache
def pool(store: Path, number: int) -> dict[str, bytes]:
    """The files of a kit that was drawn, by what their names have after its id."""
    kept = store / str(number) / "kits" / id_of(number) / "published/r1/files.tar.xz"
    return {name.removeprefix(id_of(number)): data for name, data in unpacked(kept.read_bytes()).items()}


@contextlib.contextmanager
def quickly() -> Iterator[None]:
    """Publish without a look over, since designs are sound by the way they are made, and pack with less care."""
    before = publish.check, publish.packed
    publish.check, publish.packed = lambda worked: [], quickly_packed  # type: ignore[assignment]  # stand-ins of the same form
    try:
        yield
    finally:
        publish.check, publish.packed = before


def quickly_packed(files: Mapping[str, bytes]) -> bytes:
    """As a release packs, a tenth larger in a fifth of the time."""
    return packed(files, [{"id": lzma.FILTER_LZMA2, "preset": 0, "dict_size": 1 << 23}])


# --- the archive ----------------------------------------------------------------------------------


def make_parts(store: Path, kits: int, seed: int) -> None:
    """Make the newest kits, several at once; those that are in `store` already stay."""
    store.mkdir(parents=True, exist_ok=True)
    missing = [n for n in range(kits) if not (store / str(n)).exists()]
    if not missing:
        return
    drawn = tuple(drawn_numbers(kits))
    with workers() as pool:
        for some in ([n for n in missing if n in drawn], [n for n in missing if n not in drawn]):
            for done, _ in enumerate(pool.map(partial(make_kit, store, seed, drawn=drawn), some), 1):
                if done % 50 == 0 or done == len(some):
                    print(f"made {done} of {len(some)} kits", file=sys.stderr, flush=True)


def workers() -> Executor:
    """A process a core."""
    return ProcessPoolExecutor(os.cpu_count(), get_context("spawn"))


def assemble(store: Path, kits: int, seed: int, root: Path) -> None:
    """Lay an archive of the newest kits together from their parts; `root` must not be there."""
    home = root / "kits"
    home.mkdir(parents=True)
    team = "team:\n" + "".join(f"  - {{who: {person_key(n)}, role: draws up kits}}\n" for n in range(TEAM))
    put(home, {CLUB_FILE: (CLUB + team).encode()})
    lines, keys = [], {person_key(n) for n in range(TEAM)}
    for number in range(kits):
        part = store / str(number) / "kits"
        shutil.copytree(part / id_of(number), home / id_of(number))
        for folder in sorted((part / PEOPLE).iterdir()) if (part / PEOPLE).is_dir() else ():
            keys.add(folder.name)
            shutil.copytree(folder, home / PEOPLE / folder.name, dirs_exist_ok=True)
        ledger = read_ledger(part)
        lines += ledger.entries if ledger else ()
    for number in range(TEAM + kits // 4 + 6):
        if person_key(number) in keys:
            put(home / PEOPLE / person_key(number), person(seed, number))
    if lines:
        put(home, {file.name: data for file, data in appended(home, sorted(lines, key=lambda line: (line.released, line.kit))).items()})
    there = [{"number": n, "id": id_of(n), "state": state(n)} for n in range(kits)]
    put(root, {NOTE: (json.dumps({"seed": seed, "kits": there}, indent=1) + "\n").encode()})


def main(arguments: Iterable[str] | None = None) -> int:
    """Run from the command line; returns the exit status."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path, metavar="DIR", help="a new folder for the archive")
    parser.add_argument("--kits", type=int, default=24, metavar="N")
    parser.add_argument("--seed", type=int, default=1, metavar="N")
    parser.add_argument("--parts", type=Path, metavar="DIR", help="keep the parts here, for the next archive of this seed")
    said = parser.parse_args(list(arguments) if arguments is not None else None)
    if said.folder.exists():
        parser.error(f"{said.folder} is there already")
    with tempfile.TemporaryDirectory() as passing:
        store = said.parts or Path(passing)
        make_parts(store, said.kits, said.seed)
        assemble(store, said.kits, said.seed, said.folder)
    return 0


if __name__ == "__main__":
    sys.exit(main())
