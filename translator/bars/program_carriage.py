"""The carriage: where its jaw can hold a bar, and what the machine's profile asks of that place.

The jaw's foremost edge holds the bar at s = g, so with the bar at some feed it stands at
feed - g along the machine. Everything that is worked stays ahead of the jaw, by the tail less
the jaw's own length: that is what "can't be brought under the tools" comes to.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from msgspec import Struct

from translator.bars.program_model import Operation, Stamping
from translator.bars.program_stops import Halt
from translator.machines.handling import Grip
from translator.machines.profile import Machine
from translator.machines.ranges import Side
from translator.model import on_grid

GRID_MM: Final = 1e-6
"""One step of the grid of lengths."""


class Carriage(Struct, frozen=True, kw_only=True):
    """What the profile says of the carriage, worked out, and the bar that it holds.

    Attributes:
        grip: the profile's own words.
        clear: how far ahead of the jaw a tool must stay, millimetres.
        fore: foremost place of the jaw's foremost edge along the machine; None = no limit.
        bar_length: length of the bar.
        corners: of its section, as ``program_cuts.corners`` gives them.
    """

    grip: Grip
    clear: float
    fore: float | None
    bar_length: float
    corners: Sequence[Mapping[Side, float]]

    @property
    def jaw(self) -> float:
        """Length of bar that the jaw holds, millimetres; 0 where it is not said."""
        return self.grip.jaw_length_mm or 0.0

    @property
    def rearmost(self) -> float:
        """The greatest g: the jaw at the bar's trailing end."""
        return on_grid(self.bar_length - self.jaw)

    @property
    def back(self) -> float | None:
        """Rearmost place of the jaw's foremost edge along the machine; None = no limit."""
        if self.fore is None or self.grip.travel_mm is None:
            return None
        return on_grid(self.fore - self.grip.travel_mm)

    def stands(self, feed: float, g: float) -> float | None:
        """Return how far the carriage stands from its rearmost place; None = no travel given."""
        return None if self.back is None else on_grid(feed - g - self.back)

    def within(self, feed: float) -> tuple[float, float]:
        """Return the least and greatest g with which the carriage is within its travel."""
        if self.fore is None or self.back is None:
            return 0.0, self.rearmost
        return max(feed - self.fore, 0.0), min(feed - self.back, self.rearmost)

    def serving(self, stop: Halt) -> tuple[float, float]:
        """Return the least and greatest g that serve a stop; the range may be empty."""
        first, last = self.within(stop.feed), self.within(stop.last_feed)
        low = max(stop.place + self.clear, stop.reach(self.corners), first[0], last[0])
        if not self.grip.can_regrip:
            low = max(low, self.rearmost)  # it holds the trailing end and never lets go
        return low, min(first[1], last[1])

    def is_sound(self, at: float, g: float, done: Sequence[Halt]) -> bool:
        """Tell whether the jaw closes on whole steel, and the clamp holds the bar meanwhile.

        Args:
            at: feed at which the bar is taken.
            g: where.
            done: stops that are behind it.
        """
        rear = g + self.jaw
        trouble = () if self.grip.over_holes else holes(self.grip, done)
        if any(low < rear - GRID_MM and high > g + GRID_MM for low, high in trouble):
            return False
        if self.grip.clamp_x_mm is None or not done:
            return True
        under = at - self.grip.clamp_x_mm
        gone = max((stop.reach(self.corners) for stop in done if stop.cuts), default=0.0)
        return gone < under < self.bar_length and not g <= under <= rear


def carriage_of(
    machine: Machine, bar_length: float, corners: Sequence[Mapping[Side, float]]
) -> Carriage | None:
    """Work out a machine's carriage for a bar; None for a machine that has no grip."""
    grip = machine.grip
    if grip is None:
        return None
    clear = max(grip.tail_mm - (grip.jaw_length_mm or 0.0), 0.0)
    fore = grip.foremost_x_mm
    if grip.travel_mm is None:
        fore = None
    elif fore is None:
        fore = on_grid(max(_tool_places(machine)) - clear)
    return Carriage(grip=grip, clear=clear, fore=fore, bar_length=bar_length, corners=corners)


def _tool_places(machine: Machine) -> Iterator[float]:
    yield from (station.x_mm for station in machine.stations)
    if machine.marker is not None:
        yield machine.marker.x_mm
    if machine.cut_off is not None:
        yield machine.cut_off.x_mm


def holes(grip: Grip, done: Sequence[Halt]) -> Iterator[tuple[float, float]]:
    """Yield where along the bar holes lie so far in the zone that the jaw holds.

    Those of pieces that are gone come too; no jaw closes there anyway.
    """
    for stop in done:
        for job in stop.jobs:
            if _is_in_zone(grip, job.work):
                yield job.low, job.high


def _is_in_zone(grip: Grip, work: Operation | Stamping) -> bool:
    if isinstance(work, Stamping) or work.process == "mark":
        return False
    if grip.side not in (work.side, "both"):
        return False
    half = max(work.diameter_mm or 0.0, work.length_mm or 0.0, work.reamed_to_mm or 0.0) / 2.0
    gauges = [work.from_heel_mm]
    if work.to_from_heel_mm is not None:
        gauges.append(work.to_from_heel_mm)
    zone = grip.from_heel
    is_beyond = zone.most_mm is not None and min(gauges) - half >= zone.most_mm
    return not is_beyond and max(gauges) + half > zone.least_mm
