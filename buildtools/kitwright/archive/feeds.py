"""What other programs read: the feed of what is new (Atom, RFC 4287), `kits.json`, and when each page changed.

Written for the public site only. Nothing is found here: what is public, and since when, is
said by `kitwright.archive.atom`.
"""

from __future__ import annotations

import datetime as dt
from urllib.parse import quote
from xml.etree import ElementTree as ET

from kitwright.archive.atom import entries, feed_id, kits_data, kits_text, shown_samples, stamp_text
from kitwright.archive.gather import Archive, kit_of
from kitwright.kit.kit import Kit
from kitwright.release.errata import errata
from kitwright.release.public import published_at

FEED, KITS_FILE = "feed.xml", "kits.json"
ATOM = "http://www.w3.org/2005/Atom"
LABELS = {"reveal": "new kit", "samples": "samples", "erratum": "correction"}
"""What a category is called."""


def feed_xml(archive: Archive, address: str) -> bytes | None:
    """The feed of reveals, samples and corrections, newest first; None before the first.

    Args:
        archive: what the site is built from.
        address: where the site stands; a feed needs whole addresses.
    """
    top = address.rstrip("/") + "/"
    found = entries([kit_of(e) for e in archive.entries], archive.club, archive.people, archive.at)
    if not found:
        return None
    ET.register_namespace("", ATOM)
    feed = ET.Element(f"{{{ATOM}}}feed", {"{http://www.w3.org/XML/1998/namespace}lang": "en"})

    def add(parent: ET.Element, name: str, text: str = "", **more: str) -> ET.Element:
        child = ET.SubElement(parent, f"{{{ATOM}}}{name}", more)
        child.text = text or None
        return child

    add(feed, "id", feed_id(archive.club))
    add(feed, "title", archive.club.name)
    add(feed, "subtitle", " ".join(archive.club.tagline.split()))
    add(feed, "updated", stamp_text(max(e.published for e in found)))
    add(add(feed, "author"), "name", archive.club.name)
    add(feed, "link", rel="self", type="application/atom+xml", href=f"{top}{FEED}")
    add(feed, "link", rel="alternate", type="text/html", href=top)
    add(feed, "rights", " ".join(archive.club.terms.split()))
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


def kits_json(archive: Archive) -> bytes:
    """The public archive as data."""
    return kits_text(kits_data([kit_of(e) for e in archive.entries], archive.club, archive.people, archive.at)).encode()


def changed_at(archive: Archive) -> dict[str, dt.datetime]:
    """When each kit's page last changed, by kit: its reveal or release, samples, corrections; all of them past."""
    found = {}
    for kit in map(kit_of, archive.entries):
        first = published_at(kit, archive.club)
        if first is None or first > archive.at:
            continue
        times = [first]
        if isinstance(kit, Kit):
            times += [since for _, since in shown_samples(kit, archive.club, archive.people, archive.at)]
            times += [e.public for e in errata(kit, archive.club, archive.people, archive.at)]
        found[kit.id] = max(times)
    return found
