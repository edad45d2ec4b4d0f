"""What is done at one stop of a bar program: operations of tools, stamps and cuts."""

from typing import Annotated, Literal

from pydantic import Field

from translator.bars.plan_model import Number
from translator.machines.ranges import Side
from translator.machines.stations import Face
from translator.model.features import Identifier
from translator.model.numbers import CutDegrees, Degrees, Frozen, Mm, OffsetMm, SizeMm, Text
from translator.model.part import LegName

Line = Annotated[int, Field(ge=1)]


class SourcePlace(Frozen):
    """Where something is written: a file and a line of it."""

    file: Text
    line: Line


class Operation(Frozen):
    """One thing that one tool does at a stop.

    ``process``: a "punch" hits, a "drill" drills, a "mill" cutter goes in at this place and moves
    on to ``to_bar_mm`` and ``to_from_heel_mm`` (``to_gauge_mm``), "mark" only marks the centre.
    ``tool`` is absent where a drill of any size spots the centre. Sizes are those of the tool; a
    round one has ``diameter_mm``, an oblong one ``width_mm``, ``length_mm`` and
    ``direction_deg``, the direction of its long axis from the way the bar travels, positive
    towards the toe.
    ``from_heel_mm`` is the gauge from the heel (on a flat from the edge at the heel's place),
    ``gauge_mm`` what the machine shows, from its own datum. ``x_mm`` and ``y_mm`` are the same
    place on the piece, as drawn. ``depth_mm`` absent = through. ``hit`` of ``hits`` counts the
    hits that make one feature. ``reamed_to_mm`` is the size that second work brings it to.
    """

    kind: Literal["operation"] = "operation"
    process: Literal["punch", "drill", "mill", "mark"]
    station: Text
    tool: Text | None = None
    side: Side
    enters: Face
    shape: Literal["round", "oblong", "centre"]
    diameter_mm: SizeMm | None = None
    width_mm: SizeMm | None = None
    length_mm: SizeMm | None = None
    direction_deg: Degrees | None = None
    bar_mm: Mm
    from_heel_mm: Mm
    gauge_mm: Mm
    to_bar_mm: Mm | None = None
    to_from_heel_mm: Mm | None = None
    to_gauge_mm: Mm | None = None
    depth_mm: SizeMm | None = None
    hit: Number = 1
    hits: Number = 1
    reamed_to_mm: SizeMm | None = None
    piece: Number
    mark: Text
    leg: LegName
    feature: Identifier
    x_mm: Mm
    y_mm: Mm
    source: SourcePlace


class Stamping(Frozen):
    """Letters that the marker stamps at a stop.

    ``bar_mm`` and ``from_heel_mm`` are the left end of the text as read and the edge of the
    letters that its feature is placed by; that end stands at the marker. ``reading_deg`` is the
    direction that the text reads in, from the way the bar travels, positive towards the toe.
    ``nearest_mm`` is the gauge of the letters' edge nearest the heel, ``gauge_mm`` the same from
    the machine's own datum. ``is_moved`` says that the text stands elsewhere than drawn, since
    the part lets it.
    """

    kind: Literal["stamp"] = "stamp"
    text: Text
    height_mm: SizeMm
    side: Side
    bar_mm: Mm
    from_heel_mm: Mm
    nearest_mm: Mm
    gauge_mm: Mm
    reading_deg: Degrees
    is_moved: bool = False
    piece: Number
    mark: Text
    leg: LegName
    feature: Identifier
    x_mm: Mm
    y_mm: Mm
    source: SourcePlace


class Cut(Frozen):
    """One cut of the shear or saw.

    It takes the steel between two parallel planes: ``heel_mm`` is the one nearer the lead end,
    on the heel line, and stands at the shear's or saw's own place; ``loss_mm`` is the distance
    along the bar to the other. ``left_deg`` and ``right_deg`` are its swing on each side,
    positive where the plane lies farther the way the bar travels at the toe than at the heel.
    ``frees`` is the number of the piece that comes off; absent for a cut that takes off scrap.
    ``serves`` says whose end it makes: that of the piece ``ahead``, of the one ``behind``, of both
    or of none ("trim").
    """

    kind: Literal["cut"] = "cut"
    type: Literal["saw", "slug", "single"]
    serves: Literal["ahead", "behind", "both", "trim"]
    ahead: Number | None = None
    behind: Number | None = None
    frees: Number | None = None
    heel_mm: Mm
    loss_mm: OffsetMm
    left_deg: CutDegrees = 0.0
    right_deg: CutDegrees = 0.0
    is_shared_mitre: bool = False
