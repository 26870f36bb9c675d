"""What follows a turn, and papers one after another, in words."""

from __future__ import annotations

from collections.abc import Sequence

from kitwright.telling.words import listed

LATER = {"sentiment": "the sentiment", "over": "what lies over the pieces", "decoration": "decoration"}


def later_text(later: Sequence[str]) -> str:
    """What happens after the front has been turned: `the sentiment and decoration go on`."""
    return f"{listed([LATER[each] for each in later])} {'go' if len(later) > 1 else 'goes'} on" if later else "it is glued to the base"


def one_after_another(papers: Sequence[str]) -> str:
    """Papers in turn; `only dots` where they are all the same."""
    return f"only {papers[0]}" if len(papers) > 1 and len(set(papers)) == 1 else listed(papers)
