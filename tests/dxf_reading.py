"""Read a leg drawing with the independent reader and measure it; no code of the emitter.

Everything is brought back to millimetres of the outside view by the unit the file declares.
"""

import io
import math
from dataclasses import dataclass

import ezdxf
from shapely.geometry import Polygon

SEGMENTS = 720
"""Segments of a full circle."""

MM_PER_UNIT = {1: 25.4, 4: 1.0}  # $INSUNITS: inches, millimetres


@dataclass(frozen=True)
class Letters:
    text: str
    foot: tuple[float, float]
    height: float
    turn_deg: float


class Sheet:
    """One drawing, in millimetres."""

    def __init__(self, data):
        self.drawing = ezdxf.read(io.StringIO(data.decode("utf-8"), newline=None))
        self.space = self.drawing.modelspace()
        self.unit = MM_PER_UNIT[self.drawing.header["$INSUNITS"]]

    def on(self, *layers, kind=None):
        return [
            e for e in self.space if e.dxf.layer in layers and (kind is None or e.dxftype() == kind)
        ]

    def point(self, at):
        return (at[0] * self.unit, at[1] * self.unit)

    def circles(self, *layers):
        return [
            (*self.point(e.dxf.center), e.dxf.radius * self.unit)
            for e in self.on(*layers, kind="CIRCLE")
        ]

    def rings(self, *layers):
        return [self.ring(e) for e in self.on(*layers, kind="LWPOLYLINE")]

    def ring(self, polyline):
        """Return a polyline as points on it, arcs cut into pieces by the reader's own arcs."""
        points = [self.point(next(polyline.vertices()))]
        for piece in polyline.virtual_entities():
            further = self._pieces(piece)
            if math.dist(further[0], points[-1]) > math.dist(further[-1], points[-1]):
                further.reverse()  # the reader's arcs always run counter-clockwise
            points += further
        return points

    def _pieces(self, piece):
        if piece.dxftype() == "LINE":
            return [self.point(piece.dxf.start), self.point(piece.dxf.end)]
        count = max(2, math.ceil(SEGMENTS * _sweep(piece) / 360.0) + 1)
        return [self.point(p) for p in piece.vertices(_angles(piece, count))]

    def outline(self):
        (ring,) = self.rings("LEG-OUTLINE")
        return Polygon(tidy(ring))

    def slots(self, *layers):
        """Return both end centres and the radius of each slot, in the order of drawing."""
        found = []
        for polyline in self.on(*layers, kind="LWPOLYLINE"):
            assert polyline.closed
            arcs = [p for p in polyline.virtual_entities() if p.dxftype() == "ARC"]
            assert [round(_sweep(a), 6) for a in arcs] == [180.0, 180.0]
            centres = [self.point(a.dxf.center) for a in arcs]
            radii = {round(a.dxf.radius * self.unit, 6) for a in arcs}
            assert len(radii) == 1
            found.append((*centres, *radii))
        return found

    def letters(self, *layers):
        return [
            Letters(
                ezdxf.decode_dxf_unicode(e.plain_text()),
                self.point(e.dxf.insert),
                e.dxf.height * self.unit,
                e.dxf.rotation,
            )
            for e in self.on(*layers, kind="TEXT")
        ]

    def words(self):
        """Return the lines of title, notes and caution from top to bottom."""
        texts = self.on("TITLE", "NOTE", "CAUTION", kind="TEXT")
        texts.sort(key=lambda e: -e.dxf.insert.y)
        return [e.plain_text() for e in texts if e.plain_text() not in ("HEEL", "TOE")]


def tidy(ring):
    """Drop points that repeat the one before them, and the last if it repeats the first."""
    kept = [p for p, q in zip(ring, ring[-1:] + ring[:-1], strict=True) if math.dist(p, q) > 1e-9]
    return kept or ring


def _sweep(arc):
    return (arc.dxf.end_angle - arc.dxf.start_angle) % 360.0 or 360.0


def _angles(arc, count):
    start, sweep = arc.dxf.start_angle, _sweep(arc)
    return [start + sweep * i / (count - 1) for i in range(count)]
