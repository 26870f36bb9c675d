"""Pictures that may come from anybody: known before they are decoded, bare, upright, and told well when they are none."""

import io
import struct
import tracemalloc
import zlib

import pytest
from kitwright.errors import Place, UserError
from kitwright.kit.picture import EDGE, LARGEST, PIXELS, SCANS, NoPicture, bare, decoded, encoded, picture
from odd import pictures
from PIL import Image

SECRET, chunk, odd_pictures, saved = pictures.SECRET, pictures.chunk, pictures.odd_pictures, pictures.saved


def corners(size=(40, 20)) -> Image.Image:
    """White, with its upper left quarter red."""
    made = Image.new("RGB", size, "white")
    made.paste((220, 0, 0), (0, 0, size[0] // 2, size[1] // 2))
    return made


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_pictures_come_upright_and_without_notes(format, orientation):
    """Where the red corner must be: Exif 2.32, section 4.6.4, figure of the eight orientations."""
    found = bare(saved(corners(), format, orientation, quality=95))
    assert (found.format, found.width, found.height, found.orientation) == (format, 40, 20, orientation)
    assert SECRET not in found.data and b"Exif" not in found.data and b"acsp" not in found.data
    made = decoded(found, 1000)
    assert made.size == ((40, 20) if orientation < 5 else (20, 40))
    x, y = {1: (0, 0), 2: (1, 0), 3: (1, 1), 4: (0, 1), 5: (0, 0), 6: (1, 0), 7: (1, 1), 8: (0, 1)}[orientation]
    where = [
        (i, j)
        for i in (0, 1)
        for j in (0, 1)
        if made.getpixel((int(made.width * (i + 0.5) / 2), int(made.height * (j + 0.5) / 2)))[1] < 100
    ]
    assert where == [(x, y)]
    for again in ("JPEG", "PNG", "WEBP"):
        file = encoded(made, again)
        with Image.open(io.BytesIO(file)) as read:
            assert (
                read.format == again
                and not read.getexif()
                and not {"icc_profile", "exif", "xmp", "comment"} & set(read.info)
                and SECRET not in file
            )


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGBA", "I;16", "CMYK"])
def test_pictures_of_every_kind_keep_their_looks(mode):
    grey = Image.linear_gradient("L").resize((64, 64))
    source = (
        grey.convert("I").point(lambda v: v * 257).convert("I;16")
        if mode == "I;16"
        else grey.convert("RGB").convert(mode)
        if mode in ("P", "CMYK")
        else grey.convert(mode)
    )
    file = io.BytesIO()
    source.save(file, "JPEG" if mode == "CMYK" else "PNG")
    made = decoded(bare(file.getvalue()), 1000).convert("L")
    wanted = source.convert("RGB").convert("L") if mode != "I;16" else grey
    assert made.size == (64, 64) and max(abs(a - b) for a, b in zip(made.tobytes(), wanted.tobytes())) <= 6


def test_what_is_see_through_is_white_and_hides_nothing():
    file = io.BytesIO()
    clear = Image.new("RGBA", (8, 8), (200, 0, 0, 0))
    for format in ("PNG", "WEBP"):
        file = io.BytesIO()
        clear.save(file, format, lossless=True, exact=True)
        made = decoded(bare(file.getvalue()), 100)
        assert made.mode == "RGB" and made.getcolors() == [(64, (255, 255, 255))]
    palette = Image.new("P", (8, 8), 0)
    palette.putpalette([200, 0, 0, 0, 0, 0])
    file = io.BytesIO()
    palette.save(file, "PNG", transparency=0)
    assert decoded(bare(file.getvalue()), 100).getcolors() == [(64, (255, 255, 255))]


def test_lossy_webp_keeps_its_see_through_parts():
    made = Image.new("RGBA", (16, 16), (200, 0, 0, 255))
    made.paste((0, 0, 0, 0), (0, 0, 8, 16))
    file = io.BytesIO()
    made.save(file, "WEBP", quality=90, exif=Image.Exif().tobytes())
    assert b"ALPH" in file.getvalue() and b"VP8 " in file.getvalue()
    read = decoded(bare(file.getvalue()), 100)
    assert read.getpixel((2, 8)) == (255, 255, 255) and read.getpixel((13, 8))[0] > 150 > read.getpixel((13, 8))[1]


def test_how_colours_are_stored_is_kept():
    """T.872: without Adobe's mark, three parts numbered 1, 2, 3 are taken for brightness and two colours."""
    file = io.BytesIO()
    Image.new("RGB", (16, 16), (200, 30, 60)).save(file, "JPEG", quality=95, keep_rgb=True)
    data = bytearray(file.getvalue())
    for at, step in ((data.index(b"\xff\xc0") + 10, 3), (data.index(b"\xff\xda") + 5, 2)):
        data[at : at + 3 * step : step] = b"\1\2\3"
    if b"Adobe" not in data:
        data[2:2] = b"\xff\xee\0\x0eAdobe\0\x64\0\0\0\0\0"
    assert all(abs(a - b) < 8 for a, b in zip(decoded(bare(bytes(data)), 100).getpixel((8, 8)), (200, 30, 60)))


@pytest.mark.parametrize("said, read", [(6, 6), (8, 8), (1, 1), (0, 1), (9, 1), (65535, 1)])
@pytest.mark.parametrize("order", ["II", "MM"])
def test_notes_of_either_order_say_how_the_camera_was_held(said, read, order):
    ends = "<" if order == "II" else ">"
    entry = struct.pack(f"{ends}HHI", 0x0112, 3, 1) + struct.pack(f"{ends}HH", said, 0)
    notes = order.encode() + struct.pack(f"{ends}HIH", 42, 8, 2) + struct.pack(f"{ends}HHII", 0x0100, 4, 1, 7) + entry + bytes(4)
    whole = saved(corners(), "JPEG")
    assert (
        bare(
            b"\xff\xd8\xff\xe1" + struct.pack(">H", len(notes) + 8) + b"Exif\0\0" + notes + whole[2:].replace(b"Exif\0\0", b"Fixe\0\0")
        ).orientation
        == read
    )


@pytest.mark.parametrize("notes", [b"", b"II*\0", b"MM\0*\xff\xff\xff\xff", b"II*\0\x08\0\0\0\xff\xff", b"II*\0\x08\0\0\0\x01\0\x12\x01"])
def test_broken_notes_leave_a_picture_upright(notes):
    whole = saved(corners(), "PNG")
    assert bare(whole[:33] + chunk(b"eXIf", notes) + png(1, 1)[33:]).orientation == 1


def test_pictures_are_no_longer_than_wanted():
    assert [decoded(bare(saved(Image.new("RGB", size), "PNG")), 100).size for size in ((50, 20), (400, 200), (200, 400), (3000, 1))] == [
        (50, 20),
        (100, 50),
        (50, 100),
        (100, 1),
    ]


def png(width: int, height: int, body: bytes = b"") -> bytes:
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
        + chunk(b"IDAT", body)
        + chunk(b"IEND", b"")
    )


def jpeg(width: int, height: int) -> bytes:
    whole = bytearray(saved(Image.new("RGB", (8, 8)), "JPEG"))
    at = whole.index(b"\xff\xc0")
    whole[at + 5 : at + 9] = struct.pack(">HH", height, width)
    return bytes(whole)


def webp(width: int, height: int) -> bytes:
    body = b"WEBPVP8L" + struct.pack("<I", 6) + b"\x2f" + struct.pack("<I", (width - 1) | (height - 1) << 14) + b"\0"
    return b"RIFF" + struct.pack("<I", len(body)) + body


@pytest.mark.parametrize(
    "data",
    [
        png(5001, 5000),
        png(2**31 - 1, 2**31 - 1),
        png(1, EDGE + 1),
        jpeg(7072, 7072),
        jpeg(65535, 65535),
        jpeg(EDGE + 1, 1),
        webp(16383, 16383),
        webp(5001, 5000),
    ],
)
def test_too_many_pixels_are_told_before_anything_is_decoded(data, monkeypatch):
    monkeypatch.setattr(Image, "open", None)
    tracemalloc.start()
    with pytest.raises(NoPicture, match="far too many pixels") as caught:
        bare(data)
    assert "4000" in caught.value.remedy and tracemalloc.get_traced_memory()[1] < 1_000_000
    tracemalloc.stop()


def test_the_bounds_themselves_are_let_through():
    assert (
        bare(png(5000, 5000)).width * 5000 == PIXELS["PNG"] and bare(jpeg(7071, 7071)).width == 7071 and bare(png(1, EDGE)).height == EDGE
    )


def test_scans_and_blocks_are_counted():
    whole = saved(corners(), "JPEG", progressive=True)
    at = whole.rindex(b"\xff\xda")
    assert bare(whole[:at] + whole[at:].replace(b"\xff\xd9", b"") * 20).width == 40
    with pytest.raises(NoPicture):
        bare(whole[:at] + (b"\xff\xda\0\x08\1\1\0\1\1\0" * (SCANS + 1)) + whole[at:])
    for many in (b"\xff\xfe\0\2", b"\xff"):
        with pytest.raises(NoPicture):
            bare(whole[:2] + many * 40_000 + whole[2:])
        assert bare(whole[:2] + many * 9 + whole[2:]).width == 40


def test_what_moves_is_told_or_stands_still():
    frames = [Image.new("RGB", (8, 8), c) for c in ("red", "blue")]
    out = io.BytesIO()
    frames[0].save(out, "WEBP", save_all=True, append_images=frames[1:])
    with pytest.raises(NoPicture, match="moving"):
        bare(out.getvalue())
    out = io.BytesIO()
    frames[0].save(out, "PNG", save_all=True, append_images=frames[1:])
    assert decoded(bare(out.getvalue()), 100).getpixel((0, 0)) == (255, 0, 0)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\xff\xd8\xff",
        b"GIF89a" + bytes(40),
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        b"<!doctype html><script>alert(1)</script>",
        b"%PDF-1.7\n",
        b"%!PS-Adobe-3.0 EPSF-3.0\n",
        b"8BPS\0\1" + bytes(40),
        b"II*\0\x08\0\0\0" + bytes(40),
        b"BM" + bytes(60),
        b"PK\3\4",
        b"P6 9 9 255\n" + bytes(300),
        b"\0\0\0 ftypavif" + bytes(40),
    ],
)
def test_other_formats_never_reach_a_decoder(data, monkeypatch):
    monkeypatch.setattr(Image, "open", None)
    with pytest.raises(NoPicture, match="can't be read as a picture") as caught:
        bare(data)
    assert "JPEG" in caught.value.remedy


def test_errors_are_told_at_the_line_that_names_the_picture(tmp_path):
    file, place = tmp_path / "a.jpg", Place(tmp_path / "kit.yaml", 7)
    whole = saved(corners((300, 300)), "JPEG", quality=95)
    for data, says in ((whole[: len(whole) // 2], "can't be read"), (png(9000, 9000), "9000 × 9000"), (b"x", "can't be read")):
        file.write_bytes(data)
        with pytest.raises(UserError) as caught:
            picture(file, place, 100)
        assert (
            says in caught.value.problem
            and caught.value.problem.startswith("a.jpg")
            and caught.value.place is place
            and caught.value.remedy
        )
    with file.open("wb") as stream:
        stream.truncate(LARGEST + 1)  # a hole: it takes no room on the disk
    with pytest.raises(UserError, match="larger than 40 MB"):
        picture(file, place, 100)
    file.unlink()
    with pytest.raises(UserError, match="can't be read"):
        picture(file, place, 100)


def test_a_picture_whose_colours_never_end(monkeypatch):
    """What the head promises is all that is ever decoded."""
    found = bare(png(10, 10, zlib.compress(bytes(30_000_000))))
    assert decoded(found, 100).size == (10, 10)


def test_odd_pictures_give_a_picture_or_one_plain_word():
    told = set()
    for name, data in odd_pictures(seed=7, count=120):
        try:
            made = decoded(bare(data), 64)
        except NoPicture as error:
            told.add(error.code)
            continue
        assert max(made.size) <= 64 and made.mode == "RGB", name
        assert SECRET not in encoded(made, "JPEG")
    assert told == {"pictures.unreadable", "pictures.too-many-pixels", "pictures.moving"}


def test_odd_pictures_are_the_same_every_time():
    assert list(odd_pictures(3, 36)) == list(odd_pictures(3, 36)) != list(odd_pictures(4, 36))
