"""Cutting plans from parts and stock: valid on the bar, in sums, in stock, and on the machine.

The checker below knows the plan's document and the profile's own JSON, not the planner; programs
of planned bars are replayed by the simulator, which shares no code with either.
"""

import json
import math
import random
from collections import Counter

import pytest
from bar_orders import NAMES, SECTIONS, end_plane, placed, random_part, shop
from bar_simulator import differences
from program_bars import BENCH, L100X75, PUNCHING, SAWING, flat, part

from translator.bars.demand import Demand, Progress
from translator.bars.fill import fill, fill_text
from translator.bars.fingerprint import fingerprint
from translator.bars.plan import plan_bars
from translator.bars.plan_document import plan_json
from translator.bars.plan_load import load_plan
from translator.bars.plan_model import StockLine
from translator.bars.plan_terms import Terms, options_of
from translator.bars.program import program_of
from translator.bars.program_document import program_json
from translator.bars.solve import Effort
from translator.bars.stock import grade_key, section_key
from translator.errors import WorkError
from translator.machines import capable
from translator.model import AngleEnd, AngleEnds, FlatEnd, FlatEnds, Hole

QUICK = Effort(branches=4, tries=2, steps=500)
NEAR = 2e-6


def demand(one, file="w.bmk", line=10, **progress):
    return Demand(placed=placed(one, file, line), progress=Progress(**progress))


def stock(one, *lengths, count=None, **more):
    """Lines for a part's section and grade; a count of None is bought as wanted."""
    key = section_key(one.section)
    return [
        StockLine(
            id=f"{key} {mm:g}", section=key, grade=one.grade, length_mm=mm, count=count, **more
        )
        for mm in lengths
    ]


def remnant(one, name, length):
    (line,) = stock(one, length, count=1, is_remnant=True, heat="H1")
    return line.model_copy(update={"id": name})


def hand(own, one, placement):
    """Ends that are mitred by hand after a square cut."""
    reasons = capable(own.model.model_copy(update={"placements": (placement,)}), one).reasons
    return {reason.element for reason in reasons if reason.hand_work}


def steel(own, one, placement, end):
    """From where to where the steel of an end reaches, counted from the leading end."""
    plane = end_plane(one, placement, own, end, f"ends.{end}" in hand(own, one, placement))
    by_side = {}
    for leg in "ab" if one.section.kind == "angle" else ("face",):
        side = placement.leg_a if leg == "a" else None
        if leg == "face":
            side = own.raw["flats"]["side"]
        elif leg == "b":
            side = "right" if placement.leg_a == "left" else "left"
        width = one.section.width_mm if leg == "face" else getattr(one.section, f"leg_{leg}_mm")
        by_side[side] = width
    return plane, plane.corners(by_side, one.section.thickness_mm)


def check_bar(own, bar, parts):
    """Hold one bar against the machine's own JSON: planes, blades, trim, tail."""
    cut = own.raw["cut_off"]
    blade = cut["kerf_mm"] if cut["kind"] == "saw" else cut.get("slug_mm", 0.0)
    tail = own.raw.get("grip", {}).get("tail_mm", 0.0)
    behind = cut.get("front_trim_mm", 0.0)
    for piece in bar.pieces:
        one = parts[piece.source, piece.mark]
        other = "far" if piece.placement.lead_end == "start" else "start"
        lead, front = steel(own, one, piece.placement, piece.placement.lead_end)
        trail, back = steel(own, one, piece.placement, other)
        shared = any(c.is_shared_mitre and c.behind == piece.number for c in bar.cuts)
        if not shared:
            assert piece.lead_mm + min(front) >= behind - NEAR
        stretch = math.sqrt(1 + sum(math.tan(math.radians(d)) ** 2 for d in trail.deg.values()))
        behind = piece.lead_mm + max(back) + (0 if piece is bar.pieces[-1] else blade * stretch)
        own_cuts = [c for c in bar.cuts if c.ahead == piece.number]
        assert any(abs(c.heel_mm - piece.lead_mm - trail.heel) < NEAR for c in own_cuts)
        first = [c for c in bar.cuts if c.behind == piece.number]
        at_raw_end = piece.lead_mm == 0 and not any(lead.deg.values())
        assert at_raw_end or any(
            abs(c.heel_mm + c.loss_mm - piece.lead_mm - lead.heel) < NEAR for c in first
        )
    assert behind + (blade if tail else 0.0) + tail <= bar.length_mm + NEAR
    last = bar.cuts[-1]
    assert last.ahead == len(bar.pieces)
    if bar.drop.kind != "none":
        assert bar.drop.length_mm <= bar.length_mm - behind + NEAR
        assert bar.drop.length_mm >= tail - NEAR


def check(own, made, demands, lines):
    """Hold a plan against what was asked for: bars, pieces, counts, stock, what is left."""
    parts = {(d.source, d.part.mark): d.part for d in demands}
    asked = dict.fromkeys(parts, 0)
    for one in demands:
        asked[one.source, one.part.mark] = one.count
    on_bars = Counter()
    for number, bar in enumerate(made.bars, start=1):
        assert bar.number == number
        assert [p.number for p in bar.pieces] == list(range(1, len(bar.pieces) + 1))
        line = next(li for li in lines if li.id == bar.stock)
        assert (line.section, line.length_mm) == (bar.section, bar.length_mm)
        assert {(section_key(parts[p.source, p.mark].section)) for p in bar.pieces} == {
            line.section
        }
        assert {grade_key(parts[p.source, p.mark].grade) for p in bar.pieces} == {
            grade_key(line.grade)
        }
        assert {p.placement.heel for p in bar.pieces} == {bar.heel}
        check_bar(own, bar, parts)
        on_bars.update((p.source, p.mark) for p in bar.pieces)
    missing = Counter()
    for gone in made.unplaced:
        missing[gone.source, gone.mark] += gone.count
    assert {k: on_bars[k] + missing[k] for k in asked} == asked
    seen = Counter((p.source, p.mark, p.index, p.count) for b in made.bars for p in b.pieces)
    assert set(seen.values()) <= {1}
    used = Counter(bar.stock for bar in made.bars)
    left = {line.id: line for line in made.left}
    for line in lines:
        if line.count is None:
            assert left[line.id] == line
        else:
            rest = line.count - used[line.id]
            assert rest >= 0
            assert (left[line.id].count if line.id in left else 0) == rest
    labels = [bar.drop.label for bar in made.bars if bar.drop.kind == "remnant"]
    assert len(set(labels)) == len(labels)
    assert not set(labels) & {line.id for line in lines}
    for bar in made.bars:
        if bar.drop.kind == "remnant":
            own_line = left[bar.drop.label]
            assert (own_line.length_mm, own_line.heat) == (bar.drop.length_mm, bar.heat)
            assert bar.drop.length_mm >= made.options.least_remnant_mm
    for group in made.groups:
        assert group.lower_bound <= group.cost + 1e-6


def replay(own, made, demands):
    """Programs of all bars, run by the simulator: what differs."""
    known = [d.placed for d in demands]
    parts = {d.part.mark: d.part for d in demands}
    found = []
    for bar in made.bars:
        program = program_of(bar, known, own.model)
        found += [fault.message for fault in program.refused]
        if not program.refused:
            found += differences(json.loads(program_json(program)), own.raw, parts)
    return found


def random_order(seed, own):
    """Some parts that the machine takes, with quantities, and stock for their sections."""
    rng = random.Random(seed)
    demands, lines = [], []
    for section in rng.sample(SECTIONS, 2):
        for _ in range(rng.randint(1, 4)):
            one = random_part(rng, own, section, f"M{len(demands) + 1}")
            demands.append(demand(one, line=20 * len(demands) + 10))
        least = max(own.raw["stock_length"]["least_mm"], 2600.0)
        lines += stock(one, least + 1000.0, 6000.0)
        lines.append(remnant(one, f"K{len(lines)}", least + 137.5))
    return demands, lines


@pytest.mark.parametrize("is_shared", [False, True], ids=["apart", "shared"])
@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("name", NAMES)
def test_any_plan_is_valid_and_its_bars_can_be_made(name, seed, is_shared):
    own = shop(name)
    demands, lines = random_order(seed, own)
    made = plan_bars(demands, lines, own.model, Terms(shared_mitres=is_shared, effort=QUICK))
    check(own, made, demands, lines)
    refused = [
        p.message
        for b in made.bars
        for p in program_of(b, [d.placed for d in demands], own.model).refused
    ]
    assert [m for m in refused if "cut" in m and "plan" in m] == []
    if seed == 0:
        assert replay(own, made, demands) == []


def test_twenty_feet_of_angle_give_eighteen_pieces_of_a_foot():
    """Common practice, no source: 18 pieces of 12 in. from a 20 ft bar of angle with shear slugs,

    and an 8 in. drop that the machine can't feed. The sample profile is of that kind.
    """
    own = shop(PUNCHING)
    one = part(length_mm=304.8, quantity=18, units="inch")
    assert own.raw["grip"]["tail_mm"] == 203.2
    counted = fill(own.model, placed(one, "w.bmk", 1), 6096.0, options_of(own.model, Terms()))
    assert counted.count == 18
    assert counted.drop_mm >= 203.2
    made = plan_bars([demand(one)], stock(one, 6096.0), own.model)
    assert len(made.bars) == 1
    assert len(made.bars[0].pieces) == 18
    more = part(length_mm=304.8, quantity=19, units="inch")
    assert len(plan_bars([demand(more)], stock(more, 6096.0), own.model).bars) == 2


def test_fill_shows_its_arithmetic():
    own = shop(PUNCHING)
    one = placed(part(length_mm=304.8, units="inch"), "w.bmk", 1)
    text = fill_text(fill(own.model, one, 6096.0, options_of(own.model, Terms())))
    assert text.startswith("W1: 18 pieces from a bar of 20'-0\"; drop ")
    assert "18.338 fit" in text  # (6096 - 10 - 203.2) / (304.8 + 16)


@pytest.mark.parametrize(("length", "count"), [(1020.0, 1), (1018.0, 1), (1017.99, 0)])
def test_the_last_cut_may_run_out_where_no_grip_holds_the_end(length, count):
    """Bench: trim 5, kerf 3, no dead length; a piece of 1013 needs 1018 of bar, not 1021."""
    own = shop(BENCH)
    one = part(length_mm=1013.0)
    counted = fill(own.model, placed(one, "w.bmk", 1), length, options_of(own.model, Terms()))
    assert counted.count == count


def test_fill_counts_as_the_plan_does():
    own = shop(SAWING)
    ends = AngleEnds(far=AngleEnd(leg_a_deg=30.0))
    for length in (333.3, 500.0, 912.25):
        one = part(length_mm=length, ends=ends, quantity=40)
        counted = fill(own.model, placed(one, "w.bmk", 1), 6000.0, options_of(own.model, Terms()))
        made = plan_bars([demand(one)], stock(one, 6000.0), own.model)
        assert max(len(bar.pieces) for bar in made.bars) == counted.count


def test_remnants_by_policy():
    own = shop(BENCH)
    one = part(length_mm=500.0, quantity=3)
    lines = [*stock(one, 3000.0), remnant(one, "K1", 1600.0)]
    by = {
        policy: [
            bar.stock
            for bar in plan_bars([demand(one)], lines, own.model, Terms(remnants=policy)).bars
        ]
        for policy in ("first", "equal", "keep")
    }
    assert by == {"first": ["K1"], "equal": ["K1"], "keep": [lines[0].id]}


def test_a_remnant_that_fits_badly_is_used_before_new_steel_is_cut():
    own = shop(BENCH)
    one = part(length_mm=500.0, quantity=2)
    lines = [*stock(one, 1100.0), remnant(one, "K1", 3000.0)]
    first = plan_bars([demand(one)], lines, own.model, Terms(remnants="first"))
    equal = plan_bars([demand(one)], lines, own.model, Terms(remnants="equal"))
    assert [bar.stock for bar in first.bars] == ["K1"]
    assert [bar.stock for bar in equal.bars] == [lines[0].id]


def test_prices_decide_where_all_lengths_have_one():
    own = shop(BENCH)
    one = part(length_mm=900.0, quantity=6)
    dear = stock(one, 3000.0, price=90.0)
    cheap = stock(one, 6000.0, price=100.0)
    made = plan_bars([demand(one)], [*dear, *cheap], own.model)
    assert [bar.length_mm for bar in made.bars] == [6000.0]
    assert made.groups[0].cost_unit == "price"
    assert made.groups[0].cost == 100.0
    short = plan_bars([demand(one)], stock(one, 3000.0, 6000.0), own.model)
    assert [bar.length_mm for bar in short.bars] == [6000.0]
    assert short.groups[0].cost == 6000.0


def test_what_is_cut_already_counts_and_what_was_spoilt_is_cut_again():
    own = shop(BENCH)
    one = part(length_mm=500.0, quantity=10)
    made = plan_bars([demand(one, done=7, recut=2)], stock(one, 6000.0), own.model)
    assert sum(len(bar.pieces) for bar in made.bars) == 5
    (mark,) = made.marks
    assert (mark.quantity, mark.done, mark.recut, mark.planned) == (10, 7, 2, 5)
    assert mark.fingerprint == fingerprint(one)
    over = plan_bars([demand(one, done=12)], stock(one, 6000.0), own.model)
    assert over.bars == ()


def test_what_presses_is_loaded_first_and_gets_the_stock_there_is():
    own = shop(BENCH)
    slow = part(mark="A", length_mm=1100.0, quantity=2)
    urgent = part(mark="Z", length_mm=1400.0, quantity=2)
    lines = stock(slow, 2000.0, 3000.0, count=1)
    made = plan_bars([demand(slow), demand(urgent, priority=5, line=40)], lines, own.model)
    assert made.bars[0].pieces[0].mark == "Z"
    assert sum(p.mark == "Z" for bar in made.bars for p in bar.pieces) == 2
    (gone,) = made.unplaced
    assert (gone.mark, gone.count, gone.kind) == ("A", 1, "stock")


def test_what_the_machine_cannot_make_is_refused_with_the_reason():
    own = shop(PUNCHING)
    one = part(
        length_mm=500.0, quantity=3, a=(Hole(id="a1", x_mm=50.0, y_mm=45.0, diameter_mm=33.0),)
    )
    made = plan_bars([demand(one)], stock(one, 6000.0), own.model)
    (gone,) = made.unplaced
    assert (gone.kind, gone.count, gone.why) == ("machine", 3, capable(own.model, one).why)
    assert made.bars == ()


def test_a_section_without_stock_is_told():
    own = shop(BENCH)
    one = part(length_mm=500.0)
    other = stock(part(section=L100X75), 6000.0)
    made = plan_bars([demand(one)], other, own.model)
    (gone,) = made.unplaced
    assert gone.why == "there is no bar of L90x90x9 in S275JR in stock that the machine takes"
    long = part(length_mm=5900.0)
    made = plan_bars([demand(long)], stock(long, 5000.0), own.model)
    assert made.unplaced[0].why == "no bar of L90x90x9 in S275JR is left that it fits"


def test_bars_that_the_machine_does_not_take_are_left_alone():
    own = shop(BENCH)
    one = part(length_mm=200.0)
    lines = [*stock(one, 7000.0, count=1), *stock(one, 1000.0, count=1)]
    made = plan_bars([demand(one)], lines, own.model)
    assert [bar.length_mm for bar in made.bars] == [1000.0]
    assert any("7000 mm of L90x90x9, which Bench does not take" in r for r in made.remarks)


def test_legs_that_can_only_lie_one_way_share_no_bar_with_those_that_lie_the_other():
    """Line 1 punches left and drills right; what must be drilled decides the side of its leg."""
    own = shop(PUNCHING)
    in_a = part(
        mark="A",
        section=L100X75,
        length_mm=500.0,
        a=(Hole(id="a1", x_mm=250.0, y_mm=50.0, diameter_mm=18.0, process="drill"),),
    )
    in_b = part(
        mark="B",
        section=L100X75,
        length_mm=500.0,
        b=(Hole(id="b1", x_mm=250.0, y_mm=45.0, diameter_mm=18.0, process="drill"),),
    )
    demands = [demand(in_a), demand(in_b, line=40)]
    lines = stock(in_a, 6000.0)
    made = plan_bars(demands, lines, own.model)
    check(own, made, demands, lines)
    assert len(made.bars) == 2
    assert {bar.long_leg for bar in made.bars} == {"left", "right"}
    assert replay(own, made, demands) == []


def test_shared_mitres_save_what_the_slope_takes():
    """Parallel ends at 45 degrees: three pieces of 1000 with 100 wide flats lie 100 closer each."""
    own = shop(BENCH)
    ends = FlatEnds(start=FlatEnd(face_deg=-45.0), far=FlatEnd(face_deg=45.0))
    one = flat(length_mm=1000.0, quantity=3, ends=ends)
    stretch = math.sqrt(2.0)
    need = 5.0 + 3 * 1000.0 + 2 * 3.0 * stretch - 2 * 100.0
    for length, bars in ((need + 3.0, 1), (need - 0.01, 2)):
        lines = stock(one, math.ceil(length * 100) / 100)
        made = plan_bars([demand(one)], lines, own.model, Terms(shared_mitres=True))
        check(own, made, [demand(one)], lines)
        assert len(made.bars) == bars
        assert replay(own, made, [demand(one)]) == []
    lines = stock(one, need + 3.0)
    apart = plan_bars([demand(one)], lines, own.model)
    assert len(apart.bars) == 2
    made = plan_bars([demand(one)], lines, own.model, Terms(shared_mitres=True))
    assert made.groups[0].without_sharing == apart.groups[0].cost
    assert sum(cut.is_shared_mitre for cut in made.bars[0].cuts) == 2


def test_two_ends_mitred_alike_are_cut_at_once_when_one_piece_is_turned():
    """A flat mitred at its far end only: every second one turned end for end, two share a cut."""
    own = shop(BENCH)
    one = flat(length_mm=1000.0, quantity=2, ends=FlatEnds(far=FlatEnd(face_deg=45.0)))
    need = 5.0 + 2 * 1000.0 + 3.0 * math.sqrt(2.0) + 3.0 - 100.0
    lines = stock(one, math.ceil(need * 100) / 100 + 4.0)
    made = plan_bars([demand(one)], lines, own.model, Terms(shared_mitres=True))
    check(own, made, [demand(one)], lines)
    (bar,) = made.bars
    assert {p.placement.lead_end for p in bar.pieces} == {"start", "far"}
    assert replay(own, made, [demand(one)]) == []


def test_a_plan_is_the_same_whatever_the_order_of_its_input():
    own = shop(SAWING)
    demands, lines = random_order(3, own)
    one = plan_json(plan_bars(demands, lines, own.model, Terms(effort=QUICK)))
    again = plan_json(plan_bars(demands, lines, own.model, Terms(effort=QUICK)))
    assert one == again
    turned = plan_bars(demands[::-1], lines, own.model, Terms(effort=QUICK))
    assert turned.bars == plan_bars(demands, lines, own.model, Terms(effort=QUICK)).bars


def test_a_plan_reads_back_as_it_was_written():
    from translator.source import Source

    own = shop(SAWING)
    demands, lines = random_order(5, own)
    made = plan_bars(demands, lines, own.model, Terms(effort=QUICK))
    read, findings = load_plan(Source(path="plan.json", data=plan_json(made).encode()))
    assert findings == ()
    assert read == made


def test_a_machine_that_cuts_nothing_off_has_no_bars_to_plan():
    own = shop(BENCH).model.model_copy(update={"cut_off": None})
    with pytest.raises(WorkError, match="cuts no pieces off"):
        plan_bars([demand(part())], [], own)


def test_budget_past_which_the_plan_is_a_good_one_and_says_so():
    own = shop(BENCH)
    rng = random.Random(4)
    demands = [
        demand(
            part(mark=f"M{i}", length_mm=float(rng.randint(300, 2500)), quantity=4), line=9 * i + 9
        )
        for i in range(12)
    ]
    lines = stock(part(), 6000.0, 5000.0)
    made = plan_bars(demands, lines, own.model, Terms(effort=Effort(rounds=1)))
    check(own, made, demands, lines)
    assert made.groups[0].note == "stopped after 1 rounds of new patterns"
    assert made.groups[0].gap_percent > 0


def test_of_very_many_remnants_the_longest_are_looked_at_and_told(monkeypatch):
    monkeypatch.setattr("translator.bars.plan.MOST_REMNANTS", 2)
    own = shop(BENCH)
    one = part(length_mm=500.0, quantity=2)
    lines = [remnant(one, f"K{i}", 600.0 + i) for i in range(4)]
    made = plan_bars([demand(one)], lines, own.model)
    check(own, made, [demand(one)], lines)
    assert {bar.stock for bar in made.bars} == {"K2", "K3"}
    assert "of the 4 remnants of L90x90x9 the 2 longest are looked at" in made.remarks
