"""Cutting the piece from the bar: capacity of the shear, angle of the cut."""

from collections.abc import Iterator
from typing import Final

from translator.geometry.ends import end_angle_deg
from translator.geometry.sections import section_area_mm2
from translator.lengths.characters import shown
from translator.machines.cutting_off import CutAngles, Saw, Shear
from translator.machines.hand_work import Task, hand_reason
from translator.machines.lay import Lay, LegLay
from translator.machines.ranges import Swing
from translator.machines.reasons import SLACK_DEG, Reason, decimal, leg_words
from translator.machines.steel import for_grade
from translator.model.trims import End

_ENDS: Final[tuple[End, ...]] = ("start", "far")


def parting_reasons(lay: Lay) -> Iterator[Reason]:
    """Yield what keeps the machine from cutting the piece off, or asks for a cut by hand."""
    cut = lay.machine.cut_off
    if cut is None:
        return
    if isinstance(cut, Shear):
        yield from _overloaded(lay, cut)
    for end in _ENDS:
        fault = _angle_fault(lay, cut, end)
        if fault is None:
            continue
        if "mitre" not in lay.machine.second_work:
            yield fault
            continue
        task = Task(
            kind="mitre",
            name=f"mitre of the {end} end",
            sentence=f"the {end} end is cut to its mitre",
            element=f"ends.{end}",
            why=fault.message,
        )
        yield hand_reason(lay, task)


def _overloaded(lay: Lay, cut: Shear) -> Iterator[Reason]:
    capacity = for_grade(cut.capacities, lay.steel.name)
    area = section_area_mm2(lay.part.section)
    if capacity is None or area <= capacity.area_mm2:
        return
    steel = f" in {shown(capacity.grade)}" if capacity.grade is not None else ""
    yield Reason(
        rule="shear-overloaded",
        message=f"the section has {decimal(area, 2)} mm2, more than the"
        f" {decimal(capacity.area_mm2, 2)} mm2 that the shear parts{steel}",
        element="section",
        value=area,
        limit=capacity.area_mm2,
        unit="mm2",
    )


def _angle_fault(lay: Lay, cut: Shear | Saw, end: End) -> Reason | None:
    swung = {leg.leg: (leg, _blade_deg(lay, leg, end)) for leg in lay.legs.values()}
    mitred = [(leg, angle) for leg, angle in swung.values() if abs(angle) > SLACK_DEG]
    if not mitred:
        return None
    if isinstance(cut, Shear) and cut.angles is None:
        leg, angle = mitred[0]
        return Reason(
            rule="mitre-on-square-shear",
            message=f"the {end} end is cut at {decimal(abs(angle), 3)} deg on"
            f" {leg_words(leg.leg)}, the shear only cuts square",
            element=f"ends.{end}",
            value=abs(angle),
            limit=0.0,
            unit="deg",
        )
    return _out_of_range(lay, cut, end, mitred)


def _out_of_range(
    lay: Lay, cut: Shear | Saw, end: End, mitred: list[tuple[LegLay, float]]
) -> Reason | None:
    angles = cut.angles or CutAngles()
    for leg, angle in mitred:
        swing = (angles.left if leg.side == "left" else angles.right) or _SQUARE
        limit = swing.least_deg if angle < 0.0 else swing.most_deg
        if swing.least_deg - SLACK_DEG <= angle <= swing.most_deg + SLACK_DEG:
            continue
        return Reason(
            rule="cut-angle-out-of-range",
            message=f"the cut of the {end} end is swung {decimal(angle, 3)} deg on the {leg.side}"
            f" side, the {cut.kind} goes from {decimal(swing.least_deg, 3)} to"
            f" {decimal(swing.most_deg, 3)} deg there",
            element=f"ends.{end}",
            value=angle,
            limit=limit,
            unit="deg",
        )
    if len(mitred) > 1 and not angles.compound:
        one, two = (decimal(end_angle_deg(lay.part, end, leg.leg), 3) for leg, _ in mitred)
        return Reason(
            rule="cut-angle-out-of-range",
            message=f"the {end} end is cut at {one} deg on leg a and {two} deg on leg b, the"
            f" {cut.kind} is swung on one side at a time",
            element=f"ends.{end}",
            unit="deg",
        )
    return None


_SQUARE: Final = Swing(least_deg=0.0, most_deg=0.0)


def _blade_deg(lay: Lay, leg: LegLay, end: End) -> float:
    """Return how far the cut is swung on a leg's side.

    Positive = farther the way the bar travels at the toe. A leading end that is long at the toe
    reaches farther that way there, a trailing end less far; a flat that lies with its upper
    edge at the heel's place is long at its upper edge where the heel would be.
    """
    angle = end_angle_deg(lay.part, end, leg.leg)
    return angle * (1.0 if lay.leads(end) else -1.0) * (-1.0 if leg.is_flipped else 1.0)
