"""Bar programs worked by hand, and what a program says of its pieces."""

import json
from pathlib import Path

import jsonschema
import pytest
from bar_machines import changed
from bar_orders import NAMES, order, shop
from machine_parts import hole, slot, stamp
from program_bars import (
    BENCH,
    FAR,
    PUNCHING,
    SAWING,
    START,
    bar,
    flat,
    part,
    piece,
    program,
    stops,
)

from translator.bars.program import bar_id, program_of
from translator.bars.program_document import program_json, program_schema
from translator.model import AngleLegs, Clip, Leg

# --- worked by hand ---------------------------------------------------------------------------


def test_one_piece_on_the_punching_line_by_hand():
    """Punch and drill on one centreline at 0, slug shear at 1200; the start end leads.

    The piece begins 10 mm into the bar, so x = 50 is at 60 of the bar. The slug before the piece
    lies from -6 to 10, the one behind it from 310 to 326; both at the shear, 1200 further on.
    """
    one = part(a=[hole("a1", 50.0, 50.0, 18.0)], b=[hole("b1", 50.0, 55.0, 18.0)])
    made = program(bar(piece(one)), [one])
    assert made.refused == ()
    assert [step.kind for step in made.steps] == [
        *("load", "grip", "stop", "stop", "stop", "measure", "unload")
    ]
    work, front, off = stops(made)
    assert (work.feed_mm, front.feed_mm, off.feed_mm) == (60.0, 1194.0, 1510.0)
    punch, drill = work.operations
    assert (punch.station, punch.tool, punch.side, punch.process) == ("P1", "3", "left", "punch")
    assert (punch.leg, punch.bar_mm, punch.from_heel_mm, punch.gauge_mm) == ("a", 60.0, 50.0, 50.0)
    assert (drill.station, drill.tool, drill.side, drill.process) == ("D1", "D3", "right", "drill")
    assert (drill.leg, drill.bar_mm, drill.from_heel_mm) == ("b", 60.0, 55.0)
    assert (punch.diameter_mm, punch.depth_mm, punch.enters) == (18.0, None, "outside")
    assert [(c.heel_mm, c.loss_mm, c.serves, c.frees) for c in front.operations] == [
        (-6.0, 16.0, "behind", None)
    ]
    assert [(c.heel_mm, c.loss_mm, c.serves, c.frees) for c in off.operations] == [
        (310.0, 16.0, "ahead", 1)
    ]


def test_the_carriage_by_hand():
    """Jaw 120, tail 203.2: the jaw stays 83.2 mm behind the last tool, the shear's own place.

    One grip does: all the way back the jaw is at -5383.2, so at feed 60 it may hold up to
    5443.2 of the bar; the last cut, at 310, asks for at least 393.2. And the carriage's foremost
    place, 1116.8, asks for 1510 - 1116.8 = 393.2 too.
    """
    one = part(a=[hole("a1", 50.0, 50.0, 18.0)])
    made = program(bar(piece(one)), [one])
    (grip,) = [step for step in made.steps if step.kind == "grip"]
    assert (grip.is_regrip, grip.from_mm, grip.to_mm, grip.feed_mm) == (False, 393.2, 513.2, 60.0)
    assert grip.carriage_mm == pytest.approx(60.0 - 393.2 + 5383.2)
    assert stops(made)[-1].carriage_mm == 6500.0
    assert made.least_length_mm == 513.2


def test_the_far_end_leading_turns_x_and_the_sides():
    one = part(a=[hole("a1", 50.0, 50.0, 18.0)], b=[hole("b1", 50.0, 55.0, 18.0)])
    made = program(bar(piece(one, placement=FAR)), [one])
    (work, *_) = stops(made)
    assert work.feed_mm == 260.0
    assert [(op.leg, op.side, op.station) for op in work.operations] == [
        ("b", "left", "P1"),
        ("a", "right", "D1"),
    ]


def test_staggered_stations_work_at_one_stop_where_their_places_meet():
    """D1 at 0 works on the left, D2 at 350 on the right: 430 and 80 of the bar meet."""
    one = part(a=[hole("a1", 415.0, 45.0, 18.0)], b=[hole("b1", 65.0, 45.0, 18.0)], length_mm=500.0)
    made = program(bar(piece(one, lead=15.0), loss=5.0, kind="saw"), [one], SAWING)
    assert made.refused == ()
    assert [[(op.station, op.bar_mm) for op in stop.operations] for stop in stops(made)[:1]] == [
        [("D1", 430.0), ("D2", 80.0)]
    ]


def test_a_slanted_slot_turns_with_the_end_that_leads():
    """Direction from the way the bar travels: 180 - angle where the start end leads."""
    own = changed("turns", PUNCHING, lambda raw: raw["stations"][0]["tools"][4].update(turns=True))
    long = {"width": 20.6375, "length": 25.4, "angle_deg": 30.0}
    one = flat(slot("f1", 100.0, 50.0, **long))
    directions = {}
    for placement in (START, FAR):
        made = program(bar(piece(one, placement=placement)), [one], own=own)
        directions[placement.lead_end] = stops(made)[0].operations[0].direction_deg
    # The flat lies left either way: turned by half a turn, a slot looks the same.
    assert directions == {"start": -30.0, "far": -30.0}


def test_a_flat_turned_end_for_end_counts_from_its_other_edge():
    one = flat(hole("f1", 100.0, 40.0, 18.0))
    made = program(bar(piece(one, placement=FAR)), [one])
    op = stops(made)[0].operations[0]
    assert (op.bar_mm, op.from_heel_mm, op.y_mm, op.side) == (210.0, 60.0, 40.0, "left")


def test_the_machines_own_datum_and_counter():
    def toe(raw):
        raw["datum"] = {"along": "trailing-end", "across": "toe", "gauge_at_datum_mm": 100.0}

    one = part(a=[hole("a1", 50.0, 50.0, 18.0)])
    made = program(bar(piece(one)), [one], own=changed("toe", PUNCHING, toe))
    stop = stops(made)[0]
    assert stop.counter_mm == 6000.0 - 60.0
    assert stop.operations[0].from_heel_mm == 50.0
    assert stop.operations[0].gauge_mm == 100.0 + 40.0


def test_a_long_bar_is_gripped_again():
    """12 m on a travel of 6.5 m: whatever the layout, one grip can't do."""
    one = part(a=[hole("a1", 50.0, 50.0, 18.0)], length_mm=2000.0)
    pieces = [piece(one, n + 1, 10.0 + n * 2016.0) for n in range(5)]
    made = program(bar(*pieces, length=12000.0), [one])
    grips = [step for step in made.steps if step.kind == "grip"]
    assert [grip.is_regrip for grip in grips] == [False, True]
    assert grips[1].from_mm > grips[0].to_mm
    assert all(0.0 <= stop.carriage_mm <= 6500.0 for stop in stops(made))


def test_every_work_is_traceable_to_part_feature_and_line():
    """The parts of these tests stand on line 10 and on; each element has a line of its own."""
    one = part(a=[hole("a1", 50.0, 50.0, 18.0)], b=[hole("b1", 80.0, 55.0, 18.0)])
    made = program(bar(piece(one)), [one])
    works = [op for stop in stops(made) for op in stop.operations if op.kind == "operation"]
    assert [(op.mark, op.piece, op.feature, op.source.file, op.source.line) for op in works] == [
        ("W1", 1, "a1", "w.bmk", 14),
        ("W1", 1, "b1", "w.bmk", 15),
    ]
    assert made.pieces[0].source.line == 10


def test_second_work_is_listed_with_its_piece_and_never_dropped():
    cut = (Clip(end="start", side="toe", along_mm=20.0, across_mm=20.0),)
    features = (
        hole("a1", 150.0, 50.0, 18.0, countersink_diameter_mm=30.0, countersink_angle_deg=90.0),
        hole("a2", 200.0, 50.0, 16.0, thread="right"),
    )
    one = part(legs=AngleLegs(a=Leg(features=features, trims=cut)), second_work=("paint",))
    made = program(bar(piece(one)), [one])
    assert [(w.what, w.feature, w.source.line) for w in made.pieces[0].second_work] == [
        ("countersink of hole a1", "a1", 14),
        ("tapping of hole a2", "a2", 15),
        ("clip at the start end of leg a", None, 10),
        ("paint", None, 10),
    ]
    assert [op.feature for op in stops(made)[0].operations] == ["a1"]


def test_a_tool_from_the_crib_is_put_in_before_the_bar():
    one = part(a=[hole("a1", 50.0, 50.0, 23.8125)])
    made = program(bar(piece(one)), [one])
    assert (made.steps[0].kind, made.steps[0].station, made.steps[0].tool) == (
        *("tool_change", "P1", "6"),
    )
    assert [(t.station, t.tool, t.is_fetched, t.uses) for t in made.tools] == [("P1", "6", True, 1)]


def test_the_size_of_the_tool_is_said_not_that_of_the_hole():
    """A 17.5 hole is made by the 17.4625 punch, within the profile's 0.05 mm."""
    one = part(a=[hole("a1", 50.0, 50.0, 17.5)])
    made = program(bar(piece(one)), [one])
    assert stops(made)[0].operations[0].diameter_mm == 17.4625


def test_a_hole_to_be_reamed_says_to_what():
    one = part(a=[hole("a1", 50.0, 50.0, 21.0, process="sub-punch-and-ream")])
    made = program(bar(piece(one)), [one])
    op = stops(made)[0].operations[0]
    assert (op.tool, op.diameter_mm, op.reamed_to_mm) == ("1", 17.4625, 21.0)
    assert [w.what for w in made.pieces[0].second_work] == ["reaming of hole a1"]


def test_a_slot_that_is_nibbled_is_a_hit_at_each_place():
    """Width 18, length 45: 27 mm of travel in steps of 9 at most, so 4 hits."""

    def nibbles(raw):
        raw["stations"][0]["tools"][2]["several_hits"] = True

    one = part(a=[slot("a1", 150.0, 50.0, width=18.0, length=45.0)])
    made = program(bar(piece(one)), [one], own=changed("nibbles", PUNCHING, nibbles))
    hits = [
        (s.feed_mm, op.hit, op.hits)
        for s in stops(made)
        for op in s.operations
        if op.kind == "operation"
    ]
    assert hits == [(146.5, 1, 4), (155.5, 2, 4), (164.5, 3, 4), (173.5, 4, 4)]


def test_a_stamp_reads_as_it_does_on_the_drawing():
    """Along the piece from its start end: against the travel where that end leads."""
    one = part(a=[stamp("a1", 100.0, 30.0, 12.7, text="W1")])
    directions = {}
    for placement, own in ((START, shop(PUNCHING)), (FAR, shop(SAWING))):
        kind, loss = ("slug", 16.0) if placement is START else ("saw", 5.0)
        lead = 10.0 if placement is START else 15.0
        laid = bar(piece(one, lead=lead, placement=placement), kind=kind, loss=loss)
        made = program(laid, [one], own=own)
        (struck,) = [op for s in stops(made) for op in s.operations if op.kind == "stamp"]
        assert (struck.text, struck.nearest_mm, struck.is_moved) == ("W1", 30.0, False)
        directions[placement.lead_end] = struck.reading_deg
    assert directions == {"start": 180.0, "far": 0.0}


def test_a_stamp_that_may_move_goes_to_where_the_marker_reaches():
    """The marker of Line 1 reaches from 15 mm of the heel on."""
    one = part(a=[stamp("a1", 100.0, 8.0, 9.525, text="W1", may_move=True)])
    made = program(bar(piece(one)), [one])
    (struck,) = [op for s in stops(made) for op in s.operations if op.kind == "stamp"]
    assert (struck.nearest_mm, struck.is_moved) == (15.0, True)


def test_a_stamp_that_may_not_move_is_second_work():
    one = part(a=[stamp("a1", 100.0, 8.0, 9.525, text="W1")])
    made = program(bar(piece(one)), [one])
    assert [w.what for w in made.pieces[0].second_work] == ["stamp a1"]


def test_only_the_first_piece_of_a_mark_is_measured():
    one = part()
    pieces = [piece(one, 1, 10.0), piece(one, 2, 326.0)]
    made = program(bar(*pieces), [one])
    measured = [step for step in made.steps if step.kind == "measure"]
    assert [(step.piece, step.mark, step.length_mm) for step in measured] == [(1, "W1", 300.0)]
    assert measured[0].instruction == (
        "first piece of W1: stop and measure length (300 mm), gauges, spacing and the hand before"
        " going on"
    )


def test_what_stands_beyond_the_shear_is_done_before_the_cut():
    """Tools at 0, shear at -400: x = 250 of the piece is worked at 260, the cut comes at -90."""

    def beyond(raw):
        raw["cut_off"]["x_mm"] = -400.0
        raw["grip"]["foremost_x_mm"] = -180.0

    one = part(a=[hole("a1", 50.0, 50.0, 18.0), hole("a2", 250.0, 50.0, 18.0)])
    made = program(bar(piece(one)), [one], own=changed("beyond", PUNCHING, beyond))
    assert [stop.feed_mm for stop in stops(made)] == [-406.0, 60.0, 260.0, -90.0]


def test_a_bench_has_no_carriage():
    one = part(a=[hole("a1", 50.0, 50.0, 18.0)])
    made = program(bar(piece(one, lead=5.0), loss=3.0, kind="saw"), [one], BENCH)
    assert [step.kind for step in made.steps][:2] == ["load", "stop"]
    assert all(stop.carriage_mm is None for stop in stops(made))


def test_the_bar_is_told():
    one = part()
    made = program(bar(piece(one), measured_mm=5990.0, certificate="C9"), [one])
    assert bar_id(bar(piece(one))) == made.bar_id == "bar-001"
    assert (made.heat, made.certificate, made.stock) == ("H4711", "C9", "S1")
    assert (made.measured_mm, made.length_mm) == (5990.0, 6000.0)
    assert (made.left_leg_mm, made.right_leg_mm, made.thickness_mm) == (90.0, 90.0, 9.0)
    assert (made.drop.kind, made.drop.label) == ("remnant", "R7")


# --- the document -------------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_programs_validate_and_are_the_same_each_time(name):
    own = shop(name)
    validator = jsonschema.Draft202012Validator(program_schema())
    bars, parts = order(11, own)
    for one in bars:
        text = program_json(program_of(one, parts, own.model))
        assert text == program_json(program_of(one, parts[::-1], own.model))
        validator.validate(json.loads(text))


def test_a_refused_program_validates_too():
    validator = jsonschema.Draft202012Validator(program_schema())
    document = json.loads(program_json(program(bar(piece(part())), [])))
    validator.validate(document)
    assert document["program"]["steps"] == []
    assert document["format"] == "backmark/program"
    assert document["caution"].startswith("These checks are an aid.")


def test_an_unknown_field_does_not_validate():
    validator = jsonschema.Draft202012Validator(program_schema())
    one = part()
    document = json.loads(program_json(program(bar(piece(one)), [one])))
    document["program"]["steps"][0]["feed_inch"] = 1.0
    assert not validator.is_valid(document)


def test_the_reference_shows_what_the_tool_writes():
    """The excerpt in schemas/README.md: its steps are those of the first test here."""
    page = (Path(__file__).parent.parent / "schemas" / "README.md").read_text(encoding="utf-8")
    excerpt = "".join(page[page.index('{"kind": "load"') : page.index('"file": "w.bmk"')].split())
    one = part(a=[hole("a1", 50.0, 50.0, 18.0)])
    made = json.loads(program_json(program(bar(piece(one)), [one])))["program"]
    shown = "".join(json.dumps(made["steps"]).split())
    assert excerpt in shown
    assert f'"least_length_mm": {made["least_length_mm"]}' in page
