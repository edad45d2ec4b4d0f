"""A leg drawn in plain text, seen from outside."""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Final

from msgspec import Struct

from translator.geometry.clearance import slot_centres
from translator.geometry.contours import flatten
from translator.geometry.frames import outside_point
from translator.geometry.outline import leg_outline
from translator.model import (
    CentreMark,
    Hole,
    LegName,
    Opening,
    Part,
    Scribe,
    Slot,
    Stamp,
    leg_of,
    leg_width,
)
from translator.model.features import Feature
from translator.source import printable

COLUMNS: Final = 72
"""Columns from end to end of the piece; with the words beside it, it fits 80."""

LEGEND: Final = "o hole   0 slot   # opening   x centre mark   : scribed line   = heel"

_LEAST_ROWS: Final = 5
_MOST_ROWS: Final = 13
_ASPECT: Final = 2.0
_STEEP: Final = 2.0


class _Sheet(Struct, frozen=True, kw_only=True):
    """Signs on a grid, row 0 at the top, and where a place of the leg falls on it."""

    leg: LegName
    length: float
    width: float
    signs: list[list[str]]

    def cell(self, x: float, y: float) -> tuple[int, int]:
        """Return row and column of a place; the grid's edges are the leg's edges."""
        _, v = outside_point(self.leg, x, y)
        top = 0.0 if self.leg == "b" else self.width
        row = (top - v) / self.width * (len(self.signs) - 1)
        column = x / self.length * (COLUMNS - 1)
        return round(row), round(column)

    def put(self, sign: str, row: int, column: int) -> None:
        """Write a sign, if the place is on the sheet."""
        if 0 <= row < len(self.signs) and 0 <= column < COLUMNS:
            self.signs[row][column] = sign


def drawn(part: Part, leg: LegName) -> list[str]:
    """Return the lines of a leg's picture: outside face, start end left, x to scale.

    Leg a and a flat have the heel (lower edge) at the bottom, leg b at the top, so that both
    pictures one under the other are the unfolded angle seen from outside.
    """
    width = leg_width(part.section, leg)
    rows = round(width / part.length_mm * COLUMNS / _ASPECT)
    rows = max(_LEAST_ROWS, min(_MOST_ROWS, rows))
    blank = [[" "] * COLUMNS for _ in range(rows)]
    sheet = _Sheet(leg=leg, length=part.length_mm, width=width, signs=blank)
    _outline(sheet, part)
    # What is small is drawn last, so that no line hides a hole.
    for kind in (Stamp, Scribe, Opening, CentreMark, Slot, Hole):
        for feature in leg_of(part, leg).features:
            if isinstance(feature, kind):
                _feature(sheet, feature, part.mark)
    return _framed(sheet)


def _outline(sheet: _Sheet, part: Part) -> None:
    contour = leg_outline(part, sheet.leg).contour
    if not contour:
        return
    points = flatten(contour, max(part.length_mm, 1.0) / COLUMNS / 4.0)
    _polyline(sheet, [*points, points[0]], None)
    for vertex in contour:
        sheet.put("+", *sheet.cell(vertex.x_mm, vertex.y_mm))


def _polyline(sheet: _Sheet, points: Sequence[tuple[float, float]], sign: str | None) -> None:
    for (ax, ay), (bx, by) in pairwise(points):
        start, end = sheet.cell(ax, ay), sheet.cell(bx, by)
        is_heel = sheet.leg != "face" and max(abs(ay), abs(by)) < sheet.width / 1000.0
        stroke = sign or ("=" if is_heel else _stroke(start, end))
        for row, column in _cells(start, end):
            sheet.put(stroke, row, column)


def _stroke(start: tuple[int, int], end: tuple[int, int]) -> str:
    down, right = end[0] - start[0], end[1] - start[1]
    if abs(right) >= _STEEP * abs(down) * _ASPECT:
        return "-"
    if abs(down) * _ASPECT >= _STEEP * abs(right):
        return "|"
    return "\\" if down * right > 0 else "/"


def _cells(start: tuple[int, int], end: tuple[int, int]) -> Iterable[tuple[int, int]]:
    steps = max(abs(end[0] - start[0]), abs(end[1] - start[1]), 1)
    for step in range(steps + 1):
        part = step / steps
        yield (
            round(start[0] + (end[0] - start[0]) * part),
            round(start[1] + (end[1] - start[1]) * part),
        )


def _feature(sheet: _Sheet, feature: Feature, mark: str) -> None:
    if isinstance(feature, Hole | CentreMark):
        sign = "o" if isinstance(feature, Hole) else "x"
        sheet.put(sign, *sheet.cell(feature.x_mm, feature.y_mm))
    elif isinstance(feature, Slot):
        _polyline(sheet, slot_centres(feature), "0")
    elif isinstance(feature, Opening):
        points = flatten(feature.contour, sheet.length / COLUMNS / 4.0)
        _polyline(sheet, [*points, points[0]], "#")
    elif isinstance(feature, Scribe):
        points = flatten(feature.line, sheet.length / COLUMNS / 4.0, closed=feature.closed)
        _polyline(sheet, [*points, points[0]] if feature.closed else points, ":")
    else:
        _stamp(sheet, feature, mark)


def _stamp(sheet: _Sheet, stamp: Stamp, mark: str) -> None:
    middle = stamp.height_mm / 2.0
    turn = math.radians(stamp.angle_deg)
    row, column = sheet.cell(
        stamp.x_mm - middle * math.sin(turn), stamp.from_heel_mm + middle * math.cos(turn)
    )
    # A turned text can't be set in rows of letters; its first letter marks the place.
    text = printable(stamp.text if stamp.text is not None else mark)
    for offset, letter in enumerate(text if stamp.angle_deg == 0.0 else text[:1]):
        if 0 < column + offset < COLUMNS - 1:
            sheet.put(letter, row, column + offset)


def _framed(sheet: _Sheet) -> list[str]:
    names = ("upper", "lower") if sheet.leg == "face" else ("toe", "heel")
    top, bottom = names if sheet.leg != "b" else reversed(names)
    lines = ["".join(signs).rstrip() for signs in sheet.signs]
    lines[0] = f"{lines[0]:<{COLUMNS}} {top}"
    lines[-1] = f"{lines[-1]:<{COLUMNS}} {bottom}"
    return lines
