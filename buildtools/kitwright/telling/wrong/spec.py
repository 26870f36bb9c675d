"""What a spec says that can't be meant: words in the wrong place, values of the wrong kind, and what contradicts itself."""

from __future__ import annotations

from fractions import Fraction

from kitwright.errors import Said
from kitwright.telling.words import listed
from kitwright.units import Length, Size, both_text, rounded, size_both

_KEEP_ONE = "keep one of the two"


def _given(text: str | None) -> str:
    return "this" if text is None else f"“{text[:40]}”"


# --- words of the file --------------------------------------------------------------------------


def _fitting(words: tuple[str, ...]) -> str:
    return f"words that fit here: {', '.join(words)}" if words else "no word of this file fits here"


def _meant(near: str | None) -> str:
    return f"did you mean “{near}”? otherwise " if near else ""


def wrong_place(word: str, near: str | None, under: tuple[str, ...], fitting: tuple[str, ...]) -> Said:
    where = listed([f"under “{u}”" if u else "at the top of the file, without indent" for u in under[:4]], "or")
    return f"“{word}” stands in the wrong place", f"{_meant(near)}it belongs {where}; {_fitting(fitting)}"


_FILES = {"kit": "kit.yaml", "club": "club.yaml", "person": "person.yaml", "past kit": "the kit.yaml of a past kit"}


def wrong_file(word: str, near: str | None, file: str, fitting: tuple[str, ...]) -> Said:
    return f"“{word}” stands in the wrong file", f"{_meant(near)}it belongs in {_FILES[file]}; {_fitting(fitting)}"


def misspelt(word: str, near: str) -> Said:
    return f"“{word}” is not a word this file knows", f"did you mean “{near}”?"


def misspelt_and_misplaced(word: str, near: str, under: str, fitting: tuple[str, ...]) -> Said:
    return (
        f"“{word}” is not a word this file knows",
        f"did you mean “{near}”, which belongs {f'under “{under}”' if under else 'at the top of the file'}? {_fitting(fitting)}",
    )


def unknown_word(word: str, fitting: tuple[str, ...]) -> Said:
    return f"“{word}” is not a word this file knows", f"{_fitting(fitting)}; check the spelling and the indent"


def comma_in_braces(word: str) -> Said:
    return f"a comma stands before “{word}”, and in braces it ends an entry", "write a decimal point, 8.5 for 8,5"


def _lines(add: tuple[str, ...]) -> str:
    """Lines to add, each on its own, indented as it must be in the file."""
    return "".join(f"\n    {line}" for line in add)


def missing(keys: tuple[str, ...], add: tuple[str, ...], below: int | None) -> Said:
    problem = f"{listed([f'“{key}”' for key in keys])} {'is' if len(keys) == 1 else 'are'} missing here"
    if below is None:
        return problem, f"add between the braces, with commas between them:{_lines(add)}"
    return problem, f"add below line {below}:{_lines(add)}"


def blank(key: str, add: tuple[str, ...], needed: bool) -> Said:
    return f"“{key}” is empty", f"write for example{'' if needed else ', or leave it out'}:{_lines(add)}"


def empty_file(add: tuple[str, ...]) -> Said:
    return "this file is empty", f"begin with these lines, in your own words:{_lines(add)}"


def no_names(add: tuple[str, ...]) -> Said:
    return "the top of this file is not a list of “name: value” lines", f"it holds lines such as these, without a dash:{_lines(add)}"


# --- values of the wrong kind -------------------------------------------------------------------


def no_choice(text: str | None, key: str, choices: tuple[str, ...]) -> Said:
    return f"{_given(text)} can't stand for “{key}”", f"write {listed(list(choices), 'or')}"


def no_such_entry(text: str | None, under: str, choices: tuple[str, ...]) -> Said:
    besides = "; any other moment stands under  chapters" if under == "steps" else ""
    return f"{_given(text)} can't stand under “{under}”", f"write {listed(list(choices), 'or')}{besides}"


def too_small(text: str | None, key: str, least: int) -> Said:
    return f"{_given(text)} is too small for “{key}”", f"write a whole number, {least} or more"


def too_large(text: str | None, key: str, most: int) -> Said:
    return f"{_given(text)} is too large for “{key}”", f"write {most} or less"


def no_whole_number(text: str | None, key: str) -> Said:
    return f"{_given(text)} is not a whole number for “{key}”", "write a whole number such as 9"


def neither_yes_nor_no(text: str | None, key: str) -> Said:
    return f"{_given(text)} is neither yes nor no", f"write  {key}: yes  or  {key}: no"


def empty(key: str) -> Said:
    return f"“{key}” is empty", "fill it in or leave the line out"


def empty_entry(key: str) -> Said:
    return f"an entry of “{key}” is empty", "fill it in or take it out"


def too_long(key: str, most: int) -> Said:
    return f"“{key}” is too long", f"at most {most}"


def no_text(key: str) -> Said:
    return f"“{key}” is not what it should be", "write a line of text"


def no_list(key: str) -> Said:
    return f"“{key}” is not what it should be", "write a list, one entry a line after a dash"


def bare_entry(key: str, text: str, needs: tuple[str, ...]) -> Said:
    """`needs`: the keys that no entry of such a list does without."""
    rest = "".join(f", {name}: …" for name in needs[1:])
    return f"“{text[:40]}” alone is no entry of “{key}”", f"write  {{{needs[0]}: {text[:40]}{rest}}}"


def no_lines(key: str) -> Said:
    return f"“{key}” is not what it should be", "write lines of  name: value,  indented below it"


def refused(key: str, why: str) -> Said:
    """What the library that reads values says of one, in its own words."""
    return f"“{key}”: {why}", ""


def cites() -> Said:
    return "nothing can be cited here: the page would show the brackets", "write it out in words"


def no_such_day(year: int, month: int, day: int) -> Said:
    return f"{year}-{month:02}-{day:02} is not a date, since its month is shorter", "look at the day, or write the first of the next month"


def no_moment(text: str | None, meant: str | None = None) -> Said:
    return (
        "this is not a date and time" if text is None else f"“{text[:30]}” is not a date and time",
        f"write it like {meant or '2026-03-06 10:00'}, in the club's own time",
    )


def far_year(year: int, first: int, last: int) -> Said:
    return f"the year {year} is too far away", f"write a year from {first} to {last}"


def no_address(text: str) -> Said:
    return f"“{text[:40]}” is not an address of a page", "write it whole, beginning with https://"


def no_link(text: str) -> Said:
    return f"“{text[:40]}” is not an address", "write a page’s beginning with https://, or one to write to as mailto:hello@cards.example"


def no_day(text: str, meant: str | None = None) -> Said:
    return f"“{text[:30]}” is not a day", f"write it like {meant or '2027-02-20'}"


def no_time_in_a_video(text: str) -> Said:
    return f"“{text[:20]}” is not a time in a video", "write minutes and seconds like 4:05, or 1:04:05 with hours"


def no_cuts(text: str) -> Said:
    return f"“{text[:40]}” is not a list of cuts", "write auto, or one cut a line, each after a dash"


# --- pieces and what lies on the card -----------------------------------------------------------


def too_small_to_cut(least: Length) -> Said:
    millimetres = float(rounded(least.millimetres, Fraction(1, 10)))
    return (
        f"a side of this piece is under {least.inches} in ({millimetres:g} mm), which no hand can cut",
        "give it a larger size, with in or mm behind it",
    )


def paper_twice() -> Said:
    return "the paper is said twice: by “paper” and under “per card”", _KEEP_ONE


def papers_are_counted(other: str) -> Said:
    return f"“papers” has how many come from each counted on the cards, and “{other}” stands beside it", f"leave “{other}” out"


def no_paper() -> Said:
    return "this piece has no paper", "add a line such as  paper: white"


def notch_and_shape() -> Said:
    return "this piece has both a notch and a shaped edge", _KEEP_ONE


def no_shaped_punch() -> Said:
    return (
        "the notch is made with a shaped punch that is not described",
        "add a line such as  shaped punch: {width: 1-1/2, depth: 1/2, trim: 1/8}",
    )


def depth_of_a_punch(tool: str) -> Said:
    return f"a {tool} makes its notch as deep as it makes it", "leave depth out, or make the notch with scissors"


def size_that_follows(key: str) -> Said:
    return f"the size of a {key} is worked out, and one is typed", "take the size out"


def band_and_shape() -> Said:
    return "a belly band is a plain strip", "take its shape, notch, pocket or tool out"


def liner_and_shape() -> Said:
    return "an envelope liner is a plain sheet of its own", "take its shape, notch, pocket, band or tool out; it is trimmed along the flap"


def flap_too_deep(flap: Length, envelope: Size) -> Said:
    return (
        f"a flap of {both_text(flap)} would reach past the bottom of an envelope of {size_both(envelope)}",
        "write how deep the flap is, from its fold to its tip",
    )


def gum_past_the_flap(gum: Length, flap: Length) -> Said:
    return f"{both_text(gum)} of gum leave nothing of a flap of {both_text(flap)}", "write how wide the gummed edge is, or leave gum out"


def thumb_and_shape() -> Said:
    return "this piece has both a thumb notch and another outline", _KEEP_ONE


def fixing_of_no_piece() -> Said:
    return "“fixing” says how a piece is held, and this entry is none", "leave it out, or say it of a piece"


def raised_otherwise(fixing: str) -> Said:
    return f"it can't be raised on foam and fixed “{fixing}”", _KEEP_ONE


def in_and_elsewhere() -> Said:
    return "it lies loose in a pocket and is placed or fixed besides", "keep “in” alone: it lies in the middle of the pocket, pushed home"


def shaker_otherwise(fixing: str) -> Said:
    return f"a shaker stands on the foam round its window, not “{fixing}”", "leave “fixing” out"


def two_shapes(one: str, other: str) -> Said:
    return f"a piece can't be both {one} and {other}", _KEEP_ONE


def notch_and_tool(tool: str) -> Said:
    return f"a piece with a notch is cut at the trimmer, and this one is made with a {tool} besides", _KEEP_ONE


def unknown_shape(text: str, known: tuple[str, ...]) -> Said:
    return (
        f"“{text}” is no shape",
        f"write {listed([f'shape: {word}' for word in known], 'or')}, or a shape with its measure, such as  shape: {{rounded: 1/4}}",
    )


_MEASURES = {
    "rounded": "1/4",
    "snipped": "3/8",
    "arch": "top",
    "tag": "{end: top, snip: 1/2, hole: 1/4}",
    "window": "{border: 1/2}",
    "trapezoid": "{end: top, in: 1/2}",
    "parallelogram": "{lean: right, by: 1/2}",
    "scalloped": "{edge: top, width: 1/4}",
}
"""An example of what each shape says that is more than a word."""


def shape_without_measure(shape: str) -> Said:
    return f"“{shape}” alone does not say its measure", f"write for example  shape: {{{shape}: {_MEASURES.get(shape, '1/2')}}}"


def no_shape() -> Said:
    return "this does not say which shape", "write for example  shape: {rounded: 1/4}"


def corners_of_no_shape() -> Said:
    return "these corners are neither rounded nor snipped", "write for example  shape: {rounded: 1/4, corners: [top left, top right]}"


def window_of_no_measure() -> Said:
    return "a window has either a size or an even border", "write  window: {size: 2 x 2}  or  window: {border: 1/2}"


def frame_with_a_place() -> Said:
    return "a window with an even border lies in the middle", "leave its place out, or give its size"


def both_edges(one: str, other: str) -> Said:
    return f"“{one}” and “{other}” are both given", "measure from one of the two"


def no_entry() -> Said:
    return "this entry is neither a piece, nor the band, nor a block", "write for example  A stripes,  band,  or a list of such entries"


def word_alone(text: str, word: str, known: tuple[str, ...]) -> Said:
    return f"“{text}” has “{word}” without what follows it", f"write {listed([f'“{word} {second}”' for second in known], 'or')}"


def point_and_turn() -> Said:
    return "this piece is both turned and set on its point", "keep one of them: the point says which way round it lies"


def held_upside_down() -> Said:
    return (
        "what goes into a pocket, or holds a shaker, stands as its size is written",
        "take out  upside down:,  and draw the piece the other way up",
    )


def pinwheel_uneven(count: int) -> Said:
    return (
        f"a pinwheel has eight triangles, and {count} don’t take turns evenly",
        "name one, two, four or eight:  pinwheel: [T kites, T waves]",
    )


def pinwheel_of_pieces() -> Said:
    return (
        "a pinwheel takes labels with their papers and nothing else: it turns them itself",
        "write for example  pinwheel: [T kites, T waves]",
    )


def two_papers(text: str, one: str, other: str) -> Said:
    return (
        f"“{text}” names two papers, {one} and {other}",
        "write the label, its paper, and “turned” or “back” if need be: A stripes turned",
    )


def rows_and_columns() -> Said:
    return "the front has both rows and columns", "put one inside the other"


# --- questions ----------------------------------------------------------------------------------


def not_one_answer() -> Said:
    return "a question has one answer: your own, or a computed one", "write  answer: …  or  computed: A4"


def tied_twice() -> Said:
    return "this question is tied to more than one thing", "keep one of step, piece and sheet"


# --- folds of the author's own ------------------------------------------------------------------


def panels_and_scores(panels: int, scores: int) -> Said:
    lines = "1 score line makes" if scores == 1 else f"{scores} score lines make"
    return f"{lines} {scores + 1} panels, and {panels} {'is' if panels == 1 else 'are'} named", f"name {scores + 1} panels, in order"


def panel_twice(name: str) -> Said:
    return f"two panels are called “{name}”", "give each panel a name of its own"


def panel_named_as_a_face(name: str) -> Said:
    return f"a panel can’t be called “{name}”, which is something else on a card", "give it another name, such as left, middle or flap"


def no_such_panel(role: str, name: str, known: tuple[str, ...]) -> Said:
    return f"no panel is called “{name}”", f"call one of them {name}, or write  {role}:  with one of {listed(known, 'or')}"


def one_panel_for_both(name: str) -> Said:
    return f"“{name}” can’t be both the front and the back", "say  front:  with the panel that leads on the closed card"


def score_of_no_fold(fold: str | None) -> Said:
    if fold is None:
        return (
            "a place for one score line stands beside score lines of your own",
            "keep the score lines under  fold:  and take  score:  out",
        )
    return (
        f"a {fold} fold has no one score line whose place can be given",
        "take  score:  out, or write score lines of your own under  fold:",
    )
