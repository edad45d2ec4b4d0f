"""Stops: the places along the piece at which a machine has something to do."""

from typing import Final

from msgspec import Struct

from translator.geometry.contours import bounds
from translator.model import LegName, Opening, Part, Scribe, leg_names, leg_of, on_grid
from translator.model.features import Feature

SAME_STOP_MM: Final = 0.05
"""Features no farther apart along x than this are made without moving the bar."""


class Stop(Struct, frozen=True, kw_only=True):
    """One place along the piece.

    Attributes:
        x_mm: x of its first feature.
        operations: leg and feature id of each feature, by x, then leg, then order in the leg.
    """

    x_mm: float
    operations: tuple[tuple[LegName, str], ...]


def feature_x(feature: Feature) -> float:
    """Return the x that a feature is worked at, millimetres on the grid.

    A hole, slot or mark: its middle; a stamp: the left end of its text; an opening: the middle
    of its extent; a scribed line: its least x.
    """
    if isinstance(feature, Opening):
        left, _, right, _ = bounds(feature.contour)
        return on_grid((left + right) / 2.0)
    if isinstance(feature, Scribe):
        return on_grid(bounds(feature.line, closed=feature.closed)[0])
    return feature.x_mm


def stops(part: Part) -> tuple[Stop, ...]:
    """Group the features of all legs by their x, from the start end on.

    A stop begins at the first feature left over and takes what lies within 0.05 mm of it.
    """
    rows = sorted(
        (feature_x(feature), leg_index, index, leg, feature.id)
        for leg_index, leg in enumerate(leg_names(part))
        for index, feature in enumerate(leg_of(part, leg).features)
    )
    groups: list[tuple[float, list[tuple[LegName, str]]]] = []
    for x, _, _, leg, feature_id in rows:
        if groups and on_grid(x - groups[-1][0]) <= SAME_STOP_MM:
            groups[-1][1].append((leg, feature_id))
        else:
            groups.append((x, [(leg, feature_id)]))
    return tuple(Stop(x_mm=x, operations=tuple(operations)) for x, operations in groups)
