"""Who publishes."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Any, Literal, get_args

from pydantic import Field, PrivateAttr, field_validator

from kitwright.colours import RGB
from kitwright.errors import Place
from kitwright.kit.fields import ByAreaField, ByLengthField, ColourField, LengthField, MoneyField, Unfit
from kitwright.kit.logo import Logo
from kitwright.kit.model.moments import LinkAddress
from kitwright.kit.model.papers import Paper
from kitwright.kit.model.text import Key, OneOrMany, PersonKey, ShortWords, Spec, TextList, Words
from kitwright.materials import Kind
from kitwright.schemes import ClubRole, Palette, palette_of

FoldLines = Literal["solid", "dashed"]


class Role(Spec):
    """Somebody of the design team."""

    who: PersonKey
    """The key of a person."""
    role: ShortWords = "design team"
    """What she is to the club."""


class Trimmer(Spec):
    """The trimmer at the desk."""

    cut_length: LengthField = Field(alias="cut length", examples=["12", "305 mm"])
    """The longest cut it makes."""
    finest_mark: LengthField = Field(alias="finest mark", examples=["1/16", "1 mm"])
    """The finest mark on its ruler."""
    least_hold: LengthField = Field(alias="least hold", examples=["1", "25 mm"])
    """The narrowest paper it holds flat beside the blade."""
    ruler_side: Literal["left", "right"] = Field("left", alias="ruler side")
    """On which side of the blade its ruler lies."""
    reach: LengthField | None = None
    """The farthest mark of its ruler; the cut length when left out."""
    sheets_at_once: int = Field(1, ge=1, le=10, alias="sheets at once")
    """How many sheets it cuts together."""


class Prices(Spec):
    """What the club pays, so that the supplies of a kit can be costed."""

    currency: ShortWords = Field(examples=["$", "EUR"])
    """Its sign or its letters, such as $ or EUR."""
    patterned: MoneyField | None = None
    """A sheet of patterned paper."""
    cardstock: MoneyField | None = None
    """A sheet of cardstock."""
    vellum: MoneyField | None = None
    """A sheet of vellum."""
    film: MoneyField | None = None
    """A sheet of clear film."""
    chipboard: MoneyField | None = None
    """A sheet of chipboard."""
    foam_sheet: MoneyField | None = Field(None, alias="foam sheet")
    """A sheet of foam that pieces are cut from."""
    papers: dict[Key, MoneyField] = {}
    """A sheet of one paper, by its key, where it costs something else."""
    envelope: MoneyField | None = None
    """An envelope."""
    adhesive: ByLengthField | None = None
    """Adhesive by the length, such as 4.50 for 8 m."""
    foam: ByAreaField | None = None
    """Foam that raises layers, by the sheet, such as 3 for 4 x 6 in."""

    def sheet(self, paper: str, kind: Kind) -> Fraction | None:
        """What a sheet of a paper costs: by its key, or else by its kind."""
        by_kind: dict[Kind, Fraction | None] = {
            "patterned": self.patterned,
            "cardstock": self.cardstock,
            "vellum": self.vellum,
            "film": self.film,
            "chipboard": self.chipboard,
            "foam": self.foam_sheet,
        }
        return self.papers.get(paper, by_kind[kind])


class Colours(Spec):
    """The club's own colours, each #rrggbb in quotes; the rest of the palette follows from them. Checked for contrast."""

    accent: ColourField | None = None
    """What to do now: buttons, where to cut and score, numbers of steps."""
    second: ColourField | None = None
    """Links and marks."""
    ink: ColourField | None = None
    """Words and the edges of paper: a dark colour."""
    page: ColourField | None = None
    """What everything stands on: a very light colour."""

    @field_validator("*", mode="before")
    @classmethod
    def _typed(cls, value: Any) -> Any:
        if value is None:
            # What follows a bare # is a note, so that nothing is left of the colour.
            raise Unfit("fields.no-text", given="blank", wanted="colour")
        return value


class SharePicture(Spec):
    """The picture that goes with a link to the site, where others show one."""

    file: ShortWords
    """Path beside the club file: PNG, JPEG or WebP, best 1200 × 630 pixels."""
    alt: Words
    """What it shows, for those who can't see it."""


class FootLink(Spec):
    """A link at the foot of every page."""

    name: ShortWords
    """What it is called."""
    address: LinkAddress
    """Where it leads: https, or mailto."""


class Hosting(Spec):
    """Where `kitwright publish` takes the site: one of the two, and never a password."""

    to: ShortWords | None = None
    """A folder at a host, anna@host.example:www/cards by rsync or sftp://anna@host.example/~/www/cards."""
    command: Words | None = None
    """A command of your own that takes {folder} to the host."""


class Club(Spec):
    """Who publishes, as typed in `club.yaml`."""

    name: ShortWords
    """What the club is called."""
    tagline: Words
    """One line under the name."""
    about: Words
    """What this archive is, for the home page."""
    time_zone: ShortWords = Field(alias="time zone", examples=["Europe/Lisbon"])
    """An IANA name such as Europe/Lisbon."""
    region: Literal["us", "metric"] = "us"
    """In which unit a new kit begins, and which cutting mats are shown."""
    address: ShortWords | None = None
    """Where the site will stand, such as https://cards.example/."""
    former_addresses: TextList = Field((), alias="former addresses")
    """Where it stood before, and from where readers are still led to where it stands now."""
    team_site: ShortWords | None = Field(None, alias="team site")
    """Where the team's own site stands, behind its password, such as https://cards.example/team/."""
    trimmer: Trimmer
    papers: dict[Key, Paper] = {}
    """Usual papers; a kit may use them without saying them again."""
    fold_lines: FoldLines = Field("solid", alias="fold lines")
    """How cut files draw score lines: solid, for a scoring tool, or dashed, for a blade."""
    terms: Words
    """What readers may do with the printables."""
    cautions: TextList = Field(min_length=1)
    """Blades, adhesives, small parts."""
    prices: Prices | None = None
    """What things cost, for the supplies of a kit."""
    tags: dict[ShortWords, Annotated[tuple[ShortWords, ...], OneOrMany()]] = Field({}, examples=[{"occasion": ["birthday"]}])
    """The tags that your kits bear, by what they tell: technique, theme, occasion, season. Checked, and readers choose by them."""
    team: list[Role] = []
    """The design team."""
    colours: Colours = Colours()
    """Its own colours, instead of ours."""
    logo: ShortWords | None = None
    """Its mark, a picture beside the club file: SVG of plain shapes, PNG, JPEG or WebP."""
    share_picture: SharePicture | None = Field(None, alias="share picture")
    """What goes with a link to the home page; a kit has its card."""
    links: list[FootLink] = Field([], max_length=8)
    """What stands at the foot of every page, in this order."""
    publish: Hosting | None = None
    """Where the finished site goes, if a command may take it there."""
    _document: Any = PrivateAttr(None)
    _mark: Logo | None = PrivateAttr(None)

    def place(self, *path: str | int) -> Place:
        """File and line of an entry of the club file."""
        return self._document.place(path) if self._document else Place()

    @property
    def typed_colours(self) -> tuple[tuple[ClubRole, RGB], ...]:
        """The colours that it typed, by what each is for."""
        return tuple((role, colour) for role in get_args(ClubRole) if (colour := getattr(self.colours, role)) is not None)

    @property
    def palette(self) -> Palette:
        """The colours of its site and its printables.

        Raises:
            UserError: one that can't be read where it is used; reading a club looks.
        """
        return palette_of(self.typed_colours)

    @property
    def mark(self) -> Logo | None:
        """Its logo, as it was read."""
        return self._mark

    def dressed(self, colours: Colours, mark: Logo | None) -> Club:
        """The same club in other colours and with another logo."""
        other = self.model_copy(update={"colours": colours})
        other._mark = mark
        return other

    @property
    def undressed(self) -> Club:
        """The same club as it looks without any choice of its own: what was published before there were any is drawn so."""
        return self.dressed(Colours(), None)
