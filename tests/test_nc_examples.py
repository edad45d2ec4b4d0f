"""The four examples of the format's fact sheet: what each of them is, line by line."""

import math

import pytest
from nc_files import EXAMPLES, FIXTURES, example, fates, part_of, places, read, said

from translator.conventions import Conventions
from translator.model import (
    Angle,
    Clip,
    Cope,
    Flat,
    Hole,
    Rounding,
    Slot,
    Stamp,
    Stated,
    leg_of,
)

TOE_EDGE = {"u_view_bottom": "toe", "y_datum": "named-edge"}


def test_every_fixture_is_an_example():
    assert sorted(EXAMPLES.values()) == sorted(path.name for path in FIXTURES.iterdir())


def test_angle_80_is_the_same_under_every_reading_and_passes_without_a_word():
    reading = read(example("angle-80"))
    assert reading.findings == ()
    (placed,) = reading.parts
    part = placed.part
    assert (part.mark, part.quantity, part.grade, part.order) == ("W104", 4, "S275JR", "DEMO-01")
    assert (part.drawing, part.phase, part.title) == ("D-12", "1", "brace")
    assert part.length_mm == 1250.0
    assert part.units == "mm"
    assert part.section == Angle(
        designation="L80x80x8",
        leg_a_mm=80.0,
        leg_b_mm=80.0,
        thickness_mm=8.0,
        root_radius_mm=10.0,
        toe_radius_mm=5.0,
    )
    assert part.stated == Stated(mass_per_metre_kg=9.63, paint_area_per_metre_m2=0.311)
    assert part.carried == ("** W104.nc1 - invented test part",)
    assert places(part, "a") == [
        ("hole", 40.0, 40.0),
        ("hole", 110.0, 40.0),
        ("hole", 1210.0, 40.0),
        ("stamp", 300.0, 35.0),
    ]
    assert places(part, "b") == [("hole", 75.0, 40.0), ("hole", 1175.0, 40.0)]
    assert {f.diameter_mm for f in leg_of(part, "a").features if isinstance(f, Hole)} == {18.0}
    assert {f.diameter_mm for f in leg_of(part, "b").features if isinstance(f, Hole)} == {22.0}
    # The letters are those of the mark, so the stamp follows the mark.
    assert leg_of(part, "a").features[3] == Stamp(
        id="a4", x_mm=300.0, from_heel_mm=35.0, height_mm=10.0, may_move=True
    )
    assert (part.legs.a.trims, part.legs.b.trims) == ((), ())


def test_places_lead_back_to_the_lines():
    (placed,) = read(example("angle-80"), name="in/W104.nc1").parts
    found = {path: span.line for path, span in placed.places.items()}
    assert (
        found
        | {
            "": 1,
            "mark": 6,
            "grade": 7,
            "quantity": 8,
            "section": 9,
            "length": 11,
            "legs.a.a1": 28,
            "legs.a.a3": 30,
            "legs.b.b2": 32,
            "legs.a.a4": 34,
        }
        == found
    )
    assert {span.path for span in placed.places.values()} == {"in/W104.nc1"}


GAUGES = {
    # Fact sheet, section 9: gauge from the heel of BO 5 and BO 6, and the edge that is notched.
    "toe, named-edge": ("toe", "named-edge", 55.0, 40.0, "toe"),
    "toe, view-bottom": ("toe", "view-bottom", 55.0, 60.0, "toe"),
    "heel, named-edge": ("heel", "named-edge", 45.0, 60.0, "heel"),
    "heel, view-bottom": ("heel", "view-bottom", 45.0, 40.0, "heel"),
}


@pytest.mark.parametrize("case", GAUGES, ids=lambda name: name.replace(", ", "-"))
def test_angle_150x100_under_each_setting(case):
    bottom, datum, gauge_5, gauge_6, _ = GAUGES[case]
    reading = read(example("angle-150x100"), u_view_bottom=bottom, y_datum=datum)
    (placed,) = reading.parts
    assert places(placed.part, "b") == [("hole", 200.0, gauge_5), ("hole", 2290.0, gauge_6)]


def test_angle_150x100_with_the_toe_at_the_bottom():
    part = part_of(example("angle-150x100"), **TOE_EDGE)
    assert part.section.designation == "L150x100x10"
    assert (part.section.leg_a_mm, part.section.leg_b_mm) == (150.0, 100.0)
    assert (part.phase, part.title, part.remarks) == (None, None, ())
    assert part.stated == Stated(
        mass_per_metre_kg=18.96, paint_area_per_metre_m2=0.49, saw_length_mm=2406.0
    )
    assert places(part, "a")[:2] == [("hole", 60.0, 55.0), ("hole", 60.0, 110.0)]
    # Slot 22 x 38 along the bar between (400,55) and (416,55); 18 x 30 standing.
    assert leg_of(part, "a").features[2:] == (
        Slot(id="a3", x_mm=408.0, y_mm=55.0, width_mm=22.0, length_mm=38.0, angle_deg=0.0),
        Slot(id="a4", x_mm=700.0, y_mm=81.0, width_mm=18.0, length_mm=30.0, angle_deg=90.0),
    )
    assert part.legs.a.trims == (Clip(end="start", side="toe", along_mm=40.0, across_mm=40.0),)
    assert part.legs.b.trims == (Cope(end="far", side="toe", along_mm=60.0, across_mm=70.0),)


def test_angle_150x100_with_the_heel_at_the_bottom_notches_the_heel():
    (placed,) = read(example("angle-150x100"), u_view_bottom="heel", y_datum="named-edge").parts
    (outline,) = placed.part.legs.b.trims
    kept = {(v.x_mm, v.y_mm) for v in outline.contour}
    assert {(2340.0, 0.0), (2340.0, 70.0), (2400.0, 70.0), (2400.0, 100.0)} <= kept
    assert (2400.0, 0.0) not in kept


def test_angle_150x100_is_refused_with_both_readings_side_by_side():
    reading = read(example("angle-150x100"))
    assert reading.parts == ()
    (finding,) = [f for f in reading.findings if f.severity == "error"]
    assert finding.rule == "nc-reading-open"
    assert finding.mark == "K7"
    assert [(r.span.line, r.message) for r in finding.related] == [
        (
            32,
            (
                "line 32, hole 18 on leg b at x 200.00: 55.00 from heel and 45.00 from toe if"
                ' u_view_bottom is "toe", 45.00 from heel and 55.00 from toe if u_view_bottom is'
                ' "heel"'
            ),
        ),
        (
            33,
            (
                "line 33, hole 18 on leg b at x 2290.00: 40.00 from heel and 60.00 from toe if"
                ' u_view_bottom is "toe" and y_datum is "named-edge", 60.00 from heel and 40.00'
                ' from toe if u_view_bottom is "toe" and y_datum is "view-bottom", 60.00 from heel'
                ' and 40.00 from toe if u_view_bottom is "heel" and y_datum is "named-edge", 40.00'
                ' from heel and 60.00 from toe if u_view_bottom is "heel" and y_datum is'
                ' "view-bottom"'
            ),
        ),
        (
            42,
            (
                "line 42, outer contour of leg b: 2400.00 left at the heel and 2340.00 at the toe"
                ' if u_view_bottom is "toe", 2340.00 left at the heel and 2400.00 at the toe if'
                ' u_view_bottom is "heel"'
            ),
        ),
    ]
    assert finding.message.startswith(
        "the piece reads differently under u_view_bottom and y_datum, and nothing settles which:"
        f" {finding.related[0].message}; "
    )
    assert finding.message.endswith(
        'Compare with the drawing and put u_view_bottom = "toe" or "heel" and y_datum ='
        ' "named-edge" or "view-bottom" under [nc] in backmark.toml'
    )


@pytest.mark.parametrize(
    ("settings", "open_setting"),
    [({"u_view_bottom": "toe"}, "y_datum"), ({"y_datum": "view-bottom"}, "u_view_bottom")],
    ids=["bottom-set", "datum-set"],
)
def test_one_setting_alone_leaves_the_other_open(settings, open_setting):
    reading = read(example("angle-150x100"), **settings)
    assert reading.parts == ()
    (message,) = said(reading, "nc-reading-open")
    assert message.startswith(f"the piece reads differently under {open_setting}, and")


def test_flat_120_is_settled_by_its_tangent_arcs():
    reading = read(example("flat-120"))
    (placed,) = reading.parts
    part = placed.part
    assert part.section == Flat(designation="FB120x10", width_mm=120.0, thickness_mm=10.0)
    assert part.legs.face.trims == (
        Rounding(end="start", side="upper", radius_mm=25.0),
        Rounding(end="far", side="upper", radius_mm=25.0),
    )
    slot = part.legs.face.features[2]
    assert isinstance(slot, Slot)
    half = 10 * math.sqrt(0.5)
    assert (slot.x_mm, slot.y_mm) == pytest.approx((240 + half, 50 + half), abs=1e-6)
    assert (slot.width_mm, slot.length_mm, slot.angle_deg) == (18.0, 38.0, 45.0)
    assert part.title == "gusset strap"
    assert said(reading) == [("nc-slot-assumed", "note", 27), ("nc-text-missing", "note", 24)]
    (assumed,) = said(reading, "nc-slot-assumed")
    assert 'slot_reference = "first-centre" and slot_length = "centres"' in assumed
    # Fact sheet, section 10: centres (240, 50) and (254.14, 64.14).
    assert "(240.00, 50.00) and (254.14, 64.14)" in assumed


CARELESS = {
    "small-letter codes": ("nc-small-letters", "note", 1),
    "decimal commas": ("nc-decimal-comma", "note", 7),
    "quantity written as a real number": ("nc-quantity-real", "note", 7),
    "web thickness taken from the flange": ("nc-thickness", "warning", 14),
    "weight 0, computed": ("nc-weight-missing", "note", 16),
    "four text lines missing": ("nc-text-missing", "note", 22),
    "view missing on the second hole": ("nc-view-missing", "note", 24),
    "reference missing": ("nc-reference-missing", "note", 23),
    "reference carried forward": ("nc-reference-missing", "note", 24),
    "blank before a reference letter": ("nc-letter-apart", "note", 25),
    "depth missing": ("nc-depth-missing", "note", 23),
    "duplicate hole": ("nc-duplicate", "warning", 26),
    "unknown block kept": ("nc-block-unknown", "warning", 29),
    "r not glued to the height": ("nc-stamp-flag", "warning", 32),
    "no EN": ("nc-end-missing", "warning", 32),
    "tabs": ("nc-tab", "note", 10),
    "capital view letters": ("nc-capital-letters", "note", 23),
    "stamp and mark differ": ("nc-stamp-text", "note", 32),
}


def test_careless_file_reports_everything_and_nothing_else():
    assert said(read(example("careless"))) == sorted(CARELESS.values())


def test_careless_file_says_what_it_computed_and_what_it_cannot_tell():
    reading = read(example("careless"))
    (weight,) = said(reading, "nc-weight-missing")
    assert weight == "the weight per metre is 0; 9.63 kg/m was computed from the section"
    (flag,) = said(reading, "nc-stamp-flag")
    assert "cannot be told; read strictly, the text is 'r W104'" in flag


def test_careless_file_is_the_part_of_example_1():
    careful, careless = part_of(example("angle-80")), part_of(example("careless"))
    assert careless.section == careful.section
    assert careless.length_mm == careful.length_mm
    assert (careless.mark, careless.quantity, careless.phase) == ("W104", 4, None)
    assert careless.legs.b == careful.legs.b
    assert careless.legs.a.features[:3] == careful.legs.a.features[:3]
    stamp = careless.legs.a.features[3]
    assert (stamp.text, stamp.may_move) == ("r W104", False)
    assert (stamp.x_mm, stamp.from_heel_mm, stamp.height_mm) == (300.0, 35.0, 10.0)
    assert careless.carried == ("XX", "  private data")


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_line_of_an_example_is_accounted_for(name):
    data = example(name)
    settings = TOE_EDGE | {"arc_sign": "plus-left"}
    account = fates(data, **settings)
    text = data.decode().split("\n")
    written = [n for n, line in enumerate(text, start=1) if line.strip()]
    assert set(written) <= set(account)
    assert set(account.values()) <= {"translated", "carried", "reported"}
    (placed,) = read(data, **settings).parts
    carried = [text[n - 1] for n, fate in sorted(account.items()) if fate == "carried"]
    assert tuple(carried) == placed.part.carried


def test_strict_turns_deviations_into_errors():
    reading = read(example("careless"), strict="yes")
    assert reading.parts == ()
    errors = {f.rule for f in reading.findings if f.severity == "error"}
    assert {"nc-block-unknown", "nc-end-missing", "nc-decimal-comma", "nc-duplicate"} <= errors


def test_settings_default_to_auto():
    assert Conventions().u_view_bottom == "auto"
