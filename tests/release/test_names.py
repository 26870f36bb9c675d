"""A name is found in every spelling, and in nobody else's."""

import html.entities
import unicodedata
from urllib.parse import quote

import pytest
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.release.names import WINDOW, Named, find, find_parts, replaced

ADA = Named("Ada Bell", "ada-bell")
OTHERS = (Named("Ada Bell Hooks", "ada-bell-hooks"), Named("Ida Bell", "ada-bell-2"))


@pytest.mark.parametrize(
    "text, after",
    [
        ("By Ada Bell.", "By a maker."),
        ("ADA BELL'S", "a maker'S"),
        ("Ada&nbsp;Bell’s", "a maker’s"),
        ("Ada\u00a0 Bell", "a maker"),
        ("Ada\nBell", "a maker"),
        ("Ada  \r\n   Bell", "a maker"),
        ("A\u00adda Be\u200bll", "a maker"),
        ("Ada Bell\u00ad!", "a maker!"),
        ("\uff21\uff44\uff41 Bell", "a maker"),
        ("Adá Béll", "a maker"),
        ("&#65;da &#x42;ell", "a maker"),
        ("Ada&amp;nbsp;Bell", "a maker"),
        ("# by Ada\n# Bell, cut", "# by a maker, cut"),
        ("> Ada\n> Bell", "> a maker"),
        ("Ada <!-- of old --> Bell", "a maker"),
        ("Ada Bell¹", "a maker¹"),
        # Markup that is hers alone goes; what holds more stays.
        ("**Ada** Bell", "a maker"),
        ("Ada *Bell*", "a maker"),
        ("**Ada Bell**", "**a maker**"),
        ("_Ada_ Bell", "a maker"),
        ("***Ada*** **Bell**", "a maker"),
        ("A**d**a Bell", "a maker"),
        ("`Ada` Bell", "a maker"),
        ("[Ada](https://x.example/a) Bell", "a maker"),
        ("Ada [Bell](https://x.example/ada-bell) said", "a maker said"),
        ("[Ada Bell](https://x.example/ada-bell)", "[a maker](https://x.example/a-maker)"),
        ("**by Ada** Bell", "**by a maker**"),
        ("Ada **Bell and Co**", "**a maker and Co**"),
        ("[by Ada](https://x.example/ada-bell) Bell", "[by a maker](https://x.example/a-maker)"),
        ("<b>Ada</b> Bell", "a maker"),
        ("Ada <i class=x>Bell</i>", "a maker"),
        ("<b>Ada Bell</b>", "<b>a maker</b>"),
        ("<p>by <b>Ada</b><br/>Bell</p>", "<p>by a maker</p>"),
        ("<text><tspan>Ada</tspan><tspan>Bell</tspan></text>", "<text>a maker</text>"),
        ("<tspan>by Ada</tspan> <tspan>Bell</tspan>", "<tspan>by a maker</tspan>"),
        # Names of files, keys and addresses keep their way of joining.
        ("ada-bell", "a-maker"),
        ("photos/ada_bell-3.jpg", "photos/a_maker-3.jpg"),
        ("cardAdaBell2.jpg", "cardAMaker2.jpg"),
        ("AdaBell", "AMaker"),
        ("ada.bell@post.example", "a.maker@post.example"),
        ("?who=ada+bell", "?who=a+maker"),
        ("photos/Ada%20Bell.jpg", "photos/a%20maker.jpg"),
        ("x-ada-bell-card.png", "x-a-maker-card.png"),
        ("Ada\u2011Bell", "a-maker"),
        # As data writes it.
        ('{"by": "\\u0041da\\u0020Bell"}', '{"by": "a maker"}'),
        ('"first\\nAda Bell"', '"first\\na maker"'),
        ("BEGIN:VCALENDAR\r\nSUMMARY:With Ada Be\r\n ll\r\n", "BEGIN:VCALENDAR\r\nSUMMARY:With a maker\r\n"),
        ("Content-Transfer-Encoding: quoted-printable\n\nby =41da=\n Bell", "Content-Transfer-Encoding: quoted-printable\n\nby a maker"),
    ],
)
def test_spellings(text, after):
    assert replaced(text, ADA, OTHERS) == after
    assert find(after, ADA, OTHERS) == []


@pytest.mark.parametrize(
    "text",
    [
        "Ada Bellamy",
        "Bella",
        "Nada Bell",
        "Ada, Bell",
        "Ada. Bell rings",
        "- Ada\n- Bell",
        "Ada\n\nBell",
        "Ada Bell-Smith",
        "Mary-Ada Bell",
        "Ada Bell Hooks",
        "ada-bell-2",
        "ada-bell-hooks.jpg",
        "adabell",
        "canada bellow",
        "Ida Bell",
        "Ada's bell",
        "Ada,Bell",
        "Ada | Bell",
        "Adam Bell",
        "AdaBellamy",
    ],
)
def test_other_people_stay(text):
    assert replaced(text, ADA, OTHERS) == text


@pytest.mark.parametrize(
    "name, text",
    [
        ("Jürgen Strauß", "Juergen STRAUSS"),
        ("Juergen Strauss", "Jürgen Strauß"),
        ("Jürgen Strauß", "Ju\u0308rgen Strauss"),
        ("Jürgen Strauß", "Jurgen Strauß"),
        ("Jørn Bøe", "Joern Boee"),
        ("Jørn Bøe", "Jorn Boe"),
        ("Åse Lund", "Aase Lund"),
        ("Łucja Ńoz", "lucja noz"),
        ("Şule İnci", "SULE INCI"),
        ("Fiona Flint", "ﬁona ﬂint"),
        ("José Núñez-O’Brien", "Jose\u0301 Nunez O'Brien"),
        ("José Núñez-O’Brien", "JOSE NUNEZ OBRIEN"),
        ("José Núñez-O’Brien", "jose-nunez-o-brien"),
        ("Ada M. Bell", "Ada M Bell"),
        ("J. R. Bell", "J.R. Bell"),
        ("J. R. Bell", "j r bell"),
        ("Анна Белова", "АННА БЕЛОВА"),
        ("Ζωή Φως", "ΖΩΗ ΦΩΣ"),
        ("Anne-Marie Quill", "Anne Marie Quill"),
    ],
)
def test_names_of_many_kinds(name, text):
    assert replaced(f"by {text}.", Named(name)) in ("by a maker.", "by a-maker.")


def test_scripts_without_spaces_and_single_names():
    assert replaced("昨日山田花子さんが", Named("山田花子")) == "昨日a makerさんが"
    assert replaced("Madonna, madonna, MADONNA", Named("Madonna")) == "a maker, madonna, a maker"
    assert replaced("another Ann Other, AnnOther", Named("Ann Other")) == "another a maker, AMaker"
    assert replaced("कम कीम", Named("कम")) == "a maker कीम"


def test_a_word_that_is_kept():
    assert (
        replaced("kits/2027-03-ada-bell-cards by Ada Bell", ADA, kept=["2027-03-ada-bell-cards"])
        == "kits/2027-03-ada-bell-cards by a maker"
    )


def test_parts_of_a_name():
    assert find_parts("Ada and I, Canada, ada; Bell's, bell, B&eacute;ll", "Ada Bell") == [0, 24, 38]


def test_long_texts_are_looked_at_piece_by_piece():
    """Wherever a piece ends."""
    for gap in (WINDOW - 4, WINDOW - 1, WINDOW, WINDOW + 3):
        text = "x" * (gap - 1) + " Ada **Bell** " + "y" * WINDOW * 2 + " ada-bell"
        assert replaced(text, ADA) == "x" * (gap - 1) + " a maker " + "y" * WINDOW * 2 + " a-maker"


NAMES = st.sampled_from(
    ["Ada Bell", "Zoë Åkerlund", "José Núñez", "Jürgen Strauß", "Siân ap Rhys", "Màiri Ó Ceallaigh", "Ana-Maria Đurić", "Николай Йовков"]
)
LETTERS = {
    "as they are": lambda w, d: w,
    "case": lambda w, d: "".join(c.upper() if d(st.booleans()) else c.lower() for c in w),
    "composed": lambda w, d: unicodedata.normalize(d(st.sampled_from(["NFC", "NFD", "NFKC", "NFKD"])), w),
    "bare": lambda w, d: "".join(c for c in unicodedata.normalize("NFD", w) if not unicodedata.combining(c)),
    "spelt out": lambda w, d: w.translate(str.maketrans({"ü": "ue", "Å": "Aa", "ß": "ss"})),
    "invisible": lambda w, d: "".join(c + d(st.sampled_from(["", "", "\u00ad", "\u200b", "\u2060", "\ufeff"])) for c in w[:-1]) + w[-1],
}
WRITTEN = {
    "as they are": lambda w, d: w,
    "entities": lambda w, d: "".join(d(st.sampled_from([c, f"&#{ord(c)};", f"&#x{ord(c):X};", f"&#{ord(c):05d};"])) for c in w),
    "named": lambda w, d: (
        w.encode("ascii", "namereplace").decode()
        if w.isascii()
        else "".join(f"&{html.entities.codepoint2name[ord(c)]};" if ord(c) in html.entities.codepoint2name else c for c in w)
    ),
    "percent": lambda w, d: quote(w),
    "escapes": lambda w, d: "".join(d(st.sampled_from([c, f"\\u{ord(c):04x}", f"\\U{ord(c):08X}"])) for c in w),
}
AROUND = ["{}", "{}", "*{}*", "**{}**", "_{}_", "<b>{}</b>", "[{}](https://x.example/)", "~~{}~~"]
BETWEEN = [" ", " ", "\u00a0", "  ", "\n", "\r\n  ", "&nbsp;", "&#32;", "\t", "\u2009", " \n# ", "\n> "]


@tried(200)
@given(NAMES, st.sampled_from(sorted(LETTERS)), st.sampled_from(sorted(WRITTEN)), st.data())
def test_any_ways_at_once(name, letters, written, data):
    """Letters in one way, written down in another, with markup and other spaces: found, and nothing of it is left."""
    words = [
        data.draw(st.sampled_from(AROUND)).format(WRITTEN[written](LETTERS[letters](w, data.draw), data.draw)) for w in name.split(" ")
    ]
    text = words[0] + "".join(data.draw(st.sampled_from(BETWEEN)) + word for word in words[1:])
    after = replaced(f"Cards, cut by {text}: nine.", Named(name))
    inner = after.removeprefix("Cards, cut by ").removesuffix(": nine.").replace("%20", " ")
    # Of one pair of signs about the whole name it is as well that it stays.
    assert inner in ("a maker", *(a.format("a maker") for a in AROUND)), (text, after)


@tried(80)
@given(st.text(alphabet="abAdelB &*_[]()<>%\\/.-\n\u0301\u00ad'é#;", max_size=60))
def test_whatever_is_written_about_it_nothing_else_is_lost(text):
    """Whatever stands around: no error, and letters that are not hers stay."""
    after = replaced(text, ADA)
    assert find(after, ADA) == [] or "[" in text or "<" in text
    if after == text:
        return
    assert len(after) <= len(text) + 10 * (text.lower().count("a") + 1)
