"""Pockets that their tags don't fit, shakers that leak, bands, and pieces that nothing holds."""

from __future__ import annotations

from kitwright.errors import Said


def no_pocket(label: str, within: str) -> Said:
    return (
        f"{label} is to lie in {within}, which is no pocket",
        f"write  pocket: {{open: top, holds: {label}}}  under {within} in “pieces”",
    )


def pocket_not_there_yet(label: str, within: str) -> Said:
    return (
        f"{label} goes into {within}, which does not lie over the front before it",
        f"lay {within} down under “over” in a line above {label}",
    )


def film_label_taken(label: str) -> Said:
    return f"a piece is called {label} already, so a shaker’s film can’t be", "give the film another label, or leave “label” out"


def frame_without_window(label: str) -> Said:
    return f"{label} is to be a shaker and has no window", f"write  shape: {{window: {{border: 5/8}}}}  under {label} in “pieces”"
