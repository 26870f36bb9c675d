"""What the search takes for one and the same, and what its results call a place.

The build indexes by this table, and hands it to the page's own script, so that what is typed is
taken as what was written. Words stand in their plain form: lower case, no accents, no s at the end (so `christma`).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import get_args

from kitwright.colours import Family
from kitwright.materials import Kind
from kitwright.papers import ANSI, SHEETS
from kitwright.units import Size, size_text
from kitwright.work.traits import Technique, Used

UNITS = {
    "in": "in",
    "inch": "in",
    "inches": "in",
    "ins": "in",
    '"': "in",
    "mm": "mm",
    "mms": "mm",
    "millimetre": "mm",
    "millimetres": "mm",
    "millimeter": "mm",
    "millimeters": "mm",
    "cm": "cm",
    "cms": "cm",
    "centimetre": "cm",
    "centimetres": "cm",
    "centimeter": "cm",
    "centimeters": "cm",
}
"""Each way to write a unit."""

NUMBERS = {
    word: str(n)
    for n, word in enumerate(
        "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty".split(),
        1,
    )
} | {"thirty": "30", "forty": "40", "fifty": "50", "sixty": "60"}
"""Numbers that are written as words."""

PARTS = {"half": 2, "quarter": 4, "eighth": 8, "sixteenth": 16}
"""Parts of an inch that are written as words, `half an inch`, by how many make one."""

TOGETHER = {
    "1 way": "oneway",
    "1 sheet": "onesheet",
    "single sheet": "onesheet",
    "1 sheet wonder": "onesheet",
    "3 d": "3d",
    "g m2": "gsm",
    "die cut": "die",
    "die cutting": "die",
    "die cutter": "die",
    "get well": "getwell",
    "how long": "time",
    "year old": "children",
    "card stock": "cardstock",
    "card base": "cardbase",
    "half sheet": "halfsheet",
    "side fold": "sidefold",
    "book fold": "sidefold",
    "top fold": "topfold",
    "tent fold": "topfold",
    "gate fold": "gatefold",
    "z fold": "zfold",
    "cut file": "cutfile",
    "thank you": "thankyou",
    "slim line": "slimline",
    "for him": "forhim",
    "for man": "forhim",
    "for men": "forhim",
    "for boy": "forhim",
    "for guy": "forhim",
    "for dad": "forhim",
    "up to date": "current",
    "new kit": "newest",
    "what new": "newest",
    "anything new": "newest",
    "this month": "newest",
    "coming soon": "upcoming",
    "next kit": "upcoming",
    "next month": "upcoming",
    "mother day": "mother",
    "father day": "father",
    "valentine day": "valentine",
    "easter day": "easter",
    "christma day": "christma",
    "baby shower": "baby",
    "first communion": "communion",
    "thinking of": "thinking",
    "miss you": "thinking",
    "just because": "occasion",
    "pull out": "pullout",
}
"""Words that are one when they stand together. In the index their parts stand beside them."""

ALIKE = {
    "directional": "oneway",
    "colour": "color",
    "coloured": "colored",
    "colourway": "colorway",
    "centre": "center",
    "grey": "gray",
    "dsp": "patterned",
    "acetate": "film",
    "greyboard": "chipboard",
    "doe": "does",
    "portrait": "upright",
    "vertical": "upright",
    "horizontal": "landscape",
    "safe": "safety",
    "safely": "safety",
    "masculine": "forhim",
    "child": "children",
    "kid": "children",
    "xma": "christma",
    "bday": "birthday",
    "fast": "quick",
    "speedy": "quick",
    "faq": "question",
    "pic": "picture",
    "latest": "newest",
    "recent": "newest",
    "mum": "mother",
    "mom": "mother",
    "errata": "erratum",
    "congrat": "congratulation",
    "easiest": "easy",
    "simplest": "simple",
    "quickest": "quick",
    "fastest": "quick",
}
"""Words that lead to the same kits."""

LEADS = {
    "who": "people",
    "man": "forhim",
    "men": "forhim",
    "boy": "forhim",
    "guy": "forhim",
    "dad": "forhim birthday thankyou occasion",
    "father": "forhim birthday thankyou occasion",
    "husband": "forhim birthday thankyou occasion",
    "grandpa": "forhim birthday thankyou occasion",
    "him": "forhim",
    "male": "forhim",
    "mm": "metric",
    "millimeter": "metric",
    "millimetre": "metric",
    "accordion": "zfold",
    "concertina": "zfold",
    "postage": "post",
    "mail": "post",
    "mailing": "post",
    "letterbox": "post",
    "navy": "blue midnight",
    "teal": "blue green",
    "turquoise": "blue green",
    "burgundy": "red",
    "aqua": "blue green",
    "sage": "green",
    "mint": "green",
    "olive": "green",
    "coral": "pink orange",
    "peach": "orange pink",
    "maroon": "red",
    "lavender": "purple",
    "charcoal": "gray black",
    "silver": "gray",
    "kraft": "brown",
    "tan": "brown",
    "beige": "cream brown",
    "ivory": "cream",
    "gold": "yellow",
    "mustard": "yellow",
    "lilac": "purple",
    "violet": "purple",
    "rose": "pink",
    "crimson": "red",
    "polka": "dot",
    "toddler": "children",
    "baby": "celebration occasion",
    "forhim": "birthday occasion",
    "christening": "celebration occasion",
    "baptism": "celebration occasion",
    "communion": "celebration occasion",
    "confirmation": "celebration occasion",
    "jubilee": "celebration",
    "party": "celebration birthday",
    "exam": "celebration",
    "promotion": "celebration",
    "welcome": "home celebration",
    "leaving": "occasion celebration",
    "farewell": "occasion",
    "goodbye": "occasion",
    "hello": "occasion thinking",
    "friendship": "thinking occasion",
    "friend": "thinking occasion",
    "encouragement": "thinking",
    "thanksgiving": "thankyou autumn",
    "hanukkah": "celebration winter",
    "diwali": "celebration autumn",
    "eid": "celebration",
    "grandma": "flower thankyou",
    "nan": "flower thankyou",
    "sister": "birthday flower",
    "mailable": "post",
    "christma": "winter festive snow",
    "holiday": "christma festive winter summer",
    "advent": "christma winter",
    "snow": "winter frost thaw",
    "frost": "winter",
    "easy": "quick class",
    "simple": "quick class",
    "beginner": "class quick",
    "hour": "quick",
    "time": "quick",
    "minute": "quick",
    "easter": "spring flower",
    "guillotine": "trimmer",
    "pdf": "printable",
    "download": "printable",
    "sympathy": "thinking",
    "flower": "floral bloom garden spring",
    "floral": "flower bloom",
    "bloom": "flower",
    "botanical": "flower garden",
    "ocean": "sea",
    "beach": "sea",
    "coast": "sea",
    "nautical": "sea",
    "seaside": "sea",
    "boat": "sea",
    "housewarming": "home",
    "moving": "home",
    "house": "home village",
    "love": "valentine wedding",
    "heart": "valentine",
    "marriage": "wedding",
    "bride": "wedding",
    "engagement": "wedding",
    "thank": "thankyou",
    "thankyou": "thank",
    "grateful": "thankyou",
    "teacher": "thankyou",
    "mother": "flower thankyou",
    "getwell": "thinking",
    "sorry": "thinking",
    "luck": "occasion",
    "voyage": "occasion sea",
    "retirement": "occasion celebration",
    "congratulation": "celebration",
    "graduation": "celebration",
    "cheap": "cost",
    "cheapest": "cost",
    "price": "cost",
    "children": "class",
    "color": "colorway",
    "tartan": "check gingham",
    "plaid": "check gingham",
    "diagram": "guide",
    "condolence": "sympathy thinking",
    "bereavement": "sympathy thinking",
    "loss": "sympathy thinking",
    "fall": "autumn",
    "harvest": "autumn",
    "halloween": "autumn",
    "buster": "scrap",
    "busting": "scrap",
    "coastal": "sea",
    "apple": "windfall autumn",
    "bunny": "easter spring",
    "leftover": "scrap",
    "offcut": "scrap",
    "remnant": "scrap",
    "stash": "scrap",
    "tall": "upright",
    "skinny": "slimline",
    "narrow": "slimline",
    "long": "slimline",
    "wide": "landscape",
    "layered": "layer",
    "3d": "raised",
    "dimensional": "raised",
    "pop": "raised",
    "foam": "raised",
    "interactive": "shaker pocket pullout",
    "bunting": "banner triangle flag",
    "flag": "banner triangle bunting",
    "pennant": "banner triangle",
    "gift": "tag",
    "svg": "cutfile",
    "dxf": "cutfile",
    "plotter": "cutfile",
    "electronic": "cutfile",
    "machine": "cutfile",
}
"""Words that lead on: what has the word itself comes first, what these name counts half."""

PAGES = {
    "people.html": "who makes made draws the kits design team author designer maker contact about us",
    "care.html": "danger dangerous careful injury blade children sell selling licence copyright allowed terms of use conditions",
    "mycopy.html": "version newest latest outdated old revision printable code",
    "numbers.html": "sources come from standard",
    "errata.html": "mistake error wrong typo erratum errata",
    "asked.html": "faq help ask answer",
    "words.html": "word words jargon dictionary definition term meaning",
    "paper.html": "sheets I have at home leftovers scraps stash what can I make with",
    "sheets.html": "one sheet gives yields layouts fronts without a kit odd paper scraps leftovers plan my own",
    "to-make.html": "marked saved list shopping buy wish",
}
"""Words by which somebody looks for a page that is about no kit, beside those that it says."""

SHAPES = {"square": ("square",), "tall": ("tall", "upright"), "wide": ("wide", "landscape"), "slimline": ("slimline", "slim")}
"""What the shape of a card is looked for by."""
QUICK = "quick"
"""What a kit of few strokes and steps is looked for by, whether it is tagged so or not."""
UPCOMING = "upcoming"
"""What a kit is looked for by that is not public yet."""
CUT_FILES = "cut files"
"""What a kit that has some is looked for by."""

USED: dict[Used, str] = {
    "trimmer": "trimmer",
    "scoring tool": "score scorer scoring",
    "scissors": "scissors",
    "die": "die",
    "punch": "punch",
    "adhesive": "adhesive glue",
    "foam": "foam",
}
"""By which words somebody says that she does without it. A stamp is not among them: every sentiment may be a printed line."""

ALWAYS_TOLD = (*USED.values(), "stamp", "ink", *get_args(Technique), *get_args(Kind))
"""What is known of every kit, had or not: one in which it is not listed is without it."""

OF_ANY_CARD = frozenset("edge corner inside clear".split())
"""Words of these that any card has, so that nothing is known by them."""

COMMON = frozenset(
    "a about all also an and any are as at be been but by can do does for from go had has have he her hi how i if in into is it its kit like many me more most much my no not of off on only or other our out per she so some soon such than that the their them then there these they this to too up use was we what when where which why will with you your".split()
)
"""Words that say nothing of a kit: left out of headings and prose, and of what is typed unless nothing else is."""

ASKING = frozenset("what mean meaning how why is who when does may can explain".split())
"""Words by which somebody asks for an explanation rather than for a kit."""

COUNTED = frozenset("card sheet piece page look design envelope base strip cut year step stroke".split())
"""Things that are counted: a number before one only helps, and never empties the list."""

DENYING = frozenset(
    "no|not|non|none|without|except|excluding|avoid|skip|nothing|isnt|arent|other than|rather than|instead of|anything but|everything but".split(
        "|"
    )
)
"""By these what follows is not wanted: "no stamp", "not square", "anything but winter". Said of a place itself, in its title, its tag or its heading, they stay words."""

DENYING_OF = frozenset("dont doesnt havent hasnt".split())
"""By these too, where a word that says nothing follows: "don't need foam", but not "don't cut"."""

FILLING = frozenset(
    "need needed needing require requiring required want wanted use using own owned have has got like make anything something everything paper kit".split()
)
"""Between such a word and what is not wanted these say nothing."""

UNLESS = frozenset("more less larger bigger smaller longer shorter fewer only just too sure matter idea later than enough".split())
"""After "no" and "not" these say something else: "no larger than", "not too fiddly"."""

EXPLAINED = frozenset("how why mean meaning explain".split())
"""Who asks by these is not choosing a kit: "how do I fold without a scorer"."""

LABELLED = frozenset("piece label strip panel".split())
"""Before these, and after `does`, a single letter is a piece."""


def table() -> dict[str, object]:
    """All of it, for the page's script."""
    return {
        "sheets": {
            sheet.name.lower().removeprefix("iso "): size_text(sheet.size, "in" if sheet.source == ANSI else "mm") for sheet in SHEETS
        },
        "together": _gathered(TOGETHER),
        "alike": _gathered(ALIKE),
        "leads": _gathered(LEADS),
        "colors": " ".join(get_args(Family)),
        "common": " ".join(sorted(COMMON)),
        "asking": " ".join(sorted(ASKING)),
        "counted": " ".join(sorted(COUNTED)),
        "denying": sorted(DENYING | DENYING_OF),
        "labelled": " ".join(sorted(LABELLED)),
    }


def _gathered(table: Mapping[str, str]) -> dict[str, str]:
    """By what words lead to, all of those, since many lead to the same."""
    found: dict[str, list[str]] = {}
    for word, to in table.items():
        found.setdefault(to, []).append(word)
    return {to: ",".join(words) for to, words in found.items()}


def table_of_denying() -> dict[str, object]:
    """What is needed besides once something is denied."""
    return {
        "denyingOf": " ".join(sorted(DENYING_OF)),
        "explained": " ".join(sorted(EXPLAINED)),
        "filling": " ".join(sorted(FILLING)),
        "unless": " ".join(sorted(UNLESS)),
    }


def piece_found(label: str, size: Size, unit: str) -> str:
    """`Piece A, 1 × 3⅛ in`."""
    return f"Piece {label}, {size_text(size, unit)}"


def paper_found(name: str, sheet: Size, sheet_name: str | None, unit: str) -> str:
    """`Linen cardstock, Letter`, `Raspberry twist, 8 × 8 in`."""
    return f"{name}, {sheet_name or size_text(sheet, unit)}"


def tag_found(tag: str) -> str:
    """`Tag: raised strip`."""
    return f"Tag: {tag}"
