"""Month and title of an old printable, from the names that people give to files. The spellings are common practice, with no source, unless said."""

from __future__ import annotations

import datetime as dt
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.kit.read import ID
from kitwright.past.guess import id_of, made_on, month_of, title_of
from kitwright.past.months import months, spelled_plainly

NOW = dt.date(2026, 11, 26)


def guessed(path: str, created: str = "", noted: str = "", region="us"):
    """Month, what it is from, how sure, title, id."""
    *folders, stem = path.split("/")
    month = month_of(stem, folders[::-1], created, region, NOW, noted)
    title = title_of(stem, folders[::-1], noted, region)
    when = (month.year, month.month, month.day) if month else None
    return when, month and (month.year_from, month.month_from, month.sure), title.text, month and id_of(month, title.text, set())


BY_NAME = {
    "2019-07 Paper Boats": "Paper Boats",
    "July 2019 - paper boats v2 FINAL": "Paper boats",
    "paper_boats_07-2019": "Paper boats",
    "KIT 201907 boats": "Boats",
    "Paper boats (July '19)": "Paper boats",
    "paper%20boats%20jul%202019": "Paper boats",
    "paper-boats-2019-07-final": "Paper boats",
    "paper.boats.july.2019": "Paper boats",
    "PAPER BOATS 7.2019": "Paper boats",
    "boats_2019_07_A4_final_FINAL(2)": "Boats",
    "2019 Juli Papierschiffchen": "Papierschiffchen",
    "juillet-2019-bateaux": "Bateaux",
    "Barcos, julio de 2019": "Barcos",
    "Copy of Kit 12 - Paper boats 2019-07": "Paper boats",
    "12x12 sampler 2019-07": "12x12 sampler",
    "PaperBoatsJuly2019": "Paper Boats",
}


@pytest.mark.parametrize("name", BY_NAME)
def test_a_name_that_says_its_month(name):
    when, how, title, kit = guessed(name)
    assert when == (2019, 7, None) and how == ("name", "name", "sure") and title == BY_NAME[name]
    assert ID.fullmatch(kit) and kit.startswith("2019-07-")


@pytest.mark.parametrize(
    "name", ["2019-07-05 boats", "20190705_boats", "Boats, 5 July 2019", "July 5th, 2019 boats", "2019 July 5 boats", "2019.07.05 boats"]
)
def test_the_day_too(name):
    """The first two as ISO 8601 writes dates."""
    assert guessed(name)[0] == (2019, 7, 5) and guessed(name)[2] == "Boats"


def test_day_and_month_in_digits_go_by_the_region_and_are_told_as_unsure():
    assert guessed("03-04-2019 boats")[:2] == ((2019, 3, 4), ("name", "name", "unsure"))
    assert guessed("03-04-2019 boats", region="metric")[:2] == ((2019, 4, 3), ("name", "name", "unsure"))
    # Nothing but one of the two can be meant.
    for name in ("25-12-2019 boats", "12/25/2019 boats".replace("/", "."), "25.12.19 boats"):
        when, (_, _, sure), *_ = guessed(name)
        assert when == (2019, 12, 25) and sure != "unsure"
    month = month_of("03-04-2019", (), "", "us", NOW)
    assert month and month.other == 4


def test_folders_say_what_the_name_leaves_out():
    assert guessed("2019/07/boats")[:2] == ((2019, 7, None), ("folder", "folder", "likely"))
    assert guessed("2019/Juli/boats")[0] == guessed("2019/boats July")[0] == guessed("2019/KIT 7 July/boats")[0] == (2019, 7, None)
    assert guessed("2018-01/2019-07 boats")[0] == (2019, 7, None)
    # A year alone is no month: the PDF may know it, of that very year.
    assert guessed("2019/boats", "D:20190705")[:2] == ((2019, 7, None), ("folder", "pdf", "unsure"))
    assert guessed("2019/boats", "D:20200705")[0] is None


def test_what_the_pdf_notes_is_the_last_resort():
    """Dates as ISO 32000-1, 7.9.4, writes them: all but the year may be left out."""
    assert guessed("boats (1)", "D:20190705120000+02'00'")[:3] == ((2019, 7, None), ("pdf", "pdf", "unsure"), "Boats")
    assert made_on("D:201907", NOW) == dt.date(2019, 7, 1)
    for nothing in ("", "D:2019", "D:20191345", "Fri Jul 5 2019", "D:20990101", "D:19700101000000Z", "D:00000000", "D:191000705"):
        assert made_on(nothing, NOW) is None and guessed("boats", nothing)[0] is None


@pytest.mark.parametrize(
    "name", ["boats", "2048 cards", "Set 2019 stars", "boats 2019-13", "March of cards", "2031-01 boats", "boats 12345678", "scan 1907"]
)
def test_no_month_is_made_up(name):
    assert guessed(name)[0] is None


def test_a_title_stands_in_where_the_name_is_none():
    assert guessed("scan0001 2019-07", noted="Paper boats")[2] == "Paper boats"
    assert guessed("scan0001 2019-07", noted="Microsoft Word - paper boats v2.docx")[2] == "Paper boats"
    assert guessed("Paper boats/2019-07")[2] == "Paper boats"
    assert guessed("2019-07", noted="untitled")[2:] == ("", "2019-07-kit")
    # The same words, better spelt.
    assert guessed("2019-07 paper_boats", noted="Paper Boats!")[2] == "Paper Boats!"


def test_two_digits_of_a_year_that_a_folder_gives_in_full():
    for name in ("oct18-houses", "Houses Oct 18", "18-10 houses", "houses 10.18"):
        assert guessed(f"2018/{name}")[1:3] == (("folder", "name", "likely"), "Houses")
    for name in ("oct18-houses", "18-10 houses", "2017/oct18 houses", "2018/18.5 x 12 houses"):
        assert guessed(name)[0] is None


def test_the_title_that_the_pdf_notes_may_say_the_month():
    assert guessed("2020/KIT #49 - lanterns", noted="Lanterns January 2020")[:3] == (
        (2020, 1, None),
        ("folder", "noted", "likely"),
        "Lanterns",
    )
    assert guessed("scan0001", noted="Scan_20160312")[:3] == ((2016, 3, 12), ("noted", "noted", "likely"), "")
    assert guessed("boats", noted="Template 2015")[0] is None


def test_words_that_are_no_titles():
    assert guessed("2019/01 January/sketch", noted="Mittens")[2] == "Mittens"
    assert guessed("2016 scans/IMG_20160714_101512")[2:] == ("", "2016-07-kit")
    assert guessed("2019-02 Hearts (rev 3)")[2] == guessed("2019-02 Hearts (A4)")[2] == "Hearts"
    assert guessed("Father’s tie 2019-06")[3] == guessed("Father's tie 2019-06")[3] == "2019-06-fathers-tie"
    assert guessed("STARS & STRIPES july2020!!")[2] == "Stars & stripes!!"


def test_letters_that_are_not_of_every_alphabet():
    for form in ("NFC", "NFD"):
        name = unicodedata.normalize(form, "März 2018 Frühlingsgrüße")
        assert guessed(name)[0] == (2018, 3, None) and guessed(name)[2:] == ("Frühlingsgrüße", "2018-03-fruehlingsgruesse")
    assert guessed("Maerz 2018 x-y")[0] == guessed("mrz 2018 boote")[0] == (2018, 3, None)
    assert guessed("日本の船 2019-07")[2:] == ("日本の船", "2019-07-kit")
    assert spelled_plainly("Ærø ÄÖÜ čaj") == "Aeroe AeOeUe caj"


def test_a_word_of_two_languages_is_no_month_of_either():
    """Names of months: Unicode CLDR, by way of Babel."""
    assert months()["août"] == months()["aout"] == months()["august"] == 8
    assert not {"set", "out", "ago"} & months().keys()


def test_ids_that_are_taken_get_a_number_and_long_ones_end_at_a_word():
    month = month_of("2019-07", (), "", "us", NOW)
    assert month
    assert id_of(month, "Boats", {"2019-07-boats", "2019-07-boats-2"}) == "2019-07-boats-3"
    long = id_of(month, "paper boats " * 20, set())
    assert len(long) <= 60 and ID.fullmatch(long) and not long.endswith("pap")


@given(st.text(max_size=80), st.lists(st.text(max_size=20), max_size=3), st.text(max_size=30), st.text(max_size=60))
def test_whatever_a_file_is_called(stem, folders, created, noted):
    """Any name gives a month that has been, or none; a title of one line, or none; an id that is one."""
    month, title = month_of(stem, folders, created, "metric", NOW, noted), title_of(stem, folders, noted, "metric")
    assert title.text.isprintable() and len(title.text) <= 81
    if month:
        assert dt.date(1980, 1, 1) <= month.first <= NOW and ID.fullmatch(id_of(month, title.text, set()))
