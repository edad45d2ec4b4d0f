"""Ends and trims brought back to the figures that were drawn, where the contour allows it.

A contour given to 0.01 mm tells the angle of a short end only roughly, and what follows from
it. The header says angles to 0.001 degrees, and designers use whole ones. The contour stays the
judge: rounded figures are taken only if the outlines still meet every given corner as closely
as the format's own rounding.
"""

import math
from collections.abc import Collection, Iterable, Mapping
from typing import Final

from translator.geometry.contours import Contour
from translator.geometry.ends import end_x, outermost_x
from translator.geometry.outline import leg_outline
from translator.geometry.recognise import Recognised
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    Clip,
    Cope,
    FlatEnd,
    FlatEnds,
    FlatLegs,
    Leg,
    LegName,
    OutlineTrim,
    Part,
    Trim,
    leg_names,
    leg_width,
)
from translator.readers.nc._header import Cuts
from translator.readers.nc._records import Records

_SAME_DEG: Final = 0.2
_EXACT_MM: Final = 1e-5
_ROUNDED_MM: Final = 0.0075
"""Both coordinates rounded to 0.01 mm move a corner by up to 0.0071 mm."""

_STEPS_DEG: Final = (0.5, 0.1, 0.01)
_SAME_RADIUS_MM: Final = 0.05
_MOST_CORNERS: Final = 200
_DECIMALS: Final = 2


def tidied(records: Records, found: Recognised, contours: Mapping[LegName, Contour]) -> Recognised:
    """Return the ends and trims with the figures drawn, or as they were found.

    Args:
        records: for section, length and the header's angles.
        found: what was recognised.
        contours: as the file gives them.
    """
    if sum(len(contour) for contour in contours.values()) > _MOST_CORNERS:
        return found
    if _deviation(records, found, contours) <= _EXACT_MM:
        return found
    for candidate in _candidates(records, found):
        if _deviation(records, candidate, contours) <= _ROUNDED_MM:
            return candidate
    return found


def _candidates(records: Records, found: Recognised) -> Iterable[Recognised]:
    """Yield tidier figures, the tidiest first."""
    for step in _STEPS_DEG:
        ends = _stepped(found.ends, records.header.cuts, step)
        trims = _moved(records, found, ends)
        yield Recognised(ends=ends, trims=_all_rounded(records, trims))
        yield Recognised(ends=ends, trims=trims)
    yield Recognised(ends=found.ends, trims=_all_rounded(records, found.trims))


_Trims = Mapping[LegName, tuple[Trim, ...]]


def _moved(records: Records, found: Recognised, ends: AngleEnds | FlatEnds) -> _Trims:
    """Keep copes and clips where they are while the ends that they count from move."""
    before = _part(records, found)
    after = _part(records, Recognised(ends=ends, trims=found.trims))
    if before is None or after is None:
        return found.trims
    return {
        leg: tuple(_shifted(trim, before, after, leg) for trim in own)
        for leg, own in found.trims.items()
    }


def _shifted(trim: Trim, before: Part, after: Part, leg: LegName) -> Trim:
    if not isinstance(trim, Cope | Clip):
        return trim
    places = []
    for part in (before, after):
        if isinstance(trim, Cope):
            places.append(outermost_x(part, trim.end, leg))
        else:
            edge = 0.0 if trim.side in ("heel", "lower") else leg_width(part.section, leg)
            places.append(end_x(part, trim.end, leg, edge))
    outward = places[0] - places[1] if trim.end == "start" else places[1] - places[0]
    return _resized(trim, {"along_mm": trim.along_mm + outward})


def _all_rounded(records: Records, trims: _Trims) -> _Trims:
    """Round all sizes to 0.01 mm, and take radii as the file itself spells them."""
    radii = {abs(p.radius) for contour in records.outers for p in contour.points if p.radius}
    return {leg: tuple(_rounded(trim, radii) for trim in own) for leg, own in trims.items()}


def _stepped(ends: AngleEnds | FlatEnds, cuts: Cuts, step: float) -> AngleEnds | FlatEnds:
    """Round angles to a step, or take the header's where it is near."""
    if isinstance(ends, FlatEnds):
        return FlatEnds(
            start=FlatEnd(face_deg=_step(ends.start.face_deg, cuts.web_start, step)),
            far=FlatEnd(face_deg=_step(ends.far.face_deg, cuts.web_end, step)),
        )
    start, far = (
        AngleEnd(
            leg_a_deg=_step(end.leg_a_deg, web, step),
            leg_b_deg=_step(end.leg_b_deg, flange, step),
        )
        for end, web, flange in (
            (ends.start, cuts.web_start, cuts.flange_start),
            (ends.far, cuts.web_end, cuts.flange_end),
        )
    )
    return AngleEnds(start=start, far=far)


def _step(found: float, header: float, step: float) -> float:
    if header and abs(abs(found) - abs(header)) <= _SAME_DEG:
        return math.copysign(abs(header), found)
    return round(found / step) * step


def _rounded(trim: Trim, radii: Collection[float]) -> Trim:
    if isinstance(trim, OutlineTrim):
        return trim
    sizes = {
        name: round(value, _DECIMALS)
        for name, value in trim
        if name.endswith("_mm") and isinstance(value, float)
    }
    radius = sizes.get("radius_mm", 0.0)
    spelled = min(radii, key=lambda r: (abs(r - radius), r), default=radius)
    if radius and abs(spelled - radius) <= _SAME_RADIUS_MM:
        sizes["radius_mm"] = spelled
    return _resized(trim, sizes)


def _resized(trim: Trim, sizes: Mapping[str, float]) -> Trim:
    """Return a trim with other sizes; the trim itself where the model does not take them."""
    try:
        return type(trim)(**{**dict(trim), **sizes})
    except ValueError:
        return trim


def _part(records: Records, found: Recognised) -> Part | None:
    is_angle = isinstance(records.section, Angle)
    built = {str(leg): Leg(trims=trims) for leg, trims in found.trims.items()}
    try:
        return Part(
            mark="-",
            length_mm=records.length,
            section=records.section,
            legs=AngleLegs(**built) if is_angle else FlatLegs(**built),
            ends=found.ends,
        )
    except ValueError:
        return None


def _deviation(records: Records, found: Recognised, contours: Mapping[LegName, Contour]) -> float:
    """Return how far a corner of the outlines lies from the nearest given one, at most."""
    part = _part(records, found)
    if part is None:
        return math.inf
    worst = 0.0
    for leg in leg_names(part):
        outline = leg_outline(part, leg)
        if outline.faults or not outline.contour or len(outline.contour) > len(contours[leg]):
            return math.inf
        for corner in outline.contour:
            worst = max(
                worst,
                min(math.hypot(corner.x_mm - v.x_mm, corner.y_mm - v.y_mm) for v in contours[leg]),
            )
    return worst
