"""How text and names are typed, and the manners that every entry has."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, ClassVar, Literal

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints, WithJsonSchema

from kitwright.kit.fields import Unfit


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
_LABELS, _KEYS, _PEOPLE = Field(examples=["A"]), Field(examples=["white"]), Field(examples=["ada-bell"])
LABEL_FORM, KEY_FORM = r"^[A-Z][A-Za-z0-9]{0,3}$", r"^[a-z][a-z0-9-]{0,30}$"
Label = Annotated[str, StringConstraints(pattern=LABEL_FORM), _LABELS]
Key = Annotated[str, StringConstraints(pattern=KEY_FORM), _KEYS]
FORGOTTEN = "a maker"
"""Stands where somebody stood who asked to be forgotten."""
PersonKey = Annotated[str, StringConstraints(pattern=r"^([a-z][a-z0-9]*(-[a-z0-9]+)*|a maker)$", max_length=60), _PEOPLE]
Edge = Literal["top", "right", "bottom", "left"]
Pointing = Literal["down", "left", "up", "right"]
"""Where the right angle of a triangle points that is set on its point."""
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

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True, arbitrary_types_allowed=True, defer_build=True)
    sound_with: ClassVar[tuple[str, ...]] = ()
    """Fields that may be left out one by one, but without which an example would not be sound."""
    counted_together: ClassVar[tuple[str, ...]] = ()
    """Fields whose entries are as many as those of another: where one stands as an example, the others prove nothing."""
    named_together: ClassVar[tuple[str, ...]] = ()
    """Fields whose words are those of another: the same, also where one word of a list stands as an example."""
    living: ClassVar[tuple[str, ...]] = ()
    """Fields that may change after a release, as `LIVING` of a kit: no part of its state, and frozen with nothing."""
    copies: ClassVar[tuple[str, ...]] = ()
    """Fields that only show what stands elsewhere in it: nobody typed them, and nothing is kept of them."""

    @property
    def lasting(self) -> Spec:
        """The same without those."""
        return self
