"""The search index of a built site: each kit's record made anew only where its pages or its facts changed, then all of them as files."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from kitwright import cache
from kitwright.archive.page import Page
from kitwright.archive.pages import Tree
from kitwright.archive.placing import Placing
from kitwright.archive.search.index import Ways, index_files
from kitwright.archive.search.reading import Part, parts_of
from kitwright.archive.search.record import Facts, Record, Said, record_of
from kitwright.archive.site import html_of

MOST_WITHOUT_KIT = Fraction(3, 10)
"""What a page weighs that no kit has a part in: who looks for a kit finds kits first."""


def search_files(site: Placing, tree: Tree, facts: Mapping[str, Facts]) -> dict[str, bytes]:
    """The files of the index of a built site, by their path in it.

    Args:
        site: the site in the making, with all its pages.
        tree: what it was built from.
        facts: what is known of each kit, by kit.
    """
    alone: list[list[Page]] = []
    kits: dict[str, list[Page]] = {kit: [] for kit in facts}
    for page in tree.pages:
        if tree.search.get(page.path):
            kits.setdefault(page.kit, []).append(page) if page.kit else alone.append([page])
    documents = [*alone, *filter(None, kits.values())]
    records = (_record(site, tree, pages, facts.get(pages[0].kit)) for pages in documents)
    return index_files(filter(None, records), len(documents), _ways(tree))


def _ways(tree: Tree) -> Ways:
    called = {page.path: page.title for page in tree.pages}
    copies = next(((html_of(path), called[path]) for path in tree.codes), None)
    return Ways(tuple((html_of(path), called[path]) for path in tree.offered), copies)


def _record(site: Placing, tree: Tree, pages: Sequence[Page], facts: Facts | None) -> Record | None:
    weights = [Fraction(str(tree.search[page.path])) for page in pages]
    key = cache.digest(facts, weights, [(page.path, page.title, site.files[html_of(page.path)].sha256) for page in pages])

    def make() -> Record | None:
        said = (
            Said(name, page.title, weight if page.kit else min(weight, MOST_WITHOUT_KIT), _parts(site, name))
            for page, weight in zip(pages, weights)
            for name in (html_of(page.path),)
        )
        return record_of(said, facts)

    return cache.value("search", key, make)


def _parts(site: Placing, name: str) -> tuple[Part, ...]:
    return tuple(parts_of((site.folder / name).read_text(encoding="utf-8")))
