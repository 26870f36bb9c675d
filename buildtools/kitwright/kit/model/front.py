"""How pieces, greeting and decoration lie on the front, and how else the pieces may go."""

from __future__ import annotations

from typing import Annotated, Any, Literal, get_args

from pydantic import BeforeValidator, Field, model_validator

from kitwright.kit.fields import LengthField, MarginField, PaperColourField, SizeField, Unfit
from kitwright.kit.model.fixing import Fixing, Held, ShakerSpec
from kitwright.kit.model.pieces import At
from kitwright.kit.model.text import Key, Label, MeantList, OneOrMany, Pointing, ShortProse, ShortWords, Spec, YesNo


class Lying(Spec):
    """Which way round a piece lies."""

    turned: YesNo = False
    """A quarter turn, to the right, from how its size is written."""
    upside_down: YesNo = Field(False, alias="upside down")
    """Half a turn from that."""
    point: Pointing | None = None
    """A triangle set on its point: where its right angle is. down: its long side is up, as in bunting."""

    @model_validator(mode="after")
    def _pointed_alone(self) -> Lying:
        if self.point and (self.turned or self.upside_down):
            raise Unfit("spec.point-and-turn")
        return self


class Laid(At, Held, Lying):
    """A piece set down by explicit position, or laid over the others."""

    piece: Label
    """Its label."""
    paper: Key | None = None
    """Its paper, when the piece comes in several."""
    face: Literal["front", "back"] = "front"
    """Which printed face shows."""
    on: str = "front"
    """front, band, or the label of what it lies on."""
    within: Label | None = Field(None, alias="in")
    """The label of the pocket that it is pushed into; it lies loose there, and needs no other place."""
    shaker: ShakerSpec | None = None
    """For a piece with a window: film and foam behind it, and something loose inside."""
    fixed_to: ShortWords | None = Field(None, alias="fixed to")
    """The panel that it is glued to, where it lies across a fold that has to open."""
    meant: MeantList = ()
    """What looks odd and is meant: overhang, uneven, larger …"""

    @model_validator(mode="after")
    def _in_a_pocket(self) -> Laid:
        if self.within and (self.on != "front" or self.raised or self.fixing not in (None, "loose") or self.shaker or self.fixed_to):
            raise Unfit("spec.in-and-elsewhere")
        if self.within and any(getattr(self, edge) is not None for edge in ("left", "right", "top", "bottom")):
            raise Unfit("spec.in-and-elsewhere")
        return self

    @model_validator(mode="after")
    def _shaker_on_foam(self) -> Laid:
        if self.shaker and self.fixing not in (None, "foam"):
            raise Unfit("spec.shaker-otherwise", fixing=self.fixing)
        return self

    @model_validator(mode="after")
    def _held_upright(self) -> Laid:
        if (self.within or self.shaker) and (self.upside_down or self.point):
            raise Unfit("spec.held-upside-down")
        return self

    @property
    def held(self) -> Fixing:
        """How it is held: loose in a pocket, on foam as a shaker, else as it is said."""
        return "loose" if self.within and self.fixing is None else "foam" if self.shaker else super().held


AROUND = 8
"""Triangles of a pinwheel."""


class Item(Lying):
    """One entry of a row or column: a piece, the band, a pinwheel, or a block of more rows or columns.

    Typed as words (`A stripes turned`, `T point down`, `band`, `band 1-1/2`), as a list (a block that runs
    the other way), or spelt out when there is more to say.
    """

    sound_with = ("piece",)

    piece: Label | None = None
    """Its label."""
    paper: Key | None = None
    """Its paper, when the piece comes in several."""
    face: Literal["front", "back"] = "front"
    """Which printed face shows."""
    place: Literal["centre", "left", "right", "top", "bottom"] | None = None
    """Where it sits when its row is wider than it is; said means meant."""
    band: MarginField | Literal["free"] | None = None
    """The free band, or one of a given height."""
    pinwheel: list[Item] | None = None
    """Eight triangles around one point, these in turn: T kites, T waves."""
    inside: list[Item] | None = None
    """A block that runs the other way."""
    gap: MarginField | None = None
    """Gap inside this block; the front's own when left out."""
    fixing: Fixing | None = None
    """How a piece is held: flat, foam, hidden edge, or loose; flat when left out."""
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
        if sum(x is not None for x in (self.piece, self.band, self.inside, self.pinwheel)) != 1:
            raise Unfit("spec.no-entry")
        if self.fixing and self.piece is None:
            raise Unfit("spec.fixing-of-no-piece")
        return self

    @model_validator(mode="after")
    def _even_round(self) -> Item:
        around = self.pinwheel
        if around is not None and (not around or AROUND % len(around)):
            raise Unfit("spec.pinwheel-uneven", count=len(around))
        if any(item.piece is None or item.turned or item.upside_down or item.point for item in around or ()):
            raise Unfit("spec.pinwheel-of-pieces")
        return self

    @classmethod
    def __get_pydantic_json_schema__(cls, core_schema: Any, handler: Any) -> dict[str, Any]:
        """Editors accept words, a list or the spelt-out form."""
        spelt = handler.resolve_ref_schema(handler(core_schema))
        spelt = dict(spelt)
        return {
            "anyOf": [
                {"type": "string", "examples": ["A stripes", "band", "B dots turned", "T point down"]},
                {"type": "array", "items": {}},
                spelt,
            ]
        }


_TWO_WORDS = {"upside": ("upside down", {"down": "yes"}), "point": ("point", {way: way for way in get_args(Pointing)})}
"""Words that another must follow: the key, and what each second word says there."""


LYING_WORDS = frozenset({"turned", "back", *_TWO_WORDS, *(second for _, known in _TWO_WORDS.values() for second in known)})
"""Words of an entry that say how its piece lies, and name no paper."""


def _second(text: str, word: str, second: str) -> dict[str, str]:
    key, known = _TWO_WORDS[word]
    if second not in known:
        raise Unfit("spec.word-alone", text=text, word=word, known=tuple(known))
    return {key: known[second]}


def _item_from_words(text: str) -> dict[str, Any]:
    words = text.split()
    if words and words[0] == "band":
        return {"band": " ".join(words[1:]) or "free"}
    found: dict[str, Any] = {"piece": words[0] if words else ""}
    said = iter(words[1:])
    for word in said:
        if word in _TWO_WORDS:
            found |= _second(text, word, next(said, ""))
        elif word == "turned":
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
    cards: int = Field(ge=1, le=500, examples=[4])
    """How many cards look like this."""
    swap: dict[Key, Key] = {}
    """Which paper stands in for which."""


class Front(Spec):
    """How the pieces lie on the card front."""

    sound_with = ("rows",)

    on: str | None = None
    """The layer they lie on; the topmost when left out."""
    border: MarginField | None = None
    """Even border inside that layer."""
    gap: MarginField | None = None
    """Gap between neighbours."""
    rows: list[Item] | None = Field(None, examples=[["A"]])
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


def _both_ways(value: Any) -> Any:
    """Either word may come first: `left bottom` is `bottom left`."""
    words = value.split() if isinstance(value, str) else []
    return " ".join(sorted(words, key=lambda word: word not in ("top", "bottom"))) if len(words) == 2 else value


SentimentPlace = Annotated[
    Literal["centre", "left", "right", "top", "bottom", "top left", "top right", "bottom left", "bottom right"], BeforeValidator(_both_ways)
]


class SentimentSpec(Spec):
    """Words that are stamped or printed: the greeting."""

    text: ShortWords
    """Its words."""
    size: SizeField
    """Printed width × height."""
    on: str = "band"
    """The label of its strip, band, or the name of a face, such as inside."""
    place: SentimentPlace = "centre"
    """In the middle, to one side, or in a corner: left, top, bottom left …"""
    inset: MarginField | None = None
    """Distance from that side, or from both sides of that corner; ⅛ in when left out."""

    @property
    def across(self) -> Literal["centre", "left", "right"]:
        """To which side it sits, from side to side."""
        return "left" if "left" in self.place else "right" if "right" in self.place else "centre"

    @property
    def along(self) -> Literal["centre", "top", "bottom"]:
        """The same, up and down."""
        return "top" if "top" in self.place else "bottom" if "bottom" in self.place else "centre"

    def moved(self, across: str) -> SentimentSpec:
        """The same to another side, as high as before."""
        words = [word for word in (self.along, across) if word != "centre"]
        return self.model_copy(update={"place": " ".join(words) or "centre"})


OrnamentShape = Literal["circle", "oval", "rectangle", "tag", "star", "leaf"]


class Decoration(At):
    """A place kept clear for decoration."""

    name: ShortProse
    """What goes there."""
    size: SizeField
    """The area kept clear."""
    on: str = "front"
    """front, band, a label, or the name of a face, such as inside."""
    shape: OrnamentShape | None = None
    """What it is drawn as: circle, oval, rectangle, tag, star or leaf, as large as its size; a blossom when left out."""
    colour: PaperColourField | None = None
    """What colour it is drawn in: by name, or as "#rrggbb" in quotes."""
    thickness: LengthField | None = None
    """How far it stands up."""
    optional: YesNo = False
    """Whether the card is complete without it."""
    meant: MeantList = ()
    """What looks odd and is meant: overhang …"""


Variations = Annotated[tuple[Literal["fold", "mat", "strip", "raised", "stamped"], ...], OneOrMany()]


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
