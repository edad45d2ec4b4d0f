"""The picture of a leg: its windows in rows, and balloons beside it that point at places."""

import math
from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import Final, Literal

from msgspec import Struct

from translator.geometry.clearance import extent
from translator.geometry.contours import Contour
from translator.geometry.frames import outside_sign
from translator.model import LegName, Part, leg_of, leg_width
from translator.pages import _balloons as balloons
from translator.pages._drawing import draw, ring
from translator.pages._layout import ROOM, Layout, Window
from translator.pages._outside import spot
from translator.pages._picture import Balloon, Item, Pane, Picture, Shape, Words

Side = Literal["toe", "heel", "start"]

_LEFT: Final = 66.0
_LEFT_WITH_BALLOONS: Final = 106.0
_RIGHT: Final = 24.0
_PAD: Final = 8.0
"""Room inside a pane, so that no line is cut at the edge of the steel."""

_LEAD: Final = 14.0
"""Free room between the leg and the first tier of balloons."""

_RING: Final = 4.0
"""Room between a feature and the line around it."""

_ROW_GAP: Final = 26.0


class Callout(Struct, frozen=True, kw_only=True):
    """A balloon's wish: what it says and where it points.

    Attributes:
        x, y: the place on the leg, mm.
        side: beyond which edge the balloon sits; "start" for left of the start end.
        text: what stands in it.
        kind: how it looks.
        tag: numbers it belongs to, apart by blanks.
        clear_mm: how far from the place its line ends, so that it hides nothing.
    """

    x: float
    y: float
    text: str
    kind: str = "plain"
    side: Side = "toe"
    tag: str = ""
    clear_mm: float = 0.0


class _Frame(Struct, frozen=True, kw_only=True):
    """Where things of one leg fall in its picture.

    ``top`` and ``bottom`` are the units above and below the leg's heel line that are seen.
    """

    part: Part
    leg: LegName
    layout: Layout
    left: float
    top: float
    bottom: float
    contour: Contour

    @property
    def height(self) -> float:
        """Height of a pane."""
        return self.bottom - self.top + 2.0 * _PAD

    def across(self, y: float) -> float:
        """Return how far below a pane's upper edge a place at y lies."""
        down = spot(self.leg, 0.0, y, self.layout.scale)[1]
        return min(max(down, self.top), self.bottom) - self.top + _PAD


def leg_picture(
    part: Part,
    leg: LegName,
    layout: Layout,
    callouts: Sequence[Callout] = (),
    rings: Mapping[str, tuple[str, str]] | None = None,
) -> Picture:
    """Draw one leg from outside.

    Args:
        part: the part.
        leg: which leg.
        layout: of the part.
        callouts: balloons beside the leg.
        rings: id of a feature -> kind and tag of the line around it.
    """
    frame = _frame(part, leg, layout, has_start=any(c.side == "start" for c in callouts))
    placed = [(layout.place(c.x)[0], c) for c in callouts]
    items: list[Item] = []
    y = 0.0
    for row, windows in groupby(layout.windows, key=lambda w: w.row):
        own = [c for at, c in placed if at == row]
        drawn, height = _row(frame, tuple(windows), own, rings or {}, y)
        items += drawn
        y += height + (_ROW_GAP if row < layout.rows - 1 else 0.0)
    width = frame.left + ROOM + _RIGHT
    return Picture(width=width, height=y, title=_title(part, leg), items=tuple(items))


def _frame(part: Part, leg: LegName, layout: Layout, *, has_start: bool) -> _Frame:
    """Return the frame, wide enough across for features that lie off the leg within reason."""
    width = leg_width(part.section, leg)
    boxes = [extent(feature) for feature in leg_of(part, leg).features]
    low = max(min([0.0, *(box.low for box in boxes)]), -0.5 * width)
    high = min(max([width, *(box.high for box in boxes)]), 1.5 * width)
    down = sorted(-y * outside_sign(leg) * layout.scale for y in (low, high))
    left = _LEFT_WITH_BALLOONS if has_start else _LEFT
    return _Frame(
        part=part,
        leg=leg,
        layout=layout,
        left=left,
        top=down[0],
        bottom=down[1],
        contour=layout.contours[leg],
    )


def _row(
    frame: _Frame,
    windows: tuple[Window, ...],
    callouts: Sequence[Callout],
    rings: Mapping[str, tuple[str, str]],
    y: float,
) -> tuple[list[Item], float]:
    """Return what one row holds, and how high it is with its balloons."""
    toe_above = outside_sign(frame.leg) > 0.0
    above = [c for c in callouts if c.side == ("toe" if toe_above else "heel")]
    below = [c for c in callouts if c.side == ("heel" if toe_above else "toe")]
    head = _seated(frame, above)
    foot = _seated(frame, below)
    top = y + _band(head)
    bottom = top + frame.height
    items: list[Item] = []
    for window in windows:
        items += _window(frame, window, rings, top)
    items += _edge_words(frame, top)
    for callout, seat in head:
        at = top - _LEAD - balloons.HEIGHT / 2.0 - seat.tier * balloons.PITCH
        items.append(_balloon(frame, callout, seat.x, at, top))
    for callout, seat in foot:
        at = bottom + _LEAD + balloons.HEIGHT / 2.0 + seat.tier * balloons.PITCH
        items.append(_balloon(frame, callout, seat.x, at, top))
    items += _at_start(frame, [c for c in callouts if c.side == "start"], top)
    end = bottom + _band(foot)
    if frame.layout.rows > 1:
        items.append(_stretch_words(frame, windows, end + 12.0))
        end += 16.0
    return items, end - y


def _seated(frame: _Frame, callouts: Sequence[Callout]) -> list[tuple[Callout, balloons.Seat]]:
    wishes = [
        (frame.left + frame.layout.place(c.x)[1], balloons.width_of(c.text)) for c in callouts
    ]
    found = balloons.seats(wishes, frame.left - 40.0, frame.left + ROOM + _RIGHT - 2.0)
    return [(c, s) for c, s in zip(callouts, found, strict=True) if s is not None]


def _band(seated: Sequence[tuple[Callout, balloons.Seat]]) -> float:
    if not seated:
        return 4.0
    tiers = 1 + max(seat.tier for _, seat in seated)
    return _LEAD + tiers * balloons.PITCH


def _balloon(frame: _Frame, callout: Callout, x: float, y: float, top: float) -> Balloon:
    to_x = frame.left + frame.layout.place(callout.x)[1]
    to_y = top + frame.across(callout.y)
    away = math.hypot(x - to_x, y - to_y)
    clear = callout.clear_mm * frame.layout.scale + _RING if callout.clear_mm else 0.0
    part = min(clear / away, 0.9) if away else 0.0
    return Balloon(
        callout.kind,
        x,
        y,
        balloons.width_of(callout.text),
        callout.text,
        to_x + (x - to_x) * part,
        to_y + (y - to_y) * part,
        callout.tag,
    )


def _at_start(frame: _Frame, callouts: Sequence[Callout], top: float) -> list[Item]:
    """Return balloons left of the start end, one below the other."""
    wishes = [(top + frame.across(c.y), balloons.HEIGHT) for c in callouts]
    room = max(frame.height, len(callouts) * (balloons.HEIGHT + balloons.GAP))
    found = balloons.seats(wishes, top - (room - frame.height) / 2.0, top + room)
    return [
        _balloon(frame, c, frame.left - 34.0 - 30.0 * seat.tier, seat.x, top)
        for c, seat in zip(callouts, found, strict=True)
        if seat is not None
    ]


def _window(
    frame: _Frame, window: Window, rings: Mapping[str, tuple[str, str]], top: float
) -> list[Item]:
    scale = frame.layout.scale
    before = 0.0 if window.opens else _PAD
    after = 0.0 if window.closes else _PAD
    wide = (window.stop_mm - window.start_mm) * scale
    within = (window.start_mm, window.stop_mm)
    own = [*draw(frame.part, frame.leg, frame.contour, scale, within)]
    for feature in leg_of(frame.part, frame.leg).features:
        box = extent(feature)
        if feature.id in rings and box.right >= within[0] and box.left <= within[1]:
            own.append(ring(frame.leg, feature, scale, *rings[feature.id]))
    left = frame.left + window.left
    pane = Pane(
        left - before,
        top,
        wide + before + after,
        frame.height,
        window.start_mm * scale - before,
        frame.top - _PAD,
        tuple(own),
    )
    edges = [(left, window.opens), (left + wide, window.closes)]
    return [pane, *(_break(x, top, frame.height) for x, is_broken in edges if is_broken)]


def _break(x: float, top: float, height: float) -> Shape:
    """Return the line at which a piece is broken off in a drawing (ISO 128: with zigzags)."""
    middle = top + height / 2.0
    f = "{:.2f}".format
    path = (
        f"M{f(x)} {f(top - 2)}L{f(x)} {f(middle - 9)}L{f(x - 6)} {f(middle - 4)}"
        f"L{f(x + 6)} {f(middle + 4)}L{f(x)} {f(middle + 9)}L{f(x)} {f(top + height + 2)}"
    )
    return Shape("break", path)


def _edge_words(frame: _Frame, top: float) -> list[Item]:
    """Return the names of both edges, at the left of a row."""
    names = ("lower edge", "upper edge") if frame.leg == "face" else ("heel", "toe")
    width = leg_width(frame.part.section, frame.leg)
    x, size = (60.0, 10.0) if frame.leg == "face" else (56.0, 12.0)
    return [
        Words("edge", x, top + frame.across(y) + 4.0, name, "end", size)
        for name, y in zip(names, (0.0, width), strict=True)
    ]


def _stretch_words(frame: _Frame, windows: tuple[Window, ...], y: float) -> Words:
    """Return which stretch of a long piece a row shows."""
    units = frame.part.units
    unit_mm = 25.4 if units == "inch" else 1.0
    ends = [f"{x / unit_mm:.1f}" for x in (windows[0].start_mm, windows[-1].stop_mm)]
    row = f"row {windows[0].row + 1} of {frame.layout.rows}"
    unit = "in." if units == "inch" else "mm"
    return Words(
        "edge", frame.left, y, f"{row}: x from {ends[0]} to {ends[1]} {unit}", "start", 11.0
    )


def _title(part: Part, leg: LegName) -> str:
    where = {"a": "heel at the bottom", "b": "heel at the top"}.get(leg, "lower edge at the bottom")
    name = "Face" if leg == "face" else f"Leg {leg}"
    count = len(leg_of(part, leg).features)
    made = "nothing is made on it" if not count else f"{count} features"
    return f"{name} of {part.mark} from outside: start end left, {where}; {made}."
