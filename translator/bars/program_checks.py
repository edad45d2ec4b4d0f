"""Whether a planned bar, its parts and the machine belong together."""

from collections.abc import Iterator, Sequence
from typing import Final

from translator.bars.plan_model import PlannedBar, PlannedPiece
from translator.bars.program_cuts import cut_faults, widths
from translator.bars.program_lying import Lying
from translator.bars.program_model import Refused
from translator.machines.profile import Machine
from translator.machines.ranges import Side
from translator.machines.reasons import decimal, length_words

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
    return out or list(cut_faults(bar, pieces))


def _lies(piece: Lying) -> tuple[dict[Side, float], float]:
    return widths(piece), piece.part.section.thickness_mm
