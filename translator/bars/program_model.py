"""The bar program: what a machine does to one bar, stop by stop, in no machine's language.

Bar coordinates as in the plan: s (``bar_mm``) runs from the lead end of the bar against the way
it travels. ``feed_mm`` is where the lead end of the bar stands along the machine, counted from
machine zero and positive the way the bar travels, also when that end has been cut off long
since. So what lies at s stands at ``feed_mm`` - s, and a tool at x works at s = ``feed_mm`` - x.
All lengths are millimetres on the grid of the part model.
"""

from typing import Annotated, Final, Literal

from pydantic import Field

from translator.bars.plan_model import Count, Number
from translator.bars.program_work import Cut, Operation, SourcePlace, Stamping
from translator.machines.handling import Placement
from translator.machines.ranges import Sides
from translator.model.features import Identifier
from translator.model.numbers import Frozen, Mm, OffsetMm, SizeMm, Text
from translator.model.part import LegName

__all__ = [
    "Cut",
    "GripBar",
    "Load",
    "Measure",
    "Move",
    "Operation",
    "Program",
    "ProgramDrop",
    "ProgramPiece",
    "ProgramTool",
    "Refused",
    "SecondWork",
    "SourcePlace",
    "Stamping",
    "Step",
    "Stop",
    "ToolChange",
    "Unload",
]

FORMAT: Final = "backmark/program"
"""Stands in the field ``format`` of every bar program."""

MAJOR: Final = 1
"""Changes when a reader written for the old form would misread the new one."""

VERSION: Final = f"{MAJOR}.0"
"""Stands in the field ``version``; the number behind the point counts added fields."""


class SecondWork(Frozen):
    """Work on a piece that this machine does not do.

    ``element`` is its path in the part; ``leg`` and ``feature`` are there where it is a feature.
    """

    what: Text
    why: Text
    element: Text
    leg: LegName | None = None
    feature: Identifier | None = None
    source: SourcePlace


class ProgramPiece(Frozen):
    """One piece of the bar.

    ``number`` counts from 1 at the lead end. The piece lies from ``lead_mm`` to ``trail_mm``,
    its outermost points; ``placement`` says which of its ends leads and where leg a lies.
    """

    number: Number
    order: Text | None = None
    mark: Text
    revision: Text | None = None
    index: Number
    count: Number
    length_mm: SizeMm
    lead_mm: OffsetMm
    trail_mm: OffsetMm
    placement: Placement
    source: SourcePlace
    second_work: tuple[SecondWork, ...] = ()


class Load(Frozen):
    """The bar is laid in, its lead end at ``feed_mm``."""

    kind: Literal["load"] = "load"
    feed_mm: Mm


class ToolChange(Frozen):
    """A tool is fetched from the crib and put into a station."""

    kind: Literal["tool_change"] = "tool_change"
    station: Text
    tool: Text


class GripBar(Frozen):
    """The carriage takes the bar, with the bar at ``feed_mm``.

    The jaw holds it from ``from_mm`` to ``to_mm``, bar coordinates. ``is_regrip`` says that it
    let go first. ``carriage_mm`` is how far the carriage then stands from its rearmost place;
    absent where the profile gives it no travel.
    """

    kind: Literal["grip"] = "grip"
    is_regrip: bool
    feed_mm: Mm
    from_mm: OffsetMm
    to_mm: OffsetMm
    carriage_mm: Mm | None = None


class Move(Frozen):
    """The bar goes on with nothing to do, to be gripped again."""

    kind: Literal["move"] = "move"
    feed_mm: Mm
    carriage_mm: Mm | None = None


class Stop(Frozen):
    """The bar stands still and everything in ``operations``, in order, is done.

    ``number`` counts from 1. ``counter_mm`` is what the machine's counter of lengths shows: what
    of the bar lies beyond machine zero, counted from the end that the profile's datum names.
    """

    kind: Literal["stop"] = "stop"
    number: Number
    feed_mm: Mm
    counter_mm: Mm
    carriage_mm: Mm | None = None
    operations: tuple[Annotated[Operation | Stamping | Cut, Field(discriminator="kind")], ...]


class Measure(Frozen):
    """Stop: the first piece of a mark is measured before anything else is done."""

    kind: Literal["measure"] = "measure"
    piece: Number
    mark: Text
    length_mm: SizeMm
    instruction: Text


class Unload(Frozen):
    """What is left of the bar is taken away."""

    kind: Literal["unload"] = "unload"


Step = Annotated[
    Load | ToolChange | GripBar | Move | Stop | Measure | Unload, Field(discriminator="kind")
]


class ProgramTool(Frozen):
    """A tool that the program uses, and how often it hits or goes in."""

    station: Text
    tool: Text
    side: Sides
    shape: Literal["round", "oblong", "centre"]
    diameter_mm: SizeMm | None = None
    width_mm: SizeMm | None = None
    length_mm: SizeMm | None = None
    is_fetched: bool = False
    uses: Count


class ProgramDrop(Frozen):
    """What is left of the bar behind its last cut."""

    length_mm: OffsetMm
    kind: Literal["remnant", "scrap", "none"]
    label: Text = ""


class Refused(Frozen):
    """Why a piece, and with it the program of its bar, can't be made, and what would help.

    ``piece`` and ``mark`` are absent where it is the bar as a whole.
    """

    rule: Text
    message: Text
    remedy: Text
    piece: Number | None = None
    mark: Text | None = None
    element: Text = ""
    source: SourcePlace | None = None


class Program(Frozen):
    """The program of one bar.

    ``length_mm`` is the bar as the stock list has it; ``measured_mm`` absent: measure it before
    it is loaded, and do not run the program on a bar shorter than ``least_length_mm``.
    ``lead_end`` "unmarked": the end without the heat number goes in first. ``left_leg_mm`` and
    ``right_leg_mm`` are the sizes of what lies on each side. A program with anything ``refused``
    has no steps.
    """

    machine: Text
    bar_id: Text
    bar: Number
    stock: Text
    heat: Text | None = None
    certificate: Text | None = None
    location: Text | None = None
    is_remnant: bool = False
    length_mm: SizeMm
    measured_mm: SizeMm | None = None
    least_length_mm: OffsetMm
    section: Text
    grade: Text | None = None
    units: Literal["mm", "inch"] = "mm"
    thickness_mm: SizeMm | None = None
    left_leg_mm: SizeMm | None = None
    right_leg_mm: SizeMm | None = None
    heel: Literal["down", "up"] = "down"
    lead_end: Literal["either", "unmarked"] = "either"
    front_trim_mm: OffsetMm
    tail_mm: OffsetMm
    drop: ProgramDrop
    pieces: tuple[ProgramPiece, ...]
    tools: tuple[ProgramTool, ...] = ()
    steps: tuple[Step, ...] = ()
    refused: tuple[Refused, ...] = ()
    remarks: tuple[Text, ...] = ()
