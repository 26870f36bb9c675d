"""What a printable says of itself to machines: an XMP packet (ISO 16684-1) and a date."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from xml.sax.saxutils import escape

from kitwright.printable.job import Job, state_text
from kitwright.release.stamp import PreviewStamp
from kitwright.telling.printed import title_text


@dataclass(frozen=True, slots=True)
class Metadata:
    """Facts of the document."""

    title: str
    author: str
    summary: str
    identifier: str
    """Which kit, and in which edition."""
    version: str
    """The revision's number and code; before the release PREVIEW and its own code."""
    terms: str
    """The licence: what readers may do."""
    date: dt.date
    """Of the release, or of the reveal where there was none yet: never of the printing, so that the bytes stay the same."""

    @property
    def xmp(self) -> bytes:
        """The packet; the times of a day that is all that is known stand at midnight, without a zone."""

        def text(tag: str, words: str) -> str:
            return f"<{tag}>{escape(words)}</{tag}>"

        def spoken(tag: str, words: str) -> str:
            return f'<{tag}><rdf:Alt><rdf:li xml:lang="x-default">{escape(words)}</rdf:li></rdf:Alt></{tag}>'

        day = self.date.isoformat()
        said = [
            spoken("dc:title", self.title),
            f"<dc:creator><rdf:Seq>{text('rdf:li', self.author)}</rdf:Seq></dc:creator>",
            spoken("dc:description", self.summary),
            text("dc:identifier", self.identifier),
            text("dc:format", "application/pdf"),
            f"<dc:language><rdf:Bag>{text('rdf:li', 'en')}</rdf:Bag></dc:language>",
            spoken("dc:rights", self.terms),
            text("xmpRights:Marked", "True"),
            spoken("xmpRights:UsageTerms", self.terms),
            text("xmp:CreateDate", day),
            text("xmp:ModifyDate", day),
            text("xmp:CreatorTool", "kitwright"),
            text("pdf:Producer", "kitwright"),
        ]
        if self.version:
            said.append(text("xmpMM:VersionID", self.version))
        spaces = {
            "dc": "http://purl.org/dc/elements/1.1/",
            "xmp": "http://ns.adobe.com/xap/1.0/",
            "xmpRights": "http://ns.adobe.com/xap/1.0/rights/",
            "xmpMM": "http://ns.adobe.com/xap/1.0/mm/",
            "pdf": "http://ns.adobe.com/pdf/1.3/",
        }
        names = " ".join(f'xmlns:{key}="{uri}"' for key, uri in spaces.items())
        return (
            '<?xpacket begin="\N{ZERO WIDTH NO-BREAK SPACE}" id="W5M0MpCehiHzreSzNTczkc9d"?>\n<x:xmpmeta xmlns:x="adobe:ns:meta/">'
            f'<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="" {names}>\n'
            + "\n".join(said)
            + '\n</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end="r"?>'
        ).encode()


def metadata(job: Job, title: str | None = None) -> Metadata:
    """The facts of one file of a kit; without a title, of its printable."""
    kit, stamp = job.worked.kit, job.stamp
    if isinstance(stamp, PreviewStamp):
        version, date = stamp.mark, kit.reveal.date()
    else:
        version, date = " ".join(filter(None, (str(stamp.revision), stamp.code))), stamp.date
    return Metadata(
        title=title or title_text(kit.spec.title),
        author=kit.club.name,
        summary=kit.spec.summary,
        identifier=f"{kit.id}, {job.edition.name} edition, {state_text(job)}",
        version=version,
        terms=" ".join(kit.club.terms.split()),
        date=date,
    )
