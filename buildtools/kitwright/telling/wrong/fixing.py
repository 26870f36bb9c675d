"""Pockets that their tags don't fit, shakers that leak, bands, and pieces that nothing holds."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.words import listed
from kitwright.units import Length, Size, length_text, size_text


def no_pocket(label: str, within: str) -> Said:
    return (
        f"{label} is to lie in {within}, which is no pocket",
        f"write  pocket: {{open: top, holds: {label}}}  under {within} in “pieces”",
    )


def not_on_the_card(label: str, band: bool) -> Said:
    """`band`: a belly band; else the liner of an envelope."""
    where = "a belly band, which goes round the closed card" if band else "a liner, which goes into the envelope"
    return f"{label} is {where} and lies on no face", "take this line out: it is counted by its line under “pieces” alone"


def pocket_not_there_yet(label: str, within: str) -> Said:
    return (
        f"{label} goes into {within}, which does not lie over the front before it",
        f"lay {within} down under “over” in a line above {label}",
    )


def only_over(label: str, key: str) -> Said:
    return f"“{key}” can’t stand under “places”", f"write the line of {label} under “over”, which is laid over the rest"


def film_label_taken(label: str) -> Said:
    return f"a piece is called {label} already, so a shaker’s film can’t be", "give the film another label, or leave “label” out"


def frame_without_window(label: str) -> Said:
    return f"{label} is to be a shaker and has no window", f"write  shape: {{window: {{border: 5/8}}}}  under {label} in “pieces”"


# --- pockets ----------------------------------------------------------------------------------------


def pocket_empty(label: str, holds: str | None) -> Said:
    return f"nothing lies in the pocket {label}", f"add  - {{piece: {holds or 'T'}, in: {label}}}  under “over”, below {label} itself"


def pocket_of_another(label: str, holds: str, other: str) -> Said:
    return f"the pocket {label} is said to hold {holds}, and {other} lies in it", f"write  holds: {other},  or  in: …  of another pocket"


def pocket_otherwise(label: str, fixing: str) -> Said:
    return f"{label} is a pocket, glued on three edges, and can’t be fixed “{fixing}”", "leave “fixing” and “raised” out"


def pocket_all_glue(label: str, glue: Length, most: Length, unit: str) -> Said:
    return (
        f"glue {length_text(glue, unit)} wide leaves no room in the pocket {label}",
        f"make it narrower than {length_text(most, unit)}, or the pocket larger",
    )


def pocket_too_small(label: str, mouth: Length, unit: str) -> Said:
    return (
        f"the pocket {label} is {length_text(mouth, unit)} wide inside, and takes nothing that slides",
        "make the pocket wider, or the glue narrower",
    )


def tag_too_wide(label: str, wide: Length, pocket: str, takes: Length, mouth: Length, tight: bool, unit: str) -> Said:
    """`tight`: it goes in, but rubs."""
    inside = f"inside it is {length_text(mouth, unit)} wide, and a tag needs air on both sides"
    return (
        f"{label} is {length_text(wide, unit)} wide; {pocket} takes {length_text(takes, unit)}{f': {inside}' if tight else ''}",
        f"make {label} {length_text(takes, unit)} wide or less, or {pocket} {length_text(wide - takes, unit)} wider",
    )


def thumb_too_wide(label: str, thumb: Length, mouth: Length, unit: str) -> Said:
    return (
        f"a thumb notch {length_text(thumb, unit)} across cuts into the glue of {label}, which is {length_text(mouth, unit)} wide inside",
        "make the notch smaller",
    )


def nothing_to_pull(label: str, pocket: str, shows: Length, least: Length, unit: str) -> Said:
    seen = f"only {length_text(shows, unit)} of {label} shows" if shows else f"nothing of {label} shows"
    return (
        f"{seen} above {pocket}, too little to pull it out by",
        f"make it {length_text(least, unit)} long or more, or give {pocket} a thumb notch that reaches it:  thumb notch: 3/4",
    )


# --- shakers ----------------------------------------------------------------------------------------


def foam_in_the_window(label: str) -> Said:
    return f"the foam of {label} begins at the window’s edge, where it shows", "write  from window: 1/8,  or leave it out"


def frame_too_narrow(label: str, border: Length, set_back: Length, foam: Length, least: Length, unit: str) -> Said:
    return (
        f"the frame {label} is {length_text(border, unit)} wide at its narrowest, too little for foam {length_text(foam, unit)} wide "
        f"that stands {length_text(set_back, unit)} back from the window",
        f"make the frame {length_text(least, unit)} wide or more all round, or the foam narrower",
    )


def foam_past_the_frame(label: str, outer: Size, unit: str) -> Said:
    return (
        f"the foam round the window of {label}, {size_text(outer, unit)} outside, sticks out past its edge",
        "make the window smaller, or the frame larger",
    )


def film_lap(label: str, lap: Length, set_back: Length, most: Length, unit: str) -> Said:
    if lap > most:
        return (
            f"film that laps {length_text(lap, unit)} sticks out behind {label}, whose frame is {length_text(most, unit)} wide",
            f"write {length_text(most, unit)} or less",
        )
    return (
        f"film that laps {length_text(lap, unit)} does not reach the foam of {label}, {length_text(set_back, unit)} from the window",
        f"write more than {length_text(set_back, unit)}, and {length_text(most, unit)} at most",
    )


def film_not_clear(label: str, paper: str) -> Said:
    return f"the window of {label} is closed with {paper}, which nobody sees through", "name a paper of  kind: film"


def inside_too_thick(inside: str | None, thick: Length, foam: Length, known: bool, unit: str) -> Said:
    """`known`: whether the foam's thickness was typed."""
    what = inside or "what is inside"
    thin = "is" if known else "may be as thin as"
    return (
        f"{what}, {length_text(thick, unit)} thick, can’t move under foam that {thin} {length_text(foam, unit)}",
        "take thicker foam, or something thinner" if known else "say how thick your foam is, under “card”:  foam: 1/8",
    )


# --- belly bands ------------------------------------------------------------------------------------


def band_too_wide(label: str, height: Length, most: Length, unit: str) -> Said:
    return (
        f"the belly band {label} is {length_text(height, unit)} wide, wider than the closed card",
        f"write less than {length_text(most, unit)}",
    )


def band_of_more_cards(label: str, stack: int, cards: int) -> Said:
    return f"the belly band {label} goes round {stack} cards, and the batch has {cards}", f"write {cards} or less"


# --- doors ------------------------------------------------------------------------------------------


def no_such_panel(label: str, panel: str, known: tuple[str, ...]) -> Said:
    if not known:
        return f"{label} is to be fixed to “{panel}”, and lies on one panel alone", "leave “fixed to” out"
    return f"{label} is to be fixed to “{panel}”, which is no door of this card", f"write  fixed to: {known[0]}" + "".join(
        f",  or  {other}" for other in known[1:]
    )


def doors_shut(label: str, doors: tuple[str, ...], movable: bool) -> Said:
    """`movable`: whether it may be fixed to one of them."""
    help = f"add  fixed to: {doors[0]},  to its line under “over”" if movable else "move it onto one door"
    return f"{label} glues the doors shut: it lies on {listed([f'the {door}' for door in doors])}", help


def not_on_the_panel(label: str, panel: str) -> Said:
    return f"{label} is to be fixed to the {panel}, and does not lie on it", "move it there, or name the door that it lies on"


# --- edges ------------------------------------------------------------------------------------------


def nothing_holds(label: str) -> Said:
    return (
        f"{label} lies loose on the card: it falls out",
        f"put it in a pocket,  {{piece: {label}, in: K}},  or under a belly band; or leave  fixing: loose  out",
    )


def no_edge_hidden(label: str) -> Said:
    return (
        f"nothing lies over an edge of {label} that could hide the glue",
        f"lay a piece over a whole edge of {label}, after it under “over”",
    )
