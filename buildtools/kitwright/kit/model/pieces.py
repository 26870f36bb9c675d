"""Labels: sizes with their notches and shapes."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Field, WithJsonSchema, model_validator

from kitwright.geometry import Diagonal
from kitwright.kit.fields import CountField, LengthField, MarginField, SizeField, Unfit
from kitwright.kit.model.fixing import UNMEASURED, BandSpec, PocketSpec
from kitwright.kit.model.liner import LinerSpec
from kitwright.kit.model.text import Edge, Key, Keys, OneOrMany, ShortProse, Spec, YesNo
from kitwright.units import Length, Size

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

    sound_with = ("border",)

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


class Trapezoid(Spec):
    """Two slanted cuts that make one end narrower, even on both sides."""

    end: Edge = "top"
    """The narrower end of the piece, as it is written."""
    by: LengthField = Field(alias="in", examples=["1/2"])
    """How far each corner of that end comes in; where both meet, it is a point."""


class Parallelogram(Spec):
    """Two slanted cuts, both the same way."""

    lean: Literal["right", "left", "up", "down"] = "right"
    """Which way it leans: its top to the right or left, or its right end up or down."""
    by: LengthField = Field(examples=["1/2"])
    """How far."""


Edges = Annotated[tuple[Edge, ...], OneOrMany()]


class Scalloped(Spec):
    """Edges that are a row of half circles, made by an edge punch."""

    edge: Edges = ()
    """Which edges; all four when left out."""
    width: LengthField
    """Across each half circle; they come out even on the edge."""


_ALONE = ("circle", "oval", "triangle")
"""Shapes that are said in a word."""
_EDGES = ("circle", "oval", "triangle", "trapezoid", "parallelogram", "scalloped", "rounded", "snipped", "arch", "tag")
"""What a piece's edge may be; one of them at most."""


def _usual_diagonal(value: Any) -> Any:
    return "falling" if value == "yes" else value


class Shape(Spec):
    """What makes a piece other than a plain rectangle; its size is the rectangle around it."""

    sound_with = ("rounded",)

    circle: YesNo = False
    """A circle, as wide as it is high."""
    oval: YesNo = False
    """An oval that touches all four sides."""
    triangle: Annotated[Diagonal | None, BeforeValidator(_usual_diagonal)] = None
    """Half of its rectangle, cut from corner to corner: falling from the top left, or rising from the bottom left. Counts are triangles."""
    trapezoid: Trapezoid | None = None
    """One end narrower, by two slanted cuts."""
    parallelogram: Parallelogram | None = None
    """It leans, by two slanted cuts."""
    scalloped: Scalloped | None = None
    """Edges that are rows of half circles."""
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

    @model_validator(mode="before")
    @classmethod
    def _from_word(cls, value: Any) -> Any:
        if isinstance(value, str):
            if value in (*_EDGES, "window") and value not in _ALONE:
                raise Unfit("spec.shape-without-measure", shape=value)
            if value not in _ALONE:
                raise Unfit("spec.unknown-shape", text=value, known=_ALONE)
            return {value: "yes"}
        return value

    @classmethod
    def __get_pydantic_json_schema__(cls, core_schema: Any, handler: Any) -> dict[str, Any]:
        """Editors accept the word alone or the spelt-out form."""
        return {"anyOf": [{"enum": list(_ALONE)}, dict(handler.resolve_ref_schema(handler(core_schema)))]}

    @model_validator(mode="after")
    def _one_edge(self) -> Shape:
        edges = [name for name in _EDGES if getattr(self, name)]
        if len(edges) > 1:
            raise Unfit("spec.two-shapes", one=edges[0], other=edges[1])
        if not edges and self.window is None:
            raise Unfit("spec.no-shape")
        if self.corners and self.rounded is None and self.snipped is None:
            raise Unfit("spec.corners-of-no-shape")
        return self


class MadeWith(Spec):
    """What stamps a piece out of a blank, a rectangle with paper all round that the tool needs to hold."""

    tool: Literal["punch", "die"]
    """punch, or die."""
    margin: LengthField | None = None
    """Paper that the tool needs beyond the piece on each side; ⅛ in or 3 mm when left out."""

    @model_validator(mode="before")
    @classmethod
    def _from_word(cls, value: Any) -> Any:
        return {"tool": value} if isinstance(value, str) else value

    @classmethod
    def __get_pydantic_json_schema__(cls, core_schema: Any, handler: Any) -> dict[str, Any]:
        """Editors accept the tool alone or the spelt-out form."""
        return {"anyOf": [{"enum": ["punch", "die"]}, dict(handler.resolve_ref_schema(handler(core_schema)))]}


FINEST = Fraction(1, 32)
"""Inches: the narrowest side of a piece; half of what the finest trimmer ruler shows."""


_FOLLOWING = ("band", "liner")
"""Keys from which a piece's size follows, so that none is typed."""


def _cuttable(size: Size) -> Size:
    if size != UNMEASURED and min(size.width.inches, size.height.inches) < FINEST:
        raise Unfit("spec.too-small-to-cut", least=Length(FINEST))
    return size


class Piece(Spec):
    """One label: a size, cut from one or more papers."""

    sound_with = ("paper",)

    size: Annotated[SizeField, AfterValidator(_cuttable)] = Field(examples=["3-3/4 x 1-1/4", "95 x 32 mm"])
    """Width × height, upright as its pattern is."""
    use: ShortProse = Field("", alias="for")
    """What it is for."""
    paper: Key | None = None
    """The paper it is cut from, when there is one."""
    papers: Keys = ()
    """Its papers, when how many come from each is counted on the cards."""
    per_card: Annotated[dict[str, CountField], BeforeValidator(_counts), WithJsonSchema(_COUNTS)] = Field(
        {ONLY: Fraction(1)}, alias="per card", examples=["1"]
    )
    """How many on each card, for each paper when there are several."""
    notch: Notch | None = None
    """A notched end makes it a banner."""
    shape: Shape | None = None
    """Rounded or snipped corners, an arch, a tag, a window; a plain rectangle when left out."""
    made_with: MadeWith | None = Field(None, alias="made with")
    """A punch or a die, and the margin it needs; cut at the trimmer when left out."""
    may_turn: YesNo = Field(True, alias="may turn")
    """Whether it may be cut turned on the sheet."""
    pocket: PocketSpec | None = None
    """Glued on three edges, so that something goes in through the fourth."""
    band: BandSpec | None = None
    """A belly band round the closed card; its size is worked out, so leave that out."""
    liner: LinerSpec | None = None
    """An envelope liner; its size is worked out from the envelope, so leave that out."""

    @model_validator(mode="before")
    @classmethod
    def _size_that_follows(cls, value: Any) -> Any:
        following = next((key for key in _FOLLOWING if isinstance(value, dict) and key in value), None)
        if following is None:
            return value
        if "size" in value:
            raise Unfit("spec.size-that-follows", key=following)
        if value[following] is None:
            raise Unfit("spec.empty", key=following)
        return {**value, "size": UNMEASURED}

    @classmethod
    def __get_pydantic_json_schema__(cls, core_schema: Any, handler: Any) -> dict[str, Any]:
        """Editors ask for a size where none follows from another key."""
        made = dict(handler.resolve_ref_schema(handler(core_schema)))
        others = [name for name in made.get("required", ()) if name != "size"]
        made.pop("required", None)
        made["anyOf"] = [{"required": [key]} for key in ("size", *_FOLLOWING)]
        return {**made, "required": others} if others else made

    @model_validator(mode="after")
    def _papers_said(self) -> Piece:
        by_paper = ONLY not in self.per_card
        if self.paper and by_paper:
            raise Unfit("spec.paper-twice")
        if self.papers and (self.paper or "per_card" in self.model_fields_set):
            raise Unfit("spec.papers-are-counted", other="paper" if self.paper else "per card")
        if not self.paper and not self.papers and not by_paper:
            raise Unfit("spec.no-paper")
        return self

    @model_validator(mode="after")
    def _notch_alone(self) -> Piece:
        if self.notch and self.shape and (self.shape.window is None or len(self.shape.model_fields_set) > 1):
            raise Unfit("spec.notch-and-shape")
        return self

    @model_validator(mode="after")
    def _one_tool(self) -> Piece:
        if self.notch and self.made_with:
            raise Unfit("spec.notch-and-tool", tool=self.made_with.tool)
        return self

    @model_validator(mode="after")
    def _shape_of_a_band(self) -> Piece:
        if self.band and (self.shape or self.notch or self.pocket or self.made_with):
            raise Unfit("spec.band-and-shape")
        if self.liner and (self.shape or self.notch or self.pocket or self.made_with or self.band):
            raise Unfit("spec.liner-and-shape")
        return self

    @model_validator(mode="after")
    def _thumb_alone(self) -> Piece:
        if self.pocket and self.pocket.thumb_notch and (self.shape or self.notch):
            raise Unfit("spec.thumb-and-shape")
        return self

    @property
    def shaped(self) -> bool:
        """Whether it is no plain rectangle."""
        return bool(self.notch or self.shape or self.pocket and self.pocket.thumb_notch)

    @property
    def measured(self) -> bool:
        """Whether its size is known: typed, or worked out already."""
        return self.size != UNMEASURED

    @property
    def diagonal(self) -> Diagonal | None:
        """The cut from corner to corner that makes two of this piece from one rectangle; None where each has a rectangle of its own."""
        return self.shape.triangle if self.shape and not self.made_with else None

    @property
    def share(self) -> dict[str, Fraction]:
        """Pieces on each card by paper; none of any as long as they are not counted."""
        if self.papers and ONLY in self.per_card:
            return dict.fromkeys(self.papers, Fraction(0))
        return {self.paper or key: count for key, count in self.per_card.items()}
