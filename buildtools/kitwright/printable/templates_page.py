"""True-size templates: notched and shaped pieces, and strips that carry the greeting, each page with a scale bar."""

from __future__ import annotations

from collections.abc import Iterator

from reportlab.platypus.flowables import Flowable

from kitwright.card.face import Placed, Sentiment
from kitwright.card.notches import Way, ways
from kitwright.card.shapes import outline_of
from kitwright.drawing.scene import Scene
from kitwright.drawing.template import notched_end, piece_template
from kitwright.geometry import Rect
from kitwright.kit.model import Piece
from kitwright.printable.blocks import GUTTER, Block, Heading, PictureBlock, Prose, Side, high
from kitwright.printable.filling import Chunk
from kitwright.printable.job import Job
from kitwright.printable.scalebar import HEIGHT, scale_bar
from kitwright.printable.typeset import BODY, NOTE
from kitwright.telling.backs import back_text
from kitwright.telling.notches import punch_text, short_rule, way_steps, way_title
from kitwright.telling.printed import CHECK_TEMPLATES, PUNCH_TOO_SMALL, TOO_LARGE_TO_TRACE
from kitwright.telling.shapes import shape_words
from kitwright.telling.words import listed
from kitwright.units import Size, length_text

LEAST_COLUMN = 140
"""Narrowest column of a template that stands beside another, points."""
END = 132
"""Room for one end of a strip, points."""


class ScaleBar(Block):
    """The scale bar among the text."""

    def __init__(self, say: str) -> None:
        super().__init__(before=2, after=8)
        self.say = say

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        self.width, self.height = room, HEIGHT
        return room, HEIGHT

    def draw(self) -> None:
        scale_bar(self.canv, 0, 0, self.width, lead="Check first.", say=self.say)


def templates(job: Job) -> list[Chunk]:
    """Rows of templates, small ones beside one another, and a scale bar on every page that carries one; none for a kit that needs none."""
    needed = [(label, piece) for label, piece in job.worked.kit.spec.pieces.items() if _needs(job, label, piece)]
    rows: list[list[Flowable]] = []
    room = 0.0
    for label, piece in needed:
        blocks = list(_of_piece(job, label, piece))
        if piece.notch:
            rows += _by_height(job, blocks)
            room = 0
            continue
        wide = max(float(block.scene.width) if isinstance(block, PictureBlock) else LEAST_COLUMN for block in blocks)
        if room >= wide + GUTTER and isinstance(rows[-1][0], Side):
            side = rows[-1][0]
            rows[-1] = [Side([*side.stacks, blocks], [*side.widths, wide], GUTTER, job.edition.height, before=side.before)]
            room -= wide + GUTTER
        else:
            rows.append([Side([blocks], [wide], GUTTER, job.edition.height, before=12)])
            room = job.edition.width - wide
    if notched := [(label, piece) for label, piece in needed if piece.notch]:
        rows[-1].append(_another_punch(job, notched))
    again = tuple(_head(job, again=True))
    return [Chunk(tuple(row), again) if i else Chunk((*_head(job, again=False), *row)) for i, row in enumerate(rows)]


def _by_height(job: Job, blocks: list[Flowable]) -> list[list[Flowable]]:
    """Together, or where that is higher than half a page every further way to notch it by itself."""
    if high(blocks, job.edition.width) <= job.edition.height / 2:
        return [blocks]
    first = next((i for i, block in enumerate(blocks) if isinstance(block, Side)), len(blocks))
    return [blocks[:first], *([block] for block in blocks[first:])]


def _head(job: Job, again: bool) -> list[Flowable]:
    heading = Heading("Templates, continued" if again else "Templates", 2, bookmark=None if again else "templates")
    return [heading, ScaleBar(CHECK_TEMPLATES)]


def _needs(job: Job, label: str, piece: Piece) -> bool:
    return bool(piece.shaped or _printed_on(job, label))


def _printed_on(job: Job, label: str) -> tuple[tuple[Placed, tuple[Sentiment, ...]], ...]:
    """Where on the cards a piece lies on which words are printed, and those."""
    faces = [side for design in job.worked.designs for side in design.face.every]
    found = [(placed, tuple(said for said in face.sentiments if said.on == label)) for face in faces for placed in face.stack]
    return tuple((placed, words) for placed, words in found if placed.label == label and words)


def _of_piece(job: Job, label: str, piece: Piece) -> Iterator[Flowable]:
    use = ", ".join(filter(None, (label, piece.use, back_text(job.worked, label))))
    shape = shape_words(piece)
    yield Heading(f"{use}: {shape}" if shape else use, 3)
    own = ways(piece, job.unit)[0] if piece.notch else None
    whole = _whole(job, label, piece, own)
    if whole:
        yield PictureBlock(whole, job.level)
    else:
        yield Prose(TOO_LARGE_TO_TRACE, NOTE)
    if piece.notch:
        yield from _notches(job, label, piece)


def _whole(job: Job, label: str, piece: Piece, own: Way | None) -> Scene | None:
    """The piece at true size, upright or lying; None where no page holds it."""
    shape, size = outline_of(piece), piece.size
    printed: tuple[Rect, ...] = ()
    note = ""
    placed, words = next(iter(_printed_on(job, label)), (None, ()))
    if placed and not placed.turned:
        printed = tuple(Rect(said.rect.x - placed.rect.x, said.rect.y - placed.rect.y, said.rect.width, said.rect.height) for said in words)
        note = "dotted: the printed greeting" if len(words) == 1 else "dotted: what is printed"

    def fits(s: Size) -> bool:
        return s.width.inches * 72 <= job.edition.width - 6 and s.height.inches * 72 <= job.edition.height * 0.6

    if not fits(size):
        if not fits(size.turned):
            return None
        shape, size, printed, note = shape.turned(size.height), size.turned, (), "lying on its side"
    if own and own.trim:
        note = f"finished; cut {length_text(max(own.cut.width, own.cut.height), job.unit)} long"
    return piece_template(label, shape, size, unit=job.unit, printed=printed, note=note)


def _notches(job: Job, label: str, piece: Piece) -> Iterator[Flowable]:
    """Every way to make the notches: the kit's own under the whole piece, any other beside a true end of it."""
    for way in ways(piece, job.unit):
        said = _named(way, job.unit)
        head = Prose(said, BODY, lead=f"{way_title(way)}{',' if said else ''}")
        text = Prose(" ".join(way_steps(way, job.unit, measured=False)), NOTE)
        if way.own:
            yield head
            yield text
            continue
        lying = way.cut if way.ends[0] in ("left", "right") else way.cut.turned
        scene = notched_end(label, lying, way.depth, way.trim, unit=job.unit, shown=END - 20, dot=way.tool == "scissors")
        left = max(END, float(scene.width))
        yield Side(
            [[PictureBlock(scene, job.level)], [head, text]],
            [left, job.edition.width - left - GUTTER],
            GUTTER,
            job.edition.height,
            before=6,
            after=4,
        )


def _another_punch(job: Job, notched: list[tuple[str, Piece]]) -> Prose:
    """How long to cut the strips for a shaped punch of the reader's own."""
    sums = "; ".join(short_rule(label, piece, job.unit) for label, piece in notched)
    return Prose(f"cut {sums}.", NOTE, lead="With another shaped punch,")


def _named(way: Way, unit: str) -> str:
    """What sets a way apart, after its name: whose it is, and the measures that its lengths hold for."""
    said = ["as this kit does"] if way.own else []
    if way.big_enough is False:
        said.append(PUNCH_TOO_SMALL)
    return ", ".join(filter(None, (listed(said, "but"), punch_text(way, unit) if way.punch or way.side else "")))
