"""The cutting plan: which bars to load, what comes off each in what order, what is left.

Bar coordinates: s runs along a bar from its lead end, 0 at the end face that goes in first,
and grows towards the trailing end, against the way the bar travels. It is measured on the
outer faces. A piece occupies the bar by its envelope there: from the outermost point of the
end that leads, ``lead_mm``, to the outermost point of the other, ``lead_mm`` plus its length.
All lengths are millimetres on the grid of the part model.
"""

from typing import Annotated, Final, Literal

from pydantic import AfterValidator, Field

from translator.lengths.grid import on_grid
from translator.machines.handling import Placement
from translator.machines.ranges import Positive, Side
from translator.model.numbers import CutDegrees, Frozen, Mm, OffsetMm, SizeMm, Text

FORMAT: Final = "backmark/plan"
"""Stands in the field ``format`` of every cutting plan."""

MAJOR: Final = 1
"""Changes when a reader written for the old form would misread the new one."""

VERSION: Final = f"{MAJOR}.0"
"""Stands in the field ``version``; the number behind the point counts added fields."""

Count = Annotated[int, Field(ge=0, le=10_000_000)]
Number = Annotated[int, Field(ge=1, le=10_000_000)]

TotalMm = Annotated[float, Field(ge=0, le=1e12, allow_inf_nan=False), AfterValidator(on_grid)]
"""A sum of lengths in millimetres: of many bars it is more than any one length may be."""


class PlannedPiece(Frozen):
    """One piece on a bar.

    ``number`` counts the pieces of the bar from 1 at the lead end. ``index`` of ``count`` is the
    piece among all pieces of its mark in this plan. ``placement`` is how it lies in the machine:
    its end that leads, and the side that its leg a lies on.
    """

    number: Number
    order: Text | None = None
    mark: Text
    revision: Text | None = None
    index: Number
    count: Number
    length_mm: SizeMm
    lead_mm: OffsetMm
    placement: Placement
    source: Text
    phase: Text | None = None
    lot: Text | None = None
    priority: int = 0

    @property
    def trail_mm(self) -> float:
        """Bar coordinate of the outermost point of the piece's trailing end, millimetres."""
        return round(self.lead_mm + self.length_mm, 6)

    @property
    def is_turned(self) -> bool:
        """Whether the piece lies turned end for end: its far end leads."""
        return self.placement.lead_end == "far"

    def bar_mm(self, x: float) -> float:
        """Return the bar coordinate of a place on the piece, x from its start end."""
        along = self.length_mm - x if self.is_turned else x
        return round(self.lead_mm + along, 6) + 0.0


class PlannedCut(Frozen):
    """One cut of the shear or saw through the bar.

    It takes the steel between two parallel planes. ``heel_mm`` is the bar coordinate of the one
    nearer the lead end, on the heel line (on a flat, at the edge at the heel's place), and
    ``loss_mm`` the distance along the bar to the other: kerf or slug; 0 for a single shear cut.
    ``left_deg`` and ``right_deg`` are its swing on each side as the machine profile counts it:
    positive = the plane lies farther towards the lead end at the toe than at the heel, so
    s = heel_mm - tan(angle) * y. ``serves`` says which of the two planes makes an end: of the
    piece ahead (towards the lead end), of the piece behind, of both, or of neither ("trim").
    ``ahead`` and ``behind`` are the numbers of those pieces on the bar, absent where the cut
    makes no end of one.
    """

    kind: Literal["saw", "slug", "single"]
    serves: Literal["ahead", "behind", "both", "trim"]
    ahead: Number | None = None
    behind: Number | None = None
    heel_mm: Mm
    loss_mm: OffsetMm
    left_deg: CutDegrees = 0.0
    right_deg: CutDegrees = 0.0
    is_shared_mitre: bool = False


class Drop(Frozen):
    """What is left of a bar behind its last cut, dead length and all.

    ``length_mm`` is the length with the whole section, at its shortest. ``label`` is what is
    written on it: the id under which a remnant comes back into stock.
    """

    length_mm: OffsetMm
    kind: Literal["remnant", "scrap", "none"]
    label: Text = ""
    is_square: bool = True


_LongLeg = Annotated[Side, "side"]
"""Marked, since two unions of the same words in another order (a thread's hand) are one to the
``typing`` module: the schema would follow which of them was imported first."""


class PlannedBar(Frozen):
    """One bar to load.

    ``number`` is its place in the order of loading. ``pattern`` is the same on bars that are
    cut alike. ``stock`` is the line of the stock list or the remnant that it is. ``tail_mm`` is
    the length at the trailing end that the machine can't feed; it is part of the drop.
    ``is_bought``: it is none of those on hand. ``lead_end`` "unmarked": the end with the heat
    number goes in last, so that the drop keeps it.
    ``long_leg`` is the side on which the longer leg lies; absent where both are alike.
    """

    number: Number
    group: Number
    pattern: Number
    stock: Text
    is_remnant: bool = False
    is_bought: bool = False
    length_mm: SizeMm
    measured_mm: SizeMm | None = None
    heat: Text | None = None
    certificate: Text | None = None
    location: Text | None = None
    lead_end: Literal["either", "unmarked"] = "either"
    section: Text
    grade: Text | None = None
    heel: Literal["down", "up"] = "down"
    long_leg: _LongLeg | None = None
    front_trim_mm: OffsetMm
    pieces: tuple[PlannedPiece, ...]
    cuts: tuple[PlannedCut, ...]
    tail_mm: OffsetMm
    drop: Drop

    @property
    def used_mm(self) -> float:
        """Length of steel that goes into pieces, each by its envelope, millimetres."""
        return round(sum(piece.length_mm for piece in self.pieces), 6)


class PlannedGroup(Frozen):
    """What was planned together: one section and grade.

    ``cost``, ``lower_bound`` and ``without_sharing`` are in ``cost_unit``. No plan of the group
    under the same rules can cost less than ``lower_bound``; ``gap_percent`` is how much more
    than that the plan costs, 0 when it is the best there is. ``method`` says how it was found.
    ``without_sharing`` is the cost of the plan without shared mitre cuts, where they were asked
    for.
    """

    number: Number
    section: Text
    grade: Text | None = None
    units: Literal["mm", "inch"] = "mm"
    mass_per_metre_kg: Positive
    pieces: Count
    bars: Count
    patterns: Count
    stock_mm: TotalMm
    pieces_mm: TotalMm
    cost_unit: Literal["mm", "price"] = "mm"
    cost: Annotated[float, Field(ge=0)]
    lower_bound: Annotated[float, Field(ge=0)]
    gap_percent: Annotated[float, Field(ge=0)]
    method: Literal["optimal", "within-gap", "heuristic", "nothing-to-plan"]
    note: Text = ""
    without_sharing: Annotated[float, Field(ge=0)] | None = None


class PlannedMark(Frozen):
    """What was asked of one mark, and what became of it.

    To plan are ``quantity`` less ``done`` plus ``recut``; ``planned`` of them lie on bars.
    ``fingerprint`` is that of the part (``translator.bars.fingerprint``), so that a program is
    never made from a plan and a part that was changed after it.
    """

    order: Text | None = None
    mark: Text
    revision: Text | None = None
    title: Text | None = None
    source: Text
    group: Number | None = None
    length_mm: SizeMm
    quantity: Count
    done: Count = 0
    recut: Count = 0
    planned: Count = 0
    phase: Text | None = None
    lot: Text | None = None
    priority: int = 0
    second_work: tuple[Text, ...] = ()
    fingerprint: Text | None = None


class Unplaced(Frozen):
    """Pieces that are on no bar, and why: nothing is left out silently."""

    order: Text | None = None
    mark: Text
    source: Text
    count: Count
    kind: Literal["refused", "on-hold", "machine", "stock", "later"]
    why: Text


class StockLine(Frozen):
    """One line of a stock list: so many bars that are alike, or one remnant.

    ``id`` is the remnant's id or the line's own; ``count`` absent = as many as are wanted.
    """

    id: Text
    section: Text
    grade: Text | None = None
    length_mm: SizeMm
    count: Count | None = None
    is_remnant: bool = False
    heat: Text | None = None
    certificate: Text | None = None
    location: Text | None = None
    price: Annotated[float, Field(ge=0)] | None = None


class PlanOptions(Frozen):
    """What the plan was made under; lengths in millimetres."""

    cut: Literal["saw", "slug", "single", "none"]
    loss_mm: OffsetMm
    front_trim_mm: OffsetMm
    tail_mm: OffsetMm
    least_remnant_mm: OffsetMm
    remnants: Literal["first", "equal", "keep"] = "first"
    shared_mitres: bool = False
    phases: tuple[Text, ...] = ()


class Plan(Frozen):
    """A cutting plan: bars in the order of loading, and everything that is on none."""

    machine: Text
    options: PlanOptions
    groups: tuple[PlannedGroup, ...] = ()
    marks: tuple[PlannedMark, ...] = ()
    bars: tuple[PlannedBar, ...] = ()
    unplaced: tuple[Unplaced, ...] = ()
    left: tuple[StockLine, ...] = ()
    remarks: tuple[Text, ...] = ()
