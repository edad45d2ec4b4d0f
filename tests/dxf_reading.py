"""Read a leg drawing with the independent reader and measure it; no code of the emitter.

Everything is brought back to millimetres of the outside view by the unit the file declares.
"""

import io
import itertools
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

    def rows(self):
        """Return the title block from top to bottom: rows of cells, told apart by their rules."""
        rules = self.on("TITLE-BLOCK", kind="LINE")
        ends = [(*self.point(e.dxf.start), *self.point(e.dxf.end)) for e in rules]
        levels = sorted({round(v, 6) for _, v, _, w in ends if v == w}, reverse=True)
        upright = [(round(u, 6), round(v, 6), round(w, 6)) for u, v, x, w in ends if u == x]
        found = []
        for top, bottom in itertools.pairwise(levels):
            edges = sorted({u for u, v, w in upright if (v, w) == (top, bottom)})
            found.append([self._cell(left, right, top, bottom) for left, right in pairs(edges)])
        return found

    def _cell(self, left, right, top, bottom):
        texts = []
        for entity in self.on("TITLE", "NOTE", "CAUTION", "CAPTION", kind="TEXT"):
            u, v = self.point(entity.dxf.insert)
            if left < u < right and bottom < v < top:
                text = ezdxf.decode_dxf_unicode(entity.plain_text())
                texts.append((-v, entity.dxf.layer, text))
        texts.sort()
        return Cell(
            caption="".join(text for _, layer, text in texts if layer == "CAPTION"),
            lines=[text for _, layer, text in texts if layer != "CAPTION"],
        )

    def facts(self):
        """Return caption -> text of the title block, lines joined again."""
        return {c.caption: c.text for row in self.rows() for c in row if c.caption}

    def notes(self):
        """Return the notes, each in one piece: a line that is indented goes on."""
        (cell,) = [c for row in self.rows() for c in row if c.caption == "NOTES"]
        return "\n".join(cell.lines).replace("\n  ", " ").split("\n")

    def schedule(self):
        """Return the schedule as rows of texts."""
        rows = self.rows()
        first = [i for i, row in enumerate(rows) if row[0].caption == "NAME"]
        return [[c.text for c in row] for i in first for row in rows[i:] if len(row) == COLUMNS]

    def dimensions(self, *kinds):
        """Return the dimensions of some kinds, in the order of drawing."""
        found = [Dimension(self, e) for e in self.on("DIMENSION", kind="DIMENSION")]
        return [d for d in found if d.kind in kinds] if kinds else found


ORDINATE = 6
"""Kind of a dimension that is measured from a datum."""

COLUMNS = 5
"""Columns of the schedule."""


@dataclass(frozen=True)
class Cell:
    caption: str
    lines: list

    @property
    def text(self):
        return " ".join(line.strip() for line in self.lines)


class Dimension:
    """A dimension as the reader measures it, and the texts and lines of its block."""

    def __init__(self, sheet, entity):
        self.sheet, self.entity = sheet, entity
        base = entity.dxf.dimtype & 15
        along = entity.dxf.dimtype & 64
        if base == ORDINATE:
            self.kind = "x" if along else "y"
        else:
            self.kind = "length" if entity.dxf.angle % 180 == 0 else "width"
        # The reader gives the way from an ordinate's datum to its point.
        found = entity.get_measurement()
        if base == ORDINATE:
            found = found.x if along else found.y
        self.measure = abs(found) * sheet.unit
        self.stored = entity.dxf.actual_measurement * sheet.unit
        self.block = list(sheet.drawing.blocks.get(entity.dxf.geometry))
        (self.letters,) = [e for e in self.block if e.dxftype() == "TEXT"]
        self.text = self.letters.plain_text()
        self.told = entity.dxf.text
        self.at = sheet.point(entity.dxf.defpoint2)
        self.origin = sheet.point(entity.dxf.defpoint)


def pairs(values):
    return list(itertools.pairwise(values))


def tidy(ring):
    """Drop points that repeat the one before them, and the last if it repeats the first."""
    kept = [p for p, q in zip(ring, ring[-1:] + ring[:-1], strict=True) if math.dist(p, q) > 1e-9]
    return kept or ring


def _sweep(arc):
    return (arc.dxf.end_angle - arc.dxf.start_angle) % 360.0 or 360.0


def _angles(arc, count):
    start, sweep = arc.dxf.start_angle, _sweep(arc)
    return [start + sweep * i / (count - 1) for i in range(count)]
