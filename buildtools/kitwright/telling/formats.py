"""In which formats cut files are made. Each is a pen of `kitwright.cutfiles`, a module by the same name in small letters."""

FORMATS = ("SVG", "DXF")


def _joined(names: list[str]) -> str:
    return f"{', '.join(names[:-1])} and {names[-1]}"


SPOKEN = _joined([*FORMATS])
ENDINGS = _joined([f".{name.lower()}" for name in FORMATS])
