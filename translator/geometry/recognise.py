"""Recognise the ends and trims of a piece from the contours of its legs.

The inverse of ``leg_outline``. Whatever is recognised is proved: the outlines are derived again
and held against the contours, corner by corner. What cannot be proved stays an explicit outline.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import islice, product
from types import MappingProxyType
from typing import Final

from msgspec import Struct

from translator.geometry import edges
from translator.geometry.contours import Contour, arranged, contour_edges, vertex
from translator.geometry.fitting import corner_trims, cut_angles, notch_trim
from translator.geometry.outline import leg_outline
from translator.geometry.tracing import (
    NEAR_MM,
    EndReading,
    LegReading,
    read_leg,
    straightened,
)
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    Cope,
    Flat,
    FlatEnd,
    FlatEnds,
    FlatLegs,
    Leg,
    LegName,
    OutlineTrim,
    Part,
    Trim,
    leg_width,
)
from translator.model.trims import End

_ENDS: Final[tuple[End, ...]] = ("start", "far")
_B_FIRST: Final[tuple[LegName, ...]] = ("b", "a")
_MOST_WAYS: Final = 64


class Recognised(Struct, frozen=True, kw_only=True):
    """The shape of a piece in the words of the model.

    Attributes:
        ends: both end cuts.
        trims: of each leg; a leg that keeps its contour has the one trim "outline".
    """

    ends: AngleEnds | FlatEnds
    trims: Mapping[LegName, tuple[Trim, ...]]


def recognise(
    section: Angle | Flat, length_mm: float, contours: Mapping[LegName, Contour]
) -> Recognised | None:
    """Recognise end cuts and trims.

    Args:
        section: of the piece.
        length_mm: overall.
        contours: of the legs that have one, in the model's frame, to about 0.01 mm. A leg that
            is missing is the plain rectangle of its width and the length.

    Returns:
        Ends and trims that give the contours back within 0.02 mm, with an explicit outline for
        each leg for which none are found; None when a contour has fewer than three corners.
    """
    names: tuple[LegName, ...] = ("face",) if isinstance(section, Flat) else ("a", "b")
    given: dict[LegName, Contour] = {}
    for name in names:
        contour = contours.get(name) or _rectangle(length_mm, leg_width(section, name))
        given[name] = straightened(arranged(contour))
        if len(given[name]) < 3:  # noqa: PLR2004
            return None
    readings = {name: read_leg(given[name], leg_width(section, name)) for name in names}
    # First all legs together, then each alone with the other as an outline, then only outlines.
    groups: list[tuple[LegName, ...]] = [names]
    if len(names) > 1:
        groups.extend((name,) for name in names)
    for group in groups:
        found = _by_trims(section, length_mm, given, readings, group)
        if found is not None:
            return found
    return _by_outlines(section, length_mm, given)


def _by_trims(
    section: Angle | Flat,
    length: float,
    given: Mapping[LegName, Contour],
    readings: Mapping[LegName, LegReading | None],
    group: tuple[LegName, ...],
) -> Recognised | None:
    """Try all readings of a group of legs; the others keep their contours."""
    legs = [(name, readings[name]) for name in group]
    read = {name: reading for name, reading in legs if reading is not None}
    if len(read) < len(group):
        return None
    others: dict[LegName, tuple[Trim, ...]] = {
        name: (OutlineTrim(contour=contour),)
        for name, contour in given.items()
        if name not in group
    }
    for way in _ways(read):
        try:
            found = _shape(section, length, read, way, others)
        except ValueError:
            continue
        if found is not None and all(
            _is_proved(_part(section, length, found), name, given[name]) for name in group
        ):
            return found
    return None


_Way = Mapping[tuple[LegName, End], EndReading]


def _ways(read: Mapping[LegName, LegReading]) -> Iterator[_Way]:
    keys = [(name, end) for name in read for end in _ENDS]
    choices = [read[name].end(end) for name, end in keys]
    for picked in islice(product(*choices), _MOST_WAYS):
        yield dict(zip(keys, picked, strict=True))


def _shape(
    section: Angle | Flat,
    length: float,
    read: Mapping[LegName, LegReading],
    way: _Way,
    others: Mapping[LegName, tuple[Trim, ...]],
) -> Recognised | None:
    """Put one way of reading into ends and trims."""
    angles = {
        end: cut_angles(section, length, end, {name: way[name, end] for name in read})
        for end in _ENDS
    }
    ends = _ends(section, angles)
    bare = _part(section, length, Recognised(ends=ends, trims={}))
    trims: dict[LegName, tuple[Trim, ...]] = dict(others)
    for name, reading in read.items():
        corners = [trim for end in _ENDS for trim in corner_trims(bare, name, end, way[name, end])]
        notches = [notch_trim(section, name, notch) for notch in reading.notches]
        trims[name] = (*corners, *notches)
    if isinstance(section, Angle) and len(read) > 1:
        _drop_derived(section, trims)
    return Recognised(ends=ends, trims=MappingProxyType(trims))


def _ends(
    section: Angle | Flat, angles: Mapping[End, Mapping[LegName, float]]
) -> AngleEnds | FlatEnds:
    start, far = angles["start"], angles["far"]
    if isinstance(section, Flat):
        return FlatEnds(start=FlatEnd(face_deg=start["face"]), far=FlatEnd(face_deg=far["face"]))
    return AngleEnds(
        start=AngleEnd(leg_a_deg=start.get("a", 0.0), leg_b_deg=start.get("b", 0.0)),
        far=AngleEnd(leg_a_deg=far.get("a", 0.0), leg_b_deg=far.get("b", 0.0)),
    )


def _drop_derived(section: Angle, trims: dict[LegName, tuple[Trim, ...]]) -> None:
    """Leave out heel copes that only show what the other leg's cope takes.

    Of two that are one thickness deep, the one that meets the thickness better; else leg b's.
    """
    for end in _ENDS:
        found: list[tuple[float, LegName, Cope]] = []
        for name in _B_FIRST:
            cope = _heel_cope(trims[name], end)
            if cope is not None:
                off = abs(cope.across_mm - section.thickness_mm)
                found.append((off if cope.radius_mm == 0.0 else math.inf, name, cope))
        if len(found) < len(_B_FIRST):
            continue
        off, name, derived = min(found, key=lambda row: row[0])
        if off <= NEAR_MM:
            trims[name] = tuple(trim for trim in trims[name] if trim is not derived)


def _heel_cope(trims: Sequence[Trim], end: End) -> Cope | None:
    for trim in trims:
        if isinstance(trim, Cope) and trim.end == end and trim.side == "heel":
            return trim
    return None


def _by_outlines(
    section: Angle | Flat, length: float, given: Mapping[LegName, Contour]
) -> Recognised:
    """Keep each contour as it is, but the plain rectangle."""
    trims: dict[LegName, tuple[Trim, ...]] = {}
    ends: AngleEnds | FlatEnds = FlatEnds() if isinstance(section, Flat) else AngleEnds()
    for name, contour in given.items():
        plain = arranged(_rectangle(length, leg_width(section, name)))
        trims[name] = () if _is_same(plain, contour) else (OutlineTrim(contour=contour),)
    return Recognised(ends=ends, trims=MappingProxyType(trims))


def _rectangle(length: float, width: float) -> Contour:
    return (vertex(0, 0), vertex(length, 0), vertex(length, width), vertex(0, width))


def _part(section: Angle | Flat, length: float, shape: Recognised) -> Part:
    trims = shape.trims
    legs: AngleLegs | FlatLegs
    if isinstance(section, Flat):
        legs = FlatLegs(face=Leg(trims=trims.get("face", ())))
    else:
        legs = AngleLegs(a=Leg(trims=trims.get("a", ())), b=Leg(trims=trims.get("b", ())))
    return Part(mark="-", length_mm=length, section=section, legs=legs, ends=shape.ends)


def _is_proved(part: Part, leg: LegName, contour: Contour) -> bool:
    outline = leg_outline(part, leg)
    return not outline.faults and _is_same(straightened(outline.contour), contour)


def _is_same(derived: Contour, contour: Contour) -> bool:
    """Tell whether two contours agree in every corner and arc within 0.02 mm."""
    if len(derived) != len(contour):
        return False
    first = derived[0]
    shift = min(
        range(len(contour)),
        key=lambda i: math.hypot(contour[i].x_mm - first.x_mm, contour[i].y_mm - first.y_mm),
    )
    turned = (*contour[shift:], *contour[:shift])
    for mine, theirs in zip(contour_edges(derived), contour_edges(turned), strict=True):
        away = math.hypot(mine.ax - theirs.ax, mine.ay - theirs.ay)
        bow = abs(mine.bulge * edges.chord(mine) - theirs.bulge * edges.chord(theirs)) / 2.0
        if away > NEAR_MM or bow > NEAR_MM:
            return False
    return True
