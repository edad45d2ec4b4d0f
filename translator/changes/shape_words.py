"""Cuts in shop words: ends, copes, clips, roundings, notches and outlines."""

from collections.abc import Mapping
from typing import Final

from translator.changes.shape import NOISE_MM, outlines
from translator.geometry.contours import closest
from translator.lengths.spell import feet_inch_text
from translator.model import Angle, Clip, Cope, LegName, Notch, OutlineTrim, Part, Rounding, Trim
from translator.pages._words import length

_NAMES: Final = {
    "cope": "cope",
    "clip": "clipped corner",
    "rounding": "rounded corner",
    "notch": "notch",
    "outline": "outline",
}
_LONG_MM: Final = 72 * 25.4
"""A piece longer than six feet is spoken of in feet and inches."""


def piece_length(mm: float, part: Part) -> str:
    """Return the length of a piece in its units, a long one in feet and inches."""
    feet = feet_inch_text(mm) if part.units == "inch" and mm > _LONG_MM else None
    return feet or length(mm, part)


def end_cut_words(angles: Mapping[str, float]) -> str:
    """Return how an end is cut, from its angles as part JSON has them."""
    words = [
        f"{abs(angle):g} deg, {_longer(name, angle)}" for name, angle in angles.items() if angle
    ]
    return " and ".join(words) or "square"


def _longer(name: str, angle: float) -> str:
    if name == "face_deg":
        return f"long at the {'upper' if angle > 0 else 'lower'} edge"
    leg = name.removesuffix("_deg").replace("_", " ")
    return f"{'long' if angle > 0 else 'short'} at the toe of {leg}"


def trim_words(trim: Trim, part: Part) -> str:
    """Return what a trim is, where it is, and its size."""
    return f"{_where(trim)} ({size_of_trim(trim, part)})"


def trim_change_words(old: Trim | None, new: Trim | None, part: Part) -> str:
    """Return how a trim changed into another of the same corner or edge."""
    if old is None or new is None:
        return ""
    sizes = f"{size_of_trim(old, part)} became {size_of_trim(new, part)}"
    if old.kind == new.kind:
        return f"{_where(old)}: {sizes}"
    return (
        f"{_where(old)} ({size_of_trim(old, part)}) became a {_NAMES[new.kind]}"
        f" ({size_of_trim(new, part)})"
    )


def _where(trim: Trim) -> str:
    match trim:
        case OutlineTrim():
            return _NAMES[trim.kind]
        case Notch():
            return f"notch in the {_edge(trim.side)}"
        case Cope() | Clip() | Rounding():
            return f"{_NAMES[trim.kind]} at the {trim.end} end, {_edge(trim.side)}"


def _edge(side: str) -> str:
    return f"{side} edge" if side in ("lower", "upper") else side


def size_of_trim(trim: Trim, part: Part) -> str:
    """Return the size of a trim."""
    match trim:
        case OutlineTrim():
            return f"{len(trim.contour)} corners"
        case Rounding():
            return f"radius {length(trim.radius_mm, part)}"
        case Clip():
            return f"{length(trim.along_mm, part)} long x {length(trim.across_mm, part)} deep"
        case Cope():
            size = f"{length(trim.along_mm, part)} long x {length(trim.across_mm, part)} deep"
            return size + _inside(trim.radius_mm, part)
        case Notch():
            places = f"from {length(trim.x_from_mm, part)} to {length(trim.x_to_mm, part)}"
            size = f"{places}, {length(trim.across_mm, part)} deep"
            return size + _inside(trim.radius_mm, part)


def _inside(radius: float, part: Part) -> str:
    return f", radius {length(radius, part)}" if radius else ""


def outline_words(old: Part, new: Part, leg: LegName) -> str:
    """Return how an outline that is told corner by corner changed."""
    ours, theirs = outlines(old), outlines(new)
    if ours is None or theirs is None:
        return "outline changed (it can't be worked out on one side)"
    one, two = ours[leg], theirs[leg]
    if len(one) * len(two) > _MOST_PAIRS:
        return f"outline changed: {len(one)} corners became {len(two)}"
    gone = [v for v in one if closest(two, v.x_mm, v.y_mm).distance > NOISE_MM]
    come = [v for v in two if closest(one, v.x_mm, v.y_mm).distance > NOISE_MM]
    if not gone and not come:
        return "outline changed: its arcs differ"
    words = [
        f"{len(found)} of its {len(all_)} {when} corners {what}, the first at"
        f" {length(found[0].x_mm, new)}, {length(found[0].y_mm, new)} from the {_zero(new)}"
        for found, all_, when, what in ((gone, one, "old", "gone"), (come, two, "new", "added"))
        if found
    ]
    return f"outline changed: {'; '.join(words)}"


def _zero(part: Part) -> str:
    return "heel" if isinstance(part.section, Angle) else "lower edge"


_MOST_PAIRS: Final = 250_000
