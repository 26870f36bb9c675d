"""A kit as structured data for search engines and other readers: a HowTo of schema.org, as JSON-LD in the kit's page.

It is a block of data, which a browser never runs, so that the content policy has nothing to refuse.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from markupsafe import Markup

from kitwright.archive.called import dense
from kitwright.archive.make import Made
from kitwright.archive.mycopy import in_script
from kitwright.archive.picture import Image
from kitwright.archive.pictures_beside import held_beside, pictures_beside
from kitwright.kit.project import public_address
from kitwright.telling import howto as words
from kitwright.telling.steps import Step, steps_of
from kitwright.work.worked import Worked


def howto(made: Made) -> Markup | None:
    """What goes into the page of a kit; None where the site has no address, since structured data have whole addresses alone."""
    club = made.worked.kit.club
    page = public_address(club, f"kits/{made.kit.id}/index.html")
    return in_script(dense(data_of(made, page))) if page else None


def data_of(made: Made, page: str) -> dict[str, Any]:
    """The same as plain data, in the names of https://schema.org/HowTo.

    Args:
        made: the kit.
        page: the whole address of its page.
    """
    worked, spec = made.worked, made.worked.kit.spec
    club, beside = worked.kit.club, page.removesuffix("index.html")
    data: dict[str, Any] = {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "@id": page,
        "url": page,
        "name": spec.title,
        "description": " ".join(spec.summary.split()),
        "inLanguage": "en",
        "datePublished": worked.kit.reveal.date().isoformat(),
        "publisher": {"@type": "Organization", "name": club.name, "url": public_address(club)},
        "yield": words.yield_text(worked),
        "supply": [_supply(name, n) for name, n in words.supplies(worked)],
        "tool": [{"@type": "HowToTool", "name": name} for name in words.tools(worked)],
        "step": [_step(worked, step, n, page, made.images) for n, step in enumerate(steps_of(worked), 1)],
    }
    if image := made.images.get("card"):
        data["image"] = beside + image.png
    if spec.tags:
        data["keywords"] = ", ".join(spec.tags)
    return data


def _supply(name: str, n: str) -> dict[str, str]:
    return {"@type": "HowToSupply", "name": name} | ({"requiredQuantity": n} if n else {})


def _step(worked: Worked, step: Step, n: int, page: str, images: Mapping[str, Image]) -> dict[str, Any]:
    data: dict[str, Any] = {
        "@type": "HowToStep",
        "position": n,
        "name": f"{step.design}: {step.title}" if step.design else step.title,
        "text": " ".join(step.lines),
        "url": f"{page}#{step.anchor}",
    }
    names = *pictures_beside(worked, step), *(name for name, _ in held_beside(worked, step))
    seen = next((images[name] for name in names if name in images), None)
    return data | ({"image": page.removesuffix("index.html") + seen.png} if seen else {})
