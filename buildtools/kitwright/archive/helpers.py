"""What every template may use: filters that put a value into words, and helpers that say something of a worked kit.

They stand in `telling`, for the most part; here they get the names that templates call them by.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from math import ceil

from kitwright.archive.gallery import arrangement_of
from kitwright.archive.glossary import glossed
from kitwright.archive.picture import named, words_run_round
from kitwright.archive.pictures_beside import held_beside, pictures_beside
from kitwright.archive.text import plain
from kitwright.card.notches import readers, ways
from kitwright.cutfiles.mats import MATS
from kitwright.cutting.desk import corner_steps
from kitwright.kit.project import public_address
from kitwright.labels import anchor
from kitwright.labels import named as design_named
from kitwright.printable.edition import EDITIONS
from kitwright.telling import arranging, cutplan, facts, gallery, instructions, kitpage, notches, past, post, shapes, slack, steps, supplies
from kitwright.telling.any_batch import guide_room, sheet_choices
from kitwright.telling.backs import back_text, backs_on
from kitwright.telling.contents import GENERAL
from kitwright.telling.folds import fold_text, scores_text
from kitwright.telling.formats import SPOKEN
from kitwright.telling.goes import goes_table, side_text
from kitwright.telling.members import names_for_members
from kitwright.telling.month.said import clock
from kitwright.telling.people import portrait_of
from kitwright.telling.sums import face_sums, where_text
from kitwright.telling.words import led, listed, month_text, number, sheets_text, span_text, spelled
from kitwright.units import Length, Rough, Size, length_text, other_unit, rounded, size_text
from kitwright.work.desk import layout_orders
from kitwright.work.post import mailing
from kitwright.work.stages import built_up
from kitwright.work.supplies import supplies as batch_supplies


def measure(value: Length | Size, unit: str) -> str:
    """A length or a size in a unit."""
    return size_text(value, unit) if isinstance(value, Size) else length_text(value, unit)


def bytes_text(size: int) -> str:
    """`84 kB`, `1.2 MB`."""
    return f"{size / 1e6:.1f} MB" if size >= 950_000 else f"{max(round(size / 1000), 1)} kB"


def moment(address: str, seconds: int) -> str:
    """A video's address at a moment: with the fragment that W3C's Media Fragments URI 1.0 (section 4.2.1) has for it.

    Where the address has a fragment of its own, the time joins it.
    """
    return f"{address}{'&' if '#' in address else '#'}t={seconds}"


FILTERS: dict[str, Callable[..., object]] = {
    "attr": plain,
    "beside": lambda worked: worked.told_in(other_unit(worked.unit)),
    "bytes": bytes_text,
    "clock": clock,
    "glossed": glossed,
    "in": measure,
    "led": led,
    "month": month_text,
    "sizes_as_written": past.sizes_as_written,
    "number": number,
    "other": other_unit,
    "public": public_address,
    "roughly": lambda worked: worked.told_in(Rough(other_unit(worked.unit))),
    "sheets": sheets_text,
    "told_in": lambda note, unit: note.told_in(unit).words,
    "slug": anchor,
    "spelled": spelled,
    "video": moment,
}
"""`size|in(unit)`, `seconds|clock`, `one.kit.month|month`, `file.size|bytes` …"""

HELPERS: dict[str, object] = {
    "arrangement_of": arrangement_of,
    "as_made": gallery.AS_MADE,
    "back_text": back_text,
    "corner_span": lambda step: span_text(step.slants[0].number, step.slants[-1].number),
    "corner_steps": lambda layout: corner_steps(layout.tree),
    "corner_text": lambda worked, layout, step: instructions.corner_text(step, worked.unit, backs_on(worked, layout)),
    "bases_text": kitpage.bases_text,
    "besides_text": kitpage.besides_text,
    "built_up": built_up,
    "counts_text": gallery.counts_text,
    "counted_text": kitpage.counted_text,
    "cost_lines": lambda worked: supplies.cost_lines(worked, batch_supplies(worked)),
    "cut_formats": SPOKEN,
    "cutting_advice": lambda: GENERAL,
    "decorations": kitpage.decorations,
    "design_anchor": design_named,
    "design_line": kitpage.design_line,
    "design_second": kitpage.design_second,
    "designs_that": lambda worked, told: [design for design in worked.designs if told(design)],
    "desk_orders": lambda worked, layout: list(layout_orders(worked, layout).items()),
    "desk_text": instructions.desk_text,
    "editions": listed([edition.name for edition in EDITIONS.values()], "or"),
    "envelopes_of": kitpage.envelopes_of,
    "face_sums": face_sums,
    "fold_text": fold_text,
    "for_members": names_for_members,
    "from_sheets": kitpage.from_sheets,
    "from_text": kitpage.from_text,
    "goes_table": goes_table,
    "grain_advice": facts.grain_advice,
    "guide_line": kitpage.guide_line,
    "guide_room": guide_room,
    "sheet_choices": sheet_choices,
    "greetings": kitpage.greetings,
    "group_leads": gallery.LEADS,
    "group_title": arranging.group_title,
    "heads_of": steps.heads_of,
    "labels_text": kitpage.labels_text,
    "left_over": gallery.left_over,
    "left_text": kitpage.left_text,
    "line_of": kitpage.line_of,
    "made_names": gallery.MADE,
    "makes_text": kitpage.makes_text,
    "mats": lambda: listed([mat.name for mat in MATS]),
    "notch_differences": notches.notch_differences,
    "notch_ways": ways,
    "open_sheets": kitpage.open_sheets,
    "overall_text": post.overall_text,
    "pages_text": past.pages_text,
    "paper_names": lambda worked, layout: json.dumps([worked.kit.papers[key].name for key in layout.papers], ensure_ascii=False),
    "sheet_counts": lambda worked, layout: json.dumps(
        [ceil(sum(run.sheets for run in worked.cut(key).runs if run.layout == layout)) for key in layout.papers]
    ),
    "paper_kind": kitpage.paper_kind,
    "paper_text": past.paper_text,
    "named": named,
    "percent": lambda share: f"{rounded(share * 100)} %",
    "held_beside": held_beside,
    "pictures_beside": pictures_beside,
    "portrait_of": portrait_of,
    "post_lines": lambda worked: post.post_lines(worked, mailing(worked)),
    "punch_rule": notches.punch_rule,
    "punch_text": notches.punch_text,
    "punches": readers,
    "scores_text": scores_text,
    "set_name": arranging.set_name,
    "shaped_pieces": lambda worked: {label: piece for label, piece in worked.kit.spec.pieces.items() if piece.notch or piece.shape},
    "shape_words": shapes.shape_words,
    "side_text": side_text,
    "sheets_of": kitpage.sheets_of,
    "short_text": slack.short_text,
    "small_print": gallery.small_print,
    "spare_text": kitpage.spare_text,
    "steps": steps.steps_of,
    "steps_parted": steps.steps_parted,
    "sum_where": where_text,
    "stroke_text": instructions.stroke_text,
    "supply_lines": lambda worked: supplies.supply_lines(worked, batch_supplies(worked)),
    "tool_needed": notches.tool_needed,
    "span": lambda step: span_text(step.cuts[0].number, step.cuts[-1].number),
    "titled": arranging.titled,
    "turning_text": arranging.turning_text,
    "use_text": kitpage.use_text,
    "uses_foam": lambda worked: any(placed.raised for design in worked.designs for side in design.face.every for placed in side.stack),
    "verdicts": cutplan.verdicts,
    "way_steps": notches.way_steps,
    "way_title": notches.way_title,
    "weights_text": lambda designs: " ".join(dict.fromkeys(post.post_lines(one, mailing(one))[2].text for one in designs)),
    "words_run_round": words_run_round,
    "why_text": arranging.why_text,
}
"""What is said of a worked kit; each takes it first, or the one thing that it tells."""
