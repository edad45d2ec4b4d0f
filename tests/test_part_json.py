"""Part documents: what is written is read back, in the same bytes, and says what was meant."""

import json
import subprocess
import sys

import pytest
from hypothesis import HealthCheck, given, settings
from strategies import parts

from translator.conventions import Conventions
from translator.emitters import EmitOptions, emitters
from translator.emitters.part_json import EMITTER
from translator.errors import CannotRepresentError
from translator.geometry.computed import compute
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    Cope,
    Flat,
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    Part,
    Slot,
    Stated,
    Vertex,
    Waiver,
    leg_names,
    leg_of,
    place_of,
)
from translator.model.features import CentreMark, Opening, Scribe, Stamp
from translator.readers import readers
from translator.readers.part_json import READER
from translator.source import Source, Span

SLOW = settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=True
)
SECTION = Angle(leg_a_mm=100.0, leg_b_mm=80.0, thickness_mm=10.0)
CLIP = Part(
    mark="C12",
    quantity=24,
    length_mm=292.1,
    section=SECTION,
    legs=AngleLegs(
        a=Leg(features=(Hole(id="a1", x_mm=31.75, y_mm=63.5, diameter_mm=20.6375),)),
    ),
    ends=AngleEnds(),
)
EVERYTHING = Part(
    mark="Ü-1/2",
    quantity=3,
    grade="S275JR",
    length_mm=600.0,
    section=Angle(
        designation="L100x80x10",
        leg_a_mm=100.0,
        leg_b_mm=80.0,
        thickness_mm=10.0,
        root_radius_mm=10.0,
        toe_radius_mm=5.0,
    ),
    legs=AngleLegs(
        a=Leg(
            features=(
                Hole(
                    id="H.1",
                    x_mm=100.0,
                    y_mm=55.0,
                    diameter_mm=22.0,
                    depth_mm=8.0,
                    thread="left",
                    countersink_diameter_mm=30.0,
                    countersink_angle_deg=90.0,
                    bolt="M20",
                    process="drill",
                ),
                Slot(
                    id="S",
                    x_mm=200.0,
                    y_mm=50.0,
                    width_mm=18.0,
                    length_mm=38.0,
                    angle_deg=-30.0,
                    depth_mm=4.0,
                    purpose="vent",
                ),
                CentreMark(id="m", x_mm=250.0, y_mm=50.0),
            ),
            trims=(Cope(end="start", side="toe", along_mm=40.0, across_mm=20.0, radius_mm=10.0),),
        ),
        b=Leg(
            features=(
                Opening(
                    id="o",
                    contour=(
                        Vertex(x_mm=300.0, y_mm=40.0, bulge=1.0),
                        Vertex(x_mm=340.0, y_mm=40.0, bulge=1.0),
                    ),
                ),
                Scribe(
                    id="l",
                    method="powder",
                    closed=False,
                    line=(Vertex(x_mm=10.0, y_mm=20.0), Vertex(x_mm=90.0, y_mm=20.0)),
                ),
                Stamp(
                    id="t",
                    text="TQ %%c {x}",
                    x_mm=400.0,
                    from_heel_mm=30.0,
                    height_mm=12.0,
                    angle_deg=180.0,
                    may_move=True,
                ),
            )
        ),
    ),
    ends=AngleEnds(far=AngleEnd(leg_a_deg=15.0, leg_b_deg=-5.0)),
    title='said "so"',
    order="TQ-7",
    drawing="E-101",
    revision="B",
    phase="1",
    lot="2",
    finish="galvanised",
    remarks=("first", "second"),
    second_work=("saw",),
    units="inch",
    stated=Stated(mass_per_metre_kg=13.4, saw_length_mm=601.0),
    waivers=(
        Waiver(rule="edge-distance-short", leg="a", feature="H.1", value=23.8, reason="RFI 17"),
    ),
    carried=("** a line",),
)


def written(part):
    return EMITTER.emit(part, EmitOptions())


def read(data):
    return READER.lower(READER.parse(Source(path="C12.part.json", data=data)), Conventions())


def read_part(data):
    reading = read(data)
    assert reading.findings == ()
    assert reading.not_ours == ""
    (placed,) = reading.parts
    return placed


def test_the_rooms_find_both_directions():
    assert EMITTER in emitters()
    assert READER in readers()


@pytest.mark.parametrize("part", [CLIP, EVERYTHING], ids=["plain", "every field"])
def test_what_is_written_is_read_back_equal_and_written_the_same(part):
    data = written(part)
    again = read_part(data).part
    assert again == part
    assert type(again) is Part
    assert written(again) == data


def test_every_field_of_the_model_is_in_the_full_example():
    """Else the example above says less than its name."""
    document = json.loads(written(EVERYTHING))["part"]
    assert set(document) == set(Part.model_fields)


@SLOW
@given(parts())
def test_round_trip_of_any_part(part):
    data = written(part)
    placed = read_part(data)
    assert placed.part == part
    assert written(placed.part) == data
    assert data.endswith(b"}\n")
    assert b"\r" not in data


def test_the_bytes_do_not_follow_the_hash_seed():
    script = (
        "import sys; sys.path[:0] = ['.', 'tests']; from test_part_json import EVERYTHING, written;"
        "sys.stdout.buffer.write(written(EVERYTHING))"
    )
    runs = [
        subprocess.run(
            [sys.executable, "-c", script],
            capture_output=True,
            check=True,
            env={"PYTHONHASHSEED": seed, "PATH": ""},
        ).stdout
        for seed in ("1", "2")
    ]
    assert runs == [written(EVERYTHING)] * 2


def test_what_says_nothing_is_left_out_and_sizes_never_are():
    part = json.loads(written(CLIP))["part"]
    assert list(part) == ["mark", "quantity", "length_mm", "section", "legs", "units"]
    assert part["section"] == {
        "kind": "angle",
        "leg_a_mm": 100.0,
        "leg_b_mm": 80.0,
        "thickness_mm": 10.0,
        "root_radius_mm": 0.0,
        "toe_radius_mm": 0.0,
    }
    assert part["legs"]["b"] == {"features": [], "trims": []}


def test_a_feature_is_one_line_that_begins_with_its_id_and_kind():
    """And ends with what it is for; so two revisions are compared line by line."""
    lines = written(EVERYTHING).decode().splitlines()
    begun = [line.strip() for line in lines if line.strip().startswith('{"id": ')]
    assert [json.loads(line.rstrip(","))["id"] for line in begun] == ["H.1", "S", "m", "t"]
    assert begun[1] == (
        '{"id": "S", "kind": "slot", "x_mm": 200.0, "y_mm": 50.0, "width_mm": 18.0,'
        ' "length_mm": 38.0, "angle_deg": -30.0, "depth_mm": 4.0, "purpose": "vent"},'
    )


def test_only_ends_that_are_not_square_are_written():
    document = json.loads(written(EVERYTHING))
    assert document["part"]["ends"] == {"far": {"leg_a_deg": 15.0, "leg_b_deg": -5.0}}


def test_computed_figures_are_those_of_geometry():
    document = json.loads(written(EVERYTHING))["computed"]
    computed = compute(EVERYTHING)
    assert document["mass_kg"] == round(computed.mass_kg, 6)
    assert document["net_mass_kg"] == round(computed.net_mass_kg, 6)
    assert document["mass_per_metre_kg"] == round(computed.mass_per_metre_kg, 6)
    assert document["section_area_mm2"] == round(computed.section_area_mm2, 6)
    assert document["paint_area_m2"] == round(computed.paint_area_m2, 6)
    for leg, figures in computed.legs.items():
        said = document["legs"][leg]
        assert said["face_area_gross_mm2"] == round(figures.face_area_gross_mm2, 6)
        assert said["face_area_net_mm2"] == round(figures.face_area_net_mm2, 6)
        assert tuple(Vertex(**corner) for corner in said["outline"]) == figures.outline
    stops = [
        (stop["x_mm"], tuple((o["leg"], o["feature"]) for o in stop["operations"]))
        for stop in document["stops"]
    ]
    assert stops == [(stop.x_mm, stop.operations) for stop in computed.stops]


def test_a_plain_clip_by_hand():
    """Figures worked out on paper: a rectangle less a circle, and the steel's 7850 kg/m3."""
    computed = json.loads(written(CLIP))["computed"]
    assert computed["section_area_mm2"] == (100 + 80 - 10) * 10
    assert computed["mass_per_metre_kg"] == pytest.approx(13.345)
    assert computed["mass_kg"] == pytest.approx(13.345 * 0.2921)
    leg = computed["legs"]["a"]
    assert leg["face_area_gross_mm2"] == pytest.approx(29210)
    assert leg["face_area_net_mm2"] == pytest.approx(29210 - 334.5052, abs=1e-3)
    assert computed["stops"] == [{"x_mm": 31.75, "operations": [{"leg": "a", "feature": "a1"}]}]


def test_a_part_that_cannot_be_cut_is_not_written():
    cope = Cope(end="start", side="toe", along_mm=500.0, across_mm=20.0)
    part = CLIP.model_copy(update={"legs": AngleLegs(a=Leg(trims=(cope,)))})
    assert compute(part).faults
    with pytest.raises(CannotRepresentError) as caught:
        written(part)
    assert str(caught.value) == compute(part).faults[0].message


def test_writing_loses_nothing():
    assert EMITTER.losses(EVERYTHING) == ()


FLAT = {"kind": "flat", "width_mm": 100, "thickness_mm": 10}


def document(part, **beside):
    return json.dumps({"format": "backmark/part", "version": "1.0", "part": part, **beside})


def test_a_document_by_hand_needs_little():
    """Whole numbers for lengths, no ids, no empty lists, no computed block, 4.0 pieces."""
    features = [{"kind": "hole", "x_mm": x, "y_mm": 50, "diameter_mm": 22} for x in (40, 110)]
    part = {
        "mark": "F41",
        "quantity": 4.0,
        "grade": None,
        "length_mm": 150,
        "section": FLAT,
        "legs": {"face": {"features": features}},
    }
    placed = read_part(document(part).encode())
    assert placed.part == Part(
        mark="F41",
        quantity=4,
        length_mm=150.0,
        section=Flat(width_mm=100.0, thickness_mm=10.0),
        legs=FlatLegs(
            face=Leg(
                features=(
                    Hole(id="f1", x_mm=40.0, y_mm=50.0, diameter_mm=22.0),
                    Hole(id="f2", x_mm=110.0, y_mm=50.0, diameter_mm=22.0),
                )
            )
        ),
        ends=FlatEnds(),
    )


def test_a_byte_order_mark_is_a_note():
    reading = read(b"\xef\xbb\xbf" + written(CLIP))
    assert [(f.rule, f.severity) for f in reading.findings] == [("byte-order-mark", "note")]
    assert reading.parts[0].part == CLIP
    assert reading.parts[0].places["length"] == read_part(written(CLIP)).places["length"]


def test_an_unknown_field_is_carried_through_to_the_next_document():
    raw = json.loads(written(CLIP))
    raw["part"]["heat"] = {"no": "4711\x7f"}
    raw["part"]["legs"]["a"]["features"][0]["colour"] = "red"
    raw["made by"] = "somebody"
    reading = read(json.dumps(raw).encode())
    assert [f.severity for f in reading.findings] == ["warning"] * 3
    carried = reading.parts[0].part.carried
    assert sorted(carried) == [
        'unknown field "made by": "somebody"',
        'unknown field part.heat: {"no": "4711\\u007f"}',
        'unknown field part.legs.a.features[0].colour: "red"',
    ]
    again = read_part(written(reading.parts[0].part)).part
    assert again.carried == carried


def test_a_long_unknown_field_is_carried_whole():
    raw = json.loads(written(CLIP))
    raw["part"]["blob"] = "x" * 10_000
    carried = read(json.dumps(raw).encode()).parts[0].part.carried
    assert len(carried) == 3
    whole = carried[0].removeprefix("unknown field ") + "".join(
        line.removeprefix("unknown field, continued: ") for line in carried[1:]
    )
    assert whole == f'part.blob: "{"x" * 10_000}"'


def test_places_are_those_of_the_elements():
    data = written(EVERYTHING)
    lines = data.decode().split("\n")
    placed = read_part(data)
    for leg in leg_names(placed.part):
        for feature in leg_of(placed.part, leg).features:
            span = placed.places[f"legs.{leg}.{feature.id}"]
            assert f'"id": "{feature.id}"' in lines[span.line - 1] + lines[span.line]

    def said(element):
        span = place_of(placed, element)
        assert isinstance(span, Span)
        assert span.path == "C12.part.json"
        return lines[span.line - 1][span.column - 1 : span.end_column - 1]

    assert said("") == '"Ü-1/2"'
    assert said("length") == "600.0"
    assert said("quantity") == "3"
    assert said("grade") == '"S275JR"'
    assert said("ends.far") == '{"leg_a_deg": 15.0, "leg_b_deg": -5.0}'
    assert said("legs.a.trims.0").startswith('{"kind": "cope"')
    assert said("waivers.0").startswith('{"rule": "edge-distance-short"')
    assert said("legs.a.nothing") == said("legs.a")
    assert said("ends.start") == said("ends")
    assert len(placed.places) == len(tuple(placed.places))


def test_places_of_a_document_on_one_line():
    data = json.dumps(json.loads(written(CLIP))).encode()
    placed = read_part(data)
    span = placed.places["legs.a.a1"]
    assert (span.line, span.end_line) == (1, 1)
    text = data.decode()[span.column - 1 : span.end_column - 1]
    assert json.loads(text)["id"] == "a1"
