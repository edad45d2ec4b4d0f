"""One piece of a bar that is cut into nothing but such pieces: what each further piece takes.

Along such a bar the same places come round with every piece, one piece and one cut farther on,
and the work of neighbours interleaves where stations stand apart. So the visits of one piece are
put in the order in which they come round, and clocked from how the piece before left the machine.
"""

import math
from collections.abc import Iterator
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from translator.bars.clock import Operation, Spell, Standing, Visit, clocked
from translator.bars.figures import Figures
from translator.bars.work import Task, made, parted, stamped
from translator.geometry.ends import end_angle_deg
from translator.geometry.sections import section_area_mm2
from translator.geometry.stops import SAME_STOP_MM
from translator.machines.capable import Capability
from translator.machines.cutting_off import lost_mm
from translator.machines.lay import Lay, lay
from translator.machines.making import Way
from translator.machines.profile import Machine
from translator.model import (
    CentreMark,
    Hole,
    LegName,
    Part,
    Slot,
    Stamp,
    feature_path,
    leg_of,
)
from translator.model.trims import End


class Cycle(Struct, frozen=True, kw_only=True):
    """What one piece takes, in a bar of such pieces.

    Attributes:
        spells: each thing that takes time, the cuts of the piece among it.
        visits: how often the bar stands still for it.
        cuts: cuts for each piece.
        pitch_mm: length of bar for each piece: its own and that of the cut.
    """

    spells: tuple[Spell, ...]
    visits: int
    cuts: int
    pitch_mm: float


def cycle(machine: Machine, part: Part, capability: Capability, figures: Figures) -> Cycle:
    """Return what one piece takes on a machine that can make it."""
    laid = lay(machine, part, capability.feed)
    cut = machine.cut_off
    pitch = part.length_mm + (lost_mm(cut) if cut is not None else 0.0)
    by_hand = frozenset(reason.element for reason in capability.reasons if reason.hand_work)
    cuts = list(_cuts(laid, by_hand))
    work = [*_made(laid, capability, figures), *_stamped(laid, by_hand), *cuts]
    visits = _come_round(work, pitch)
    _, standing = clocked(figures, visits, Standing())
    if cut is not None and standing.at_mm is not None:
        standing = replace(standing, at_mm=standing.at_mm - pitch)
    else:  # each piece is laid in by itself
        standing = replace(standing, at_mm=None)
    spells, _ = clocked(figures, visits, standing)
    return Cycle(
        spells=spells,
        visits=len(visits),
        cuts=len(cuts),
        pitch_mm=pitch,
    )


def _come_round(work: list[tuple[float, Operation]], pitch: float) -> list[Visit]:
    """Put what is done into visits by the place of the carriage, within one pitch."""
    placed = sorted(
        ((at % pitch, number, operation) for number, (at, operation) in enumerate(work)),
        key=lambda item: item[:2],
    )
    groups: list[tuple[float, list[Operation]]] = []
    for at, _, operation in placed:
        if groups and at - groups[-1][0] <= SAME_STOP_MM:
            groups[-1][1].append(operation)
        else:
            groups.append((at, [operation]))
    if len(groups) > 1 and groups[0][0] + pitch - groups[-1][0] <= SAME_STOP_MM:
        groups[0][1].extend(groups.pop()[1])
    return [Visit(at_mm=at, operations=tuple(operations)) for at, operations in groups]


def _made(laid: Lay, capability: Capability, figures: Figures) -> Iterator[tuple[float, Operation]]:
    """Yield what stations do on the piece and where the bar's lead end then stands."""
    features = {(leg, f.id): f for leg in laid.legs for f in leg_of(laid.part, leg).features}
    for way in capability.ways:
        feature = features[way.leg, way.feature]
        if isinstance(feature, Hole | Slot | CentreMark):
            station = next(s for s in laid.machine.stations if s.name == way.station)
            operation = made(laid.machine, task_of(laid, way, feature), figures)
            yield station.x_mm + _from_lead(laid, feature.x_mm), operation


def _stamped(laid: Lay, by_hand: frozenset[str]) -> Iterator[tuple[float, Operation]]:
    """Yield what the marker stamps; what is struck by hand is not among it."""
    marker = laid.machine.marker
    for leg, stamp in _stamps(laid):
        if marker is not None and feature_path(leg, stamp.id) not in by_hand:
            text = laid.part.mark if stamp.text is None else stamp.text
            gauge = laid.legs[leg].from_heel(stamp.from_heel_mm)
            at = marker.x_mm + _from_lead(laid, stamp.x_mm)
            yield at, stamped(marker, len(text.replace(" ", "")), gauge)


def _stamps(laid: Lay) -> Iterator[tuple[LegName, Stamp]]:
    for leg in laid.legs:
        for feature in leg_of(laid.part, leg).features:
            if isinstance(feature, Stamp):
                yield leg, feature


def task_of(laid: Lay, way: Way, feature: Hole | Slot | CentreMark) -> Task:
    """Return what a station has to do for a feature, as it lies in the machine."""
    leg = laid.legs[way.leg]
    thickness = laid.part.section.thickness_mm
    depth, along, across, diameter = thickness, 0.0, 0.0, 0.0
    if isinstance(feature, Hole | Slot):
        depth = thickness if feature.depth_mm is None else min(feature.depth_mm, thickness)
    if isinstance(feature, Hole):
        diameter = feature.diameter_mm
    elif isinstance(feature, Slot):
        diameter = feature.width_mm
        direction = math.radians(leg.direction(feature.angle_deg))
        along = (feature.length_mm - feature.width_mm) * math.cos(direction)
        across = (feature.length_mm - feature.width_mm) * math.sin(direction)
    return Task(
        station=way.station,
        tool=way.tool,
        process=way.process,
        hits=way.hits,
        gauge_mm=leg.from_heel(feature.y_mm),
        depth_mm=depth,
        diameter_mm=diameter,
        along_mm=along,
        across_mm=across,
    )


def _from_lead(laid: Lay, x: float) -> float:
    """Return how far a place lies from the end of the piece that leads."""
    return x if laid.leads("start") else laid.part.length_mm - x


def _cuts(laid: Lay, by_hand: frozenset[str]) -> Iterator[tuple[float, Operation]]:
    cut = laid.machine.cut_off
    if cut is None:
        return
    area = section_area_mm2(laid.part.section)
    swung = {end: _swings(laid, end) if f"ends.{end}" not in by_hand else _SQUARE for end in _ENDS}
    for end in _ENDS if any(any(angles) for angles in swung.values()) else _ENDS[1:]:
        at = cut.x_mm + (0.0 if laid.leads(end) else laid.part.length_mm + lost_mm(cut))
        yield at, parted(cut, area, *swung[end])


_ENDS: Final[tuple[End, ...]] = ("start", "far")
_SQUARE: Final = (0.0, 0.0)


def _swings(laid: Lay, end: End) -> tuple[float, float]:
    """Return how far a cut is swung on the left and on the right side, degrees."""
    by_side = {own.side: end_angle_deg(laid.part, end, leg) for leg, own in laid.legs.items()}
    return by_side.get("left", 0.0), by_side.get("right", 0.0)
