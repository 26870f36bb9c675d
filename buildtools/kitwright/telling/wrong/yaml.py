"""Text that is not YAML as it is read here."""

from __future__ import annotations

import json
import unicodedata

from kitwright.errors import Said
from kitwright.kit.brackets import PAIRS
from kitwright.telling.words import listed


def unreadable(why: str) -> Said:
    """What the library that parses YAML says, in its own words."""
    return f"this is not YAML: {why}", "look at this line and the one before it: a missing colon, bracket, quote or indent"


def bare_colour(colour: str) -> Said:
    return f"{colour} has no quotes, so all from its # on is a note, brackets too", f'write "{colour}"'


def tabs(lines: tuple[int, ...]) -> Said:
    where = listed([str(line) for line in lines[:8]] + (["others"] if len(lines) > 8 else []), "and")
    return f"this is not YAML: a tab stands in line{'s' if len(lines) > 1 else ''} {where}", "write spaces instead, two for each level"


def second_colon(line: str) -> Said:
    return "this is not YAML: a colon stands in the words of this line", f"put the words in quotes:\n    {line}"


def sign_first(sign: str, line: str) -> Said:
    return (
        f"this is not YAML: the words of this line begin with  {sign}  which YAML reads otherwise",
        f"put the words in quotes:\n    {line}",
    )


# --- between brackets ---------------------------------------------------------------------------


def sign_in_brackets(sign: str, words: str) -> Said:
    return (
        f"this is not YAML: words between brackets begin with  {sign}  which YAML reads otherwise",
        f"put them in quotes: {_quoted(words)}",
    )


def quote_open(quote: str, words: str) -> Said:
    inside = words.strip(quote)
    plain = "'" in inside or quote == "'"
    return (
        f"this is not YAML: the quote  {quote}  before “{inside}” is never closed",
        f"close it, or, where it is an apostrophe, put the words in quotes: {_quoted(words)}" if plain else f"close it: {_quoted(inside)}",
    )


def quote_ends_early(words: str) -> Said:
    return f"this is not YAML: words stand behind the closing quote in  {words}", "put all of them inside the quotes, or a comma between"


def colon_in_brackets(words: str) -> Said:
    return (
        f"this is not YAML: a second colon follows “{words}” before the next comma",
        "put a comma before the next name, or words with a colon in quotes",
    )


def comma_twice() -> Said:
    return "this is not YAML: nothing stands before a comma", "take the comma out, or write what is missing"


def no_comma(before: str) -> Said:
    return f"this is not YAML: a comma is missing before  {before}", f"write  , {before}"


def bracket_open(bracket: str, note: str) -> Said:
    closing = PAIRS[bracket]
    if note:
        return (
            f"all from the # on is a note, {closing} too, so that the  {bracket}  is never closed: {note[:40]}",
            "put what begins with # in quotes",
        )
    return f"this is not YAML: a  {bracket}  on this line is never closed", f"write  {closing}  where it ends"


def bracket_too_many(bracket: str) -> Said:
    return f"this is not YAML: a  {bracket}  too many", "take it out"


def bracket_other(opened: str, closed: str, right: str) -> Said:
    return f"this is not YAML: what begins with  {opened}  ends with  {closed}", f"write  {right}  in its place"


def _quoted(words: str) -> str:
    return json.dumps(words, ensure_ascii=False)


# --- all else -------------------------------------------------------------------------------------


def only_a_note(line: str) -> Said:
    return "all from the # on is a note, so that nothing stands here", f"put the words in quotes:\n    {line}"


def no_entry(text: str) -> Said:
    return f"“{text[:40]}” is not YAML: no “name: value” line", "write the name, a colon, a space and the value"


def no_text() -> Said:
    return "this is not YAML: a character here is no text", "take it out, or save the file as plain text"


def odd_character(character: str) -> Said:
    name = unicodedata.name(character, f"number {ord(character)}").lower()
    return f"a character here is no text ({name})", "take it out; letters of every script are fine as they are"


def too_deep() -> Said:
    return "this is nested far too deeply", "a spec has a few levels only"


def empty() -> Said:
    return "this file is empty", "“kitwright new” writes a starter kit to begin from"


def no_names() -> Said:
    return "the top of this file is not a list of “name: value” lines", "begin with a line such as  title: River stones"


def alias() -> Said:
    return "an alias (*name) is used here", "write the values out again"


def odd_name() -> Said:
    return "a name before a colon must be plain text", "put the name in quotes"


def long_name() -> Said:
    return "a name before a colon is far too long", "a name is a word or some on one line; look for a colon or a quote gone astray"


def twice(key: str, first: int) -> Said:
    return f"“{key}” is given twice here (first on line {first})", "keep one of the two"
