"""Frozen parts: what was designed, in millimetres and degrees, and nothing else.

The frame. x runs along the piece from its start end, 0 at the outermost point that the
start end has on an outer face. Each leg has its own y: 0 at the heel, growing to the toe, on
the outer face. A flat has one face with y from its lower long edge. Angles and bulges are
positive from +x towards the toe on *both* legs, so leg b's frame is left-handed seen from
outside; an emitter flips it there.
"""

from translator.lengths.grid import on_grid, slot_direction
from translator.model.ends import AngleEnd, AngleEnds, FlatEnd, FlatEnds
from translator.model.features import (
    CentreMark,
    Feature,
    Hole,
    Opening,
    Scribe,
    Slot,
    Stamp,
    Vertex,
)
from translator.model.part import (
    AngleLegs,
    FlatLegs,
    Leg,
    LegName,
    Part,
    Stated,
    Waiver,
    derived_id,
    feature_path,
    leg_names,
    leg_of,
    trim_path,
)
from translator.model.places import Placed, lines_beyond, place_of
from translator.model.sections import Angle, Flat, Section, leg_thickness, leg_width
from translator.model.trims import Clip, Cope, Notch, OutlineTrim, Rounding, Trim

__all__ = [
    "Angle",
    "AngleEnd",
    "AngleEnds",
    "AngleLegs",
    "CentreMark",
    "Clip",
    "Cope",
    "Feature",
    "Flat",
    "FlatEnd",
    "FlatEnds",
    "FlatLegs",
    "Hole",
    "Leg",
    "LegName",
    "Notch",
    "Opening",
    "OutlineTrim",
    "Part",
    "Placed",
    "Rounding",
    "Scribe",
    "Section",
    "Slot",
    "Stamp",
    "Stated",
    "Trim",
    "Vertex",
    "Waiver",
    "derived_id",
    "feature_path",
    "leg_names",
    "leg_of",
    "leg_thickness",
    "leg_width",
    "lines_beyond",
    "on_grid",
    "place_of",
    "slot_direction",
    "trim_path",
]
