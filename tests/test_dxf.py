"""Leg drawings: valid for an independent reader, true to the model, the same on any day.

The reader, auditor and measurer is ezdxf with shapely; neither is used by the emitter.
"""

import hashlib
import itertools
import math
import os
import subprocess
import sys

import ezdxf
import pytest
from dxf_parts import BEAM_CLIP, BRACE, COPED, EXAMPLES, SHEET_IDS, SHEETS, STRAP, hole, slot
from dxf_reading import Sheet, tidy
from ezdxf import bbox
from ezdxf.colors import DXF_DEFAULT_COLORS, int2rgb
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from model_shapes import ring_of
from shapely import box
from shapely.geometry import LineString, Point, Polygon
from strategies import parts

from translator.emitters import EmitOptions, emitters
from translator.emitters.dxf import EMITTER, _clip, _layers, _make_template, _template
from translator.errors import CannotRepresentError, RoomError
from translator.findings import CAUTION
from translator.geometry.contours import contour_edges
from translator.geometry.outline import leg_outline
from translator.model import (
    AngleLegs,
    Cope,
    FlatLegs,
    Hole,
    Leg,
    Opening,
    Slot,
    Stamp,
    Stated,
    Vertex,
    Waiver,
    leg_names,
    leg_of,
)

HOLE_LAYERS = ("HOLE-THROUGH", "HOLE-BLIND", "HOLE-TAPPED", "MARK-ONLY")
ROUNDED = 1e-8
"""Coordinates are written with nine decimals."""

SLOT_LAYERS = ("SLOT", "SLOT-BLIND", "MARK-ONLY")


def emitted(part, leg=None):
    return EMITTER.emit(part, EmitOptions(leg=leg))


def changed(part, **fields):
    return type(part)(
        **{name: fields.get(name, getattr(part, name)) for name in type(part).model_fields}
    )


def test_the_room_finds_the_emitter():
    assert EMITTER in emitters()
    assert (EMITTER.name, EMITTER.suffix, EMITTER.per_leg) == ("dxf", ".dxf", True)


# --- valid for an independent reader -------------------------------------------------------


@pytest.mark.parametrize(("part", "leg"), SHEETS, ids=SHEET_IDS)
def test_audit_is_clean_and_head_is_right(part, leg, tmp_path):
    path = tmp_path / "leg.dxf"
    path.write_bytes(emitted(part, leg))
    drawing = ezdxf.readfile(path)
    auditor = drawing.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    header = drawing.header
    assert drawing.dxfversion == "AC1024"
    inch = part.units == "inch"
    assert header["$INSUNITS"] == (1 if inch else 4)
    assert header["$MEASUREMENT"] == (0 if inch else 1)
    handles = [int(e.dxf.handle, 16) for e in drawing.modelspace()]
    assert handles == list(range(_template.FIRST_HANDLE, _template.FIRST_HANDLE + len(handles)))
    # Read from the bytes: the reader itself would lift too low a seed, and heal a double.
    lines = path.read_text(encoding="utf-8").split("\n")
    pairs = list(zip(lines[:-1:2], lines[1::2], strict=True))
    every = [int(value, 16) for code, value in pairs if code in ("  5", "105")]
    own = sorted(h for h in every[1:] if h >= _template.FIRST_HANDLE)  # the first is the seed
    assert own == list(range(_template.FIRST_HANDLE, _template.FIRST_HANDLE + len(own)))
    assert int(lines[lines.index("$HANDSEED") + 2], 16) == own[-1] + 1
    assert every[0] == own[-1] + 1
    records = [v for c, v in pairs if (c, v) == ("  0", "BLOCK_RECORD")]
    table = lines.index("BLOCK_RECORD")
    assert int(lines[lines.index(" 70", table) + 1]) == len(records)


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(parts())
def test_any_part_passes_the_audit(part):
    for leg in leg_names(part):
        auditor = Sheet(emitted(part, leg)).drawing.audit()
        assert (auditor.errors, auditor.fixes) == ([], [])


@pytest.mark.parametrize(("part", "leg"), SHEETS, ids=SHEET_IDS)
def test_extents_hold_the_drawing_and_the_view_shows_it(part, leg):
    sheet = Sheet(emitted(part, leg))
    low, high = sheet.drawing.header["$EXTMIN"], sheet.drawing.header["$EXTMAX"]
    assert low[0] < high[0]
    whole = bbox.extents(sheet.space)
    assert low[0] <= whole.extmin.x + ROUNDED
    assert low[1] <= whole.extmin.y + ROUNDED
    assert high[0] >= whole.extmax.x - ROUNDED
    assert high[1] >= whole.extmax.y - ROUNDED
    # Not a rough guess: no more than the safe side of a text's room.
    letter = max(e.dxf.height for e in sheet.on("NOTE"))
    assert high[1] <= whole.extmax.y + 6 * letter
    assert high[0] <= whole.extmax.x + 6 * letter
    (view,) = sheet.drawing.viewports.get("*Active")
    assert view.dxf.height >= high[1] - low[1]
    assert view.dxf.height * view.dxf.aspect_ratio >= high[0] - low[0]
    assert view.dxf.center[0] == pytest.approx((low[0] + high[0]) / 2, abs=1e-6)
    assert view.dxf.center[1] == pytest.approx((low[1] + high[1]) / 2, abs=1e-6)


@pytest.mark.parametrize(("part", "leg"), SHEETS, ids=SHEET_IDS)
def test_every_entity_lies_on_a_layer_of_the_list(part, leg):
    sheet = Sheet(emitted(part, leg))
    used = {e.dxf.layer for e in sheet.space}
    assert used <= {layer.name for layer in _layers.LAYERS}
    for layer in _layers.LAYERS:
        entry = sheet.drawing.layers.get(layer.name)
        assert (entry.color, entry.dxf.linetype, entry.dxf.lineweight) == (
            layer.colour,
            layer.line_type.name,
            layer.width,
        )
        assert layer.line_type.name in sheet.drawing.linetypes


@pytest.mark.parametrize("layer", _layers.LAYERS, ids=lambda layer: layer.name)
def test_colours_stand_out_from_white_and_from_black(layer):
    if layer.colour == 7:  # drawn black on white and white on black
        return
    share = [c / 255 for c in int2rgb(DXF_DEFAULT_COLORS[layer.colour])]
    # Relative luminance and contrast after WCAG 2.1; 3 to 1 is its limit for graphics.
    r, g, b = (c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in share)
    light = 0.2126 * r + 0.7152 * g + 0.0722 * b
    assert min(1.05 / (light + 0.05), (light + 0.05) / 0.05) >= 3.6


# --- true to the model ---------------------------------------------------------------------


def assert_measures(part, leg):
    """The drawing, measured, is the model: outline, holes, slots, openings."""
    sign = -1.0 if leg == "b" else 1.0
    sheet = Sheet(emitted(part, leg))
    outline, expected = sheet.outline(), ring_of(leg_outline(part, leg).contour, sign)
    assert outline.area == pytest.approx(expected.area, rel=1e-4)
    assert outline.symmetric_difference(expected).area <= 1e-4 * expected.area
    assert outline.bounds == pytest.approx(expected.bounds, abs=0.001)
    features = leg_of(part, leg).features
    holes = [(f.x_mm, sign * f.y_mm, f.diameter_mm / 2) for f in features if is_a(f, Hole)]
    found = sheet.circles(*HOLE_LAYERS)
    assert len(found) == len(holes)
    for one, other in zip(found, holes, strict=True):
        assert one == pytest.approx(other, abs=0.0005)
    slots = [f for f in features if is_a(f, Slot)]
    drawn = sheet.slots(*SLOT_LAYERS)
    assert len(drawn) == len(slots)
    for (p, q, radius), slot_meant in zip(drawn, slots, strict=True):
        ends = slot_ends(slot_meant, sign)
        if math.dist(p, ends[0]) > math.dist(p, ends[1]):
            ends.reverse()
        assert (*p, *q) == pytest.approx((*ends[0], *ends[1]), abs=0.001)
        assert radius == pytest.approx(slot_meant.width_mm / 2, abs=0.001)
    openings = [f for f in features if is_a(f, Opening)]
    rings = sheet.rings("OPENING")
    for ring, opening in zip(rings, openings, strict=True):
        cut, meant = Polygon(tidy(ring)), ring_of(opening.contour, sign)
        assert cut.symmetric_difference(meant).area <= 1e-4 * meant.area


def is_a(feature, kind):
    return isinstance(feature, kind)


def slot_ends(slot, sign):
    reach = (slot.length_mm - slot.width_mm) / 2
    dx = reach * math.cos(math.radians(slot.angle_deg))
    dy = reach * math.sin(math.radians(slot.angle_deg))
    return [(slot.x_mm + s * dx, sign * (slot.y_mm + s * dy)) for s in (-1, 1)]


@pytest.mark.parametrize(("part", "leg"), SHEETS, ids=SHEET_IDS)
def test_examples_measure_as_designed(part, leg):
    assert_measures(part, leg)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(parts())
def test_any_part_measures_as_designed(part):
    for leg in leg_names(part):
        assert_measures(part, leg)


def test_areas_reckoned_by_hand():
    """Leg a of the coped angle: trapezium, less the cope, less the rounding."""
    lean = math.tan(math.radians(5))  # leg a starts long at the toe, by 150 tan 5
    whole = 480 * 150 - lean * 150**2 / 2
    corner = (1 - math.pi / 4) * 20**2  # what the radius of the cope leaves standing
    # The cope is 60 from the outermost point; the slanting end takes part of it already.
    cope = 60 * 50 - lean * 50**2 / 2 - corner
    rounding = (1 - math.pi / 4) * 30**2
    assert Sheet(emitted(COPED, "a")).outline().area == pytest.approx(
        whole - cope - rounding, rel=1e-5
    )


def test_an_inch_part_is_drawn_in_inches_exactly():
    sheet = Sheet(emitted(BEAM_CLIP, "a"))
    circles = sorted(e.dxf.center.x for e in sheet.on("HOLE-THROUGH"))
    assert circles == [1.25, 4.25, 7.25, 10.25]
    assert {e.dxf.radius for e in sheet.on("HOLE-THROUGH")} == {0.40625}
    (outline,) = sheet.on("LEG-OUTLINE")
    assert outline.get_points("xyb") == [(0, 0, 0), (11.5, 0, 0), (11.5, 4, 0), (0, 4, 0)]


def test_leg_b_lies_below_its_heel():
    bounds = Sheet(emitted(BEAM_CLIP, "b")).outline().bounds
    assert bounds == (0.0, pytest.approx(-88.9), pytest.approx(292.1), 0.0)


def test_kinds_of_holes_lie_on_layers_of_their_own():
    sheet = Sheet(emitted(COPED, "a"))
    places = {
        layer: [tuple(round(v, 6) for v in c) for c in sheet.circles(layer)]
        for layer in (*HOLE_LAYERS, "COUNTERSINK")
    }
    assert places == {
        "HOLE-THROUGH": [(90.0, 90.0, 11.0), (300.0, 90.0, 9.0)],
        "HOLE-BLIND": [(160.0, 90.0, 11.0)],
        "HOLE-TAPPED": [(230.0, 90.0, 10.0)],
        "MARK-ONLY": [(370.0, 60.0, 11.0)],
        "COUNTERSINK": [(300.0, 90.0, 16.0)],
    }
    words = [e.plain_text() for e in sheet.on("LABEL")]
    assert words == ["a1", "a2", "BLIND", "a3", "TAP", "a4", "CSK", "a5", "MARK", "a6", "a7"]
    b = Sheet(emitted(COPED, "b"))
    assert len(b.on("SLOT-BLIND", kind="LWPOLYLINE")) == 1
    assert not b.on("SLOT")


def test_marks_and_scribed_lines():
    sheet = Sheet(emitted(COPED, "b"))
    (dot,) = sheet.on("CENTRE-PUNCH", kind="POINT")
    assert tuple(dot.dxf.location)[:2] == (250.0, -55.0)
    assert len(sheet.on("CENTRE-PUNCH", kind="LINE")) == 2
    (powder,) = sheet.on("POWDER-LINE")
    assert powder.get_points("xyb") == [(380.0, -25.0, -0.4), (440.0, -70.0, 0.0)]
    (scribed,) = sheet.on("SCRIBE")
    assert (powder.closed, scribed.closed) == (False, True)
    (punched,) = sheet.on("PUNCH-LINE")
    assert punched.dxf.count == 2


@pytest.mark.parametrize(
    ("leg", "toe"), [("a", 1), ("b", -1)], ids=["heel at the bottom", "heel at the top"]
)
def test_lines_along_the_leg(leg, toe):
    sheet = Sheet(emitted(COPED, leg))
    heights = {}
    for line in sheet.on("HEEL", "OTHER-LEG-INSIDE", "FILLET", "GAUGE-LINE", kind="LINE"):
        assert line.dxf.start.y == line.dxf.end.y
        heights.setdefault(line.dxf.layer, []).append(line.dxf.start.y * toe)
    gauges = [60.0, 90.0, 110.0] if leg == "a" else [55.0]
    assert heights == {
        "HEEL": [0.0],
        "OTHER-LEG-INSIDE": [12.0],  # the thickness
        "FILLET": [24.0],  # thickness and root radius
        "GAUGE-LINE": gauges,
    }


def test_helping_lines_stop_where_the_steel_does():
    """A cope at the heel takes the fillet away; the line is not drawn through air."""
    trims = (Cope(end="start", side="heel", along_mm=50.0, across_mm=40.0, radius_mm=0.0),)
    part = changed(COPED, legs=AngleLegs(a=Leg(trims=trims)), ends=type(COPED.ends)(), mark="K4")
    (fillet,) = Sheet(emitted(part, "a")).on("FILLET")
    assert (fillet.dxf.start.x, fillet.dxf.end.x) == (50.0, 480.0)
    # Leg b only loses the corner that both legs share.
    (other,) = Sheet(emitted(part, "b")).on("FILLET")
    assert (other.dxf.start.x, other.dxf.end.x) == (0.0, 480.0)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(parts(), st.floats(0.0, 1.0))
def test_clipped_lines_agree_with_an_outside_window(part, share):
    for leg in leg_names(part):
        contour = leg_outline(part, leg).contour
        polygon = ring_of(contour, 1.0)
        left, low, right, high = polygon.bounds
        y = low + share * (high - low)
        cut = polygon.intersection(LineString([(left - 1, y), (right + 1, y)]))
        length = sum(end - start for start, end in _clip.spans(contour_edges(contour), y))
        # Along an edge of the outline either answer is right.
        if all(abs(y - v.y_mm) > 1e-3 for v in contour):
            assert length == pytest.approx(cut.length, abs=0.05)


@pytest.mark.parametrize(
    ("y", "expected"),
    [(0.0, [(1.0, 5.0)]), (1.0, [(0.0, 4.0)]), (-1.0, [(0.0, 6.0)]), (-2.5, []), (2.5, [])],
)
def test_clipping_to_arcs(y, expected):
    """Six wide below, four above; a half circle is bitten out of either side."""
    ring = (
        Vertex(x_mm=0.0, y_mm=-2.0),
        Vertex(x_mm=6.0, y_mm=-2.0),
        Vertex(x_mm=6.0, y_mm=-1.0, bulge=-1.0),
        Vertex(x_mm=6.0, y_mm=1.0),
        Vertex(x_mm=4.0, y_mm=1.0),
        Vertex(x_mm=4.0, y_mm=2.0),
        Vertex(x_mm=0.0, y_mm=2.0),
        Vertex(x_mm=0.0, y_mm=1.0, bulge=-1.0),
        Vertex(x_mm=0.0, y_mm=-1.0),
    )
    assert _clip.spans(contour_edges(ring), y) == [pytest.approx(span) for span in expected]


def test_a_stamp_without_text_is_the_mark():
    (letters,) = Sheet(emitted(BEAM_CLIP, "b")).letters("STAMP")
    assert letters.text == "C12"
    assert letters.height == pytest.approx(9.525)
    # Heel at the top: the heads of the letters are 1-1/8 from the heel, the feet 3/8 more.
    assert letters.foot == pytest.approx((133.35, -(28.575 + 9.525)))
    assert letters.turn_deg == 0.0


# --- what the sheet says -------------------------------------------------------------------


def test_title_block_of_an_inch_sheet():
    sheet = Sheet(emitted(BEAM_CLIP, "b"))
    facts = sheet.facts()
    assert {name: facts[name] for name in facts if name not in SCHEDULE} == {
        "MARK": "C12",
        "VIEW": "LEG B: OUTSIDE FACE",
        "TITLE": "beam clip",
        "SECTION": "L4x3-1/2x3/8",
        "LENGTH": "11-1/2 in.",
        "QUANTITY": "24",
        "GRADE": "A36",
        "MASS OF ONE": "3.96 kg (8.7 lb)",
        "ORDER": "TQ-7",
        "DRAWING": "E-104",
        "REVISION": "B",
        "UNITS": "inch",
        "SCALE": "1:1",
        "NOTES": facts["NOTES"],
    }
    assert sheet.notes() == [
        "leg a 4   leg b 3-1/2   thickness 3/8   root radius 3/8   fillet ends 3/4 from the heel",
        (
            "Seen from outside, start end left, heel at the top; leg a above leg b, joined along"
            " the heel, is the unfolded angle."
        ),
        "One unit of the drawing is one inch. Sizes in brackets follow from others.",
    ]
    assert [c.text for c in sheet.rows()[-1]] == [CAUTION]


SCHEDULE = ("NAME", "NO.", "WHAT", "GAUGE", "AT, FROM START END")


def test_title_block_of_a_metric_flat():
    facts = Sheet(emitted(STRAP)).facts()
    found = {name: facts[name] for name in ("VIEW", "LENGTH", "UNITS", "MASS OF ONE", "GRADE")}
    assert found == {
        "VIEW": "FLAT: OUTSIDE FACE",
        "LENGTH": "220 mm",
        "UNITS": "mm",
        "MASS OF ONE": "1.73 kg",  # 0.1 x 0.01 x 0.22 m3 of 7850 kg/m3
        "GRADE": "",
    }


def test_phase_lot_and_finish_stand_in_a_row_when_there_are_any():
    assert Sheet(emitted(COPED, "a")).facts()["FINISH"] == "galvanised"
    assert "FINISH" not in Sheet(emitted(STRAP)).facts()


@pytest.mark.parametrize(
    ("part", "leg", "rows"),
    [
        (BEAM_CLIP, "a", [["a1 to a4", "4", "hole 13/16", "2-1/2", "1-1/4, 3 @ 3"]]),
        (
            BEAM_CLIP,
            "b",
            [
                [
                    "b1 to b4",
                    "4",
                    "slot 13/16 x 1 overall across the leg, for bolt 3/4",
                    "2",
                    "1-1/4, 3 @ 3",
                ],
                [
                    "b5",
                    "1",
                    'stamp "C12" 3/8 high, left end at 5-1/4, letters 1-1/8 from the heel',
                    "",
                    "",
                ],
            ],
        ),
        (
            BRACE,
            "a",
            [
                ["a1, a2", "2", "hole 13/16, for bolt 3/4", "1-3/4", "4, 6-1/2"],
                ["a3", "1", "hole 13/16, for bolt 3/4", "2-1/16", "1'-0\""],
            ],
        ),
        (
            COPED,
            "a",
            [
                ["a1", "1", "hole 22", "90", "90"],
                ["a2", "1", "hole 22, blind, 8 deep", "90", "160"],
                ["a3", "1", "hole 20, tapped, right-hand thread", "90", "230"],
                ["a4", "1", "hole 18, countersunk to 32 x 90 deg", "90", "300"],
                ["a5", "1", "hole 22, only mark the place, do not make it", "60", "370"],
                ["a6", "1", "slot 22 x 60 overall turned 45 deg towards the toe", "110", "400"],
                [
                    "a7",
                    "1",
                    "opening of 4 corners, 200 to 275 along the piece, 30 to 60 from the heel",
                    "",
                    "",
                ],
            ],
        ),
        (
            COPED,
            "b",
            [
                ["b1", "1", "hole 22, for a rod, no bolt", "55", "90"],
                [
                    "b2",
                    "1",
                    "slot 18 x 40 overall turned 30 deg towards the toe, blind, 5 deep",
                    "55",
                    "180",
                ],
                ["b3", "1", "centre punch mark", "55", "250"],
                [
                    "b4",
                    "1",
                    (
                        'stamp "K3/é" 12 high, left end at 270, letters 40 from the heel, turned'
                        " 20 deg towards the toe, may be moved"
                    ),
                    "",
                    "",
                ],
                [
                    "b5",
                    "1",
                    "powder line, 380 to 440 along the piece, 24.625 to 70 from the heel",
                    "",
                    "",
                ],
                [
                    "b6",
                    "1",
                    "scribed line, 300 to 340 along the piece, 20 to 30 from the heel",
                    "",
                    "",
                ],
                [
                    "b7",
                    "1",
                    "line of punch marks from 30 along and 90 across to 60 along and 90 across",
                    "",
                    "",
                ],
            ],
        ),
        (
            STRAP,
            "face",
            [
                ["f1", "1", "hole 18", "30", "40"],
                ["f2", "1", "hole 18", "70", "40"],
                ["f3", "1", "slot 18 x 50 overall along the piece", "50", "150"],
                [
                    "f4",
                    "1",
                    'stamp "F1" 8 high, left end at 80, letters 44 from the lower edge',
                    "",
                    "",
                ],
            ],
        ),
    ],
    ids=["C12-a", "C12-b", "B7-a", "K3-a", "K3-b", "F1"],
)
def test_schedule_says(part, leg, rows):
    assert Sheet(emitted(part, leg)).schedule() == rows


@pytest.mark.parametrize(
    ("part", "leg", "lines"),
    [
        (
            BRACE,
            "a",
            [
                "Far end cut 15 deg from square (about 3-3/16 in 12), long at the toe.",
                "Start end, toe: cope 2 long x 1 deep, inside radius 1/2.",
                "Second work: saw the far end",
                "Remark: two coats of primer; see the general notes on drawing E-101",
            ],
        ),
        (
            BRACE,
            "b",
            ["The far end of the length is on leg a, not on leg b."],
        ),
        (
            COPED,
            "a",
            [
                "Start end cut 5 deg from square (about 8.7 in 100), long at the toe.",
                "Start end, toe: cope 60 long x 50 deep, inside radius 20.",
                "Far end, toe: rounded, radius 30.",
            ],
        ),
        (
            COPED,
            "b",
            [
                "Start end cut 10 deg from square (about 17.6 in 100), long at the heel.",
                (
                    "0 along the piece is that of the start end before its corners were cut: no"
                    " steel is left there."
                ),
                "Far end, toe: clip 40 along x 30 across.",
            ],
        ),
        (
            STRAP,
            "face",
            [
                "width 100   thickness 10",
                "Far end cut 12 deg from square (about 21.3 in 100), long at the upper edge.",
                "Start end, upper edge: rounded, radius 25.",
                "Notch in the upper edge, 90 to 130 along x 20 deep, inside radius 8.",
                "Seen from outside, start end left; gauges are from the lower edge, at the bottom.",
            ],
        ),
    ],
    ids=["B7-a", "B7-b", "K3-a", "K3-b", "F1"],
)
def test_notes_say(part, leg, lines):
    notes = Sheet(emitted(part, leg)).notes()
    assert [line for line in lines if line not in notes] == []


@pytest.mark.parametrize(
    ("feature", "words"),
    [
        (hole("f1", 50.0, 50.0, 18.0, process="drill"), "hole 18, drill only"),
        (hole("f1", 50.0, 50.0, 18.0, purpose="vent"), "hole 18, for a vent, no bolt"),
        (
            hole("f1", 50.0, 50.0, 18.0, countersink_angle_deg=90.0, bolt="M16"),
            "hole 18, countersunk 90 deg, for bolt M16",
        ),
        (
            hole("f1", 50.0, 50.0, 18.0, countersink_diameter_mm=30.5, process="punch"),
            "hole 18, countersunk to 30.5, punch",
        ),
        (
            slot("f1", (50.0, 50.0), (18.0, 40.0), -30.0, process="sub-punch-and-ream"),
            "slot 18 x 40 overall turned 30 deg towards the lower edge, sub-punch and ream",
        ),
    ],
    ids=["drilled", "vent", "countersink by angle", "countersink by size", "slot turned down"],
)
def test_schedule_of_a_flat_says(feature, words):
    part = changed(STRAP, legs=FlatLegs(face=Leg(features=(feature,))))
    assert Sheet(emitted(part)).schedule() == [["f1", "1", words, "50", "50"]]


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(parts())
def test_words_stand_clear_of_the_leg_and_of_each_other(part):
    for leg in leg_names(part):
        sheet = Sheet(emitted(part, leg))
        table = sheet.on("TITLE-BLOCK", "TITLE", "NOTE", "CAUTION", "CAPTION")
        table = [e for e in table if e.dxftype() != "TEXT" or e.plain_text() not in HEEL_AND_TOE]
        rows = sheet.rows()
        assert len(rows) >= 5
        # Every word is in one cell of the frame, and the lines of a cell do not touch.
        words = [e for e in table if e.dxftype() == "TEXT"]
        assert sum(len(c.lines) + bool(c.caption) for row in rows for c in row) == len(words)
        spaces = {}
        for e in words:
            low = e.dxf.insert.y - 0.25 * e.dxf.height
            spaces.setdefault(round(e.dxf.insert.x, 6), []).append((-low, e.dxf.height * 1.5))
        for column in spaces.values():
            column.sort()
            gaps = itertools.pairwise(column)
            assert all(q[0] - q[1] >= p[0] - ROUNDED for p, q in gaps)
        others = bbox.extents(e for e in sheet.space if e not in set(table))
        assert max(e.dxf.start.y for e in table if e.dxftype() == "LINE") < others.extmin.y


HEEL_AND_TOE = ("HEEL", "TOE")


@pytest.mark.parametrize(("part", "leg"), SHEETS, ids=SHEET_IDS)
def test_names_stand_inside_their_holes(part, leg):
    """A name that stood outside could cover another hole or the outline."""
    sheet = Sheet(emitted(part, leg))
    discs = [Point(u, v).buffer(r) for u, v, r in sheet.circles(*HOLE_LAYERS)]
    discs += [Polygon(tidy(r)).buffer(1e-6) for r in sheet.rings(*SLOT_LAYERS, "OPENING")]
    mark = "b3" if part is COPED else None  # stands beside a centre mark
    texts = [e for e in sheet.on("LABEL") if e.plain_text() != mark]
    assert len(texts) >= len(discs)
    for text in texts:
        low = bbox.extents([text], fast=True)
        (u0, v0), (u1, v1) = sheet.point(low.extmin), sheet.point(low.extmax)
        assert any(disc.contains(box(u0, v0, u1, v1)) for disc in discs), text.plain_text()


# --- the same bytes ------------------------------------------------------------------------

EMIT_ALL = """
import hashlib, sys
sys.path.insert(0, sys.argv[1])
from dxf_parts import SHEETS
from translator.emitters import EmitOptions
from translator.emitters.dxf import EMITTER
for part, leg in SHEETS:
    print(hashlib.sha256(EMITTER.emit(part, EmitOptions(leg=leg))).hexdigest())
print(sorted(set(sys.modules) & {"ezdxf", "shapely", "lark", "numpy"}))
"""


def test_same_bytes_under_any_hash_seed_and_without_the_drawing_library(pytestconfig):
    tests = pytestconfig.rootpath / "tests"
    here = [hashlib.sha256(emitted(part, leg)).hexdigest() for part, leg in SHEETS]
    for seed in ("0", "1"):
        run = subprocess.run(
            [sys.executable, "-c", EMIT_ALL, str(tests)],
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": "Pacific/Auckland"},
            cwd=pytestconfig.rootpath,
            capture_output=True,
            text=True,
            check=True,
        )
        assert run.stdout.split("\n")[:-1] == [*here, "[]"]


def test_emitting_leaves_the_part_alone():
    for part in EXAMPLES:
        before = part.model_dump_json()
        for leg in leg_names(part):
            emitted(part, leg)
        assert part.model_dump_json() == before


def test_the_template_is_fresh():
    if ezdxf.version[:3] != tuple(map(int, _make_template.EZDXF_VERSION.split("."))):
        pytest.skip(f"made by ezdxf {_make_template.EZDXF_VERSION}, here is {ezdxf.__version__}")
    assert _template.TEMPLATE.read_text(encoding="utf-8") == _make_template.make()


def test_the_template_is_a_clean_drawing_of_its_own():
    drawing = ezdxf.readfile(_template.TEMPLATE)
    auditor = drawing.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    assert all(int(h, 16) < _template.FIRST_HANDLE for h in drawing.entitydb)
    assert "ezdxf" not in _template.TEMPLATE.read_text(encoding="utf-8").lower()


@pytest.mark.parametrize(
    ("lost", "message"),
    [("$HANDSEED", r"\$HANDSEED"), ("*Active", r"\*Active")],
)
def test_a_broken_template_is_named(lost, message, tmp_path, monkeypatch):
    broken = tmp_path / "template.dxf"
    text = _template.TEMPLATE.read_text(encoding="utf-8")
    broken.write_text(text[: text.index(lost)], encoding="utf-8")
    monkeypatch.setattr(_template, "TEMPLATE", broken)
    with pytest.raises(RoomError, match=rf"template\.dxf has no {message}"):
        _template.template.__wrapped__()


# --- what cannot be drawn ------------------------------------------------------------------


def test_an_outline_with_a_fault_is_refused():
    trims = (
        Cope(end="start", side="toe", along_mm=60.0, across_mm=50.0),
        Cope(end="start", side="toe", along_mm=30.0, across_mm=20.0),
    )
    part = changed(COPED, legs=AngleLegs(a=Leg(trims=trims)))
    (fault, *_) = leg_outline(part, "a").faults
    with pytest.raises(CannotRepresentError) as caught:
        emitted(part, "a")
    assert str(caught.value) == f"K3: leg a cannot be drawn: {fault.message}"
    assert emitted(part, "b")


@pytest.mark.parametrize(
    ("part", "leg", "message"),
    [
        (COPED, None, "K3 has the legs a and b; a drawing shows one, so say which"),
        (COPED, "face", "K3 has no leg 'face', only a and b"),
        (STRAP, "a", "F1 has no leg 'a', only face"),
    ],
    ids=["not said", "face of an angle", "leg of a flat"],
)
def test_the_leg_must_be_one_of_the_part(part, leg, message):
    with pytest.raises(CannotRepresentError) as caught:
        emitted(part, leg)
    assert str(caught.value) == message


def test_a_flat_needs_no_leg_named():
    assert emitted(STRAP) == emitted(STRAP, "face")


def test_a_stamp_longer_than_a_text_is_refused():
    stamp = Stamp(id="a1", text="é" * 1001, x_mm=50.0, from_heel_mm=50.0, height_mm=5.0)
    part = changed(COPED, legs=AngleLegs(a=Leg(features=(stamp,))))
    with pytest.raises(CannotRepresentError, match=r"stamp a1 on leg a takes 2002 bytes, more"):
        emitted(part, "a")


def test_losses_name_what_is_not_drawn():
    assert EMITTER.losses(COPED) == ()
    part = changed(
        COPED,
        carried=("PRIVATE 1", "PRIVATE 2"),
        waivers=(Waiver(rule="edge-distance-short", reason="RFI 17"),),
        stated=Stated(mass_per_metre_kg=20.0),
    )
    assert EMITTER.losses(part) == (
        "2 carried lines of the source are not on the drawing",
        "1 waiver is not on the drawing",
        "the mass and surface that the source states are not on the drawing",
    )
    assert EMITTER.losses(changed(COPED, carried=("PRIVATE 1",))) == (
        "1 carried line of the source is not on the drawing",
    )


def test_a_thousand_holes_each_on_its_own_gauge():
    features = tuple(
        hole(f"a{i}", 100.0 + 0.25 * i, 30.0 + 0.1 * i, 2.0 + 0.001 * i) for i in range(1000)
    )
    part = changed(COPED, legs=AngleLegs(a=Leg(features=features)))
    sheet = Sheet(emitted(part, "a"))
    assert len(sheet.circles("HOLE-THROUGH")) == 1000
    assert len(sheet.on("GAUGE-LINE")) == 1000
