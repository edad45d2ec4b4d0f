"""Find the angles and sizes that a taken-apart contour stands for."""

import math
from collections.abc import Iterator, Mapping
from typing import Final

from translator.geometry.ends import end_line, outermost_x
from translator.geometry.tracing import NEAR_MM, EndReading, NotchReading, Trace
from translator.lengths.grid import angle_on_grid
from translator.model import (
    Angle,
    Clip,
    Cope,
    Flat,
    LegName,
    Notch,
    Part,
    Rounding,
    Trim,
    leg_width,
)
from translator.model.trims import End, Side

SNAP_MM: Final = 0.006
"""An angle is rounded to a neat one where that moves no corner by more than this."""

_NEAT_DEG: Final = (1.0, 0.5, 0.25, 0.1, 0.01, 0.001)
_NOISE_MM: Final = 3e-6


def cut_angles(
    section: Angle | Flat, length: float, end: End, lines: Mapping[LegName, EndReading]
) -> dict[LegName, float]:
    """Fit the angles of one plane to the end lines of the legs.

    The line lies at s = h - y tan(angle) inwards from the outermost point, with h the greatest
    of 0 and width x tan(angle) over the legs; so it runs through a known point, the heel or the
    toe of the leg that reaches out farthest, and its other end decides the angle.
    """

    def inwards(trace: Trace) -> float:
        return trace.x if end == "start" else length - trace.x

    widths = {name: leg_width(section, name) for name in lines}
    rough = {
        name: widths[name] * (inwards(line.low) - inwards(line.high)) / (line.high.y - line.low.y)
        for name, line in lines.items()
    }
    longest = max(rough, key=lambda name: rough[name])
    tangents: dict[LegName, float] = {}
    heel = 0.0
    if rough[longest] > NEAR_MM:
        low = lines[longest].low
        tangents[longest] = inwards(low) / (widths[longest] - low.y)
        heel = widths[longest] * math.tan(_neat(tangents[longest], widths[longest]))
    for name, line in lines.items():
        tangents.setdefault(name, (heel - inwards(line.high)) / line.high.y)
    return {
        name: angle_on_grid(math.degrees(_neat(tangent, widths[name])))
        for name, tangent in tangents.items()
    }


def _neat(tangent: float, width: float) -> float:
    """Return an angle in radians, rounded to a neat one where no corner moves by it."""
    degrees = math.degrees(math.atan(tangent))
    for step in _NEAT_DEG:
        neat = round(degrees / step) * step
        if abs(math.tan(math.radians(neat)) - tangent) * width <= SNAP_MM:
            return math.radians(neat)
    return math.radians(degrees)


def corner_trims(bare: Part, leg: LegName, end: End, reading: EndReading) -> Iterator[Trim]:
    """Yield the trims of one end of a leg, given the part with its end cuts and no trims."""
    sides: tuple[Side, Side] = ("lower", "upper") if leg == "face" else ("heel", "toe")
    width = leg_width(bare.section, leg)
    line = end_line(bare, end, leg)
    into = 1.0 if end == "start" else -1.0
    for side, corners, edge_y in ((sides[0], reading.heel, 0.0), (sides[1], reading.toe, width)):
        edge, last = corners[0], corners[-1]
        if len(corners) == 1:
            if edge.radius > 0.0:
                yield Rounding(end=end, side=side, radius_mm=_tidy(edge.radius))
            continue
        across = abs(last.y - edge_y)
        if len(corners) == 2:  # noqa: PLR2004
            along = (edge.x - line.at(edge_y)) * into
            slanted = across * math.hypot(1.0, line.slope)
            yield Clip(end=end, side=side, along_mm=_tidy(along), across_mm=_tidy(slanted))
            continue
        along = _tidy((edge.x - outermost_x(bare, end, leg)) * into)
        yield Cope(
            end=end,
            side=side,
            along_mm=along,
            across_mm=_tidy(across),
            radius_mm=_held(corners[1].radius, min(along, _tidy(across))),
        )


def notch_trim(section: Angle | Flat, leg: LegName, notch: NotchReading) -> Notch:
    """Return a notch in the words of the model."""
    sides: tuple[Side, Side] = ("lower", "upper") if leg == "face" else ("heel", "toe")
    across = leg_width(section, leg) - notch.bottom if notch.at_toe else notch.bottom
    left, right = _tidy(notch.left), _tidy(notch.right)
    return Notch(
        side=sides[notch.at_toe],
        x_from_mm=left,
        x_to_mm=right,
        across_mm=_tidy(across),
        radius_mm=_held(notch.radius, min((right - left) / 2.0, _tidy(across))),
    )


def _tidy(value: float) -> float:
    """Return a length without the noise of arcs and slopes, where it is near a short number."""
    for decimals in range(1, 5):
        if abs(value - round(value, decimals)) <= _NOISE_MM:
            return round(value, decimals)
    return round(value, 6)


def _held(radius: float, most: float) -> float:
    """Return a radius, held to the most that fits where it is over by the input's rounding."""
    tidy = _tidy(radius)
    return most if most < tidy <= most + NEAR_MM else tidy
