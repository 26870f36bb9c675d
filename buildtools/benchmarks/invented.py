"""Words, names and pictures for generated kits: invented, the same for the same dice, and as varied as real ones.

Prose draws words as language does, the nth commonest one nth as often, from thirty thousand that
nobody ever used: so a vocabulary, and with it a search index, grows with the number of texts as
it does with real ones. No word of it is a number, since figures in notes are held against the kit.
"""

from __future__ import annotations

import io
import math
import random
from functools import cache

from PIL import Image, ImageDraw, ImageFilter

_COMMON = (
    "the and to a of in it on is you that with for as be are at this from by or so not when then but if we all can its will your which there "
    "what out up they after before under over along until again only here how more some very just where while these those through against "
    "own back well good little long still even keep make take lay press fold cut turn hold leave trim move stamp dry glue mount score line "
    "paper card strip edge corner mat band sheet piece border sentiment foam blade ruler pencil colour pattern side front inside envelope "
    "table hand evening light quiet warm dark soft plain narrow wide straight even clean slowly gently lightly together first quickly "
    "scrap batch bench grain crease tray tape dots brush water ink pad thread ribbon punch knife trimmer window tag panel layer space "
).split()
_SYLLABLES = (
    "ba be bo bra bri bul da del dor du fa fen fi flo gar gel gi go hal hem hol in ka kel kin ko la len li lor lu ma mel min mo mur na nel ni "
    "nor o pa pel pri pu ra rel ri ro ru sa sel shi so sta sul ta tel tho tri va vel vo wa wen wil yar zel"
).split()
WORDS = 30_000
ADJECTIVES = (
    "Amber Autumn Bright Brisk Calm Chalk Cloudy Copper Crisp Dappled Distant Dusky Early Faded Frosty Gentle Ginger Golden Hidden Hollow "
    "Humming Ivory Kindled Lazy Lilac Little Lonely Low Marbled Mellow Misty Mossy Narrow Northern Olive Painted Pale Quiet Rainy Rustic "
    "Salted Sandy Silver Sleepy Slender Smoky Snowy Southern Spiced Still Sunlit Tangled Velvet Wandering Weathered Whispering Wild Windy Winter Wooden"
).split()
NOUNS = (
    "Acorns Anchors Arches Attic Barn Beacon Bells Berries Boats Bridge Candles Canal Chimneys Clover Cottage Dunes Eaves Ferns Ferry Fields "
    "Garden Gate Harvest Hedges Heron Hillside Island Kettle Kites Lanterns Ladder Lark Leaves Lighthouse Loom Market Meadow Mill Moths Orchard "
    "Parcels Path Pebbles Pier Plums Pond Porch Quilt Reeds Roofs Seeds Shells Shore Sparrows Station Stream Swallows Teapot Tides Valley Willows Windmill"
).split()
SENTIMENTS = (
    "with love|thank you|happy birthday|thinking of you|hello there|get well soon|with sympathy|many happy returns|good luck|welcome home|"
    "just because|to a dear friend|well done|best wishes|come and see us|so very proud"
).split("|")
TAGS = (
    "birthday thanks sympathy winter spring summer autumn quick stamped square slimline metric landscape portrait banner swap scraps foam "
    "strips panels double-sided one-way new-home wedding baby travel garden sea town raised half-sheet masculine"
).split()


@cache
def word(rank: int) -> str:
    """The word that is so common; the first some hundred and fifty are real ones."""
    if rank < len(_COMMON):
        return _COMMON[rank]
    # Scattered, so that neighbours in the list share no beginning; common ones are shorter.
    few, count = len(_SYLLABLES), 2 if rank < 3_000 else 3
    number, parts = rank * 1_987 % few**2 if count == 2 else rank * 48_271 % few**3, []
    for _ in range(count):
        number, one = divmod(number, few)
        parts.append(_SYLLABLES[one])
    return "".join(parts)


def drawn(dice: random.Random) -> str:
    """A word of running text."""
    return word(int(math.exp(dice.random() * math.log(WORDS))) - 1)


def phrase(dice: random.Random, words: int) -> str:
    """Some words, no sentence."""
    return " ".join(drawn(dice) for _ in range(words))


def sentence(dice: random.Random, cited: str = "") -> str:
    """A sentence, with a citation somewhere in it if there is one."""
    words = [drawn(dice) for _ in range(dice.randint(6, 21))]
    if cited:
        words.insert(dice.randrange(1, len(words)), cited)
    if len(words) > 11:
        words[len(words) // 2] += ","
    return " ".join(words).capitalize().replace(cited.lower(), cited) + "."


def notes(dice: random.Random, cites: list[str], words: int) -> str:
    """The notes of a kit, Markdown of about so many words: paragraphs under headings, sizes cited, sometimes a list."""
    parts, told = [" ".join(sentence(dice) for _ in range(3))], 40
    while told < words:
        parts.append(f"## {phrase(dice, dice.randint(2, 4)).capitalize()}")
        for _ in range(dice.randint(1, 3)):
            sentences = [sentence(dice, dice.choice(cites) if dice.random() < 0.3 else "") for _ in range(dice.randint(3, 6))]
            parts.append(" ".join(sentences))
            told += 14 * len(sentences)
        if dice.random() < 0.2:
            parts.append("\n".join(f"- {sentence(dice)}" for _ in range(3)))
            told += 40
    return "\n\n".join(parts) + "\n"


def title(number: int) -> str:
    """A kit's title, another for every number."""
    count = len(ADJECTIVES) * len(NOUNS)
    first, second = divmod(number * 1_009 % count, len(NOUNS))
    return f"{ADJECTIVES[first]} {NOUNS[second].lower()}" + (f" {word(200 + number)}" if number >= count else "")


def photo(dice: random.Random, width: int, height: int) -> bytes:
    """A JPEG with the softness and the grain of a photo: a card on a table."""
    colour = [tuple(dice.randrange(40, 235) for _ in range(3)) for _ in range(6)]
    grain = 16
    table = Image.frombytes("RGB", (width // grain, height // grain), dice.randbytes(3 * (width // grain) * (height // grain)))
    picture = Image.blend(table.resize((width, height), Image.Resampling.BILINEAR), Image.new("RGB", (width, height), colour[0]), 0.8)
    pen = ImageDraw.Draw(picture)
    left, top, right, low = width // 5, height // 8, width * 4 // 5, height * 7 // 8
    pen.rectangle((left, top, right, low), colour[1])
    for n in range(4):
        y = top + (low - top) * (1 + 2 * n) // 9
        pen.rectangle((left + width // 40, y, right - width // 40, y + (low - top) // 7), colour[2 + n])
    data = io.BytesIO()
    picture.filter(ImageFilter.GaussianBlur(1)).save(data, "JPEG", quality=84)
    return data.getvalue()
