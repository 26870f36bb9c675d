"""What is new: the feed of the public site (Atom, RFC 4287), and when each page changed.

Ids never change, whatever is corrected or wherever the site moves; times are those of the
moments and releases themselves.
"""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal
from urllib.parse import quote
from xml.etree import ElementTree as ET

from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.model import Club
from kitwright.kit.project import page_of
from kitwright.release.calendar import aware
from kitwright.release.errata import errata
from kitwright.release.people import Person, Shown
from kitwright.release.public import published_at, shown_samples
from kitwright.release.record import released, revision_at
from kitwright.release.revisions import as_published
from kitwright.telling.feed import LABELS, erratum_text, erratum_title, samples_text, samples_title

FEED = "feed.xml"
ATOM = "http://www.w3.org/2005/Atom"


@dataclass(frozen=True)
class FeedEntry:
    """One entry of the feed."""

    id: str
    """An IRI that stays the same for ever (RFC 4287, section 4.2.6)."""
    kind: Literal["reveal", "samples", "erratum"]
    kit: str
    title: str
    words: str
    """A sentence or two of plain text."""
    published: dt.datetime
    """In UTC."""
    path: str
    """The page, from the top of the site."""


def entries(kits: Iterable[Kit | PastKit], club: Club, people: Mapping[str, Person], as_of: dt.datetime) -> list[FeedEntry]:
    """Reveals, samples and errata that are public at an instant, newest first."""
    found: list[FeedEntry] = []
    for kit in kits:
        at = published_at(kit, club)
        if at is None or at > aware(as_of):
            continue
        if isinstance(kit, PastKit):
            found.append(
                FeedEntry(entry_id("reveal", kit.id), "reveal", kit.id, kit.spec.title, kit.spec.summary or "", at, page_of(kit.id))
            )
            continue
        revision = revision_at(kit, as_of)
        if revision is None:
            continue
        spec = as_published(kit, revision).kit.spec
        title = spec.title
        found.append(FeedEntry(entry_id("reveal", kit.id), "reveal", kit.id, title, spec.summary, at, page_of(kit.id)))
        together: dict[tuple[str, dt.datetime], list[Shown]] = {}
        for shown, since in shown_samples(kit, club, people, as_of):
            together.setdefault((shown.moment, since), []).append(shown)
        for (name, since), samples in together.items():
            found.append(
                FeedEntry(
                    id=entry_id(f"samples/{name}", kit.id),
                    kind="samples",
                    kit=kit.id,
                    title=samples_title(title),
                    words=samples_text(samples),
                    published=since,
                    path=f"{page_of(kit.id)}#samples",
                )
            )
        for erratum in errata(kit, club, people, as_of):
            found.append(
                FeedEntry(
                    id=erratum.id,
                    kind="erratum",
                    kit=kit.id,
                    title=erratum_title(title, erratum.revision.number),
                    words=erratum_text(erratum),
                    published=erratum.public,
                    path=f"errata.html#{erratum.anchor}",
                )
            )
    return _in_order(found)


def _in_order(found: Iterable[FeedEntry]) -> list[FeedEntry]:
    return sorted(found, key=lambda e: (e.published, e.kit, e.id), reverse=True)


def entry_id(kind: str, kit: str) -> str:
    """The id of a reveal or of samples."""
    return f"urn:uuid:{uuid.uuid5(uuid.NAMESPACE_URL, f'kitwright:{kind}/{kit}')}"


def feed_id(club: Club) -> str:
    """The id of the whole feed."""
    return f"urn:uuid:{uuid.uuid5(uuid.NAMESPACE_URL, f'kitwright:feed/{club.name}')}"


def stamp_text(at: dt.datetime) -> str:
    """An instant as RFC 3339 wants it, in UTC."""
    return f"{at.astimezone(dt.UTC):%Y-%m-%dT%H:%M:%SZ}"


# --- the feed itself ----------------------------------------------------------------------------------


def feed_xml(told: Iterable[FeedEntry], club: Club, address: str) -> bytes | None:
    """The feed of reveals, samples and corrections, newest first; None before the first.

    Args:
        told: what is told of every kit.
        club: whose.
        address: where the site stands; a feed needs whole addresses.
    """
    top = address.rstrip("/") + "/"
    found = _in_order(told)
    if not found:
        return None
    ET.register_namespace("", ATOM)
    feed = ET.Element(f"{{{ATOM}}}feed", {"{http://www.w3.org/XML/1998/namespace}lang": "en"})

    def add(parent: ET.Element, name: str, text: str = "", **more: str) -> ET.Element:
        child = ET.SubElement(parent, f"{{{ATOM}}}{name}", more)
        child.text = text or None
        return child

    add(feed, "id", feed_id(club))
    add(feed, "title", club.name)
    add(feed, "subtitle", " ".join(club.tagline.split()))
    add(feed, "updated", stamp_text(max(e.published for e in found)))
    add(add(feed, "author"), "name", club.name)
    add(feed, "link", rel="self", type="application/atom+xml", href=f"{top}{FEED}")
    add(feed, "link", rel="alternate", type="text/html", href=top)
    add(feed, "rights", " ".join(club.terms.split()))
    for each in found:
        entry = add(feed, "entry")
        add(entry, "id", each.id)
        add(entry, "title", each.title)
        add(entry, "published", stamp_text(each.published))
        # An entry is not rewritten: what comes later, a correction above all, is an entry of its own.
        add(entry, "updated", stamp_text(each.published))
        add(entry, "link", rel="alternate", type="text/html", href=top + quote(each.path, safe="/#"))
        add(entry, "category", term=each.kind, label=LABELS[each.kind])
        add(entry, "summary", " ".join(each.words.split()) or each.title, type="text")
    ET.indent(feed, " ")
    return ET.tostring(feed, encoding="utf-8", xml_declaration=True) + b"\n"


def changed_of(kit: Kit | PastKit, club: Club, people: Mapping[str, Person], as_of: dt.datetime) -> dt.datetime | None:
    """When a kit's page last changed: its reveal or release, samples, corrections; all of them past. None before it is public."""
    first = published_at(kit, club)
    if first is None or first > as_of:
        return None
    times = [first]
    if isinstance(kit, Kit):
        times += [since for _, since in shown_samples(kit, club, people, as_of)]
        # Corrections, and revisions whose code alone leads elsewhere.
        times += [r.at for r in released(kit) if r.at <= as_of]
    return max(times)
