"""Both states of a leg in one picture: what was is dashed, what is now is drawn through.

Nothing is told by colour alone: what is gone is crossed out, what was added has a second ring, an
arrow leads from where a thing was to where it is, and a numbered balloon ties each to the list.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from translator.changes.both_states import PAD, BothLegs, Mark, Sheet, both_legs
from translator.changes.strokes import anchor, cross, outline_path, second_ring, shape_of, words_of
from translator.geometry.contours import Contour, contour_edges
from translator.geometry.frames import outside_sign
from translator.model import Angle, Feature, LegName, Part, Stamp, leg_width
from translator.pages import _balloons as balloons
from translator.pages._drawing import reach
from translator.pages._layout import ROOM, Window
from translator.pages._outside import spot, straight
from translator.pages._picture import Balloon, Pane, Picture, Shape, Words
from translator.pages._picture import Item as Drawn

_LEFT: Final = 66.0
_RIGHT: Final = 24.0
_LEAD: Final = 14.0
_ROW_GAP: Final = 26.0
_SHORTEST_ARROW: Final = 9.0
_HEAD: Final = 6.0


def overlay(both: Sheet, leg: LegName) -> Picture:
    """Draw both states of one leg from outside."""
    own = both_legs(both, leg)
    items: list[Drawn] = []
    y = 0.0
    for row, windows in groupby(both.layout.windows, key=lambda w: w.row):
        drawn, height = _row(own, tuple(windows), y)
        items += drawn
        y += height + (_ROW_GAP if row < both.layout.rows - 1 else 0.0)
    return Picture(
        width=_LEFT + ROOM + _RIGHT, height=y, title=_title(both, leg), items=tuple(items)
    )


def _title(both: Sheet, leg: LegName) -> str:
    name = "Face" if leg == "face" else f"Leg {leg}"
    numbers = [str(n) for n, change in both.changes.items() if change.leg in (leg, "")]
    what = f"changes {', '.join(numbers)} of the list" if numbers else "nothing changed on it"
    return f"{name} of {both.new.mark} from outside, old and new laid over each other: {what}."


def _row(own: BothLegs, windows: tuple[Window, ...], y: float) -> tuple[list[Drawn], float]:
    """Return what one row holds, and how high it is with its balloons."""
    row = windows[0].row
    layout = own.sheet.layout
    marks = [m for m in own.marks if layout.place(m.x)[0] == row]
    seated = _seated(own, marks)
    band = _LEAD + (1 + max(s.tier for _, s in seated)) * balloons.PITCH if seated else 4.0
    toe_above = outside_sign(own.name) > 0.0
    top = y + (band if toe_above else 4.0)
    items: list[Drawn] = []
    for window in windows:
        items += _window(own, window, top)
    items += _edge_words(own, top)
    for mark, seat in seated:
        tier = balloons.HEIGHT / 2.0 + seat.tier * balloons.PITCH
        at = top - _LEAD - tier if toe_above else top + own.height + _LEAD + tier
        to_x = _LEFT + layout.place(mark.x)[1]
        items.append(
            Balloon(
                "plain",
                seat.x,
                at,
                balloons.width_of(str(mark.number)),
                str(mark.number),
                to_x,
                top + _below(own, mark.y),
                str(mark.number),
            )
        )
    return items, own.height + band + 4.0


def _seated(own: BothLegs, marks: Sequence[Mark]) -> list[tuple[Mark, balloons.Seat]]:
    layout = own.sheet.layout
    wishes = [(_LEFT + layout.place(m.x)[1], balloons.width_of(str(m.number))) for m in marks]
    found = balloons.seats(wishes, _LEFT - 40.0, _LEFT + ROOM + _RIGHT - 2.0)
    return [(m, s) for m, s in zip(marks, found, strict=True) if s is not None]


def _below(own: BothLegs, y: float) -> float:
    """Return how far below a pane's upper edge a place at y lies."""
    down = spot(own.name, 0.0, y, own.scale)[1]
    return min(max(down, own.top), own.bottom) - own.top + PAD


def _edge_words(own: BothLegs, top: float) -> list[Drawn]:
    names = ("lower edge", "upper edge") if own.name == "face" else ("heel", "toe")
    width = leg_width(own.sheet.new.section, own.name)
    x, size = (60.0, 10.0) if own.name == "face" else (56.0, 12.0)
    return [
        Words("edge", x, top + _below(own, y) + 4.0, name, "end", size)
        for name, y in zip(names, (0.0, width), strict=True)
    ]


def _window(own: BothLegs, window: Window, top: float) -> list[Drawn]:
    scale = own.scale
    before = 0.0 if window.opens else PAD
    after = 0.0 if window.closes else PAD
    wide = (window.stop_mm - window.start_mm) * scale
    left = _LEFT + window.left
    pane = Pane(
        left - before,
        top,
        wide + before + after,
        own.height,
        window.start_mm * scale - before,
        own.top - PAD,
        tuple(_drawn(own, window)),
    )
    edges = [(left, window.opens), (left + wide, window.closes)]
    return [pane, *(_break(x, top, own.height) for x, is_broken in edges if is_broken)]


def _break(x: float, top: float, height: float) -> Shape:
    """Return the line at which a piece is broken off (ISO 128: with zigzags)."""
    middle = top + height / 2.0
    f = "{:.2f}".format
    path = (
        f"M{f(x)} {f(top - 2)}L{f(x)} {f(middle - 9)}L{f(x - 6)} {f(middle - 4)}"
        f"L{f(x + 6)} {f(middle + 4)}L{f(x)} {f(middle + 9)}L{f(x)} {f(top + height + 2)}"
    )
    return Shape("break", path)


def _drawn(own: BothLegs, window: Window) -> Iterator[Drawn]:
    """Yield what is seen in a window, the lowest first."""
    old, new = own.sheet.contours[own.name]
    leg, scale = own.name, own.scale
    steel = outline_path(own.sheet.new, leg, new, scale)
    yield Shape("ov-steel", steel)
    if old != new:
        # Under the new outline, which so is seen whole where both run along each other.
        yield Shape("ov-old", outline_path(own.sheet.old, leg, old, scale))
    yield Shape("ov-new", steel)
    yield from _heel(own, new)
    seen = [f for f in own.same if _is_seen(own.sheet.new, own.name, f, window)]
    path = "".join(shape_of(leg, f, scale) for f in seen)
    if path:
        yield Shape("ov-same", path)
    yield from (words_of(leg, f, scale, "ov-same-text", own.sheet.new) for f in seen if _is_text(f))
    for feature in own.gone:
        if _is_seen(own.sheet.old, leg, feature, window):
            yield from _thing(own, feature, "ov-was", own.sheet.old)
            yield Shape("ov-cross", cross(leg, feature, scale))
    for one, two in own.pairs:
        if _is_seen(own.sheet.old, leg, one, window) or _is_seen(own.sheet.new, leg, two, window):
            yield from _thing(own, two, "ov-is", own.sheet.new)
            yield from _thing(own, one, "ov-was", own.sheet.old)
            yield from _arrow(own, one, two)
    for feature in own.come:
        if _is_seen(own.sheet.new, leg, feature, window):
            yield from _thing(own, feature, "ov-is", own.sheet.new)
            yield Shape("ov-ring", second_ring(leg, feature, scale))


def _heel(own: BothLegs, contour: Contour) -> Iterator[Drawn]:
    if not isinstance(own.sheet.new.section, Angle) or not contour:
        return
    for edge in contour_edges(contour):
        if edge.ay == edge.by == 0.0 and not edge.bulge:
            yield Shape("heel", straight(own.name, ((edge.ax, 0.0), (edge.bx, 0.0)), own.scale))


def _thing(own: BothLegs, feature: Feature, kind: str, part: Part) -> Iterator[Drawn]:
    if _is_text(feature):
        yield words_of(own.name, feature, own.scale, f"{kind}-text", part)
    else:
        yield Shape(kind, shape_of(own.name, feature, own.scale))


def _is_text(feature: Feature) -> bool:
    return isinstance(feature, Stamp)


def _is_seen(part: Part, leg: LegName, feature: Feature, window: Window) -> bool:
    left, right = reach(part, leg, feature)
    return right >= window.start_mm and left <= window.stop_mm


def _arrow(own: BothLegs, one: Feature, two: Feature) -> Iterator[Drawn]:
    """Yield the arrow from where a thing was to where it is; none where it would be too short."""
    start, stop = (spot(own.name, *anchor(f), own.scale) for f in (one, two))
    dx, dy = stop[0] - start[0], stop[1] - start[1]
    away = math.hypot(dx, dy)
    if away < _SHORTEST_ARROW:
        return
    ux, uy = dx / away, dy / away
    f = "{:.2f}".format
    back_x, back_y = stop[0] - _HEAD * ux, stop[1] - _HEAD * uy
    half = 0.5 * _HEAD
    yield Shape(
        "ov-arrow",
        f"M{f(start[0])} {f(start[1])}L{f(stop[0])} {f(stop[1])}"
        f"M{f(back_x - half * uy)} {f(back_y + half * ux)}L{f(stop[0])} {f(stop[1])}"
        f"L{f(back_x + half * uy)} {f(back_y - half * ux)}",
    )
