"""The setup sheet: what a machine must have in it before a batch is run.

Gathered from what is to be done, told either by the parts with their quantities, as the machine
would take each of them alone, or by the programs of planned bars.
"""

from typing import Literal

from msgspec import Struct

from translator.bars.wording import Units
from translator.machines.ranges import Sides


class ToolUse(Struct, frozen=True, kw_only=True):
    """One thing a station does, so many times.

    Attributes:
        station: name of the station.
        tool: number of the tool, "" for a mark that a drill of any size spots.
        mark: piece mark it is for.
        from_heel_mm: gauge from the edge at the heel's place.
        gauge_mm: what the machine shows.
        count: how often it hits or goes in, over all pieces.
    """

    station: str
    tool: str
    mark: str
    from_heel_mm: float
    gauge_mm: float
    count: int


class StampUse(Struct, frozen=True, kw_only=True):
    """A text that the marker stamps on so many pieces."""

    mark: str
    text: str
    height_mm: float
    count: int


class StockUse(Struct, frozen=True, kw_only=True):
    """Bars, or pieces cut to length, of one section, grade and length."""

    section: str
    grade: str
    units: Units
    length_mm: float
    count: int
    heats: tuple[str, ...] = ()


class Measure(Struct, frozen=True, kw_only=True):
    """One thing to measure on the first piece of a mark: where, what, nominal size in mm."""

    leg: str
    what: str
    sizes_mm: tuple[float, ...]


class FirstPiece(Struct, frozen=True, kw_only=True):
    """A mark, and what is measured on its first piece."""

    mark: str
    order: str
    revision: str
    section: str
    units: Units
    quantity: int
    lead_end: str
    measures: tuple[Measure, ...]
    second_work: tuple[str, ...] = ()


class SetupTool(Struct, frozen=True, kw_only=True):
    """A tool that the batch needs.

    Attributes:
        number: its number.
        what: its shape and size in words, in the unit that most marks of the batch are in.
        place: whether it stands in the station, must be fetched, or is not held at all.
        change_s: time to put it in, None where the profile does not say.
        uses: hits or holes over the batch.
        marks: marks that need it.
    """

    number: str
    what: str
    place: Literal["loaded", "crib"]
    change_s: float | None
    uses: int
    marks: tuple[str, ...]


class SetupGauge(Struct, frozen=True, kw_only=True):
    """A gauge that a station is set to: from the heel, as the machine shows it, how often."""

    from_heel_mm: float
    gauge_mm: float
    uses: int


class SetupStation(Struct, frozen=True, kw_only=True):
    """A station with the tools and gauges of the batch, in the order of the profile."""

    name: str
    side: Sides
    process: Literal["punch", "drill"]
    tools: tuple[SetupTool, ...]
    gauges: tuple[SetupGauge, ...]
    not_used: tuple[str, ...]


class SetupStamps(Struct, frozen=True, kw_only=True):
    """The stamp set: letters and heights that the batch needs, and what is not held."""

    side: Sides
    heights_mm: tuple[float, ...]
    letters: str
    missing: str
    stamps: tuple[StampUse, ...]


class Setup(Struct, frozen=True, kw_only=True):
    """A setup sheet.

    Attributes:
        machine: name of the machine.
        units: unit that most of its marks are written in.
        stations: those that have something to do.
        idle: names of those that have not.
        stamps: the stamp set; None where nothing is stamped.
        stock: what is loaded.
        first_pieces: what is measured, mark by mark.
        not_made: mark and why, of what the machine can't make.
        remarks: further sentences.
    """

    machine: str
    units: Units
    stations: tuple[SetupStation, ...]
    idle: tuple[str, ...]
    stamps: SetupStamps | None
    stock: tuple[StockUse, ...]
    first_pieces: tuple[FirstPiece, ...]
    not_made: tuple[tuple[str, str], ...] = ()
    remarks: tuple[str, ...] = ()
