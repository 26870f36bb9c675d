"""What `kitwright theme` prints."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from kitwright.kit.theme import Standing
from kitwright.telling.words import listed

GROUPS: dict[Standing, tuple[str, str]] = {
    "outgrown": (
        "Yours, but kitwright’s own have changed since you took them",
        "What is new there, kitwright theme NAME  shows. Carry over what you want, then  kitwright theme NAME --done",
    ),
    "unrecorded": (
        "Yours, but nobody knows from which version",
        "Look with  kitwright theme NAME --mine, carry over what you want, then  kitwright theme NAME --done",
    ),
    "gone": ("Yours, but kitwright has no such files any more", "Delete them, unless another file of yours asks for them."),
    "current": ("Yours; kitwright’s own are as they were when you took them", ""),
    "extra": ("Yours alone", ""),
    "same": ("The same as kitwright’s own, so that they change nothing", "Change them, or delete them."),
    "old": ("Old copies that you never changed, so that kitwright’s own are used", "You can delete them."),
}
"""How files of hers stand to kitwright's, in the order in which it is told, and what to do."""
WIDTH = 96


def listing(standing: Mapping[str, Standing], slips: Mapping[str, str | None], versions: Mapping[str, str]) -> Iterator[str]:
    """Every file of hers, by how it stands to kitwright's.

    Args:
        standing: of each.
        slips: those that nothing asks for, with the name that was meant.
        versions: of which kitwright each was taken.
    """
    if not standing:
        yield "Nothing in your theme: every template, style and brief is kitwright’s own."
    for name, near in slips.items():
        yield f"Nothing asks for {name}{f': did you mean {near}?' if near else ', so it changes nothing.'}"
    for kind, (heading, remedy) in GROUPS.items():
        found = [name for name, stands in standing.items() if stands == kind and name not in slips]
        if found:
            yield f"{heading}:"
            for name in found:
                yield f"  {name}{f'  (of {versions[name]})' if kind in ('outgrown', 'current') and name in versions else ''}"
            if remedy:
                yield f"  {remedy}"


def can_be_taken(names: Sequence[str]) -> Iterator[str]:
    """What she can take."""
    yield "To change one, take it: kitwright theme templates/home.md --take. There are:"
    line = " "
    for name in names:
        if len(line) + len(name) > WIDTH:
            yield line
            line = " "
        line += f" {name}"
    yield line


KITWRIGHTS_OWN = (
    "This is kitwright’s own folder. In an archive of your own, which  kitwright begin ../my-club  writes, this lists your theme."
)


def took(files: Sequence[str]) -> str:
    """Files were copied into her theme."""
    return f"Took {listed(list(files))} into your theme. Change what you like; until you do, nothing looks different."


def looked_at(files: Sequence[str]) -> str:
    """She looked at what is new."""
    return f"Noted: {listed(list(files))} {'is' if len(files) == 1 else 'are'} of now."


def compared(name: str, what: str) -> str:
    """What the lines below compare."""
    return {
        "since": f"What kitwright changed in {name} since you took it:",
        "mine": f"What you changed in {name} since you took it:",
        "unknown": f"Nobody knows from which version {name} is. What yours and kitwright’s own of now differ in:",
        "unchanged": f"You never changed {name}, so that kitwright’s own is used: change it, or delete it.",
        "nothing": f"{name}: no difference.",
    }[what]
