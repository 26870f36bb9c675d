"""The video of a kit: its address, and the moment of each step."""

from __future__ import annotations

from dataclasses import dataclass

from kitwright.kit.model import Video
from kitwright.telling.brief import clock


@dataclass(frozen=True)
class Moment:
    """A moment of the video."""

    href: str
    time: str
    """`9:30`."""


@dataclass(frozen=True)
class VideoView:
    """The video as a page links to it."""

    address: str
    steps: dict[str, Moment]
    """By the stage of the work."""
    chapters: tuple[tuple[str, Moment], ...]
    """Those beside the steps, in order of time."""


def video_view(video: Video | None) -> VideoView | None:
    """The links into a video; None where there is none."""
    if video is None:
        return None

    def moment(seconds: int) -> Moment:
        return Moment(at(video.address, seconds), clock(seconds))

    return VideoView(
        video.address,
        {stage: moment(t) for stage, t in video.steps.items()},
        tuple((name, moment(t)) for name, t in sorted(video.chapters.items(), key=lambda c: c[1])),
    )


def at(address: str, seconds: int) -> str:
    """A video's address at a moment: with the fragment that W3C's Media Fragments URI 1.0 (section 4.2.1) has for it.

    Where the address has a fragment of its own, the time joins it.
    """
    return f"{address}{'&' if '#' in address else '#'}t={seconds}"
