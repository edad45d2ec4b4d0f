"""The estimate: what a machine and its people take for an order, and for each tonne of it.

Times are seconds, masses kilograms and tonnes of 1000 kg; a short ton is 2,000 lb.
"""

from typing import Annotated, Final, Literal

from pydantic import Field

from translator.bars.clock import Activity
from translator.bars.plan_model import Count, Number
from translator.machines.ranges import Name
from translator.model.numbers import Frozen, SizeMm, Text

FORMAT: Final = "backmark/estimate"
"""Stands in the field ``format`` of every estimate."""

MAJOR: Final = 1
"""Changes when a reader written for the old form would misread the new one."""

VERSION: Final = f"{MAJOR}.0"
"""Stands in the field ``version``; the number behind the point counts added fields."""

KG_PER_SHORT_TON: Final = 907.18474
"""2,000 lb of exactly 0.45359237 kg (international yard and pound agreement, 1959)."""

KG_PER_TONNE: Final = 1000.0
SECONDS_PER_HOUR: Final = 3600.0

Span = Annotated[float, Field(ge=0, le=1e12, allow_inf_nan=False)]
"""A time in seconds, a mass, a rate or a share: not less than 0."""


class Assumed(Frozen):
    """A figure that the profile of the machine lacks and that was taken all the same.

    ``field`` is the field of the profile that would replace it.
    """

    what: Text
    value: Span
    unit: Text
    source: Text
    field: Text


class ActivityTime(Frozen):
    """Machine time of one activity, and its share of the whole in percent."""

    activity: Activity
    seconds: Span
    percent: Span


class EstimatedPiece(Frozen):
    """One mark: what each piece of it takes, cutting off included, and what all of them do.

    ``verdict`` is what the machine can make of it; of a piece that it can't make ``why`` says
    why, and it has no times. ``second_work`` is left to do by hand and no part of the times.
    ``stops`` is how often the bar stands still for a piece.
    """

    order: Text | None = None
    mark: Text
    revision: Text | None = None
    source: Text
    units: Literal["mm", "inch"] = "mm"
    section: Text
    grade: Text | None = None
    length_mm: SizeMm
    quantity: Number
    net_mass_kg: Span
    billed_mass_kg: Span
    verdict: Literal["complete", "with second work", "not"]
    why: Text = ""
    second_work: tuple[Text, ...] = ()
    holes: Count = 0
    stops: Count = 0
    cuts: Count = 0
    seconds: Span = 0.0
    pieces_per_hour: Span | None = None
    activities: tuple[ActivityTime, ...] = ()


class EstimatedBars(Frozen):
    """Bars that are alike in section, grade and length.

    ``seconds`` is machine time of one such bar on the average, with its pieces; ``attended``
    what a person is needed for it. ``id`` names the one bar that it is, where it is one.
    """

    id: Text = ""
    section: Text
    grade: Text | None = None
    units: Literal["mm", "inch"] = "mm"
    length_mm: SizeMm
    bars: Count
    pieces: Count
    seconds: Span
    attended_seconds: Span


class Setups(Frozen):
    """What is done once for each mark, section or tool."""

    activity: Activity
    count: Count
    seconds: Span


class Totals(Frozen):
    """The whole of an order on one machine.

    Billed mass is mass per metre times length, net mass that of the finished pieces. Hours for
    each tonne are given on both; absent where nothing is made.
    """

    marks: Count
    pieces: Count
    bars: Count
    machine_seconds: Span
    man_seconds: Span
    net_tonnes: Span
    billed_tonnes: Span
    pieces_per_hour: Span | None = None
    man_hours_per_billed_tonne: Span | None = None
    man_hours_per_billed_short_ton: Span | None = None
    man_hours_per_net_tonne: Span | None = None
    man_hours_per_net_short_ton: Span | None = None
    machine_hours_per_billed_tonne: Span | None = None
    machine_hours_per_billed_short_ton: Span | None = None


class EqualMarks(Frozen):
    """Marks that are one piece. ``is_turned`` says that some lie the other way round."""

    marks: tuple[Text, ...]
    is_turned: bool = False


class Merging(Frozen):
    """What is saved when equal marks are set up and measured once."""

    groups: tuple[EqualMarks, ...] = ()
    setups_saved: Count = 0
    seconds_saved: Span = 0.0
    man_hours_per_billed_tonne: Span | None = None
    man_hours_per_billed_short_ton: Span | None = None


class MachineEstimate(Frozen):
    """The estimate of one machine.

    ``basis``: "parts" = reckoned from the parts as if each bar held one mark only; "programs" =
    clocked stop by stop from the programs of planned bars.
    """

    machine: Name
    basis: Literal["parts", "programs"]
    pieces: tuple[EstimatedPiece, ...]
    bars: tuple[EstimatedBars, ...] = ()
    setups: tuple[Setups, ...] = ()
    activities: tuple[ActivityTime, ...] = ()
    totals: Totals
    merging: Merging = Merging()
    assumptions: tuple[Assumed, ...] = ()
    method: tuple[Text, ...] = ()


class Estimate(Frozen):
    """Estimates of one order on one machine or several.

    ``common`` compares them, in the same order, by the marks that all of them can make;
    ``common_marks`` counts those. Both say nothing for a single machine.
    """

    machines: tuple[MachineEstimate, ...]
    common_marks: Count = 0
    common: tuple[Totals, ...] = ()
