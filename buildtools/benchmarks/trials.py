"""What is tried, kind by kind: each takes the ground and a seed and yields how it went."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from pathlib import Path

import kitwright.archive.build as building
from click.exceptions import Exit
from ground import COMING, DEMO, PAST, SECRET_WORD, WHEN, Ground, Result, Site, digests
from mutants import mutants_of
from showing import pictures
from stops import disks, kills

WHOLE_EVERY = 100
"""Every so many sound mutants are built whole."""


def mutants(ground: Ground, seed: str) -> Iterator[Result]:
    """One broken kit through `check` and `build`."""
    chance = random.Random(f"ground {seed}")
    kit = chance.choice(sorted(f.name for f in DEMO.iterdir() if (f / "kit.yaml").is_file()))
    released = chance.random() < 0.3 and (DEMO / kit / "published").is_dir()
    site = ground.site(kit, released)
    mutant = mutants_of(site.sound / "kits", _files(site, kit), seed)
    try:
        mutant.apply(site.kits)
        before = digests(site.root)
        checked = ground.command(site, "check", kit)
        yield Result("check", mutant.name, tuple(checked.faults + _kept(site, before)), checked.output)
        whole = checked.status == 0 and chance.random() * WHOLE_EVERY < 1
        built = _build(ground, site, whole)
        faults = built.faults + _kept(site, before, whole and built.status == 0)
        if whole and built.status == 0:
            faults += _leaks(site.root / "site")
        faults += [f"left behind: {name}" for name in ground.leftovers()]
        yield Result("build whole" if whole else "build", mutant.name, tuple(faults), built.output)
    finally:
        ground.clear()
        site.put_back()


def _files(site: Site, kit: str) -> list[Path]:
    """What may be broken: above all the kit's own files."""
    kits = site.sound / "kits"
    texts = [f for f in sorted((kits / kit).rglob("*")) if f.is_file() and f.suffix in (".yaml", ".md", ".json")]
    beside = [
        kits / "club.yaml",
        *sorted(kits.glob("people/*/person.yaml")),
        *sorted(kits.glob("*.yaml")),
        kits / PAST / "kit.yaml",
        kits / COMING / "kit.yaml",
    ]
    own = kits / kit / "kit.yaml"
    return [f.relative_to(kits) for f in [own] * 12 + [kits / kit / "notes.md"] * 2 + texts + beside if f.is_file()]


def _kept(site: Site, before: dict[str, str], built: bool = False) -> list[str]:
    """What changed though it should not have: anything in the kits; the old site, unless it was replaced by a whole new one."""
    now = digests(site.root)
    changed = [path for path in now.keys() | before.keys() if now.get(path) != before.get(path)]
    if built:
        changed = [path for path in changed if not path.startswith(("site/", ".site-before/"))]
        changed += [
            f"site/{name} is missing" for name in ("index.html", "404.html", "kits.json", ".kitwright") if f"site/{name}" not in now
        ]
    return [f"changed: {path}" for path in sorted(changed)[:3]]


def _leaks(site: Path) -> list[str]:
    from archive.scanning import nowhere

    return [f"leak: {words}" for words in nowhere(site, [SECRET_WORD])]


def _build(ground: Ground, site: Site, whole: bool):
    """A build, stopped before anything is drawn unless it is to be whole."""
    if whole:
        return ground.command(site, "build", "--as-of", WHEN)
    real = building.made_units

    def stop(*given, **more):
        raise Exit(0)

    building.made_units = stop
    try:
        return ground.command(site, "build", "--as-of", WHEN)
    finally:
        building.made_units = real


TRIALS: dict[str, Callable[[Ground, str], Iterator[Result]]] = {"mutants": mutants, "kills": kills, "pictures": pictures, "disks": disks}
