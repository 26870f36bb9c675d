"""PDFs read by helping processes: what they hold, and what becomes of one that no reader should open."""

from __future__ import annotations

import errno
import io
import zlib
from fractions import Fraction
from multiprocessing import active_children

import pytest
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.kit.picture import bare
from kitwright.past import helper, pdf, reading
from kitwright.past.found import Found
from kitwright.past.kept import old_printable
from kitwright.past.reading import Unreadable, read_all
from kitwright.past.tidy import CHARACTERS, tidy
from kitwright.telling.past import pages_text, paper_text
from pdfs import A4, LETTER
from pdfs import pdf as made
from PIL import Image
from reportlab.pdfgen.canvas import Canvas


def raw(box: str = "0 0 612 792", content: bytes = b"", more: str = "", pages: str = "[3 0 R]", count: int = 1) -> bytes:
    """A PDF written by hand, as ISO 32000-1, 7.5, has it."""
    stream = zlib.compress(content)
    objects = [
        b"<</Type/Catalog/Pages 2 0 R>>",
        f"<</Type/Pages/Kids {pages}/Count {count}>>".encode(),
        f"<</Type/Page/Parent 2 0 R/MediaBox[{box}]/Contents 4 0 R/Resources<</Font<</F<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>>>{more}>>".encode(),
        b"<</Filter/FlateDecode/Length %d>>stream\n%s\nendstream" % (len(stream), stream),
    ]
    out, at = io.BytesIO(b"%PDF-1.6\n"), []
    out.seek(0, 2)
    for number, body in enumerate(objects, 1):
        at.append(out.tell())
        out.write(b"%d 0 obj%s\nendobj\n" % (number, body))
    start = out.tell()
    out.write(b"xref\n0 5\n0000000000 65535 f \n" + b"".join(b"%010d 00000 n \n" % one for one in at))
    out.write(b"trailer<</Size 5/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF" % start)
    return out.getvalue()


def found(data: bytes) -> Found:
    read = pdf.found(data)
    assert isinstance(read, Found), read
    return read


def test_what_a_printable_holds():
    read = found(made("Paper boats\nfold it", "sail", title="Boats"))
    assert (read.pages, read.sizes, read.title) == (2, ((Fraction(612), Fraction(792)),), "Boats")
    assert read.words == "Paper boats\nfold it\nsail" and read.created == "D:20000101000000+00'00'"
    for leaf, longest in ((read.large, pdf.LARGE), (read.small, pdf.SMALL)):
        picture = bare(leaf.data)
        assert max(picture.width, picture.height) == longest and leaf.ending == {"PNG": ".png", "JPEG": ".jpg"}[picture.format]


@pytest.mark.parametrize(
    "box, more, told",
    [
        # Sizes in points of 1/72 in (ISO 32000-1, 8.3.2.3), of sheets by ISO 216 and ANSI/ASME Y14.1.
        ("0 0 612 792", "", "Letter"),
        ("0 0 792 612", "", "Letter, landscape"),
        ("0 0 612 792", "/Rotate 90", "Letter, landscape"),
        ("0 0 595 842", "", "A4"),
        ("0 0 595.276 841.89", "", "A4"),
        ("0 0 595.2 841.92", "", "A4"),
        ("-100 -100 512 692", "", "Letter"),
        ("0 0 1000 1000", "/CropBox[100 100 712 892]", "Letter"),
        ("0 0 576 576", "", "8 × 8 in"),
        ("0 0 566.929 566.929", "", "200 × 200 mm"),
        ("0 0 615 792", "", "≈217 × 279.5 mm"),
    ],
)
def test_paper_by_its_name_or_its_measure(box, more, told):
    assert paper_text(old_printable(found(raw(box, more=more)))) == told


def test_sheets_of_several_sizes_are_all_told():
    out = io.BytesIO()
    canvas = Canvas(out)
    for size in (LETTER, A4, LETTER, (576, 576)):
        canvas.setPageSize(size)
        canvas.showPage()
    canvas.save()
    old = old_printable(found(out.getvalue()))
    assert pages_text(old) == "4 pages" and paper_text(old) == "Letter, A4 and 8 × 8 in"


def test_words_are_words_as_one_types_them_and_not_too_many():
    many = "\n".join(["a word or two"] * 40)
    assert len(found(made(*[many] * 40)).words) <= CHARACTERS
    assert found(made(*["x"] * 30)).words.count("x") == pdf.PAGES_READ
    # What lies beside the page is seen by nobody.
    seen = b"BT /F 12 Tf 72 700 Td (seen) Tj ET BT /F 12 Tf 9000 700 Td (beside) Tj ET"
    assert found(raw(content=seen)).words == "seen"
    assert tidy("ﬁne pa\x02\r\nper\u202e \x1b[0m\x00 2½\r\n\r\n \r\nso\xadft") == "fine paper [0m 2½\nsoft"


def test_a_scan_is_read_by_the_unseen_words_upon_it():
    """Text rendering mode 3, ISO 32000-1, 9.3.6: neither filled nor stroked."""
    assert found(raw(content=b"BT 3 Tr /F 12 Tf 72 700 Td (scanned) Tj ET")).words == "scanned"


def test_what_nobody_can_use_says_why():
    assert pdf.found(made("x", password="river")) == "past.encrypted"
    assert pdf.found(made("x")[:200]) == "past.broken"
    for _ in range(2):
        # Whatever was told of another one before.
        assert pdf.found(raw(pages="[]", count=0)) == "past.no-page"
        assert pdf.found(made("x", password="river")) == "past.encrypted"
    assert isinstance(pdf.found(raw("0 0 0 0")), (Found, str))


@pytest.mark.parametrize("box", ["0 0 1 1", "0 0 14400 1", "0 0 100000 100000"])
def test_pixels_are_bounded_whatever_the_page(box):
    picture = bare(found(raw(box)).large.data)
    assert 1 <= min(picture.width, picture.height) and max(picture.width, picture.height) <= pdf.LARGE


def test_a_photo_is_kept_as_a_photo_and_a_drawing_as_a_drawing():
    photo = io.BytesIO()
    out = io.BytesIO()
    Image.effect_noise((300, 300), 80).convert("RGB").save(photo, "PNG")
    from reportlab.lib.utils import ImageReader

    canvas = Canvas(out)
    canvas.drawImage(ImageReader(photo), 0, 0, 500, 500)
    canvas.save()
    assert found(out.getvalue()).large.ending == ".jpg" and found(raw()).large.ending == ".png"


# --- helping processes ----------------------------------------------------------------------------------------


@pytest.fixture
def helpers(monkeypatch, read_here):
    """Helpers as they are used, two of them."""
    monkeypatch.setattr(reading._Helper, "ask", ASK)
    monkeypatch.setattr(reading, "FEW", 3)


ASK = reading._Helper.ask
"""As it stands before `read_here` takes its place."""


def test_several_at_once_in_order_and_nobody_stays_behind(tmp_path, helpers):
    data = {"a": made("one"), "b": b"%PDF-1.4 broken", "c": made("two"), "d": b"words", "e": made("three"), "f": made("x", password="y")}
    for name, each in data.items():
        (tmp_path / name).write_bytes(each)
    done = []
    outcomes = list(read_all([*(tmp_path / name for name in data), tmp_path / "gone"], done.append))
    said = [one.code if isinstance(one, Unreadable) else one.words for one in outcomes]
    assert said == ["one", "past.broken", "two", "past.no-pdf", "three", "past.encrypted", "past.unreadable"]
    assert done == [1, 2, 3, 4, 5, 6, 7] and not active_children()


def test_a_helper_that_comes_to_grief_is_replaced(tmp_path, helpers):
    """Ended at its bound of memory or time, or by the library itself: it is one file that is told, and the next is read."""
    (tmp_path / "a").write_bytes(made("one"))
    real = reading._Helper.ask
    asked = []

    def kill(self, data):
        asked.append(1)
        self.started()
        if len(asked) == 2:
            self.process.kill()
        return real(self, data)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(reading._Helper, "ask", kill)
        outcomes = list(read_all([tmp_path / "a"] * 3))
    assert [isinstance(one, Found) for one in outcomes] == [True, False, True]
    assert outcomes[1].code == "past.stubborn" and not active_children()


def test_a_machine_that_starts_no_process_is_no_fault_of_the_file(tmp_path, helpers, monkeypatch):
    """It is told as what it is, and nothing is ended that never began."""
    (tmp_path / "a").write_bytes(made("one"))

    def refused(self):
        raise OSError(errno.EAGAIN, "no more processes")

    monkeypatch.setattr(reading.get_context("spawn").Process, "start", refused)
    with pytest.raises(OSError, match="no more processes"):
        list(read_all([tmp_path / "a"]))


def test_a_file_has_a_bound_of_processor_time_and_memory(monkeypatch):
    """Of its own: what the files before took does not count."""
    resource = pytest.importorskip("resource")
    told = {}
    monkeypatch.setattr(resource, "setrlimit", lambda what, limits: told.update({what: limits[0]}))
    helper._bounded()
    used = resource.getrusage(resource.RUSAGE_SELF)
    assert 0 < told[resource.RLIMIT_CPU] - (used.ru_utime + used.ru_stime) <= helper.PROCESSOR + 1
    assert told[resource.RLIMIT_AS] <= helper.MEMORY and told[resource.RLIMIT_CORE] == 0


@tried(25)
@given(st.data())
def test_a_damaged_pdf_is_read_or_told(data):
    whole = bytearray(made("Paper boats", "sail"))
    for _ in range(data.draw(st.integers(1, 12))):
        whole[data.draw(st.integers(9, len(whole) - 1))] = data.draw(st.integers(0, 255))
    read = pdf.found(bytes(whole[: data.draw(st.integers(100, len(whole)))]))
    assert isinstance(read, str) or read.pages >= 1
