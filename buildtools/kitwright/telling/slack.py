"""How far a sheet may fall short before its guide fails, in words."""

from __future__ import annotations

from kitwright.units import Size, both_text, length_text


def slack_texts(slack: Size, unit: str, none: str = "none") -> tuple[str, str]:
    """Across and along, each with its unit: `½ in`, `none`."""
    across, along = (length_text(each, unit) if each else none for each in (slack.width, slack.height))
    return across, along


def slack_text(slack: Size, unit: str, none: str = "none") -> str:
    """Both ways: `½ in across, none along`."""
    across, along = slack_texts(slack, unit, none)
    return f"{across} across, {along} along"


def slack_both(slack: Size, unit: str) -> str:
    """The same in both units: `½ in (≈12.5 mm) across, none along`."""
    if not slack.width and not slack.height:
        return "none: measure the sheet before you cut"
    across, along = (both_text(each, unit) if each else "none" for each in (slack.width, slack.height))
    return f"{across} across, {along} along"


def short_text(slack: Size, unit: str) -> str:
    """How far each sheet may fall short, as the answer to that question."""
    if not slack.width and not slack.height:
        return "nothing: measure the sheet before you cut"
    return slack_text(slack, unit, "nothing")
