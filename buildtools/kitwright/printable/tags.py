"""A canvas that writes the document's structure while drawing: tagged PDF.

ISO 32000-1, 14.7 and 14.8: every stretch of a page is either marked as the content of a
structure element (heading, paragraph, table cell, figure with alternate text …) or as an
artifact (footers, hairlines). reportlab 5.1 has no calls for this; the operators go into
the page code, and the tree into the document catalogue, both private and pinned.
Conformance to PDF/UA is not claimed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFFormXObject, PDFName, PDFObject, PDFObjectReference, PDFPage, PDFStream
from reportlab.pdfgen.canvas import Canvas

from kitwright.drawing.pdf import lasting, of_level, paint
from kitwright.drawing.styles import Level
from kitwright.printable.metadata import Metadata
from kitwright.printable.packed import packed
from kitwright.schemes import HOUSE, Palette

FRACTION_BAR = "\N{FRACTION SLASH}"


class _Text(PDFObject):
    """A text string of the document (ISO 32000-1, 7.9.2): UTF-16 as plain bytes.

    reportlab spells every odd byte with four characters, which the words of a structure
    tree make the half of a file.
    """

    def __init__(self, text: str) -> None:
        self.data = b"\xfe\xff" + text.encode("utf-16-be")

    def format(self, document) -> bytes:
        data = self.data
        for odd, safe in ((b"\\", b"\\\\"), (b"(", b"\\("), (b")", b"\\)"), (b"\r", b"\\r"), (b"\n", b"\\n")):
            data = data.replace(odd, safe)
        return b"(" + data + b")"


class _Node(PDFDictionary):
    """An element of the structure as it stands in the file; the same in every file of one document."""

    done: bytes | None = None

    def format(self, document, *given) -> bytes:
        if self.done is None:
            self.done = super().format(document, *given)
        return self.done


@dataclass
class Element:
    """One node of the structure tree."""

    role: str
    """A standard structure type: `H1`, `P`, `Table`, `TD`, `Figure` …"""
    alt: str | None = None
    """Alternate text of a figure."""
    attributes: PDFDictionary | None = None
    spoken: str | None = None
    """Its text in plain characters, where the drawn ones are not."""
    kids: list[Element | TagMark] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class TagMark:
    """A marked stretch of one page."""

    page: int
    """Counted from 0."""
    number: int
    """Its marked-content identifier on that page."""


class TaggedCanvas(Canvas):
    """A reportlab canvas with structure."""

    _code: list[str]
    _doc: Any
    # Private parts of reportlab's, of which its types say nothing.

    def __init__(
        self,
        *args,
        inks: Sequence[Level] = ("full",),
        files: dict[Level, bytes] | None = None,
        metadata: Metadata | None = None,
        palette: Palette = HOUSE,
        **kwargs,
    ) -> None:
        """
        Args:
            inks: how much ink the file may take; `full` and `light` differ in colours alone, and are drawn at once.
            files: where the file of each is put; without it, one file goes where the first argument says.
        """
        super().__init__(*args, **kwargs)
        lasting(self)
        paint(self, palette)
        self._inks, self._files = inks, files
        self.both = {"full", "light"} <= {*inks}
        self._streams: list[tuple[PDFPage | PDFFormXObject, str]] = []
        self._metadata = metadata
        if metadata:
            # With `invariant` reportlab writes one day for every file; this one is as lasting, and true.
            self._doc._timeStamp.YMDhms = (metadata.date.year, metadata.date.month, metadata.date.day, 0, 0, 0)
        self._tree = Element("Document")
        self._open = [self._tree]
        self._marked: list[list[Element]] = [[]]
        self._hidden = 0
        self._add_page, self._doc.addPage = self._doc.addPage, self._tagged_page
        self._add_form, self._doc.addForm = self._doc.addForm, self._drawn_form

    # --- while drawing ------------------------------------------------------------------------

    @contextmanager
    def group(self, role: str, attributes: PDFDictionary | None = None) -> Iterator[None]:
        """An element that holds other elements."""
        element = Element(role, None, attributes)
        self._open[-1].kids.append(element)
        self._open.append(element)
        yield
        self._open.pop()

    @contextmanager
    def element(self, role: str, alt: str | None = None, attributes: PDFDictionary | None = None, text: str = "") -> Iterator[None]:
        """An element whose content is what is drawn meanwhile, on this page.

        `text` is what it says; where that has fractions, whose figures are drawn with private
        code points, it is written beside them with plain ones.
        """
        if self._hidden:
            yield
            return
        spoken = text.replace(FRACTION_BAR, "/") if FRACTION_BAR in text else None
        element, marks = Element(role, alt, attributes, spoken), self._marked[-1]
        self._open[-1].kids.append(element)
        element.kids.append(TagMark(len(self._marked) - 1, len(marks)))
        self._code.append(f"/{role} <</MCID {len(marks)}>> BDC")
        marks.append(element)
        yield
        self._code.append("EMC")

    @contextmanager
    def artifact(self) -> Iterator[None]:
        """What is drawn meanwhile is no part of the text."""
        self._hidden += 1
        if self._hidden == 1:
            self._code.append("/Artifact BMC")
        yield
        if self._hidden == 1:
            self._code.append("EMC")
        self._hidden -= 1

    # --- at the end ---------------------------------------------------------------------------

    def _tagged_page(self, page) -> None:
        """Give a finished page its key in the parent tree."""
        page.__NoDefault__ = [*page.__NoDefault__, "StructParents", "Tabs"]
        page.StructParents, page.Tabs = len(self._marked) - 1, PDFName("S")
        self._add_page(page)
        self._streams.append((page, page.stream))
        self._marked.append([])

    def _drawn_form(self, name: str, form) -> None:
        self._add_form(name, form)
        if isinstance(form, PDFFormXObject):
            self._streams.append((form, form.stream.decode("latin-1")))

    def save(self) -> None:
        """Write the structure tree and the files."""
        if len(self._code):
            self.showPage()
        refs: dict[int, PDFObjectReference] = {}
        root = PDFDictionary({"Type": PDFName("StructTreeRoot")})
        root_ref = self._doc.Reference(root)
        root.dict["K"] = self._written(self._tree, root_ref, refs)
        numbers: list = []
        for page, marks in enumerate(self._marked):
            if marks:
                numbers += [page, PDFArray([refs[id(element)] for element in marks])]
        root.dict["ParentTree"] = self._doc.Reference(PDFDictionary({"Nums": PDFArray(numbers)}))
        root.dict["ParentTreeNextKey"] = len(self._marked)
        catalog = self._doc.Catalog
        catalog.StructTreeRoot = root_ref
        catalog.MarkInfo = PDFDictionary({"Marked": "true"})
        if self._metadata:
            packet = PDFStream(PDFDictionary({"Type": PDFName("Metadata"), "Subtype": PDFName("XML")}), self._metadata.xmp, [])
            catalog.Metadata = self._doc.Reference(packet)
        if self._files is None:
            super().save()
        else:
            self._save_each(self._files)

    def _save_each(self, files: dict[Level, bytes]) -> None:
        """Every file with the same objects, each with its own page code."""
        for ink in self._inks:
            first = ink == self._inks[0]
            for holder, code in self._streams if self.both else ():
                drawn = of_level(code, ink).encode("latin-1")
                if first:
                    holder.stream = drawn
                else:
                    holder.Contents.content = drawn
            files[ink] = packed(self._doc.GetPDFData(self) if first else self._doc.format())

    def _written(self, element: Element, parent: PDFObjectReference, refs: dict[int, PDFObjectReference]) -> PDFObjectReference:
        """Write an element and all below it; returns its reference."""
        # Its type may be left out (14.7.2, table 323), and there are hundreds.
        entries = {"S": PDFName(element.role), "P": parent}
        if element.alt:
            entries["Alt"] = _Text(element.alt)
        if element.spoken:
            entries["ActualText"] = _Text(element.spoken)
        if element.attributes:
            entries["A"] = element.attributes
        written = _Node(entries)
        ref = refs[id(element)] = self._doc.Reference(written)
        kids: list[int | PDFObjectReference] = []
        for kid in element.kids:
            if isinstance(kid, TagMark):
                entries.setdefault("Pg", self._page_ref(kid.page))
                kids.append(kid.number)
            else:
                kids.append(self._written(kid, ref, refs))
        written.dict.update(entries)
        written.dict["K"] = PDFArray(kids)
        return ref

    @staticmethod
    def _page_ref(page: int) -> PDFObjectReference:
        return PDFObjectReference(f"Page{page + 1}")


def tagged(canvas: Canvas) -> TaggedCanvas:
    """The canvas that reportlab hands back to us: our own."""
    assert isinstance(canvas, TaggedCanvas)
    return canvas
