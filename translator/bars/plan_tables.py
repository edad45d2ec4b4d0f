"""The cut list of a plan as a table: a line for each piece, in the order it is cut."""

from collections.abc import Iterator
from typing import Final

from translator.bars.plan_model import Plan
from translator.documents.csv_text import Value, csv_bytes

COLUMNS: Final = (
    *("bar", "stock", "remnant", "section", "grade", "bar_length_mm", "heat", "certificate"),
    *("location", "pattern", "piece", "order", "mark", "revision", "index", "of"),
    *("length_mm", "lead_mm", "trail_mm", "lead_end", "heel", "leg_a"),
    *("drop_mm", "drop", "drop_label", "phase", "lot", "priority", "source"),
)
"""Columns of the cut list."""


def cut_list(plan: Plan) -> bytes:
    """Return the cut list as CSV."""
    return csv_bytes(COLUMNS, _rows(plan))


def _rows(plan: Plan) -> Iterator[tuple[Value, ...]]:
    for bar in plan.bars:
        for piece in bar.pieces:
            yield (
                *(bar.number, bar.stock, "yes" if bar.is_remnant else "no", bar.section),
                *(bar.grade, bar.length_mm, bar.heat, bar.certificate, bar.location),
                *(bar.pattern, piece.number, piece.order, piece.mark, piece.revision),
                *(piece.index, piece.count, piece.length_mm, piece.lead_mm, piece.trail_mm),
                *(piece.placement.lead_end, piece.placement.heel, piece.placement.leg_a),
                *(bar.drop.length_mm, bar.drop.kind, bar.drop.label or None),
                *(piece.phase, piece.lot, piece.priority, piece.source),
            )
