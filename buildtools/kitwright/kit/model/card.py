"""The base, and what lies on it and in it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import BeforeValidator, Discriminator, Field, Tag, ValidationInfo, field_validator, model_validator

from kitwright.folding.faces import DOORS, INSIDE
from kitwright.folding.kinds import kinds, meant
from kitwright.folding.scored import Lies
from kitwright.kit.fields import EnvelopeField, LengthField, ScoreField, SizeField, Unfit, WeightField
from kitwright.kit.model.fixing import Held
from kitwright.kit.model.front import Front
from kitwright.kit.model.pieces import At
from kitwright.kit.model.text import Key, Label, MeantList, OneOrMany, ShortWords, Spec
from kitwright.units import Length

if TYPE_CHECKING:
    FoldName = str
else:
    # A fold of a new kind is one more module there, and may be typed at once.
    FoldName = Literal[tuple(kinds())]
MOST_SCORES = 12
"""Score lines that a base may have."""
TAKEN = (DOORS, "band", "base")
"""What no panel is called, since it is something else on a card."""


class FoldSpec(Spec):
    """A fold of your own: score lines in the order in which they are folded."""

    counted_together = ("scores", "panels")
    named_together = ("panels", "front", "back")

    lies: Lies = "outside up"
    """Which face of the base lies up while you score it: outside up, or inside up."""
    along: Literal["up and down", "across"] = "up and down"
    """How the score lines run."""
    scores: list[ScoreField] = Field(min_length=1, max_length=MOST_SCORES, examples=[["4-1/4 back"], ["105 mm back"]])
    """Each its place, from the left edge or the top, and forward (towards you) or back; in folding order."""
    panels: list[ShortWords] = Field(examples=[["back", "front"]])
    """What the panels are called, from the left or from the top; one of them back."""
    front: ShortWords = "front"
    """The panel that leads on the closed card."""
    back: ShortWords = "back"
    """The panel that the closed card lies on."""

    @model_validator(mode="after")
    def _panels_said(self) -> FoldSpec:
        if len(self.panels) != len(self.scores) + 1:
            raise Unfit("spec.panels-and-scores", panels=len(self.panels), scores=len(self.scores)).under("panels")
        for i, name in enumerate(self.panels):
            if name in self.panels[:i]:
                raise Unfit("spec.panel-twice", name=name).under("panels")
            if name.split()[0] == INSIDE or name in TAKEN:
                raise Unfit("spec.panel-named-as-a-face", name=name).under("panels")
        for role, name in (("front", self.front), ("back", self.back)):
            if name not in self.panels:
                raise Unfit("spec.no-such-panel", role=role, name=name, known=tuple(self.panels)).under(role)
        if self.front == self.back:
            raise Unfit("spec.one-panel-for-both", name=self.front).under("front")
        return self


def _way_of_typing(value: Any) -> str:
    return "lines" if isinstance(value, (dict, FoldSpec)) else "name"


def _as_meant(value: Any) -> Any:
    return meant(value) if isinstance(value, str) else value


Fold = Annotated[
    Annotated[FoldName, BeforeValidator(_as_meant), Tag("name")] | Annotated[FoldSpec, Tag("lines")], Discriminator(_way_of_typing)
]
"""A fold by its name, however it is spelt, or by its score lines."""


class BaseSpec(Spec):
    """The card base before folding."""

    size: SizeField = Field(examples=["8-1/2 x 5-1/2", "210 x 148 mm"])
    """The flat base as it lies with the card upright."""
    paper: Key
    """The cardstock it is cut from."""
    meant: Annotated[tuple[Literal["thin"], ...], OneOrMany()] = ()
    """What looks odd and is meant: thin."""


class Layer(At, Held):
    """A full layer on the base, or the inside panel."""

    piece: Label
    """Its label."""
    paper: Key | None = None
    """Its paper, when the piece comes in several."""
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


FaceName = Annotated[ShortWords, Field(examples=["inside"])]


class FaceSpec(Front):
    """What stands on one face of the card, beside or instead of its front."""

    layers: list[Layer] = []
    """Full layers on that face, lowest first."""


def front_among_faces(value: Any) -> Any:
    """What was typed, with an empty front where faces stand instead: the one that leads becomes the front once its name is known."""
    return {**value, "front": {}} if isinstance(value, dict) and "faces" in value and "front" not in value else value


class CardSpec(Spec):
    """The card that the front goes on."""

    base: BaseSpec
    fold: Fold = Field(examples=["side"])
    """By its name, such as side, top, gate, tri-fold, z-fold, stepped or flat, or score lines of your own."""
    score: LengthField | None = None
    """From the left, or from the top where it runs across; of a gate fold, how wide each door is. Usual when left out."""
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
    meant: Annotated[tuple[Literal["gap", "overlap", "tight"], ...], OneOrMany()] = ()
    """What looks odd and is meant: gap or overlap of its doors, tight where a panel is rolled in."""

    @field_validator("score")
    @classmethod
    def _score_of_one(cls, score: Length | None, info: ValidationInfo) -> Length | None:
        fold = info.data.get("fold")
        if score is not None and fold is not None and not (isinstance(fold, str) and kinds()[fold].takes_score):
            raise Unfit("spec.score-of-no-fold", fold=fold if isinstance(fold, str) else None)
        return score
