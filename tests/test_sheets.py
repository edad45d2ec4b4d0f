"""Sheets on paper: everything inside the frame, nothing on top of anything, true to scale, and
the same bytes on any machine.
"""

import base64
import hashlib
import io
import itertools
import math
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
import zlib

import ezdxf
import pytest
from dense_parts import dense_parts
from dxf_parts import BEAM_CLIP, BRACE, COPED, EXAMPLES, STRAP, hole
from dxf_reading import Sheet as Drawing
from dxf_reading import tidy
from hypothesis import HealthCheck, given, settings
from model_shapes import edge_points, ring_of
from shapely import STRtree
from shapely.geometry import LineString, Point, Polygon, box
from strategies import parts
from text_room import letters_boxes

from translator.commands import main
from translator.emitters import EmitOptions, emitters
from translator.emitters._unfolded import ink, key_plan, paper
from translator.emitters._unfolded.breaks import GAP_MM, Cut, Fold, folded
from translator.emitters._unfolded.pdf import said
from translator.emitters._unfolded.sheet import sheet
from translator.emitters.dxf import _layers
from translator.emitters.dxf._entities import Circle, Corner, Line, Polyline, Spot, Text
from translator.errors import CannotRepresentError, UnknownNameError, WorkError
from translator.findings import CAUTION
from translator.geometry.outline import leg_outline
from translator.model import Angle, AngleLegs, Leg, Part, leg_names

FORMATS = {e.name: e for e in emitters()}
NAMES = ("sheet-dxf", "svg", "pdf")
HAIR = 1e-6


def emitted(part, name, size=None):
    return FORMATS[name].emit(part, EmitOptions(paper=size))


def changed(part, **fields):
    return type(part)(**{n: fields.get(n, getattr(part, n)) for n in type(part).model_fields})


def long_brace(**fields):
    holes = tuple(
        hole(f"a{i}", x, 45.0, 22.0) for i, x in enumerate((90.0, 160.0, 3090.0, 3160.0), 1)
    )
    values = {
        "mark": "B41",
        "length_mm": 3240.0,
        "section": Angle(leg_a_mm=80.0, leg_b_mm=80.0, thickness_mm=8.0, root_radius_mm=10.0),
        "legs": AngleLegs(a=Leg(features=holes)),
        "ends": COPED.ends.__class__(),
    }
    return Part(**{**values, **fields})


LONG = long_brace()
LONG_STRAP = changed(
    STRAP,
    mark="F9",
    length_mm=2000.0,
    legs=STRAP.legs.__class__(face=Leg(features=STRAP.legs.face.features)),
)


# --- everything inside, nothing on top of anything ----------------------------------------------


def shapes_of(entities, layer):
    return [e for e in entities if e.layer.name == layer]


def assert_tidy(drawn):
    """Every line and letter is inside the frame, and no two texts touch."""
    frame = box(*drawn.paper.frame).buffer(HAIR)
    lines = [
        LineString([e.start, e.end] if isinstance(e, Line) else [c[:2] for c in e.corners])
        for e in drawn.entities
        if isinstance(e, Line | Polyline)
    ]
    assert all(frame.contains(line) for line in lines)
    texts = [e for e in drawn.entities if isinstance(e, Text)]
    # Names inside holes and stamps on the steel are part of the piece; they have its own scale.
    written = [t for t in texts if t.layer.name not in ("LABEL", "STAMP")]
    rooms = letters_boxes(written)
    holes = [Point(e.centre).buffer(e.radius) for e in drawn.entities if isinstance(e, Circle)]
    tree = STRtree([*rooms, *holes])
    for one, other in tree.query(rooms, predicate="intersects").T:
        assert one == other, written[one].text
    assert all(frame.contains(room) for room in rooms)
    breaks = [
        LineString([c[:2] for c in e.corners]) for e in shapes_of(drawn.entities, "BREAK-LINE")
    ]
    assert not [line for line in breaks for room in rooms if line.intersects(room)]


@pytest.mark.parametrize("part", [*EXAMPLES, LONG, LONG_STRAP], ids=lambda part: part.mark)
def test_sheets_of_the_examples_are_tidy(part):
    assert_tidy(sheet(part))


def test_sheets_of_crowded_parts_are_tidy_or_refused():
    drawn = 0
    for part in dense_parts(14, seed=9):
        try:
            found = sheet(part)
        except CannotRepresentError:
            continue
        assert_tidy(found)
        drawn += 1
    assert drawn >= 3


@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(parts())
def test_sheets_of_any_part_are_tidy(part):
    try:
        drawn = sheet(part)
    except CannotRepresentError:
        return
    frame = drawn.paper.frame
    for e in drawn.entities:
        if isinstance(e, Line):
            assert frame.left - HAIR <= min(e.start.u, e.end.u)
            assert max(e.start.u, e.end.u) <= frame.right + HAIR
    auditor = Drawing(emitted(part, "sheet-dxf")).drawing.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])


@pytest.mark.parametrize("part", [*EXAMPLES, LONG, LONG_STRAP], ids=lambda part: part.mark)
def test_a_sheet_says_what_a_title_block_must(part):
    texts = " ".join(e.text for e in sheet(part).entities if isinstance(e, Text))
    for word in (
        "MARK",
        "SECTION",
        "GRADE",
        "MASS OF ONE",
        "REVISION",
        "UNITS",
        "SCALE",
        part.mark,
    ):
        assert word in texts
    assert "OUTSIDE FACE" in texts.replace("OUTSIDE FACES", "OUTSIDE FACE")
    bare = re.sub(r"\s+", " ", texts)
    assert re.sub(r"\s+", " ", CAUTION) in bare


# --- paper and scale -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("part", "name", "scale"),
    [(BEAM_CLIP, "letter", 4.0), (BRACE, "letter", 4.0), (STRAP, "A4", 1.0), (LONG, "A4", 2.0)],
    ids=lambda value: getattr(value, "mark", value),
)
def test_the_smallest_usual_paper_and_a_usual_scale(part, name, scale):
    drawn = sheet(part)
    assert (drawn.paper.name, drawn.scale) == (name, scale)
    texts = {e.text for e in drawn.entities if isinstance(e, Text)}
    assert f"1:{scale:g} on {name}" in texts


def test_a_paper_can_be_asked_for():
    assert sheet(STRAP, "a3").paper == paper.A3
    assert sheet(STRAP, "Letter").paper == paper.LETTER
    assert sheet(BEAM_CLIP, "tabloid").scale < sheet(BEAM_CLIP).scale
    with pytest.raises(UnknownNameError, match="no paper 'A5'; there are A4, A3, letter, tabloid"):
        sheet(STRAP, "A5")


def test_too_much_for_any_paper_is_refused_with_a_way_out():
    holes = tuple(hole(f"a{i}", 40.0 + 1.01 * i, 30.0 + i % 7, 0.5) for i in range(400))
    part = changed(COPED, legs=AngleLegs(a=Leg(features=holes)))
    with pytest.raises(CannotRepresentError, match=r"too much for a sheet of A3; the leg drawings"):
        sheet(part)


def centres(drawn):
    return sorted(e.centre for e in drawn.entities if isinstance(e, Circle))


def test_a_whole_piece_is_true_to_scale():
    drawn = sheet(BEAM_CLIP)
    found = centres(drawn)
    xs = [f.x_mm for f in BEAM_CLIP.legs.a.features]
    steps = [b.u - a.u for a, b in itertools.pairwise(found)]
    assert steps == pytest.approx([(b - a) / drawn.scale for a, b in itertools.pairwise(xs)])
    assert not shapes_of(drawn.entities, "BREAK-LINE")
    rings = [Polygon(tidy(flat(e))) for e in shapes_of(drawn.entities, "LEG-OUTLINE")]
    heights = sorted(ring.bounds[3] - ring.bounds[1] for ring in rings)
    assert heights == pytest.approx([88.9 / drawn.scale, 101.6 / drawn.scale])
    # Leg a above leg b, joined along the heel.
    upper, lower = sorted(rings, key=lambda ring: -ring.bounds[1])
    assert upper.bounds[1] == pytest.approx(lower.bounds[3])
    assert upper.bounds[3] - upper.bounds[1] == pytest.approx(101.6 / drawn.scale)


def flat(line):
    """Points of a polyline by its bulges."""
    corners = [*line.corners, line.corners[0]] if line.closed else list(line.corners)
    points = []
    for p, q in itertools.pairwise(corners):
        points += edge_points(vertex(p), vertex(q), 90)
    return [*points, corners[-1][:2]]


class vertex:  # noqa: N801 - stands for the model's own
    def __init__(self, corner):
        self.x_mm, self.y_mm, self.bulge = corner


def test_a_long_piece_is_broken_where_nothing_is_and_says_true_figures():
    drawn = sheet(LONG)
    breaks = shapes_of(drawn.entities, "BREAK-LINE")
    assert len(breaks) == 2
    stop, go = sorted(e.corners[0].u for e in breaks)
    assert go - stop == pytest.approx(GAP_MM)
    # No steel, line of the piece or hole is drawn between the break lines.
    piece = ("LEG-OUTLINE", "HEEL", "OTHER-LEG-INSIDE", "FILLET", "GAUGE-LINE", "HOLE-THROUGH")
    for e in drawn.entities:
        if e.layer.name in piece:
            line = {
                Line: lambda e=e: LineString([e.start, e.end]),
                Polyline: lambda e=e: LineString(flat(e)),
                Circle: lambda e=e: Point(e.centre).buffer(e.radius),
            }[type(e)]()
            between = line.intersection(box(stop + HAIR, 0, go - HAIR, 300))
            assert between.is_empty or between.length < 2 * HAIR
    # What is drawn is to scale on either side of it.
    us = [c.u for c in centres(drawn)]
    assert us[1] - us[0] == pytest.approx(70.0 / drawn.scale)
    assert us[3] - us[2] == pytest.approx(70.0 / drawn.scale)
    assert us[2] - us[1] < (3090.0 - 160.0) / drawn.scale
    texts = {e.text for e in shapes_of(drawn.entities, "DIMENSION") if isinstance(e, Text)}
    assert {"0", "90", "160", "3090", "3160", "3240", "45", "80"} <= texts


def test_folding_draws_what_is_left_out_together():
    fold = Fold(scale=2.0, cuts=(Cut(begin=100.0, end=300.0), Cut(begin=500.0, end=600.0)))
    assert [fold.u(u) for u in (0.0, 100.0, 300.0, 500.0, 600.0, 700.0)] == pytest.approx(
        [0.0, 50.0, 50.0 + GAP_MM, 150.0 + GAP_MM, 150.0 + 2 * GAP_MM, 200.0 + 2 * GAP_MM]
    )
    assert fold.u(200.0) == pytest.approx(50.0 + GAP_MM / 2)
    ring = Polyline(
        _layers.OUTLINE, tuple(Corner(*c) for c in ((0, 0), (700, 0), (700, 100), (0, 100)))
    )
    pieces = list(folded([ring], fold))
    assert not any(piece.closed for piece in pieces)
    spans = sorted((min(c.u for c in p.corners), max(c.u for c in p.corners)) for p in pieces)
    g = GAP_MM
    # Both ends in one piece each, the middle in an upper and a lower one.
    middle = (50.0 + g, 150.0 + g)
    expected = [(0.0, 50.0), middle, middle, (150.0 + 2 * g, 200.0 + 2 * g)]
    assert spans == [pytest.approx(span) for span in expected]
    assert sorted(len(p.corners) for p in pieces) == [2, 2, 4, 4]
    line = Line(_layers.HEEL, Spot(-5.0, 0.0), Spot(710.0, 0.0))
    assert [(p.start.u, p.end.u) for p in folded([line], fold)] == [
        pytest.approx(span)
        for span in ((-2.5, 50.0), (50.0 + g, 150.0 + g), (150.0 + 2 * g, 205.0 + 2 * g))
    ]


# --- the key plan ------------------------------------------------------------------------------


def test_the_key_plan_shows_both_outer_faces_and_the_start_end():
    """The eye must look against the outer faces, and the sketch must not be a mirror image."""
    gx, gy, gz = (key_plan.sketched(*axis) for axis in ((1, 0, 0), (0, 1, 0), (0, 0, 1)))
    across, up = (gx.u, gy.u, gz.u), (gx.v, gy.v, gz.v)
    # Right-handed: right x up points to the eye.
    eye = (
        across[1] * up[2] - across[2] * up[1],
        across[2] * up[0] - across[0] * up[2],
        across[0] * up[1] - across[1] * up[0],
    )
    assert eye[2] > 0  # leg a looks outside to +Z
    assert eye[1] < 0  # leg b looks outside to -Y
    assert eye[0] < 0  # the start end looks to -X
    assert gx == (1, 0)  # start end left


def test_the_key_plan_names_the_legs_where_they_are():
    drawn = sheet(COPED)
    texts = {e.text: e.at for e in drawn.entities if isinstance(e, Text) and e.height < 2.0}
    assert texts["LEG A"].v > texts["HEEL"].v > texts["LEG B"].v
    assert texts["START"].u < texts["LEG B"].u < texts["HEEL"].u
    assert "FACE" in {e.text for e in sheet(STRAP).entities if isinstance(e, Text)}


# --- the three formats -------------------------------------------------------------------------


def test_the_formats_are_found_and_named():
    assert {FORMATS[n].suffix for n in NAMES} == {".sheet.dxf", ".sheet.svg", ".sheet.pdf"}
    assert not any(FORMATS[n].per_leg for n in NAMES)


@pytest.mark.parametrize("part", [*EXAMPLES, LONG, LONG_STRAP], ids=lambda part: part.mark)
def test_the_dxf_passes_the_audit_and_is_in_mm_of_paper(part, tmp_path):
    path = tmp_path / "sheet.dxf"
    path.write_bytes(emitted(part, "sheet-dxf"))
    drawing = ezdxf.readfile(path)
    auditor = drawing.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    assert drawing.header["$INSUNITS"] == 4
    assert tuple(drawing.header["$EXTMAX"])[:2] == pytest.approx(
        (sheet(part).paper.width_mm, sheet(part).paper.height_mm)
    )
    # A dimension that does not measure what it says is no entity of that kind here.
    assert not drawing.modelspace().query("DIMENSION")
    assert {e.dxf.layer for e in drawing.modelspace()} <= {x.name for x in _layers.LAYERS}


SVG = "{http://www.w3.org/2000/svg}"


def svg_of(part):
    return ET.fromstring(emitted(part, "svg").decode())  # noqa: S314 - our own output


def test_the_svg_is_as_large_as_its_paper_and_keeps_its_letters():
    root = svg_of(STRAP)
    assert (root.get("width"), root.get("height")) == ("297.0mm", "210.0mm")
    assert root.get("viewBox") == "0 0 297.0 210.0"
    assert root.find(f"{SVG}title").text == "Piece F1, seen from outside"
    texts = {t.text for t in root.iter(f"{SVG}text")}
    assert {"F1", "(198.7)", "gusset strap", "1:1 on A4"} <= texts


ARC = re.compile(r"([MLA])([^MLAZ]*)")


def svg_points(path):
    """Points of a path of lines and arcs, read as the SVG standard says, v up again."""
    points, here = [], None
    for command, figures in ARC.findall(path):
        values = [float(f) for f in figures.split()]
        end = (values[-2], values[-1])
        if command == "A":
            r, large, sweep = values[0], values[3], values[4]
            assert large == 0
            (x, y), (p, q) = here, end
            half = math.dist(here, end) / 2
            rise = math.sqrt(max(r * r - half * half, 0.0))
            # With the sweep on, angles grow on a page that counts down: centre on the right
            # of the chord as it is written.
            way = 1 if sweep else -1
            cx = (x + p) / 2 - way * rise * (q - y) / (2 * half)
            cy = (y + q) / 2 + way * rise * (p - x) / (2 * half)
            first, last = math.atan2(y - cy, x - cx), math.atan2(q - cy, p - cx)
            turn = (last - first) % (2 * math.pi) if sweep else -((first - last) % (2 * math.pi))
            points += [
                (cx + r * math.cos(first + turn * i / 60), cy + r * math.sin(first + turn * i / 60))
                for i in range(60)
            ]
        points.append(end)
        here = end
    return [(x, -y) for x, y in points]


@pytest.mark.parametrize("part", [STRAP, COPED, BEAM_CLIP], ids=lambda part: part.mark)
def test_outlines_in_the_svg_have_the_shape_of_the_steel(part):
    drawn = sheet(part)
    groups = [g for g in svg_of(part).iter(f"{SVG}g") if g.get("class") == "leg-outline"]
    paths = [p.get("d") for g in groups for p in g.iter(f"{SVG}path")]
    assert len(paths) == len(leg_names(part))
    for leg, path in zip(leg_names(part), paths, strict=True):
        found = Polygon(tidy(svg_points(path)))
        meant = ring_of(leg_outline(part, leg).contour, -1.0 if leg == "b" else 1.0)
        assert found.area * drawn.scale**2 == pytest.approx(meant.area, rel=1e-3)
        left, low, _, _ = meant.bounds
        moved = [(u * drawn.scale, v * drawn.scale) for u, v in found.exterior.coords]
        du = min(u for u, _ in moved) - left
        dv = min(v for _, v in moved) - low
        same = Polygon([(u - du, v - dv) for u, v in moved])
        assert same.intersection(meant).area / same.union(meant).area > 0.998


HOSTILE = '<script>alert(1)</script>"><img onerror=x> & \u202e\x07'


def test_hostile_words_stay_words():
    part = BEAM_CLIP
    values = {n: getattr(part, n) for n in type(part).model_fields}
    part = type(part).model_construct(**{**values, "mark": HOSTILE, "title": HOSTILE})
    data = emitted(part, "svg").decode()
    assert "<script" not in data
    assert "<img" not in data
    texts = "".join(t.text for t in ET.fromstring(data).iter(f"{SVG}text"))  # noqa: S314
    assert "<script>" in texts.replace(" ", "")
    assert "\\u202e" in texts.replace(" ", "")
    assert "\\x07" in texts.replace(" ", "")
    assert emitted(part, "pdf").startswith(b"%PDF-")


def test_the_pdf_is_one_page_of_the_paper_and_keeps_its_letters():
    data = emitted(STRAP, "pdf")
    assert data.startswith(b"%PDF-")
    assert data.count(b"/Type /Page\n") + data.count(b"/Type /Page ") == 1
    (size,) = re.findall(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", data)
    assert [float(s) for s in size] == pytest.approx([297 / 25.4 * 72, 210 / 25.4 * 72], abs=0.01)
    said_there = b"".join(re.findall(rb"\((.*?)\) Tj", decoded(data)))
    assert b"gusset strap" in said_there
    assert b"1:1 on A4" in said_there


def decoded(data):
    out = []
    for stream in re.findall(rb"stream\r?\n(.*?)endstream", data, re.DOTALL):
        raw = stream.strip()
        out.append(zlib.decompress(ascii85(raw)))
    return b"\n".join(out)


def ascii85(raw):
    return base64.a85decode(raw.removesuffix(b"~>"))


def test_letters_that_the_pdf_has_not_are_shown_by_number_and_told():
    assert said("Pfosten Ø20 é") == "Pfosten Ø20 é"
    assert said("鋼 A") == "\\u92fc A"
    assert FORMATS["pdf"].losses(STRAP) == ()
    part = changed(STRAP, title="鋼")
    assert FORMATS["pdf"].losses(part) == (
        "letters that the PDF's own font has not are shown by their numbers",
    )
    assert FORMATS["svg"].losses(part) == ()


def test_without_the_package_a_sentence_says_what_to_install(monkeypatch):
    monkeypatch.setitem(sys.modules, "reportlab.pdfgen.canvas", None)
    with pytest.raises(
        WorkError, match=r"PDF sheets need the package reportlab: pip install reportlab"
    ):
        emitted(STRAP, "pdf")
    assert emitted(STRAP, "svg")


@pytest.mark.parametrize("layer", _layers.LAYERS, ids=lambda layer: layer.name)
def test_ink_stands_out_from_white(layer):
    colour = ink.ink(layer)
    share = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    r, g, b = (c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in share)
    light = 0.2126 * r + 0.7152 * g + 0.0722 * b
    assert 1.05 / (light + 0.05) >= 4.5  # WCAG 2.1, for text


EMIT_ALL = """
import hashlib, sys
sys.path.insert(0, sys.argv[1])
from test_sheets import EXAMPLES, FORMATS, LONG, NAMES
from translator.emitters import EmitOptions
for part in (*EXAMPLES[2:], LONG):
    for name in NAMES:
        print(hashlib.sha256(FORMATS[name].emit(part, EmitOptions())).hexdigest())
"""


def test_same_bytes_on_any_day_and_under_any_hash_seed(pytestconfig):
    here = [
        hashlib.sha256(emitted(part, name)).hexdigest()
        for part in (*EXAMPLES[2:], LONG)
        for name in NAMES
    ]
    run = subprocess.run(
        [sys.executable, "-c", EMIT_ALL, str(pytestconfig.rootpath / "tests")],
        env={**os.environ, "PYTHONHASHSEED": "1", "TZ": "Pacific/Auckland"},
        cwd=pytestconfig.rootpath,
        capture_output=True,
        text=True,
        check=True,
    )
    assert run.stdout.split() == here
    assert b"CreationDate (D:20000101" in emitted(STRAP, "pdf")


# --- the command -------------------------------------------------------------------------------


def test_the_command_writes_sheets_on_the_paper_asked_for(tmp_path, capsys):
    source = tmp_path / "in.bmk"
    source.write_text(
        "units mm\npart F1 { section FB 100x10 length 220 grade S275JR\n"
        "  face { holes 22 gauge 50 at 60, 150 } }\n",
        encoding="utf-8",
    )
    out = tmp_path / "out"
    arguments = ["translate", source, "--to", "svg,pdf,sheet-dxf", "--paper", "a3", "--out", out]
    with pytest.raises(SystemExit) as end:
        main([*map(str, arguments)])
    assert end.value.code == 0, capsys.readouterr()
    assert sorted(p.name for p in out.iterdir()) == [
        "F1.sheet.dxf",
        "F1.sheet.pdf",
        "F1.sheet.svg",
        "index.json",
    ]
    assert 'width="420.0mm"' in (out / "F1.sheet.svg").read_text(encoding="utf-8")


def test_bytes_are_read_as_text_by_the_reader():
    assert Drawing(emitted(STRAP, "sheet-dxf")).unit == 1.0
    assert io.BytesIO(emitted(STRAP, "pdf")).read(5) == b"%PDF-"
