"""Leg drawings as they are rendered: the independent drawing add-on paints them, and what it
paints is laid over the model's own picture. Areas are compared instead of pixels.
"""

import math

import pytest
from dense_parts import dense_parts
from dxf_parts import SHEET_IDS, SHEETS
from dxf_reading import Sheet, tidy
from ezdxf.addons.drawing import Frontend, RenderContext
from ezdxf.addons.drawing.backend import Backend
from ezdxf.addons.drawing.config import Configuration, LinePolicy, TextPolicy
from hypothesis import HealthCheck, given, settings
from model_shapes import steel_of
from shapely.geometry import Polygon
from strategies import parts

from translator.emitters import EmitOptions
from translator.emitters.dxf import EMITTER, _view
from translator.geometry.outline import leg_outline
from translator.model import leg_names

OVERLAP = 0.995

CUT_LAYERS = ("HOLE-THROUGH", "HOLE-BLIND", "HOLE-TAPPED", "SLOT", "SLOT-BLIND", "OPENING")
MARKED = "MARK-ONLY"


class Painted(Backend):
    """Keep every line that is painted, by layer, in the drawing's units."""

    def __init__(self):
        super().__init__()
        self.lines = {}

    def keep(self, properties, points):
        self.lines.setdefault(properties.layer, []).append([(p.x, p.y) for p in points])

    def draw_point(self, pos, properties):
        self.keep(properties, [pos])

    def draw_line(self, start, end, properties):
        self.keep(properties, [start, end])

    def draw_path(self, path, properties):
        self.keep(properties, list(path.flattening(0.001)))

    def draw_filled_paths(self, paths, properties):
        for path in paths:
            self.draw_path(path, properties)

    def draw_filled_polygon(self, points, properties):
        self.keep(properties, list(points))

    def draw_image(self, *_):
        raise AssertionError("a drawing has no image")

    def set_background(self, color):
        pass

    def clear(self):
        pass


def painted(data):
    sheet = Sheet(data)
    backend = Painted()
    # Without dashes a line is painted whole; letters need fonts, and have no area here.
    config = Configuration(line_policy=LinePolicy.SOLID, text_policy=TextPolicy.IGNORE)
    Frontend(RenderContext(sheet.drawing), backend, config=config).draw_layout(sheet.space)
    return backend.lines, sheet.unit


def rings(lines, unit):
    """Return painted lines as the shapes they enclose; each runs back to where it began."""
    found = []
    for line in lines:
        points = [(u * unit, v * unit) for u, v in line]
        assert math.dist(points[0], points[-1]) < 1e-6
        found.append(Polygon(tidy(points)))
    return found


def painted_steel(data):
    lines, unit = painted(data)
    (steel,) = rings(lines["LEG-OUTLINE"], unit)
    for layer in (*CUT_LAYERS, MARKED):
        for ring in rings(lines.get(layer, []), unit):
            steel -= ring
    return steel


def overlap(one, other):
    return one.intersection(other).area / one.union(other).area


def assert_same_picture(part, leg):
    data = EMITTER.emit(part, EmitOptions(leg=leg))
    meant = steel_of(part, leg, leg_outline(part, leg).contour)
    assert overlap(painted_steel(data), meant) > OVERLAP


@pytest.mark.parametrize(("part", "leg"), SHEETS, ids=SHEET_IDS)
def test_examples_look_as_designed(part, leg):
    assert_same_picture(part, leg)


@pytest.mark.parametrize("part", list(dense_parts(6, seed=21)), ids=lambda part: part.mark)
def test_crowded_parts_look_as_designed(part):
    for leg in leg_names(part):
        assert_same_picture(part, leg)


@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(parts())
def test_any_part_looks_as_designed(part):
    for leg in leg_names(part):
        assert_same_picture(part, leg)


@pytest.mark.parametrize(("part", "leg"), [s for s in SHEETS if s[0].mark == "K3"], ids=["a", "b"])
def test_a_wrong_picture_falls_short(part, leg, monkeypatch):
    """Mirrored about the heel it would still have the right area."""
    meant = steel_of(part, leg, leg_outline(part, leg).contour)
    plain = _view.spot
    monkeypatch.setattr(
        _view, "spot", lambda leg, x, y: _view.Spot(part.length_mm - x, plain(leg, x, y).v)
    )
    data = EMITTER.emit(part, EmitOptions(leg=leg))
    assert overlap(painted_steel(data), meant) < OVERLAP
