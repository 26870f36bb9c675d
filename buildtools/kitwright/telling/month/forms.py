"""How headings, links and lists are written in a text that is sent."""

from __future__ import annotations

EARNS = "this link earns the club money"
"""Stands at every link that does."""


class Form:
    """Markdown, or plain text."""

    def __init__(self, plain: bool) -> None:
        self.plain = plain

    def title(self, text: str) -> str:
        return text.upper() if self.plain else f"# {text}"

    def heading(self, text: str) -> str:
        return f"{text}\n{'-' * len(text)}" if self.plain else f"## {text}"

    def link(self, text: str, address: str, earns: bool = False) -> str:
        """A link; where it earns money, it says so beside it."""
        told = f" ({EARNS})" if earns else ""
        return (f"{address}{told}" if text == address else f"{text}: {address}{told}") if self.plain else f"[{text}]({address}){told}"

    def named(self, name: str, address: str | None) -> str:
        """A name with where it leads, inside a sentence; the name alone where it leads nowhere."""
        if not address:
            return name
        return f"{name} ({address})" if self.plain else f"[{name}]({address})"


def thinned(text: str) -> str:
    """A text with never more than one empty line in a row, none at its ends, and one end of line at the last."""
    lines: list[str] = []
    for line in text.split("\n"):
        if line.strip() or (lines and lines[-1].strip()):
            lines.append(line.rstrip())
    return "\n".join(lines).strip() + "\n"
