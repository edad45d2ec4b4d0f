"""Any part printed as part text reads back equal, and prints the same again."""

import pytest
from bmk_reading import on_leg, part, printed, read
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from strategies import parts

from translator.conventions import Conventions
from translator.emitters import EmitOptions, emitters
from translator.emitters.part_json import EMITTER as JSON
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    CentreMark,
    Cope,
    Flat,
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    Notch,
    Opening,
    OutlineTrim,
    Part,
    Scribe,
    Slot,
    Stamp,
    Stated,
    Vertex,
    Waiver,
)
from translator.readers.part_json import READER as JSON_READER
from translator.readers.part_text._amounts import grid
from translator.source import Source

SLOW = settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
    derandomize=True,
)
SECTION = Angle(leg_a_mm=100.0, leg_b_mm=80.0, thickness_mm=10.0)
TEXTS = st.text(
    st.characters(min_codepoint=32, max_codepoint=0x10FFFF, exclude_categories=("Cc", "Cs")),
    max_size=30,
)
FILLED = TEXTS.filter(bool)
MM = st.floats(-1e6, 1e6).map(lambda value: round(value, 6))
SIZES = st.floats(1e-6, 1e6).map(lambda value: max(round(value, 6), 1e-6))
BULGES = st.floats(-1, 1).map(lambda value: round(value, 9))
DEGREES = st.floats(-360, 360).map(lambda value: round(value, 9))
CUTS = st.floats(-88.999999999, 88.999999999).map(lambda value: round(value, 9))
IDS = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,20}", fullmatch=True)
BOLTS = st.sampled_from(["M6", "M20", "M999", "3/4", "1", "1-1/8", "6/8", "99", "9-11/13"])
VERTICES = st.builds(Vertex, x_mm=MM, y_mm=MM, bulge=BULGES)


def reads_back(piece):
    text = printed(piece)
    reading = read(text)
    assert [f for f in reading.findings if f.severity == "error"] == [], text
    assert [placed.part for placed in reading.parts] == [piece], text
    assert printed(reading.parts[0].part) == text


@SLOW
@given(parts())
def test_sound_parts_read_back(piece):
    reads_back(piece)


@settings(SLOW, max_examples=15)
@given(parts())
def test_through_json_and_back(piece):
    document = JSON.emit(piece, EmitOptions())
    source = Source(path="x.part.json", data=document)
    (told,) = JSON_READER.lower(JSON_READER.parse(source), Conventions()).parts
    (again,) = read(printed(told.part)).parts
    assert again.part == piece
    assert JSON.emit(again.part, EmitOptions()) == document


@st.composite
def features(draw):
    """Draw features with the oddest figures and ids that the model takes."""
    kinds = (
        st.builds(
            Hole,
            id=st.just("x"),
            x_mm=MM,
            y_mm=MM,
            diameter_mm=SIZES,
            depth_mm=st.none() | SIZES,
            thread=st.sampled_from([None, "right", "left"]),
            countersink_diameter_mm=st.none() | SIZES,
            countersink_angle_deg=st.none() | DEGREES,
            bolt=st.none() | BOLTS,
            process=st.sampled_from([None, "drill", "punch", "sub-punch-and-ream", "mark-only"]),
        ),
        st.builds(
            Slot,
            id=st.just("x"),
            x_mm=MM,
            y_mm=MM,
            width_mm=st.floats(0.5, 9).map(lambda value: round(value, 6)),
            length_mm=st.floats(10, 99).map(lambda value: round(value, 6)),
            angle_deg=DEGREES,
            purpose=st.sampled_from([None, "rod", "vent"]),
        ),
        st.builds(
            Opening, id=st.just("x"), contour=st.lists(VERTICES, min_size=2, max_size=5).map(tuple)
        ),
        st.builds(CentreMark, id=st.just("x"), x_mm=MM, y_mm=MM),
        st.builds(
            Scribe,
            id=st.just("x"),
            method=st.sampled_from(["scribe", "powder", "punch"]),
            closed=st.booleans(),
            line=st.lists(VERTICES, min_size=2, max_size=5).map(tuple),
        ),
        st.builds(
            Stamp,
            id=st.just("x"),
            text=st.none() | FILLED,
            x_mm=MM,
            from_heel_mm=MM,
            height_mm=SIZES,
            angle_deg=DEGREES,
            may_move=st.booleans(),
        ),
    )
    ids = draw(st.lists(st.sampled_from(["a1", "a2", "a3"]) | IDS, max_size=3, unique=True))
    return tuple(draw(st.one_of(kinds)).model_copy(update={"id": name}) for name in ids)


@st.composite
def waivers(draw):
    return Waiver(
        rule=draw(st.from_regex(r"[a-z0-9]{1,5}(-[a-z0-9]{1,5}){0,2}", fullmatch=True)),
        leg=draw(st.sampled_from([None, "a", "b", "face"])),
        feature=draw(st.none() | IDS | st.sampled_from(["a1", "hole", "on", "f12"])),
        value=draw(st.none() | MM),
        reason=draw(FILLED),
        by=draw(st.none() | TEXTS),
        until_revision=draw(st.none() | TEXTS),
        until_date=draw(st.sampled_from([None, "2027-01-31", "9999-99-99"])),
    )


@st.composite
def odd_parts(draw):
    """Draw parts that only the model's own limits keep in bounds."""
    flat = draw(st.booleans())
    named = {"designation": draw(st.none() | TEXTS | st.sampled_from(["L90x90x10", "FB100x10"]))}
    section = (
        Flat(width_mm=draw(st.sampled_from([100.0, 99.999999])), thickness_mm=10.0, **named)
        if flat
        else Angle(
            leg_a_mm=90.0,
            leg_b_mm=draw(st.sampled_from([90.0, 88.123457])),
            thickness_mm=10.0,
            root_radius_mm=draw(st.sampled_from([0.0, 11.0])),
            toe_radius_mm=draw(st.sampled_from([0.0, 5.5])),
            **named,
        )
    )
    leg = Leg(features=draw(features()))
    ends = [AngleEnd(leg_a_deg=draw(CUTS), leg_b_deg=draw(CUTS)) for _ in range(2)]
    stated = st.builds(
        Stated,
        mass_per_metre_kg=st.none() | st.just(0.0) | SIZES,
        paint_area_per_metre_m2=st.none() | SIZES,
        saw_length_mm=st.none() | SIZES,
    )
    return Part(
        mark=draw(FILLED),
        quantity=draw(st.integers(1, 1_000_000)),
        length_mm=draw(SIZES),
        section=section,
        legs=FlatLegs(face=leg) if flat else AngleLegs(a=leg),
        ends=FlatEnds() if flat else AngleEnds(start=ends[0], far=ends[1]),
        units=draw(st.sampled_from(["mm", "inch"])),
        stated=draw(st.none() | stated),
        waivers=tuple(draw(st.lists(waivers(), max_size=2))),
        **{
            name: draw(st.none() | TEXTS)
            for name in (
                *("grade", "title", "order", "drawing", "revision", "phase", "lot", "finish"),
            )
        },
        **{
            name: tuple(draw(st.lists(TEXTS, max_size=2)))
            for name in ("remarks", "second_work", "carried")
        },
    )


@settings(SLOW, max_examples=40)
@given(odd_parts())
def test_odd_parts_read_back(piece):
    reads_back(piece)


def hole(number, x, **fields):
    return Hole(**{"id": f"a{number}", "x_mm": x, "y_mm": 50.0, "diameter_mm": 18.0} | fields)


def with_features(*found, **fields):
    return Part(
        **{
            "mark": "P1",
            "length_mm": 600.0,
            "section": SECTION,
            "legs": AngleLegs(a=Leg(features=found)),
            "ends": AngleEnds(),
        }
        | fields
    )


GROUPS = {
    # holes: their lines in the text
    "one": ([hole(1, 40.0)], ["hole 18 gauge 50 at 40"]),
    "equal spaces": (
        [hole(n, 40.0 + 60 * n) for n in (1, 2, 3)],
        ["holes 18 gauge 50 at 100, 2 @ 60"],
    ),
    "two runs": (
        [hole(n, x) for n, x in enumerate([40.0, 100.0, 160.0, 200.0, 230.0, 260.0, 300.0], 1)],
        ["holes 18 gauge 50 at 40, 2 @ 60, 200, 2 @ 30, 300"],
    ),
    "spaces not quite equal": (
        [hole(1, 40.0), hole(2, 100.0), hole(3, 160.000001)],
        ["holes 18 gauge 50 at 40, 100, 160.000001"],
    ),
    "going back": (
        [hole(1, 100.0), hole(2, 40.0)],
        ["hole 18 gauge 50 at 100", "hole 18 gauge 50 at 40"],
    ),
    "another size": (
        [hole(1, 40.0), hole(2, 100.0, diameter_mm=20.0)],
        ["hole 18 gauge 50 at 40", "hole 20 gauge 50 at 100"],
    ),
    "another gauge": (
        [hole(1, 40.0), hole(2, 100.0, y_mm=60.0)],
        ["hole 18 gauge 50 at 40", "hole 18 gauge 60 at 100"],
    ),
    "an id of its own": (
        [hole(1, 40.0), hole(2, 100.0, id="x7"), hole(3, 160.0)],
        ["hole 18 gauge 50 at 40", 'hole 18 gauge 50 at 100 id "x7"', "hole 18 gauge 50 at 160"],
    ),
    "ids exchanged": (
        [hole(2, 40.0), hole(1, 100.0)],
        ['hole 18 gauge 50 at 40 id "a2"', 'hole 18 gauge 50 at 100 id "a1"'],
    ),
}


@pytest.mark.parametrize(("found", "lines"), GROUPS.values(), ids=GROUPS)
def test_equal_holes_are_drawn_together(found, lines):
    piece = with_features(*found)
    text = printed(piece)
    inner = text.split("leg a {\n")[1].split("\n  }")[0]
    assert inner.split("\n") == [f"    {line}" for line in lines]
    reads_back(piece)


def test_the_canonical_text():
    piece = with_features(
        hole(1, 40.0, bolt="M16", process="drill"),
        Slot(id="a2", x_mm=100.0, y_mm=50.0, width_mm=18.0, length_mm=38.0, angle_deg=90.0),
        mark="P 1",
        title='the "one"',
        grade="S355J2",
        order="TQ-7",
        quantity=3,
        remarks=("paint after welding",),
        ends=AngleEnds(far=AngleEnd(leg_b_deg=-12.5)),
        waivers=(Waiver(rule="x-y", leg="a", feature="a1", value=24.0, reason="RFI 17"),),
    )
    assert printed(piece) == (
        "units mm\n"
        'order "TQ-7"\n'
        "grade S355J2\n"
        "\n"
        'part "P 1" "the ""one""" {\n'
        "  section angle leg a 100 leg b 80 thickness 10\n"
        "  length 600\n"
        "  quantity 3\n"
        '  remark "paint after welding"\n'
        "  mitre far 12.5deg from square, long at heel of leg b\n"
        "  leg a {\n"
        "    hole 18 bolt M16 gauge 50 at 40 drill only\n"
        "    slot 18 x 38 across leg gauge 50 at 100\n"
        "  }\n"
        '  waive x-y on leg a a1 at 24 "RFI 17"\n'
        "}\n"
    )


def test_inches_are_printed_as_a_drawing_has_them():
    piece = with_features(
        hole(1, 31.75, y_mm=63.5, diameter_mm=20.6375), length_mm=2857.5, units="inch"
    )
    text = printed(piece)
    assert "length 9'-4 1/2\"\n" in text
    assert "hole 13/16 gauge 2-1/2 at 1-1/4\n" in text
    assert "leg a 100mm leg b 80mm thickness 10mm" in text
    reads_back(piece)


def test_long_statements_run_over_several_lines():
    places = [40.0 + n * n for n in range(60)]
    piece = with_features(*(hole(n, x) for n, x in enumerate(places, 1)), length_mm=9000.0)
    text = printed(piece)
    assert max(map(len, text.splitlines())) <= 96
    reads_back(piece)


def test_a_leg_beyond_what_short_texts_may_make():
    full = Leg(
        features=tuple(
            Hole(id=f"a{n}", x_mm=n * 0.5, y_mm=40.0, diameter_mm=0.1) for n in range(1, 12_001)
        )
    )
    reads_back(with_features(legs=AngleLegs(a=full), length_mm=10_001.0))


def test_outlines_and_trims_read_back():
    corners = ((0, 0, 0.0), (600, 0, 0.414213562), (620, 20, 0.0), (600, 100, -1.0), (0, 100, 0.0))
    contour = tuple(Vertex(x_mm=float(x), y_mm=float(y), bulge=b) for x, y, b in corners)
    legs = AngleLegs(
        a=Leg(trims=(OutlineTrim(contour=contour),)),
        b=Leg(
            trims=(
                Cope(end="far", side="heel", along_mm=30.0, across_mm=20.0),
                Notch(side="toe", x_from_mm=-1.0, x_to_mm=9.5, across_mm=4.0, radius_mm=0.5),
            )
        ),
    )
    reads_back(with_features(legs=legs))


def test_the_printer_is_found_by_its_room():
    (emitter,) = [found for found in emitters() if found.name == "bmk"]
    assert (emitter.suffix, emitter.per_leg) == (".bmk", False)
    assert emitter.losses(part(on_leg("hole 9 gauge 50 at 40"))) == ()


@given(st.fractions(-(10**6), 10**6))
def test_the_quick_grid_is_the_grid_of_the_model(value):
    from translator.model import on_grid

    assert grid(value) == on_grid(value)
