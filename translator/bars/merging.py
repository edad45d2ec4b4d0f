"""Equal marks: what is saved when pieces that are the same are set up and measured once."""

from collections.abc import Sequence

from translator.bars.estimate_model import (
    KG_PER_SHORT_TON,
    KG_PER_TONNE,
    EqualMarks,
    Merging,
    Totals,
)
from translator.bars.figures import Figures
from translator.bars.sums import hours_for, rounded
from translator.geometry.identity import drawn_key, piece_key
from translator.model import Part


def equal_marks(parts: Sequence[Part]) -> tuple[EqualMarks, ...]:
    """Return the groups of two marks and more that are the same piece, in the order given.

    What a stamp says does not count, so pieces of one group may still be stamped each with its
    own mark.
    """
    groups: dict[str, list[Part]] = {}
    for part in parts:
        groups.setdefault(piece_key(part), []).append(part)
    return tuple(
        EqualMarks(
            marks=tuple(part.mark for part in members),
            is_turned=len({drawn_key(part) for part in members}) > 1,
        )
        for members in groups.values()
        if len(members) > 1
    )


def merging(parts: Sequence[Part], whole: Totals, own: Figures) -> Merging:
    """Return what an order saves when equal marks share a set-up and a first piece.

    Bars are not touched: an estimate cuts all marks of a section from one lot of bars anyway.
    """
    groups = equal_marks(parts)
    saved = sum(len(group.marks) - 1 for group in groups)
    seconds = saved * (own.mark_setup.value + own.first_piece.value)
    left = whole.man_seconds - seconds
    billed = whole.billed_tonnes * KG_PER_TONNE
    return Merging(
        groups=groups,
        setups_saved=saved,
        seconds_saved=rounded(seconds),
        man_hours_per_billed_tonne=hours_for(left, billed, KG_PER_TONNE),
        man_hours_per_billed_short_ton=hours_for(left, billed, KG_PER_SHORT_TON),
    )
