"""Cuts of a bar: the plan's, held against the ends of its pieces and against the machine."""

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Final

from msgspec import Struct

from translator.bars.plan_model import PlannedBar, PlannedCut
from translator.bars.program_lying import Lying
from translator.bars.program_model import Cut, Refused
from translator.geometry.ends import end_line
from translator.machines.cutting_off import Saw, Shear
from translator.machines.parting import parting_reasons
from translator.machines.ranges import Side
from translator.machines.reasons import decimal
from translator.model.trims import End

_SAME_MM: Final = 2e-5
"""Twenty steps of the grid: a mitre's heel is a sum of several rounded figures."""

_SAME_DEG: Final = 1e-6


class Plane(Struct, frozen=True, kw_only=True):
    """A plane across the bar by its traces: s = heel - tan(angle) y on each side."""

    heel: float
    angles: Mapping[Side, float]

    def at(self, side: Side, y: float) -> float:
        """Return the bar coordinate on a side at y from the heel's place, millimetres."""
        return self.heel - math.tan(math.radians(self.angles.get(side, 0.0))) * y

    def through(self, corner: Mapping[Side, float]) -> float:
        """Return the bar coordinate at a corner of the section: along each side from the heel."""
        return self.heel - math.fsum(
            math.tan(math.radians(self.angles.get(side, 0.0))) * y for side, y in corner.items()
        )

    def same(self, other: "Plane", widths: Mapping[Side, float]) -> bool:
        """Tell whether two planes cut the section alike."""
        return abs(self.heel - other.heel) <= _SAME_MM and all(
            abs(self.at(side, width) - other.at(side, width)) <= _SAME_MM
            for side, width in widths.items()
        )

    def behind(self, side: Side, s: float, y: float) -> float:
        """Return how far a point lies behind the plane's trace on a side; less than 0 ahead."""
        lean = math.radians(self.angles.get(side, 0.0))
        return (s - self.at(side, y)) * math.cos(lean)

    @property
    def is_square(self) -> bool:
        """Whether it is square on every side."""
        return all(abs(angle) <= _SAME_DEG for angle in self.angles.values())


def widths(lying: Lying) -> dict[Side, float]:
    """Return the size of what lies on each side of the machine, millimetres."""
    return {leg.side: leg.width for leg in lying.lay.legs.values()}


def corners(wide: Mapping[Side, float], thickness: float) -> list[dict[Side, float]]:
    """Return the corners of the section, inside ones too, along each side from the heel.

    Where a plane is swung both ways, the inside of a toe reaches farther than the outside.
    """
    out: list[dict[Side, float]] = [{}]
    for side, width in wide.items():
        out.append({side: width})
        inside: dict[Side, float] = {other: thickness for other in wide if other != side}
        if inside:
            out += [{side: width, **inside}, {side: thickness, **inside}]
    return out


def end_plane(lying: Lying, end: End) -> Plane:
    """Return the plane that the machine must cut a piece's end to: square where a hand mitres."""
    element = f"ends.{end}"
    if any(r.hand_work and r.element == element for r in parting_reasons(lying.lay)):
        x = 0.0 if end == "start" else lying.part.length_mm
        return Plane(heel=lying.bar_mm(x), angles=dict.fromkeys(widths(lying), 0.0))
    angles, heel = {}, 0.0
    for name, leg in lying.lay.legs.items():
        line = end_line(lying.part, end, name)
        at_heel = line.at(leg.width if leg.is_flipped else 0.0)
        heel = lying.bar_mm(at_heel)
        # +x runs the way the bar travels where flow is 1; +y from the toe on a flipped flat
        slope = line.slope * leg.flow * (-1.0 if leg.is_flipped else 1.0)
        angles[leg.side] = math.degrees(math.atan(slope))
    return Plane(heel=heel, angles=angles)


def leading(lying: Lying) -> Plane:
    """Return the plane of the end that leads."""
    return end_plane(lying, lying.planned.placement.lead_end)


def trailing(lying: Lying) -> Plane:
    """Return the plane of the end that follows."""
    return end_plane(lying, "far" if lying.planned.placement.lead_end == "start" else "start")


def cuts_of(bar: PlannedBar) -> tuple[Cut, ...]:
    """Return the cuts in the order that they are made."""
    return tuple(
        Cut(
            type=cut.kind,
            serves=cut.serves,
            ahead=cut.ahead,
            behind=cut.behind,
            frees=cut.ahead if cut.serves in ("ahead", "both") else None,
            heel_mm=cut.heel_mm,
            loss_mm=cut.loss_mm,
            left_deg=cut.left_deg,
            right_deg=cut.right_deg,
            is_shared_mitre=cut.is_shared_mitre,
        )
        for cut in bar.cuts
    )


def cut_faults(bar: PlannedBar, pieces: Sequence[Lying]) -> Iterator[Refused]:
    """Yield what is wrong with the plan's cuts: nothing is cut that would not fit its piece."""
    yield from _out_of_order(bar, pieces)
    for cut in bar.cuts:
        yield from _wrong_cut(cut, pieces)
    for piece in pieces:
        yield from _unmade_ends(bar, piece)
    for one, two in pairwise(pieces):
        yield from _overlap(bar, one, two)
    if pieces:
        yield from _beyond(bar, pieces[0], pieces[-1])


def _out_of_order(bar: PlannedBar, pieces: Sequence[Lying]) -> Iterator[Refused]:
    """Yield what is wrong with the numbers of pieces, or with the order of the cuts.

    Pieces come off as they are numbered, each cut where it is its turn; a trim, which makes no
    end, may only take what is ahead of the first piece.
    """
    numbers = [piece.planned.number for piece in pieces]
    if numbers != list(range(1, len(numbers) + 1)):
        yield _bar_fault("plan-out-of-order", "the pieces are not numbered from 1 on in order")
        return
    turns = [_turn(cut) for cut in bar.cuts]
    if any(later <= sooner for sooner, later in pairwise(turns)):
        yield _bar_fault("plan-out-of-order", "the cuts are not in the order of the pieces")
    for cut in bar.cuts:
        names = {"ahead": cut.ahead, "behind": cut.behind}
        said = [name for name, number in names.items() if number is not None]
        if {"both": ["ahead", "behind"], "trim": []}.get(cut.serves, [cut.serves]) != said:
            yield _bar_fault(
                "plan-out-of-order",
                f"the cut at {decimal(cut.heel_mm, 3)} mm does not name the pieces that it serves",
            )
        if cut.serves == "trim" and pieces:
            section = corners(widths(pieces[0]), pieces[0].part.section.thickness_mm)
            front, plane = leading(pieces[0]), second_plane(cut)
            if any(plane.through(c) > front.through(c) + _SAME_MM for c in section):
                yield _bar_fault(
                    "plan-out-of-order",
                    f"the trim at {decimal(cut.heel_mm, 3)} mm cuts into the pieces",
                )


def _turn(cut: PlannedCut) -> int:
    """Return when a cut comes: 2n - 1 for the leading end of piece n, 2n for the trailing end."""
    if cut.ahead is not None:
        return 2 * cut.ahead
    return 2 * cut.behind - 1 if cut.behind is not None else 0


def first_plane(cut: PlannedCut | Cut) -> Plane:
    """Return the cut's plane nearer the lead end."""
    return Plane(heel=cut.heel_mm, angles={"left": cut.left_deg, "right": cut.right_deg})


def second_plane(cut: PlannedCut | Cut) -> Plane:
    """Return the cut's other plane."""
    return Plane(
        heel=cut.heel_mm + cut.loss_mm, angles={"left": cut.left_deg, "right": cut.right_deg}
    )


def _loss_mm(cut_off: Shear | Saw, cut: PlannedCut) -> float:
    """Return what a cut takes along the bar: a blade that is swung takes more."""
    wide = cut_off.kerf_mm if isinstance(cut_off, Saw) else cut_off.slug_mm or 0.0
    left, right = (math.tan(math.radians(a)) for a in (cut.left_deg, cut.right_deg))
    return wide * math.sqrt(1.0 + left * left + right * right)


def _wrong_cut(cut: PlannedCut, pieces: Sequence[Lying]) -> Iterator[Refused]:
    if not pieces:
        return
    machine = pieces[0].machine
    own = machine.cut_off
    kind = None if own is None else own.cut if isinstance(own, Shear) else "saw"
    if own is None or kind != cut.kind:
        yield _bar_fault(
            "cut-differs",
            f'the plan cuts by "{cut.kind}", {machine.name} by "{kind or "nothing"}"',
        )
        return
    loss = _loss_mm(own, cut)
    if abs(loss - cut.loss_mm) > _SAME_MM:
        yield _bar_fault(
            "cut-differs",
            f"the cut at {decimal(cut.heel_mm, 3)} mm takes {decimal(cut.loss_mm, 3)} mm in the"
            f" plan, {decimal(loss, 3)} mm on {machine.name}",
        )


def _bar_fault(rule: str, message: str) -> Refused:
    return Refused(rule=rule, message=message, remedy="plan again with this machine's profile")


def _unmade_ends(bar: PlannedBar, piece: Lying) -> Iterator[Refused]:
    number, wide = piece.planned.number, widths(piece)
    made = {
        "leading": [second_plane(c) for c in bar.cuts if c.behind == number],
        "trailing": [first_plane(c) for c in bar.cuts if c.ahead == number],
    }
    raw = {"leading": 0.0, "trailing": bar.measured_mm or bar.length_mm}
    for which, plane in (("leading", leading(piece)), ("trailing", trailing(piece))):
        if any(plane.same(other, wide) for other in made[which]):
            continue
        if plane.is_square and abs(plane.heel - raw[which]) <= _SAME_MM:
            continue
        yield piece.refused(
            "end-not-cut",
            f"no cut of the plan makes the {which} end of piece {number} ({piece.part.mark}), at"
            f" {decimal(plane.heel, 3)} mm on the heel of the bar",
            "plan again with these parts",
        )


def _overlap(bar: PlannedBar, one: Lying, two: Lying) -> Iterator[Refused]:
    """Yield a piece that begins in the one ahead of it, or in the kerf behind that one."""
    after = [second_plane(c) for c in bar.cuts if c.ahead == one.planned.number]
    before, ends = leading(two), (trailing(one), *after)
    for corner in corners(widths(two), two.part.section.thickness_mm):
        latest = max(end.through(corner) for end in ends)
        if before.through(corner) < latest - _SAME_MM:
            yield two.refused(
                "pieces-overlap",
                f"piece {two.planned.number} ({two.part.mark}) begins at"
                f" {decimal(before.through(corner), 3)} mm of the bar, steel is left from"
                f" {decimal(latest, 3)} mm on",
                "plan again with these parts and this machine's profile",
            )
            return


def _beyond(bar: PlannedBar, first: Lying, last: Lying) -> Iterator[Refused]:
    """Yield a piece that wants steel where the bar has none, before its front or past its end."""
    section = corners(widths(first), first.part.section.thickness_mm)
    begins = min(leading(first).through(corner) for corner in section)
    ends = max(trailing(last).through(corner) for corner in section)
    length = bar.measured_mm or bar.length_mm
    for piece, place in ((first, begins), (last, ends)):
        if not -_SAME_MM <= place <= length + _SAME_MM:
            yield piece.refused(
                "beyond-the-bar",
                f"piece {piece.planned.number} ({piece.part.mark}) reaches to {decimal(place, 3)}"
                f" mm of a bar of {decimal(length, 3)} mm",
                "plan again with the bar's measured length",
            )
