"""The estimate: examples worked by hand, common practice, and what must hold of any order."""

import csv
import json
import math
import re
from html import unescape
from pathlib import Path

import jsonschema
import pytest
from bar_orders import NAMES, order, shop
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from machine_parts import angle, drill, hole, machine, oblong, punch, slot, stamp, tool
from msgspec.structs import replace
from plan_bars import bar, plan, unplaced

from translator.bars.bar_count import bars_needed
from translator.bars.clock import ACTIVITIES, Operation, Spell, Standing, Visit, clocked
from translator.bars.estimate import compare, estimate
from translator.bars.estimate_document import estimate_csv, estimate_json, estimate_schema
from translator.bars.estimate_model import KG_PER_SHORT_TON, Estimate
from translator.bars.estimate_page import estimate_page
from translator.bars.estimate_programs import estimate_programs
from translator.bars.estimate_text import estimate_text
from translator.bars.figures import figures
from translator.bars.program import program_of
from translator.bars.times import move_time_s
from translator.commands import main
from translator.findings import CAUTION
from translator.geometry.identity import turns
from translator.geometry.sections import section_area_mm2
from translator.model import Placed
from translator.source import Span

SAMPLES = Path(__file__).parent.parent / "samples"
QUAY = SAMPLES / "tern-quay"
LINE_1 = str(SAMPLES / "machines" / "punch-and-drill-line.machine.json")
LINE_2 = str(SAMPLES / "machines" / "drill-and-saw-line.machine.json")
BENCH = str(SAMPLES / "machines" / "hand-bench.machine.json")
PLACE = Span("clips.bmk", 1, 1, 1, 1)

TIMES = {
    "feed_speed_mm_per_s": 600.0,
    "feed_acceleration_mm_per_s2": 1200.0,
    "gauge_speed_mm_per_s": 150.0,
    "gauge_acceleration_mm_per_s2": 600.0,
    "stations_at_once": True,
    "settle_time_s": 0.3,
    "regrip_time_s": 8.0,
    "load_time_s": 60.0,
    "unload_time_s": 30.0,
    "attended_time_s": 120.0,
    "mark_setup_time_s": 90.0,
    "first_piece_time_s": 240.0,
    "section_change_time_s": 300.0,
}
PUNCH = {"approach_time_s": 0.4, "tool_select_time_s": 0.8}
DRILL = {"approach_time_s": 1.2, "tool_select_time_s": 6.0, "feed_allowance_mm": 3.0}
BIT = {"cutting_speed_m_per_min": 30.0, "feed_mm_per_rev": 0.2, "point_angle_deg": 118.0}
SHEAR = {"kind": "shear", "cut": "single", "x_mm": 1000.0, "cut_time_s": 2.5}


def line(**more):
    """Return a machine whose profile has every figure: punch left, drill right, square shear."""
    given = {
        "stations": [
            punch(tool(stroke_time_s=0.9), oblong(stroke_time_s=0.9), side="left", **PUNCH),
            drill(tool(**BIT), side="right", **DRILL),
        ],
        "cut_off": SHEAR,
        "times": TIMES,
        **more,
    }
    return machine(**given)


def placed(part):
    return Placed(part=part, places={"": PLACE})


def seconds(own, part):
    (piece,) = estimate(own, [placed(part)]).pieces
    assert piece.verdict != "not", piece.why
    return piece.seconds


# --- worked by hand ------------------------------------------------------------------------


def test_one_punched_hole_by_hand():
    """A 300 mm piece with a hole 150 mm from its start, 1000 mm ahead of the shear.

    Places of the carriage within a pitch of 300: hole 150, cut (1000 + 300) mod 300 = 100. So
    moves of 50 and 250 mm: 2 sqrt(50/1200) + 2 sqrt(250/1200) = 0.4082 + 0.9129 s; twice 0.3 s to
    settle; 0.4 + 0.9 s for the hit; 2.5 s for the cut. In all 5.7211 s.
    """
    part = angle(a=(hole("a1", x=150.0, diameter=22.0),), length_mm=300.0)
    assert seconds(line(), part) == pytest.approx(5.7211, abs=1e-4)


def test_both_legs_at_one_stop_take_the_longer_of_both():
    """A drilled hole opposite a punched one: 1.2 s to the steel and 10 + 6.61 + 3 mm at its feed.

    n = 30,000 / (pi x 22) = 434.06; 434.06 x 0.2 = 86.81 mm a minute; 19.61 mm take 13.55 s.
    """
    one = angle(a=(hole("a1", x=150.0),), length_mm=300.0)
    both = angle(a=(hole("a1", x=150.0),), b=(hole("b1", x=150.0),), length_mm=300.0)
    drilled = 1.2 + 13.553
    assert seconds(line(), both) == pytest.approx(seconds(line(), one) - 1.3 + drilled, abs=2e-3)
    in_turn = line(times={**TIMES, "stations_at_once": False})
    assert seconds(in_turn, both) == pytest.approx(seconds(line(), one) + drilled, abs=2e-3)


def test_a_second_gauge_at_one_stop_moves_the_tool_across():
    """From 40 to 64 mm and, beside the bar's move, back: 2 sqrt(24/600) = 0.4 s at the stop."""
    one = angle(a=(hole("a1", y=40.0, x=150.0),), length_mm=300.0)
    two = angle(a=(hole("a1", y=40.0, x=150.0), hole("a2", y=64.0, x=150.0)), length_mm=300.0)
    assert seconds(line(), two) - seconds(line(), one) == pytest.approx(0.4 + 0.4 + 0.9, abs=1e-6)


def test_another_tool_costs_its_selection():
    """A slot between holes: the punch is changed for it and changed back, 0.8 s each way."""
    round_only = angle(a=(hole("a1", x=200.0), hole("a2", x=150.0)), length_mm=300.0)
    with_slot = angle(a=(hole("a1", x=200.0), slot("a2", x=150.0)), length_mm=300.0)
    assert seconds(line(), with_slot) - seconds(line(), round_only) == pytest.approx(1.6)


def test_letters_are_counted_and_blanks_are_not():
    own = line(
        marker={"side": "left", "heights_mm": [10.0], "time_s": 1.5, "character_time_s": 0.5}
    )
    short = angle(a=(stamp("a1", text="AB"),), length_mm=400.0)
    blank = angle(a=(stamp("a1", text="A B"),), length_mm=400.0)
    longer = angle(a=(stamp("a1", text="ABCD"),), length_mm=400.0)
    assert seconds(own, longer) - seconds(own, short) == pytest.approx(1.0)
    assert seconds(own, blank) == pytest.approx(seconds(own, short))


def test_a_saw_goes_through_the_area():
    saw = {
        "kind": "saw",
        "kerf_mm": 3.0,
        "x_mm": 1000.0,
        "cut_time_s": 6.0,
        "feed_mm2_per_s": 100.0,
        "angles": {"left": {"least_deg": -60.0, "most_deg": 60.0}},
    }
    square = angle(length_mm=300.0)
    area = section_area_mm2(square.section)
    (piece,) = estimate(line(cut_off=saw), [placed(square)]).pieces
    (cutting,) = (a.seconds for a in piece.activities if a.activity == "cutting")
    assert cutting == pytest.approx(6.0 + area / 100.0)


def test_several_hits_make_a_slot():
    """40 x 22 along the bar in 3 hits of a 22 mm punch: two moves of 9 mm between them."""
    own = line(stations=[punch(tool(stroke_time_s=0.9, several_hits=True), side="left", **PUNCH)])
    part = angle(a=(slot("a1", x=150.0, width=22.0, length=40.0),), length_mm=300.0)
    one = angle(a=(hole("a1", x=150.0),), length_mm=300.0)
    more = 2 * (0.9 + 2.0 * math.sqrt(9.0 / 1200.0) + 0.3)
    assert seconds(own, part) - seconds(own, one) == pytest.approx(more, abs=1e-6)


def test_an_order_by_hand():
    """100 pieces of 300 mm from bars of 6 m: 20 on each, 5 bars.

    Machine: 100 x 5.7211 + 5 x (60 + 30) + 90 + 240 + 300 = 1652.11 s. People: 5 x 120 + 630.
    """
    part = angle(a=(hole("a1", x=150.0),), length_mm=300.0, quantity=100)
    own = estimate(line(), [placed(part)], 6000.0)
    assert own.totals.bars == 5
    assert own.totals.machine_seconds == pytest.approx(1652.11, abs=0.01)
    assert own.totals.man_seconds == pytest.approx(1230.0)
    tonnes = own.totals.billed_tonnes
    assert tonnes == pytest.approx(100 * 0.3 * own.pieces[0].billed_mass_kg / 0.3 / 1000.0)
    assert own.totals.man_hours_per_billed_tonne == pytest.approx(1230.0 / 3600.0 / tonnes)


# --- common practice, no source ------------------------------------------------------------


def clip():
    """A 12 in. clip with eight holes, four on each leg, opposite each other."""
    at = (38.1, 114.3, 190.5, 266.7)
    return angle(
        a=tuple(hole(f"a{n}", x=x, y=50.8, diameter=20.6375) for n, x in enumerate(at, 1)),
        b=tuple(hole(f"b{n}", x=x, y=50.8, diameter=20.6375) for n, x in enumerate(at, 1)),
        length_mm=304.8,
        quantity=18,
        mark="C12",
        units="inch",
        grade="A36",
    )


def test_a_clip_with_eight_holes_takes_well_under_a_minute():
    """Common practice, no source: as the trade reckons on such a line."""
    own = shop(NAMES[0]).model
    piece = estimate(own, [placed(clip())]).pieces[0]
    assert piece.holes == 8
    assert 5.0 < piece.seconds < 50.0


def test_a_stick_of_20_ft_takes_less_than_15_minutes():
    """Common practice, no source: 18 clips of 12 in. with slugs between them."""
    own = shop(NAMES[0]).model
    made = estimate(own, [placed(clip())], 6096.0)
    (sticks,) = made.bars
    assert (sticks.bars, sticks.pieces) == (1, 18)
    assert 3 * 60.0 < sticks.seconds < 15 * 60.0


# --- what must hold ------------------------------------------------------------------------


def orders():
    for name in NAMES:
        for seed in range(4):
            own = shop(name)
            bars, parts = order(seed, own)
            if bars:
                yield pytest.param(own.model, bars, parts, id=f"{name} {seed}")


@pytest.mark.parametrize(("own", "bars", "parts"), list(orders()))
def test_the_parts_of_an_estimate_make_its_whole(own, bars, parts):
    programs = [program_of(each, parts, own) for each in bars]
    for made in (
        estimate(own, parts),
        estimate_programs(own, plan(*bars), programs, parts),
    ):
        whole = made.totals.machine_seconds
        assert sum(a.seconds for a in made.activities) == pytest.approx(whole, abs=1e-3)
        assert sum(a.percent for a in made.activities) == pytest.approx(100.0, abs=1e-3)
        on_bars = sum(b.bars * b.seconds for b in made.bars)
        on_setups = sum(s.seconds for s in made.setups)
        assert on_bars + on_setups == pytest.approx(whole, rel=1e-6)
        on_pieces = sum(p.quantity * p.seconds for p in made.pieces)
        assert on_pieces <= on_bars + 1e-3
        for piece in made.pieces:
            assert sum(a.seconds for a in piece.activities) == pytest.approx(
                piece.seconds, abs=1e-4
            )
        own_tonnes = sum(p.quantity * p.net_mass_kg for p in made.pieces if p.verdict != "not")
        assert made.totals.net_tonnes == pytest.approx(own_tonnes / 1000.0, abs=1e-5)
        assert [a.activity for a in made.activities] == [
            name for name in ACTIVITIES if name in {a.activity for a in made.activities}
        ]


def test_parts_and_programs_tell_the_same_time_of_a_bar_of_equal_pieces():
    """Two ways to one figure: the cycle of one piece, and a program stop by stop."""
    own = shop(NAMES[0]).model
    part = clip()
    stick = bar(pieces=[("A1", 304.8)] * 18, section="L90x90x10")
    stick = stick.model_copy(
        update={
            "pieces": tuple(
                p.model_copy(update={"mark": part.mark, "order": None, "revision": None})
                for p in stick.pieces
            )
        }
    )
    program = program_of(stick, [placed(part)], own)
    assert program.refused == ()
    close = estimate_programs(own, plan(stick), [program], [placed(part)])
    quick = estimate(own, [placed(part)], 6096.0)
    assert close.pieces[0].seconds == pytest.approx(quick.pieces[0].seconds, rel=0.03)
    assert close.totals.machine_seconds == pytest.approx(quick.totals.machine_seconds, rel=0.03)


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.integers(30, 270), min_size=1, max_size=6, unique=True),
    st.integers(1, 40),
    st.sampled_from(["feed_speed_mm_per_s", "feed_acceleration_mm_per_s2"]),
)
def test_more_work_takes_longer_and_a_quicker_machine_less(places, quantity, figure):
    few = angle(a=tuple(hole(f"a{x}", x=float(x), diameter=22.0) for x in places[:-1]))
    more = angle(a=tuple(hole(f"a{x}", x=float(x), diameter=22.0) for x in places))
    assert seconds(line(), more) > seconds(line(), few) - 1e-9
    order_of = placed(more.model_copy(update={"quantity": quantity}))
    larger = placed(more.model_copy(update={"quantity": quantity + 1}))
    one, two = estimate(line(), [order_of]).totals, estimate(line(), [larger]).totals
    assert two.machine_seconds > one.machine_seconds
    assert two.man_seconds >= one.man_seconds
    quick = line(times={**TIMES, figure: 2.0 * TIMES[figure]})
    assert seconds(quick, more) <= seconds(line(), more) + 1e-9


def test_a_bar_goes_once_past_the_tools_whatever_is_done_on_the_way():
    """The moves of one piece add up to its pitch: without acceleration time is way over speed."""
    own = line(times={**TIMES, "feed_acceleration_mm_per_s2": 1e6})
    part = angle(a=tuple(hole(f"a{n}", x=40.0 * n) for n in range(1, 9)), length_mm=400.0)
    (piece,) = estimate(own, [placed(part)]).pieces
    (moving,) = (a.seconds for a in piece.activities if a.activity == "positioning")
    assert moving == pytest.approx(400.0 / 600.0, abs=9 * 600.0 / 1e6 + 1e-6)


def test_hours_for_a_tonne_and_for_a_short_ton():
    """2,000 lb of exactly 0.45359237 kg (the international pound of 1959) are 907.18474 kg."""
    assert pytest.approx(2000 * 0.45359237) == KG_PER_SHORT_TON
    own = estimate(line(), [placed(angle(quantity=40))]).totals
    ratio = own.man_hours_per_billed_tonne / own.man_hours_per_billed_short_ton
    assert ratio == pytest.approx(1000.0 / 907.18474, rel=1e-5)
    net = own.man_hours_per_net_tonne * own.net_tonnes
    assert net == pytest.approx(own.man_hours_per_billed_tonne * own.billed_tonnes, rel=1e-5)


def test_filling_by_hand():
    """Three of 4 and four of 3 in bars of 10: 4+4, 4+3+3, 3+3; and nothing for nothing."""
    assert bars_needed([(4.0, 3), (3.0, 4)], 10.0) == 3
    assert bars_needed([], 10.0) == 0
    with pytest.raises(ValueError, match="longer than the bar"):
        bars_needed([(11.0, 1)], 10.0)


@given(st.lists(st.tuples(st.integers(10, 100), st.integers(1, 500)), min_size=1, max_size=8))
def test_filling_holds_all_pieces_and_is_no_worse_than_half_full(pieces):
    lengths = [(float(length), count) for length, count in pieces]
    bars = bars_needed(lengths, 100.0)
    steel = sum(length * count for length, count in lengths)
    assert steel / 100.0 - 1e-6 <= bars <= max(1.0, 2.0 * steel / 100.0 + 1.0)


# --- assumptions ---------------------------------------------------------------------------


def test_a_profile_with_every_figure_rests_on_no_assumption():
    own = estimate(line(), [placed(angle(a=(hole("a1"),), b=(hole("b1", x=100.0),)))], 6000.0)
    assert own.assumptions == ()


FIGURES = [
    *(("times", name) for name in TIMES if name != "regrip_time_s"),
    *(("punch", name) for name in ("approach_time_s", "tool_select_time_s")),
    *(("drill", name) for name in ("approach_time_s", "feed_allowance_mm")),
    *(("bit", name) for name in BIT),
    *(("tool", name) for name in ("stroke_time_s",)),
    ("shear", "cut_time_s"),
]


@pytest.mark.parametrize(("where", "name"), FIGURES, ids=[f"{w} {n}" for w, n in FIGURES])
def test_each_missing_figure_is_assumed_and_told(where, name):
    def less(values):
        return {key: value for key, value in values.items() if key != name}

    hits = less({"stroke_time_s": 0.9}) if where == "tool" else {"stroke_time_s": 0.9}
    own = line(
        stations=[
            punch(
                tool(**hits),
                oblong(**hits),
                side="left",
                **(less(PUNCH) if where == "punch" else PUNCH),
            ),
            drill(
                tool(**(less(BIT) if where == "bit" else BIT)),
                side="right",
                **(less(DRILL) if where == "drill" else DRILL),
            ),
        ],
        cut_off=less(SHEAR) if where == "shear" else SHEAR,
        times=less(TIMES) if where == "times" else TIMES,
    )
    part = angle(
        a=(hole("a1", y=40.0), hole("a3", y=60.0), slot("a2", x=100.0, y=45.0)), b=(hole("b1"),)
    )
    made = estimate(own, [placed(part)], 6000.0)
    assert len({a.what for a in made.assumptions}) == 1
    for assumed in made.assumptions:
        assert assumed.field.rpartition(".")[2] == name
        assert assumed.value > 0.0
        assert assumed.source in ("common practice, no source", "from memory")
        told = " ".join(estimate_text(Estimate(machines=(made,))).split())
        assert assumed.what in told
        assert assumed.source in told
        assert name in told


def test_nothing_is_silently_nothing():
    """A profile without a single time gives a time for everything that is done."""
    bare = machine(
        stations=[punch(side="left"), drill(side="right")],
        cut_off={"kind": "saw", "kerf_mm": 3.0},
        marker={"side": "left", "heights_mm": [10.0]},
    )
    part = angle(a=(hole("a1"), stamp("a2", x=100.0)), b=(hole("b1", x=300.0),))
    made = estimate(bare, [placed(part)])
    done = {a.activity: a.seconds for a in made.activities}
    for name in ("load", "positioning", "settling", "punching", "drilling", "stamping"):
        assert done[name] > 0.0
    for name in ("cutting", "unload", "mark set-up", "first piece", "section change"):
        assert done[name] > 0.0
    # Who stands by when nothing is said? A person, all the time.
    assert made.totals.man_seconds == pytest.approx(made.totals.machine_seconds)


def test_a_bar_that_the_machine_does_not_take_is_cut_down_and_told():
    own = line(stock_length={"least_mm": 1000.0, "most_mm": 4000.0})
    made = estimate(own, [placed(angle())], 6000.0)
    assert made.bars[0].length_mm == 4000.0
    assert [(a.what, a.source) for a in made.assumptions] == [
        ("length of a bar", "as the machine takes bars")
    ]


def test_a_piece_longer_than_the_usual_bar_gets_a_longer_one():
    own = line(piece_length={"most_mm": 12000.0})
    made = estimate(own, [placed(angle(length_mm=7000.0)), placed(angle(mark="A2"))], 6000.0)
    assert [(b.length_mm, b.bars, b.pieces) for b in made.bars] == [
        (6000.0, 1, 1),
        (12000.0, 1, 1),
    ]


def test_tools_of_the_crib_are_fetched_once():
    stations = [punch(tool(place="crib", change_time_s=240.0, stroke_time_s=0.9), **PUNCH)]
    parts = [placed(angle(a=(hole("a1"),), mark=f"A{n}", quantity=5)) for n in range(3)]
    made = estimate(line(stations=stations), parts)
    (crib,) = (s for s in made.setups if s.activity == "tool from the crib")
    assert (crib.count, crib.seconds) == (1, 240.0)


def test_pieces_that_come_cut_to_length_are_laid_in_one_by_one():
    own = line(cut_off=None)
    made = estimate(own, [placed(angle(a=(hole("a1"),), quantity=7))])
    assert made.totals.bars == 7
    assert {a.activity: a.seconds for a in made.activities}["load"] == pytest.approx(7 * 60.0)
    assert made.pieces[0].cuts == 0


# --- merging and comparing -----------------------------------------------------------------


def test_equal_marks_share_a_set_up_and_a_first_piece():
    one = angle(a=(hole("a1", x=100.0),), mark="A1", quantity=10)
    same = one.model_copy(update={"mark": "A2", "quantity": 5})
    other = angle(a=(hole("a1", x=150.0),), mark="A3")
    made = estimate(line(), [placed(p) for p in (one, same, other)])
    (group,) = made.merging.groups
    assert (group.marks, group.is_turned) == (("A1", "A2"), False)
    assert made.merging.setups_saved == 1
    assert made.merging.seconds_saved == pytest.approx(90.0 + 240.0)
    kilograms = made.totals.billed_tonnes * 1000.0
    left = (made.totals.man_seconds - 330.0) / 3600.0
    assert made.merging.man_hours_per_billed_tonne == pytest.approx(left / kilograms * 1000.0)


def test_a_mark_drawn_the_other_way_round_is_the_same_piece():
    one = angle(a=(hole("a1", x=100.0),), mark="A1")
    turned = turns(one)[0].model_copy(update={"mark": "A2"})
    made = estimate(line(), [placed(one), placed(turned)])
    assert [(g.marks, g.is_turned) for g in made.merging.groups] == [(("A1", "A2"), True)]


def test_machines_are_compared_by_what_all_of_them_make():
    long = placed(angle(length_mm=5000.0, mark="LONG"))
    short = placed(angle(length_mm=500.0, mark="SHORT", quantity=10))
    small = line(name="Small", piece_length={"most_mm": 1000.0})
    both = compare([line(), small], [long, short])
    assert [one.totals.marks for one in both.machines] == [2, 1]
    assert both.common_marks == 1
    assert [one.pieces for one in both.common] == [10, 10]
    assert both.machines[1].pieces[0].verdict == "not"
    assert "5000 mm long" in both.machines[1].pieces[0].why
    text = estimate_text(both)
    assert "Only the 1 mark that all of them make" in text
    assert "LONG: the piece is 5000 mm long" in text


def test_what_is_on_no_bar_is_in_no_figure_and_is_named():
    own = shop(NAMES[0]).model
    stick = bar(pieces=[("C12", 304.8)] * 4, section="L90x90x10")
    part = clip().model_copy(update={"order": "TQ-7", "revision": "B"})
    program = program_of(stick, [placed(part)], own)
    missing = unplaced(mark="C12", count=3, why="no bar is long enough")
    made = estimate_programs(own, plan(stick, unplaced=(missing,)), [program], [placed(part)])
    assert [(p.verdict, p.quantity) for p in made.pieces] == [("complete", 4), ("not", 3)]
    assert made.totals.pieces == 4
    assert "C12: 3 on no bar: no bar is long enough" in estimate_text(Estimate(machines=(made,)))


def test_a_bar_without_a_program_is_in_no_figure_and_is_named():
    own = shop(NAMES[0]).model
    bad = bar(pieces=[("C12", 304.8)], section="L90x90x10")
    part = clip().model_copy(update={"order": "TQ-7", "revision": "B"})
    program = program_of(bad, [placed(part)], own)
    refused = program.model_copy(update={"steps": ()})
    made = estimate_programs(own, plan(bad), [refused], [placed(part)])
    assert made.totals.machine_seconds == 0.0
    assert made.totals.man_hours_per_billed_tonne is None
    assert "bar-001 has no program" in made.pieces[0].why


# --- the clock -----------------------------------------------------------------------------


def operation(unit="P1", spent=1.0, **more):
    return Operation(unit=unit, spells=(Spell(activity="punching", seconds=spent),), **more)


def test_a_move_across_the_leg_runs_beside_that_of_the_bar():
    own = figures(line())
    visits = [
        Visit(at_mm=0.0, operations=(operation(gauge_mm=40.0),)),
        Visit(at_mm=300.0, operations=(operation(gauge_mm=100.0),)),
    ]
    spells, standing = clocked(own, visits, Standing())
    done = {s.activity: s.seconds for s in spells if s.activity != "punching"}
    assert done["positioning"] == pytest.approx(1.0)
    across = move_time_s(60.0, 150.0, 600.0)
    assert done["gauge moves"] == pytest.approx(max(0.0, across - 1.0))
    assert standing.at_mm == 300.0
    assert standing.gauges["P1"] == 100.0


def test_a_program_keeps_its_own_order_of_tools():
    own = figures(line())
    first = operation(tool="1", selection=own.settle)
    second = operation(tool="2", selection=own.settle)
    visit = Visit(at_mm=0.0, operations=(first, second, first), is_ordered=True)
    spells, _ = clocked(own, [visit], Standing())
    assert sum(s.activity == "tool selection" for s in spells) == 2
    free = replace(visit, is_ordered=False)
    spells, _ = clocked(own, [free], Standing())
    assert sum(s.activity == "tool selection" for s in spells) == 1


# --- documents and the command -------------------------------------------------------------


def hostile():
    return placed(angle(a=(hole("a1"),), mark="=1+1|\u202e<b>", order="\u200bTQ", grade="@S275JR"))


def test_documents_hold_hostile_marks_safely():
    made = Estimate(machines=(estimate(line(), [hostile()]),))
    document = json.loads(estimate_json(made))
    jsonschema.Draft202012Validator(estimate_schema()).validate(document)
    assert document["caution"] == CAUTION
    assert document["estimate"]["machines"][0]["pieces"][0]["mark"] == "=1+1|\u202e<b>"
    text = estimate_text(made)
    assert all(c.isprintable() or c == "\n" for c in text)
    assert "\\u202e" in text
    assert " ".join(CAUTION.split()) in " ".join(text.split())
    rows = estimate_csv(made).decode().split("\r\n")
    assert "'=1+1|" in rows[1]
    assert "'@S275JR" in rows[1]


def test_the_page_says_what_the_text_says():
    parts = [hostile(), placed(clip()), placed(angle(mark="LONG", length_mm=90_000.0))]
    both = compare([line(), line(name="Line 2", piece_length={"most_mm": 9000.0})], parts)
    page = estimate_page(both)
    assert page == estimate_page(both)
    assert CAUTION in page
    for bad in ("<b>", "\u202e", "\u200b"):
        assert bad not in page
    told = " ".join(unescape(re.sub(r"<[^>]+>", " ", page)).split())
    for one in both.machines:
        assert one.machine in told
        assert f"{one.totals.man_hours_per_billed_tonne:.2f} for a tonne" in told
        assert all(sentence in told for sentence in one.method)
        assert all(assumed.what in told for assumed in one.assumptions)
    assert "90000 mm long" in told


def test_the_schema_refuses_what_is_no_estimate():
    schema = jsonschema.Draft202012Validator(estimate_schema())
    document = json.loads(estimate_json(Estimate(machines=(estimate(line(), [hostile()]),))))
    document["estimate"]["machines"][0]["totals"]["man_seconds"] = -1.0
    assert not schema.is_valid(document)


def run(*arguments):
    return CliRunner().invoke(main, ["estimate", *map(str, arguments)])


def test_the_command_compares_machines_in_at_most_100_columns():
    done = run(QUAY, "--machine", LINE_1, "--machine", LINE_2, "--machine", BENCH)
    assert done.exit_code == 0, done.output
    assert all(len(row) <= 100 for row in done.output.splitlines())
    assert "MACHINES COMPARED" in done.output
    assert "F55, F41 are the same piece" in done.output
    assert (
        done.output
        == run(QUAY, "--machine", LINE_1, "--machine", LINE_2, "--machine", BENCH).output
    )


def test_the_command_writes_what_it_prints(tmp_path):
    out = tmp_path / "made" / "estimate.csv"
    asked = (QUAY / "clips.bmk", "--machine", LINE_1, "--bar", "40'", "--format", "csv")
    assert run(*asked, "--out", out).exit_code == 0
    assert out.read_bytes().decode() == run(*asked).output.replace("\n", "\r\n").replace(
        "\r\r\n", "\r\n"
    )
    rows = list(csv.DictReader(out.read_text(encoding="utf-8").splitlines()))
    assert [row["mark"] for row in rows] == ["C11", "C12", "C13"]


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        pytest.param((), "name a machine with --machine", id="no machine"),
        pytest.param(("--machine", LINE_1, "--bar", "20"), "say its unit too", id="no unit"),
        pytest.param(("--machine", LINE_1, "--bar", "200m"), "--bar", id="no length"),
        pytest.param(("--machine", "nowhere.json"), "nowhere.json", id="no file"),
    ],
)
def test_the_command_says_what_it_lacks(asked, said):
    done = run(QUAY / "clips.bmk", *asked)
    assert done.exit_code == 2
    assert said in done.output


def test_parts_with_errors_are_left_out_and_named(tmp_path):
    text = (QUAY / "clips.bmk").read_text() + "\npart BAD { section L1x1x1/8 }\n"
    (tmp_path / "clips.bmk").write_text(text)
    done = run(tmp_path, "--machine", LINE_1, "--format", "json")
    assert done.exit_code == 1
    assert '"mark": "BAD"' not in done.output
