"""Where a long piece is drawn with a part left out, and where its places then lie on paper."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Final

from msgspec import Struct

from translator.emitters.dxf._entities import (
    Circle,
    Corner,
    Dimension,
    Dot,
    Entity,
    Line,
    Polyline,
    Shape,
    Spot,
    Text,
    around,
)
from translator.emitters.dxf._layers import BREAK_LINE, FILLET, GAUGE_LINE, HEEL, OTHER_LEG, OUTLINE

GAP_MM: Final = 6.0
"""Width of a break on paper."""

_KEPT_MM: Final = 8.0
"""Steel that is drawn on either side of a break, beyond the nearest hole or corner, on paper."""

_CORNER: Final = Spot(0.0, 0.0)

_LONG: Final = frozenset({HEEL, OTHER_LEG, FILLET, GAUGE_LINE})
"""Layers of lines along the piece, which a break may cut."""


class Cut(Struct, frozen=True, kw_only=True):
    """A part that is left out, by u of the outside view in mm of the piece."""

    begin: float
    end: float


class Fold(Struct, frozen=True, kw_only=True):
    """From the outside view to paper: to scale, and with parts left out.

    Attributes:
        scale: mm of the piece for one of paper.
        cuts: what is left out, in order.
        origin: where the start end at the heel lies on paper.
    """

    scale: float
    cuts: tuple[Cut, ...] = ()
    origin: Spot = _CORNER

    def u(self, u: float) -> float:
        """Return where a place along the piece lies; what is left out is drawn together."""
        moved = u / self.scale
        for cut in self.cuts:
            if u >= cut.end:
                moved += GAP_MM - (cut.end - cut.begin) / self.scale
            elif u > cut.begin:
                moved += (u - cut.begin) * (GAP_MM / (cut.end - cut.begin) - 1.0 / self.scale)
        return self.origin.u + moved

    def spot(self, spot: Spot) -> Spot:
        """Return where a point of the outside view lies."""
        return Spot(self.u(spot.u), self.origin.v + spot.v / self.scale)


def chosen(
    entities: Sequence[Entity], length: float, scale: float, room: float
) -> tuple[Cut, ...] | None:
    """Choose what is left out so that a piece fits a room, in as few breaks as can be.

    Args:
        entities: all that is drawn of its legs, in mm of the outside view.
        length: of the piece.
        scale: mm of the piece for one of paper.
        room: width on paper.

    Returns:
        The cuts; none when the piece fits whole; None when it does not fit.
    """
    surplus = length / scale - room
    if surplus <= 0.0:
        return ()
    cuts = []
    kept = _KEPT_MM * scale
    for low, high in sorted(_free(entities, length), key=lambda s: (s[0] - s[1], s[0])):
        most = (high - low - 2.0 * kept) / scale - GAP_MM
        if surplus <= 0.0 or most <= GAP_MM:
            break
        saved = min(most, max(surplus, 0.0))
        half = (saved + GAP_MM) * scale / 2.0
        middle = (low + high) / 2.0
        cuts.append(Cut(begin=middle - half, end=middle + half))
        surplus -= saved
    return tuple(sorted(cuts, key=lambda cut: cut.begin)) if surplus <= 0.0 else None


def folded(entities: Iterable[Entity], fold: Fold) -> Iterator[Shape]:
    """Yield entities as they are drawn on paper; dimensions by their pictures."""
    for entity in entities:
        match entity:
            case Line():
                yield from _line(entity, fold)
            case Polyline():
                yield from _polyline(entity, fold)
            case Circle():
                centre = fold.spot(entity.centre)
                yield entity._replace(centre=centre, radius=entity.radius / fold.scale)
            case Dot():
                yield entity._replace(at=fold.spot(entity.at))
            case Text():
                height = entity.height / fold.scale
                yield entity._replace(at=fold.spot(entity.at), height=height)
            case Dimension():
                yield from folded(entity.picture, fold)


def _free(entities: Sequence[Entity], length: float) -> Iterator[tuple[float, float]]:
    """Yield stretches along the piece in which only lines run on."""
    taken = sorted(span for entity in entities for span in _taken(entity))
    reached = 0.0
    for low, high in [*taken, (length, length)]:
        if low > reached:
            yield reached, low
        reached = max(reached, high)


def _taken(entity: Entity) -> Iterator[tuple[float, float]]:
    if entity.layer is OUTLINE and isinstance(entity, Polyline):
        corners = entity.corners
        for here, after in zip(corners, (*corners[1:], corners[0]), strict=True):
            yield here.u, here.u
            if here.bulge:
                arc = around([Polyline(OUTLINE, (here, after), closed=False)])
                yield arc.left, arc.right
    elif entity.layer not in _LONG:
        box = around([entity])
        yield box.left, box.right


def _line(line: Line, fold: Fold) -> Iterator[Line]:
    (u, v), (w, z) = line.start, line.end
    begin = line.start
    if u <= w:
        for cut in fold.cuts:
            if u < cut.begin and cut.end < w:
                rise = (z - v) / (w - u)
                stop, go = (Spot(x, v + rise * (x - u)) for x in (cut.begin, cut.end))
                yield line._replace(start=fold.spot(begin), end=fold.spot(stop))
                begin = go
    yield line._replace(start=fold.spot(begin), end=fold.spot(line.end))


def _polyline(line: Polyline, fold: Fold) -> Iterator[Polyline]:
    """Yield a polyline in pieces that end where something is left out."""
    corners = [*line.corners, line.corners[0]] if line.closed else list(line.corners)
    pieces: list[list[Corner]] = [[]]
    for here, after in pairwise(corners):
        pieces[-1].append(here)
        way = 1 if after.u >= here.u else -1
        for cut in fold.cuts[::way]:
            ends = (cut.begin, cut.end)[::way]
            if min(here.u, after.u) < cut.begin and cut.end < max(here.u, after.u):
                rise = (after.v - here.v) / (after.u - here.u)
                stop, go = (Corner(x, here.v + rise * (x - here.u)) for x in ends)
                pieces[-1].append(stop)
                pieces.append([go])
    if len(pieces) == 1 and line.closed:
        yield line._replace(corners=tuple(_corner(c, fold) for c in line.corners))
        return
    pieces[-1].append(corners[-1])
    if line.closed:  # the last piece runs on into the first
        pieces[0] = [*pieces.pop()[:-1], *pieces[0]]
    for piece in pieces:
        yield Polyline(line.layer, tuple(_corner(c, fold) for c in piece), closed=False)


def _corner(corner: Corner, fold: Fold) -> Corner:
    return Corner(*fold.spot(Spot(corner.u, corner.v)), corner.bulge)


def zigzag(u: float, low: float, high: float) -> Polyline:
    """Return a break line from bottom to top at u on paper, with one zigzag in its middle."""
    middle, s = (low + high) / 2.0, min(1.5, (high - low) / 6.0)
    points = (
        (u, low),
        (u, middle - s),
        (u + s, middle - s / 2.0),
        (u - s, middle + s / 2.0),
        (u, middle + s),
        (u, high),
    )
    return Polyline(BREAK_LINE, tuple(Corner(*p) for p in points), closed=False)
