"""Whether a planned bar, its parts and the machine belong together."""

import math
from collections.abc import Iterator, Sequence
from typing import Final

from translator.bars.plan_model import PlannedBar, PlannedPiece
from translator.bars.program_cuts import cut_faults, leading, trailing, widths
from translator.bars.program_lying import Lying
from translator.bars.program_model import Operation, Refused
from translator.machines.profile import Machine
from translator.machines.ranges import Side
from translator.machines.reasons import decimal, length_words
from translator.model import feature_path

_SAME_MM: Final = 1e-6


def missing(planned: PlannedPiece) -> Refused:
    """Return the refusal of a piece whose part is not there."""
    revision = f" revision {planned.revision}" if planned.revision else ""
    return Refused(
        rule="part-missing",
        message=f"{planned.mark}{revision} is on the bar, but not among the parts",
        remedy="name the part files that the plan was made from",
        piece=planned.number,
        mark=planned.mark,
    )


def piece_faults(bar: PlannedBar, piece: Lying) -> Iterator[Refused]:
    """Yield why a piece is not the one that was planned, or does not lie as the plan has it."""
    planned, part = piece.planned, piece.part
    if planned.length_mm != part.length_mm:
        yield piece.refused(
            "length-differs",
            f"{part.mark} is {length_words(part, part.length_mm)} long, in the plan"
            f" {length_words(part, planned.length_mm)}",
            "plan again: the part was changed after it",
            "length",
        )
    if planned.placement not in piece.machine.placements or planned.placement.heel != bar.heel:
        placement = planned.placement
        yield piece.refused(
            "placement-not-offered",
            f"piece {planned.number} ({part.mark}) lies with its {placement.lead_end} end leading"
            f" and the heel {placement.heel}, which {piece.machine.name} does not offer here",
            "plan again with this machine's profile",
        )
    if planned.trail_mm > (bar.measured_mm or bar.length_mm) + _SAME_MM:
        yield piece.refused(
            "beyond-the-bar",
            f"piece {planned.number} ({part.mark}) ends at {decimal(planned.trail_mm, 3)} mm of a"
            f" bar of {decimal(bar.measured_mm or bar.length_mm, 3)} mm",
            "plan again with the bar's measured length",
        )


def reach_faults(piece: Lying, work: Operation) -> Iterator[Refused]:
    """Yield a hole that breaks an end of its piece: on a bar it would cut into the next piece."""
    if work.process == "mark":
        return
    radius = max(work.diameter_mm or work.width_mm or 0.0, work.reamed_to_mm or 0.0) / 2.0
    ends = (("leading", leading(piece), 1.0), ("trailing", trailing(piece), -1.0))
    for which, plane, inward in ends:
        within = min(inward * plane.behind(work.side, s, y) for s, y in _middles(work))
        if within < radius - _SAME_MM:
            yield piece.refused(
                "hole-breaks-end",
                f"{work.feature} of {piece.part.mark} reaches {decimal(radius - within, 3)} mm over"
                f" the {which} end: on the bar it would cut into the next piece",
                "correct the part",
                feature_path(work.leg, work.feature),
            )


def _middles(work: Operation) -> tuple[tuple[float, float], ...]:
    """Return the middles of a tool's round ends, bar coordinate and gauge."""
    s, y = work.bar_mm, work.from_heel_mm
    if work.to_bar_mm is not None and work.to_from_heel_mm is not None:
        return (s, y), (work.to_bar_mm, work.to_from_heel_mm)
    if work.length_mm is None or work.width_mm is None:
        return ((s, y),)
    half = (work.length_mm - work.width_mm) / 2.0
    turn = math.radians(work.direction_deg or 0.0)
    # bar coordinates run against the way the bar travels, from which directions are counted
    along, across = -half * math.cos(turn), half * math.sin(turn)
    return (s - along, y - across), (s + along, y + across)


def bar_faults(bar: PlannedBar, pieces: Sequence[Lying], machine: Machine) -> list[Refused]:
    """Return why pieces can't come off one bar of this machine as the plan cuts it."""
    if machine.cut_off is None:
        words = f"{machine.name} does not cut bars: its profile has no cut_off"
        return [Refused(rule="no-cut-off", message=words, remedy="plan for a machine that does")]
    out = [
        piece.refused(
            "section-differs",
            f"piece {piece.planned.number} ({piece.part.mark}) does not lie in the section as"
            f" piece 1 ({pieces[0].part.mark}) does",
            "plan again: a bar has one section, and its legs keep their sides",
            "section",
        )
        for piece in pieces[1:]
        if _lies(piece) != _lies(pieces[0])
    ]
    if not out and bar.long_leg is not None and pieces:
        out += _other_long_leg(bar.long_leg, pieces[0])
    return out or list(cut_faults(bar, pieces))


def _other_long_leg(side: Side, piece: Lying) -> Iterator[Refused]:
    wide = widths(piece)
    if wide.get(side, 0.0) < max(wide.values()):
        yield piece.refused(
            "section-differs",
            f"the plan has the longer leg on the {side}, piece {piece.planned.number}"
            f" ({piece.part.mark}) has it on the other side",
            "plan again with these parts",
            "section",
        )


def _lies(piece: Lying) -> tuple[dict[Side, float], float]:
    return widths(piece), piece.part.section.thickness_mm
