"""How a bar lies and moves in a machine: placements, datum, grip, marker, times."""

from typing import Annotated, Final, Literal

from pydantic import Field, model_validator

from translator.machines.ranges import Positive, Range, Seconds, Share, Side, Sides
from translator.model.numbers import Frozen, Mm, OffsetMm, SizeMm, Text
from translator.model.trims import End

LETTER_WIDTH: Final = 0.6
"""Width of a letter with its gap as a share of its height; common practice, no source."""


class Placement(Frozen):
    """One way to lay an angle into the machine.

    ``lead_end`` goes in first. ``heel`` "down": both legs rise from it (a V, or one leg lying
    and one standing); "up": both hang from it. ``leg_a`` is the side that leg a then lies on.
    A bar is no mirror of itself: with the start end leading and the heel down leg a can only
    lie left, and turning the bar end for end, or its heel up, changes the sides.
    """

    lead_end: End
    heel: Literal["down", "up"] = "down"
    leg_a: Side

    @model_validator(mode="after")
    def _is_no_mirror(self) -> "Placement":
        side = leg_a_side(self.lead_end, self.heel)
        if self.leg_a != side:
            raise ValueError(
                f"with the {self.lead_end} end leading and the heel {self.heel}, leg a lies {side};"
                f" {self.leg_a} would be the mirror image"
            )
        return self


def leg_a_side(lead_end: End, heel: str) -> Side:
    """Return the side that leg a lies on, which follows from the hand of the bar.

    Looking the way the bar travels with the start end leading, leg b lies a quarter turn
    clockwise from leg a about the heel.
    """
    return "left" if (lead_end == "start") == (heel == "down") else "right"


BOTH_FEEDS: Final = (
    Placement(lead_end="start", leg_a="left"),
    Placement(lead_end="far", leg_a="right"),
)
"""Heel down, either end first."""


class Datum(Frozen):
    """Where a machine counts from.

    ``along`` is the end that lengths are measured from; ``across`` the edge that gauges are
    measured from, and ``gauge_at_datum_mm`` the gauge that is shown when a tool stands there.
    """

    along: Literal["lead-end", "trailing-end"] = "lead-end"
    across: Literal["heel", "toe"] = "heel"
    gauge_at_datum_mm: Mm = 0.0


class Grip(Frozen):
    """What feeds the bar, at its trailing end.

    ``side`` and ``from_heel`` say which zone of the section the jaw holds, ``jaw_length_mm`` how
    much of the bar's length. ``tail_mm`` is the length at the trailing end that can't be
    brought under the tools. ``travel_mm`` is how far the carriage goes, ``foremost_x_mm`` where
    the jaw's foremost edge stands when it is all the way forward; absent = where just the tail
    is out of reach of the foremost tool. ``over_holes`` says that the jaw may close on steel
    that has holes in its zone. ``clamp_x_mm`` is where the machine holds the bar while the
    carriage takes it again; absent = it is held wherever it lies.
    """

    jaw_length_mm: SizeMm | None = None
    side: Sides = "both"
    from_heel: Range = Range()
    tail_mm: OffsetMm = 0.0
    can_regrip: bool = False
    travel_mm: SizeMm | None = None
    foremost_x_mm: Mm | None = None
    over_holes: bool = True
    clamp_x_mm: Mm | None = None


class Marker(Frozen):
    """A unit that stamps letters on the outer face.

    ``characters`` absent = any. ``from_heel`` is where the edge of the letters nearest the heel
    can stand. ``keep_out_mm`` is the least distance of the letters to holes and ends.
    ``letter_width`` is the width of a letter with its gap as a share of its height. ``turns``
    says that it can write across the bar too.
    """

    x_mm: Mm = 0.0
    side: Sides
    heights_mm: Annotated[tuple[SizeMm, ...], Field(min_length=1, max_length=50)]
    characters: Annotated[Text, Field(min_length=1)] | None = None
    from_heel: Range = Range()
    keep_out_mm: OffsetMm | None = None
    letter_width: Share = LETTER_WIDTH
    turns: bool = False
    time_s: Seconds | None = None
    character_time_s: Seconds | None = None


class Times(Frozen):
    """Speeds and times of the machine as a whole; absent = not known.

    ``attended_time_s`` is how long a person is needed for one bar. ``stations_at_once`` says
    that stations work at the same time when the bar stands still. ``mark_setup_time_s`` and
    ``first_piece_time_s`` are spent once for each mark, ``section_change_time_s`` once for each
    section.
    """

    feed_speed_mm_per_s: Positive | None = None
    feed_acceleration_mm_per_s2: Positive | None = None
    gauge_speed_mm_per_s: Positive | None = None
    gauge_acceleration_mm_per_s2: Positive | None = None
    stations_at_once: bool | None = None
    settle_time_s: Seconds | None = None
    regrip_time_s: Seconds | None = None
    load_time_s: Seconds | None = None
    unload_time_s: Seconds | None = None
    attended_time_s: Seconds | None = None
    mark_setup_time_s: Seconds | None = None
    first_piece_time_s: Seconds | None = None
    section_change_time_s: Seconds | None = None
