"""Phrases of part text and the lines they are set in."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from translator.lengths.parse import Unit
from translator.lengths.spell import length_text
from translator.model import Vertex

_WIDTH: Final = 96
_INDENT: Final = "  "
_DECIMALS: Final = 9


def line(depth: int, phrases: Sequence[str]) -> list[str]:
    """Return a statement as a line, or as several where it is long.

    Args:
        depth: how many braces are open around it.
        phrases: pieces that stay whole, since some words must follow theirs on the line.
    """
    lines = [_INDENT * depth + phrases[0]]
    for phrase in phrases[1:]:
        if len(lines[-1]) + 1 + len(phrase) <= _WIDTH:
            lines[-1] += f" {phrase}"
        else:
            lines.append(_INDENT * (depth + 2) + phrase)
    return lines


def decimal_text(value: float) -> str:
    """Return a number of up to nine decimals, as the part model keeps angles and bulges."""
    text = f"{value:.{_DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def degrees_text(value: float) -> str:
    """Return an angle in degrees with its unit."""
    return f"{decimal_text(value)}deg"


def positions(values: Sequence[float], units: Unit, *, together: bool) -> list[str]:
    """Return running positions as phrases with their commas.

    Args:
        values: places along the piece; they increase.
        units: the unit of a bare number.
        together: draw equal spaces together; they count as equal only if they are so exactly.
    """
    exact = [Fraction(str(value)) for value in values]
    items = [length_text(exact[0], units)]
    place = 1
    while place < len(exact):
        pitch = exact[place] - exact[place - 1]
        end = place
        while together and end < len(exact) and exact[end] - exact[end - 1] == pitch:
            end += 1
        if end - place > 1:
            items.append(f"{end - place} @ {length_text(pitch, units)}")
            place = end
        else:
            items.append(length_text(exact[place], units))
            place += 1
    return [f"{item}," for item in items[:-1]] + items[-1:]


def contour(corners: Sequence[Vertex], units: Unit, *, is_closed: bool) -> list[str]:
    """Return the corners of a contour as phrases; arcs by their bulge, which is exact."""
    phrases: list[str] = []
    for corner in corners:
        x, y = length_text(corner.x_mm, units), length_text(corner.y_mm, units)
        bulge = f" bulge {decimal_text(corner.bulge)}" if corner.bulge else ""
        phrases.append(f"{'to' if phrases else 'from'} {x},{y}{bulge}")
    return [*phrases, "close"] if is_closed else phrases
