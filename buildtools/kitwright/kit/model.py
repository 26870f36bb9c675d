"""What a kit folder says, as typed classes.

Read with pydantic from the plain text of `kit.yaml` and `club.yaml`; the JSON Schema that
editors complete and check against is generated from these same classes.
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PrivateAttr,
    StringConstraints,
    WithJsonSchema,
    model_validator,
)

from kitwright.errors import Place
from kitwright.kit.fields import (
    WANTED,
    ByAreaField,
    ByLengthField,
    CountField,
    EnvelopeField,
    LengthField,
    MarginField,
    MoneyField,
    SheetField,
    SheetsField,
    SizeField,
    Unfit,
    WeightField,
)
from kitwright.units import Length, Size


def _no_citation(text: str) -> str:
    if "[[" in text:
        raise Unfit("spec.cites")
    return text


@dataclass(frozen=True)
class Cites:
    """Marks prose of a kit in which a size or count may be cited; `kitwright.work.cite` fills it in.

    Text without this mark refuses a citation where it is typed, so that none is ever shown as brackets.
    """


_LONG = StringConstraints(strip_whitespace=True, min_length=1, max_length=2000)
_SHORT = StringConstraints(strip_whitespace=True, min_length=1, max_length=120)
Words = Annotated[str, _LONG, AfterValidator(_no_citation)]
ShortWords = Annotated[str, _SHORT, AfterValidator(_no_citation)]
Prose = Annotated[str, _LONG, Cites()]
ShortProse = Annotated[str, _SHORT, Cites()]
LABEL_FORM, KEY_FORM = r"^[A-Z][A-Za-z0-9]{0,3}$", r"^[a-z][a-z0-9-]{0,30}$"
Label = Annotated[str, StringConstraints(pattern=LABEL_FORM)]
Key = Annotated[str, StringConstraints(pattern=KEY_FORM)]
Edge = Literal["top", "right", "bottom", "left"]
Meant = Literal["overhang", "uneven", "larger"]


def _one_or_many(value: Any) -> Any:
    return [value] if isinstance(value, str) else value


@dataclass(frozen=True)
class OneOrMany:
    """A list that may be typed as a single word; editors are told so."""

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        return BeforeValidator(_one_or_many).__get_pydantic_core_schema__(source, handler)

    def __get_pydantic_json_schema__(self, core_schema: Any, handler: Any) -> dict[str, Any]:
        many = handler(core_schema)
        return {"anyOf": [many["items"], many]} if "items" in many else many


MeantList = Annotated[tuple[Meant, ...], OneOrMany()]
Keys = Annotated[tuple[Key, ...], OneOrMany()]
TextList = Annotated[tuple[Words, ...], OneOrMany()]
ProseList = Annotated[tuple[Prose, ...], OneOrMany()]
YesNo = Annotated[bool, WithJsonSchema({"enum": [True, False, "yes", "no"]})]
"""Typed yes or no, which editors read as words and others as true and false."""


class Spec(BaseModel):
    """Common manners: nothing unknown, nothing changed after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True, arbitrary_types_allowed=True)


# --- papers --------------------------------------------------------------------------------


class PaperFace(Spec):
    """One printed side of a patterned paper."""

    look: Key = "plain"
    """The drawn stand-in: stripes, dots, checks, sprigs …"""
    colours: Annotated[tuple[Key, ...], OneOrMany()] = Field((), max_length=3)
    """One to three palette colours."""
    up: Edge | None = None
    """For a one-way paper: which edge of the sheet is its top."""


class Paper(Spec):
    """A paper on the table."""

    kind: Literal["patterned", "cardstock"]
    """patterned or cardstock"""
    name: ShortWords
    """What the guide calls it."""
    size: SheetField
    """Sheet by name or measure."""
    front: PaperFace = PaperFace()
    """How its front is drawn."""
    back: PaperFace | None = None
    """Its other printed face, if it has one."""
    weight: WeightField | None = None
    """80 lb cover, 216 gsm …"""
    thickness: LengthField | None = None
    """How thick one sheet is, by a calliper; weight does not tell."""
    grain: Literal["long", "short"] | None = None
    """Which side of the sheet the grain runs along."""
    sheets: SheetsField | None = None
    """Sheets at hand; leave out to have them worked out."""

    def face(self, name: str) -> PaperFace | None:
        """Its `front` or `back` face."""
        return self.front if name == "front" else self.back


# --- pieces --------------------------------------------------------------------------------

ONLY = "its only paper"
"""Stands for the paper of a piece that comes in one paper."""
_COUNT = {"type": ["string", "number"], "examples": ["1", "2", "1/2"]}
_COUNTS = {"anyOf": [_COUNT, {"type": "object", "additionalProperties": _COUNT}]}


def _counts(value: Any) -> Any:
    return {ONLY: value} if isinstance(value, str) else value


class ShapedPunch(Spec):
    """A punch that cuts a V in one go, measured on a scrap as wide as the punch takes."""

    width: LengthField
    """The widest strip it takes."""
    depth: LengthField
    """How deep its V is at that width."""
    trim: MarginField
    """How much of the end it takes off beyond the tips; 0 when none."""


class Notch(Spec):
    """A V notch in the end of a strip."""

    ends: Literal["both", "left", "right", "top", "bottom"] = "both"
    """Which ends of the strip, as it is written."""
    depth: LengthField | None = None
    """How deep; half the strip's height when left out (a 90° V)."""
    made_with: Literal["scissors", "square punch", "shaped punch"] = Field("scissors", alias="made with")
    """What you make it with: scissors, the corner of a square punch, or a shaped punch."""
    keeps: Literal["tips", "bottoms"] = "tips"
    """Which length stays the same whatever it is made with: from tip to tip, or between the notch bottoms."""
    square_punch: LengthField | None = Field(None, alias="square punch")
    """The side of your square punch."""
    shaped_punch: ShapedPunch | None = Field(None, alias="shaped punch")
    """Your shaped punch, if you have one."""

    @model_validator(mode="after")
    def _tool_known(self) -> Notch:
        if self.made_with == "shaped punch" and self.shaped_punch is None:
            raise Unfit("spec.no-shaped-punch")
        if self.made_with != "scissors" and self.depth is not None:
            raise Unfit("spec.depth-of-a-punch", tool=self.made_with)
        return self


Corner = Literal["top left", "top right", "bottom right", "bottom left"]
Corners = Annotated[tuple[Corner, ...], OneOrMany()]


class Tag(Spec):
    """A tag's end: both its corners snipped, a hole between them."""

    end: Edge = "top"
    """Which end of the piece, as it is written."""
    snip: LengthField
    """How much is snipped off each corner, along both edges."""
    hole: LengthField
    """Across the hole."""
    inset: LengthField | None = None
    """From the end to the middle of the hole; as much as the snip when left out."""


class At(Spec):
    """Where something lies, measured from the edges of what it lies on; centred where nothing is said."""

    left: MarginField | None = None
    """From the left edge."""
    right: MarginField | None = None
    """From the right edge."""
    top: MarginField | None = None
    """From the top edge."""
    bottom: MarginField | None = None
    """From the bottom edge."""

    @model_validator(mode="after")
    def _one_edge_each_way(self) -> At:
        for a, b in (("left", "right"), ("top", "bottom")):
            if getattr(self, a) is not None and getattr(self, b) is not None:
                raise Unfit("spec.both-edges", one=a, other=b)
        return self


class Window(At):
    """An opening in a piece."""

    size: SizeField | None = None
    """Width × height of the opening."""
    border: LengthField | None = None
    """Instead of a size: an even frame of this width around it."""
    rounded: LengthField | None = None
    """The radius of its corners."""

    @model_validator(mode="after")
    def _one_measure(self) -> Window:
        if (self.size is None) == (self.border is None):
            raise Unfit("spec.window-of-no-measure")
        if self.border and any(getattr(self, edge) is not None for edge in ("left", "right", "top", "bottom")):
            raise Unfit("spec.frame-with-a-place")
        return self


class Shape(Spec):
    """What makes a piece other than a plain rectangle; its size is the rectangle around it."""

    rounded: LengthField | None = None
    """The radius of its corners."""
    snipped: LengthField | None = None
    """How much is snipped off its corners, along both edges."""
    corners: Corners = ()
    """Which corners; all four when left out."""
    arch: Edge | None = None
    """The end that is a half circle."""
    tag: Tag | None = None
    """Two snipped corners and a hole."""
    window: Window | None = None
    """An opening; a frame is a window with an even border."""

    @model_validator(mode="after")
    def _one_edge(self) -> Shape:
        edges = [name for name in ("rounded", "snipped", "arch", "tag") if getattr(self, name) is not None]
        if len(edges) > 1:
            raise Unfit("spec.two-shapes", one=edges[0], other=edges[1])
        if not edges and self.window is None:
            raise Unfit("spec.no-shape")
        if self.corners and self.rounded is None and self.snipped is None:
            raise Unfit("spec.corners-of-no-shape")
        return self


FINEST = Fraction(1, 32)
"""Inches: the narrowest side of a piece; half of what the finest trimmer ruler shows."""


def _cuttable(size: Size) -> Size:
    if min(size.width.inches, size.height.inches) < FINEST:
        raise Unfit("spec.too-small-to-cut", least=Length(FINEST))
    return size


class Piece(Spec):
    """One label: a size, cut from one or more papers."""

    size: Annotated[SizeField, AfterValidator(_cuttable)]
    """Width × height, upright as its pattern is."""
    use: ShortProse = Field("", alias="for")
    """What it is for."""
    paper: Key | None = None
    """The paper it is cut from, when there is one."""
    per_card: Annotated[dict[str, CountField], BeforeValidator(_counts), WithJsonSchema(_COUNTS)] = Field(
        {ONLY: Fraction(1)}, alias="per card"
    )
    """How many on each card, for each paper when there are several."""
    notch: Notch | None = None
    """A notched end makes it a banner."""
    shape: Shape | None = None
    """Rounded or snipped corners, an arch, a tag, a window; a plain rectangle when left out."""
    may_turn: YesNo = Field(True, alias="may turn")
    """Whether it may be cut turned on the sheet."""

    @model_validator(mode="after")
    def _papers_said(self) -> Piece:
        by_paper = ONLY not in self.per_card
        if self.paper and by_paper:
            raise Unfit("spec.paper-twice")
        if not self.paper and not by_paper:
            raise Unfit("spec.no-paper")
        return self

    @model_validator(mode="after")
    def _notch_alone(self) -> Piece:
        if self.notch and self.shape and (self.shape.window is None or len(self.shape.model_fields_set) > 1):
            raise Unfit("spec.notch-and-shape")
        return self

    @property
    def share(self) -> dict[str, Fraction]:
        """Pieces on each card by paper."""
        return {self.paper or key: count for key, count in self.per_card.items()}


# --- the card ------------------------------------------------------------------------------


class BaseSpec(Spec):
    """The card base before folding."""

    size: SizeField
    """The flat base as it lies with the card upright."""
    paper: Key
    """The cardstock it is cut from."""
    meant: Annotated[tuple[Literal["thin"], ...], OneOrMany()] = ()
    """What looks odd and is meant: thin."""


class Layer(At):
    """A full layer on the base, or the inside panel."""

    piece: Label
    """Its label."""
    paper: Key | None = None
    """Its paper, when the piece comes in several."""
    raised: YesNo = False
    """On foam."""
    meant: MeantList = ()
    """What looks odd and is meant: uneven, larger …"""

    @model_validator(mode="before")
    @classmethod
    def _from_label(cls, value: Any) -> Any:
        return {"piece": value} if isinstance(value, str) else value

    @classmethod
    def __get_pydantic_json_schema__(cls, core_schema: Any, handler: Any) -> dict[str, Any]:
        """Editors accept the label alone or the spelt-out form."""
        return {"anyOf": [{"type": "string", "examples": ["M"]}, dict(handler.resolve_ref_schema(handler(core_schema)))]}


class Laid(At):
    """A piece set down by explicit position, or laid over the others."""

    piece: Label
    """Its label."""
    paper: Key | None = None
    """Its paper, when the piece comes in several."""
    face: Literal["front", "back"] = "front"
    """Which printed face shows."""
    turned: YesNo = False
    """A quarter turn from how its size is written."""
    on: str = "front"
    """front, band, or the label of what it lies on."""
    raised: YesNo = False
    """On foam."""
    meant: MeantList = ()
    """What looks odd and is meant: overhang, uneven, larger …"""


class Item(Spec):
    """One entry of a row or column: a piece, the band, or a block of more rows or columns.

    Typed as words (`A stripes turned`, `band`, `band 1-1/2`), as a list (a block that runs
    the other way), or spelt out when there is more to say.
    """

    piece: Label | None = None
    """Its label."""
    paper: Key | None = None
    """Its paper, when the piece comes in several."""
    face: Literal["front", "back"] = "front"
    """Which printed face shows."""
    turned: YesNo = False
    """A quarter turn from how its size is written."""
    place: Literal["centre", "left", "right", "top", "bottom"] | None = None
    """Where it sits when its row is wider than it is; said means meant."""
    band: MarginField | Literal["free"] | None = None
    """The free band, or one of a given height."""
    inside: list[Item] | None = None
    """A block that runs the other way."""
    gap: MarginField | None = None
    """Gap inside this block; the front's own when left out."""
    meant: MeantList = ()
    """What looks odd and is meant."""

    @model_validator(mode="before")
    @classmethod
    def _from_words(cls, value: Any) -> Any:
        if isinstance(value, list):
            return {"inside": value}
        return _item_from_words(value) if isinstance(value, str) else value

    @model_validator(mode="after")
    def _one_kind(self) -> Item:
        if sum(x is not None for x in (self.piece, self.band, self.inside)) != 1:
            raise Unfit("spec.no-entry")
        return self

    @classmethod
    def __get_pydantic_json_schema__(cls, core_schema: Any, handler: Any) -> dict[str, Any]:
        """Editors accept words, a list or the spelt-out form."""
        spelt = handler.resolve_ref_schema(handler(core_schema))
        spelt = dict(spelt)
        return {"anyOf": [{"type": "string", "examples": ["A stripes", "band", "B dots turned"]}, {"type": "array", "items": {}}, spelt]}


def _item_from_words(text: str) -> dict[str, Any]:
    words = text.split()
    if words and words[0] == "band":
        return {"band": " ".join(words[1:]) or "free"}
    found: dict[str, Any] = {"piece": words[0] if words else ""}
    for word in words[1:]:
        if word == "turned":
            found["turned"] = "yes"
        elif word == "back":
            found["face"] = "back"
        elif "paper" in found:
            raise Unfit("spec.two-papers", text=text, one=found["paper"], other=word)
        else:
            found["paper"] = word
    return found


class Look(Spec):
    """One of several looks of the same layout within the batch."""

    name: ShortWords
    """In plain words: stripes on top."""
    cards: int = Field(ge=1, le=500)
    """How many cards look like this."""
    swap: dict[Key, Key] = {}
    """Which paper stands in for which."""


class Front(Spec):
    """How the pieces lie on the card front."""

    on: str | None = None
    """The layer they lie on; the topmost when left out."""
    border: MarginField | None = None
    """Even border inside that layer."""
    gap: MarginField | None = None
    """Gap between neighbours."""
    rows: list[Item] | None = None
    """From the top: A stripes, band, B dots …"""
    columns: list[Item] | None = None
    """From the left."""
    places: list[Laid] = []
    """Pieces by explicit position."""
    over: list[Laid] = []
    """Pieces laid over the others."""
    looks: list[Look] = []
    """Several looks of one layout in the batch."""
    meant: MeantList = ()
    """What looks odd and is meant."""

    @model_validator(mode="after")
    def _one_direction(self) -> Front:
        if self.rows is not None and self.columns is not None:
            raise Unfit("spec.rows-and-columns")
        return self


class SentimentSpec(Spec):
    """The printed greeting."""

    text: ShortWords
    """Its words."""
    size: SizeField
    """Printed width × height."""
    on: str = "band"
    """The label of its strip, or band."""
    place: Literal["centre", "left", "right"] = "centre"
    """In the middle or to one side."""
    inset: MarginField | None = None
    """Distance from that side, when it sits to one side."""


class Decoration(At):
    """A place kept clear for decoration."""

    name: ShortProse
    """What goes there."""
    size: SizeField
    """The area kept clear."""
    on: str = "front"
    """front, band, or a label."""
    thickness: LengthField | None = None
    """How far it stands up."""
    optional: YesNo = False
    """Whether the card is complete without it."""
    meant: MeantList = ()
    """What looks odd and is meant: overhang …"""


class CardSpec(Spec):
    """The card that the front goes on."""

    base: BaseSpec
    fold: Literal["side", "top"]
    """side: opens to the left; top: opens upward."""
    score: LengthField | None = None
    """From the left (side fold) or the top (top fold); half when left out."""
    layers: list[Layer] = []
    """Full layers over the base, lowest first."""
    inside: Layer | None = None
    """The inside panel."""
    envelope: EnvelopeField | None = None
    """By unmistakable name or measure."""
    envelope_weight: WeightField | None = Field(None, alias="envelope weight")
    """How heavy its paper is, such as 24 lb bond or 100 gsm."""
    foam: LengthField | None = None
    """How thick the foam is that raises layers."""


# --- arrangements --------------------------------------------------------------------------

Variation = Literal["fold", "mat", "strip", "raised", "stamped"]
Variations = Annotated[tuple[Variation, ...], OneOrMany()]


class ArrangementsSpec(Spec):
    """How else the same pieces may go on the card."""

    papers: Literal["dealt", "any"] = "dealt"
    """dealt: a card keeps the papers of its look; any: a piece may come from any of its papers."""
    mirror: YesNo = False
    """Whether a front and its mirror image count as the same."""
    vary: Variations = ()
    """What besides the order may change: fold, mat, strip, raised, stamped."""
    mix: dict[ShortWords, Annotated[int, Field(ge=1, le=500)]] = {}
    """Your own mix for the batch: an arrangement by its name or link, and how many cards."""


# --- cutting guides ------------------------------------------------------------------------

_CUTS = {"anyOf": [{"const": "auto"}, {"type": "array", "items": {"type": ["string", "object"]}}]}


def _cut_list(value: Any) -> Any:
    if value == "auto" or value is None:
        return None
    if isinstance(value, str):
        raise Unfit("spec.no-cuts", text=value)
    return value


class Guide(Spec):
    """How one sheet, or several cut alike, is cut."""

    papers: Keys = Field(alias="papers", min_length=1)
    """The papers cut by this guide."""
    name: ShortWords | None = None
    """What to call it."""
    sheets: SheetsField | None = None
    """Sheets of each paper cut this way; worked out when left out."""
    cuts: Annotated[list[Any] | None, BeforeValidator(_cut_list), WithJsonSchema(_CUTS)] = None
    """The cuts in order, or auto."""


# --- a kit ---------------------------------------------------------------------------------


class Photo(Spec):
    """A picture of a finished card."""

    file: ShortWords
    """Path inside the kit's folder."""
    alt: Prose | None = None
    """What the picture shows, for those who can't see it."""
    caption: Prose | None = None
    """A line under it."""


STAGES = ("cut", "stamp", "score", "build", "mount", "finish")


class Steps(Spec):
    """The author's own words for a stage of the work; the rest is derived."""

    cut: ProseList = ()
    stamp: ProseList = ()
    score: ProseList = ()
    build: ProseList = ()
    mount: ProseList = ()
    finish: ProseList = ()


FIRST_YEAR, LAST_YEAR = 1900, 2199


def _moment(value: Any) -> Any:
    if not isinstance(value, str):
        raise Unfit("spec.no-moment", text=None)
    for form in ("%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M", "%Y-%m-%d"):
        try:
            at = dt.datetime.strptime(value.strip(), form)
        except ValueError:
            continue
        if FIRST_YEAR <= at.year <= LAST_YEAR:
            return at
        raise Unfit("spec.far-year", year=at.year, first=FIRST_YEAR, last=LAST_YEAR)
    raise Unfit("spec.no-moment", text=value)


Moment = Annotated[dt.datetime, BeforeValidator(_moment)]


# --- moments, people, and what comes after the reveal ---------------------------------------

FORGOTTEN = "a maker"
"""Stands where somebody stood who asked to be forgotten."""
PersonKey = Annotated[str, StringConstraints(pattern=r"^([a-z][a-z0-9]*(-[a-z0-9]+)*|a maker)$", max_length=60)]


def _address(value: Any) -> Any:
    if isinstance(value, str):
        _no_citation(value)
    if isinstance(value, str) and not re.fullmatch(r"https?://[^\s<>\"]{3,400}", value.strip()):
        raise Unfit("spec.no-address", text=value)
    return value.strip() if isinstance(value, str) else value


def _day(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    try:
        return dt.datetime.strptime(value.strip(), "%Y-%m-%d").date()
    except ValueError:
        raise Unfit("spec.no-day", text=value) from None


def _clock(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    match = re.fullmatch(r"(?:(\d{1,2}):)?(\d{1,2}):([0-5]\d)", value.strip())
    if not match or (match[1] and int(match[2]) > 59):
        raise Unfit("spec.no-time-in-a-video", text=value)
    return int(match[1] or 0) * 3600 + int(match[2]) * 60 + int(match[3])


Address = Annotated[str, BeforeValidator(_address), WithJsonSchema({"type": "string", "format": "uri", WANTED: "address"})]
Day = Annotated[dt.date, BeforeValidator(_day)]
Clock = Annotated[int, BeforeValidator(_clock), WithJsonSchema({"type": "string", "examples": ["4:05", "1:04:05"]})]


class NamedMoment(Spec):
    """A moment of the author's choosing; typed as a time alone when there is no more to say."""

    at: Moment
    """When, in the club's own time."""
    show: Prose | None = None
    """What the team and guests may show from then on."""

    @model_validator(mode="before")
    @classmethod
    def _from_time(cls, value: Any) -> Any:
        return {"at": value} if isinstance(value, str) else value


class Task(Spec):
    """What somebody makes for a kit; typed as the person's key alone when there is no more to say."""

    who: PersonKey
    """The key of a person."""
    make: Prose = "a card of your own from this kit"
    """What to make."""
    by: ShortWords = "reveal"
    """The moment by which it is due: reveal, or one of the kit's own."""

    @model_validator(mode="before")
    @classmethod
    def _from_words(cls, value: Any) -> Any:
        return {"who": value} if isinstance(value, str) else value


_TIME = WithJsonSchema({"type": ["string", "object"], "examples": ["2027-03-08 10:00"]})
_TASK = WithJsonSchema({"type": ["string", "object"], "examples": ["ada-bell"]})
MomentField = Annotated[NamedMoment, _TIME]
TaskField = Annotated[Task, _TASK]


class Tested(Spec):
    """Who cut a kit from start to finish before its release."""

    by: PersonKey
    """The key of a person."""
    on: Day
    """The day."""
    code: ShortWords
    """The code on the printable that was cut from."""


class Used(Spec):
    """Something a sample was made with, told by kind."""

    kind: ShortWords
    """What it is: ink, die, thread …"""
    words: ShortProse
    """The maker's own words for it."""
    link: Address | None = None
    """Where it is to be had."""
    earns: YesNo = False
    """Whether this link earns money."""


class Sample(Spec):
    """A finished card that somebody shows."""

    by: PersonKey
    """The key of a person."""
    photo: ShortWords | None = None
    """A picture in that person's own folder."""
    alt: Prose | None = None
    """What the picture shows."""
    since: ShortWords | None = Field(None, alias="from")
    """From which moment on it is shown; samples, or else the reveal, when left out."""
    arrangement: ShortWords | None = None
    """The arrangement it used, by name or by link."""
    changed: Prose | None = None
    """What the maker changed."""
    used: list[Used] = []
    """What it was made with."""


ComputedAnswer = Literal["A4", "Letter", "other sheets", "one sheet", "other fold", "more cards"]


class Question(Spec):
    """A reader's question with its answer."""

    ask: Prose
    """The question."""
    answer: Prose | None = None
    """The answer, with citations where it names a size."""
    computed: ComputedAnswer | None = None
    """Work the answer out instead."""
    cards: int | None = Field(None, ge=1, le=500)
    """For more cards: how many."""
    step: Literal["cut", "stamp", "score", "build", "mount", "finish"] | None = None
    """The stage that it is about."""
    piece: Label | None = None
    """The piece that it is about."""
    sheet: Key | None = None
    """The paper that it is about."""

    @model_validator(mode="after")
    def _one_answer(self) -> Question:
        if (self.answer is None) == (self.computed is None):
            raise Unfit("spec.not-one-answer")
        if sum(x is not None for x in (self.step, self.piece, self.sheet)) > 1:
            raise Unfit("spec.tied-twice")
        return self


class Video(Spec):
    """The video of a kit, and where its steps begin."""

    address: Address
    """Where it can be watched."""
    steps: dict[Literal["cut", "stamp", "score", "build", "mount", "finish"], Clock] = {}
    """Stage of the work → time."""
    chapters: dict[ShortProse, Clock] = {}
    """Further chapters, in your words → time."""


class Link(Spec):
    """Where something that a kit takes is to be had."""

    what: ShortProse = Field(alias="for")
    """A paper's key, or words of your own."""
    address: Address
    earns: YesNo = False
    """Whether this link earns money."""


class Extra(Spec):
    """A file that members get; never in the public site."""

    file: ShortWords
    """Path inside the kit's folder."""
    name: ShortProse
    """What it is, as the public page may say it."""


class KitSpec(Spec):
    """A kit as typed in `kit.yaml`."""

    title: ShortWords
    summary: Prose
    """One or two sentences for the archive."""
    cards: int = Field(ge=1, le=500)
    """Cards in a batch."""
    unit: Literal["in", "mm"] = "in"
    """The unit shown first, and what a bare number means."""
    tags: Annotated[tuple[ShortWords, ...], OneOrMany()] = ()
    """Techniques and occasions."""
    reveal: Moment | None = None
    """When it becomes public, in the club's time."""
    meant: Annotated[tuple[Literal["reveal"], ...], OneOrMany()] = ()
    """What looks odd and is meant: reveal, in another month than the folder's."""
    papers: dict[Key, Paper] = {}
    """The papers on the table, besides the club's usual ones."""
    pieces: dict[Label, Piece] = Field(min_length=1, json_schema_extra={"additionalProperties": False})
    """A label for every size."""
    card: CardSpec
    front: Front
    sentiment: SentimentSpec | None = None
    decorations: list[Decoration] = []
    arrangements: ArrangementsSpec = ArrangementsSpec()
    """How else the same pieces may go."""
    guides: list[Guide] = []
    """Your own cutting guides; papers without one are cut by auto."""
    steps: Steps = Steps()
    cut_files: Literal["public", "members", "none"] = Field("public", alias="cut files")
    """Who gets the cut files: everybody, members only, or nobody."""
    photos: list[Photo] = []
    by: PersonKey | None = None
    """Who drew the kit up: the key of a person."""
    moments: dict[ShortWords, MomentField] = {}
    """Further named moments, such as samples."""
    team: list[TaskField] = []
    """Who of the team makes what; the whole team of the club when left out."""
    guests: list[TaskField] = []
    """Guests, and what they make."""
    tested: list[Tested] = []
    """Who cut it before its release, when, from which code."""
    samples: list[Sample] = []
    """Finished cards to show."""
    questions: list[Question] = []
    """Readers' questions with answers."""
    video: Video | None = None
    links: list[Link] = []
    """Where things are to be had."""
    members: list[Extra] = []
    """Files that members get."""


LIVING = (
    "reveal",
    "meant",
    "cut_files",
    "photos",
    "by",
    "moments",
    "team",
    "guests",
    "tested",
    "samples",
    "questions",
    "video",
    "links",
    "members",
)
"""Fields of a kit that may change after its release: nothing on the printable depends on them, and people stand only here."""


class PastSpec(Spec):
    """A past kit that exists only as an old printable. Nothing is computed for it."""

    past: YesNo
    """yes: only an old printable exists."""
    title: ShortWords
    summary: Words | None = None
    printable: ShortWords
    """The PDF, inside the kit's folder."""
    thumbnail: ShortWords | None = None
    """A picture, inside the kit's folder."""
    thumbnail_alt: Words | None = Field(None, alias="thumbnail alt")
    """What the thumbnail shows."""
    cards: int | None = Field(None, ge=1, le=500)
    """Only if known."""
    tags: Annotated[tuple[ShortWords, ...], OneOrMany()] = ()
    facts: dict[ShortWords, Words] = {}
    """The few things known, in your words."""
    reveal: Moment | None = None


# --- the club ------------------------------------------------------------------------------


class Role(Spec):
    """Somebody of the design team."""

    who: PersonKey
    """The key of a person."""
    role: ShortWords = "design team"
    """What she is to the club."""


class Trimmer(Spec):
    """The trimmer at the desk."""

    cut_length: LengthField = Field(alias="cut length")
    """The longest cut it makes."""
    finest_mark: LengthField = Field(alias="finest mark")
    """The finest mark on its ruler."""
    least_hold: LengthField = Field(alias="least hold")
    """The narrowest paper it holds flat beside the blade."""
    ruler_side: Literal["left", "right"] = Field("left", alias="ruler side")
    """On which side of the blade its ruler lies."""
    reach: LengthField | None = None
    """The farthest mark of its ruler; the cut length when left out."""
    sheets_at_once: int = Field(1, ge=1, le=10, alias="sheets at once")
    """How many sheets it cuts together."""


class Prices(Spec):
    """What the club pays, so that the supplies of a kit can be costed."""

    currency: ShortWords
    """Its sign or its letters, such as $ or EUR."""
    patterned: MoneyField | None = None
    """A sheet of patterned paper."""
    cardstock: MoneyField | None = None
    """A sheet of cardstock."""
    papers: dict[Key, MoneyField] = {}
    """A sheet of one paper, by its key, where it costs something else."""
    envelope: MoneyField | None = None
    """An envelope."""
    adhesive: ByLengthField | None = None
    """Adhesive by the length, such as 4.50 for 8 m."""
    foam: ByAreaField | None = None
    """Foam by the sheet, such as 3 for 4 x 6 in."""


class Club(Spec):
    """Who publishes, as typed in `club.yaml`."""

    name: ShortWords
    tagline: Words
    """One line under the name."""
    about: Words
    """What this archive is, for the home page."""
    time_zone: ShortWords = Field(alias="time zone")
    """An IANA name such as Europe/Lisbon."""
    region: Literal["us", "metric"] = "us"
    """Which printable is offered first: Letter or A4."""
    address: ShortWords | None = None
    """Where the site will stand, such as https://cards.example/."""
    trimmer: Trimmer
    papers: dict[Key, Paper] = {}
    """Usual papers; a kit may use them without saying them again."""
    terms: Words
    """What readers may do with the printables."""
    cautions: TextList = Field(min_length=1)
    """Blades, adhesives, small parts."""
    prices: Prices | None = None
    """What things cost, for the supplies of a kit."""
    team: list[Role] = []
    """The design team."""
    _document: Any = PrivateAttr(None)

    def place(self, *path: str | int) -> Place:
        """File and line of an entry of the club file."""
        return self._document.place(path) if self._document else Place()


# --- people --------------------------------------------------------------------------------

Agreed = Literal["name", "link", "photo", "samples", "thanks"]


class Consent(Spec):
    """What somebody agreed to, and when."""

    on: Day
    """The day on which consent was given."""
    to: Annotated[tuple[Agreed, ...], OneOrMany()] = ()
    """What may be shown: name, link, photo, samples, thanks."""


class Thanks(Spec):
    """Thanks for a slip that somebody spotted."""

    kit: ShortWords
    """The kit's id."""
    revision: int = Field(ge=2)
    """The revision that mended it."""


class PersonSpec(Spec):
    """Somebody named on the pages, as typed in `people/KEY/person.yaml`."""

    name: ShortWords
    """The whole name, as the person wants to see it."""
    link: Address | None = None
    """Her own page."""
    photo: ShortWords | None = None
    """A picture of her, in this folder."""
    alt: Words | None = None
    """What that picture shows."""
    time_zone: ShortWords | None = Field(None, alias="time zone")
    """Where she lives, as an IANA name; the club's own when left out."""
    consent: Consent
    thanks: list[Thanks] = []
    """Written by the erratum command."""


class Member(Spec):
    """A member whose anniversary is kept; private."""

    name: ShortWords
    since: Day
    """The day of joining."""


class Anniversaries(Spec):
    """The private list of members, as typed in `people/private.yaml`. Never published."""

    members: list[Member] = []
    """Names and days of joining."""
