"""Bar programs replayed on a blank bar by a simulator that shares no code with them.

The simulator knows the program's schema and the machine profile; what comes off the bar must be
the parts, nothing else. That it would see a wrong program is shown by breaking sound ones.
tests/benchmarks/bar_simulator.py replays 500 orders on each machine.
"""

import copy
import functools
import json

import pytest
from bar_machines import ODD, odd
from bar_orders import NAMES, order, shop
from bar_plans import planned, planned_order, tern_quay
from bar_simulator import differences

from translator.bars.program import program_of
from translator.bars.program_document import program_json

LINE, SAW, BENCH = NAMES


def replayed(own, seed):
    """Replay the programs of a random order; return differences, and how many bars there were."""
    bars, parts = order(seed, own)
    return replays(own, bars, parts), len(bars)


def replays(own, bars, parts):
    """Replay the programs of some bars; return what differs, and what is refused."""
    found = []
    for bar in bars:
        program = program_of(bar, parts, own.model)
        found += [fault.message for fault in program.refused]
        if not program.refused:
            document = json.loads(program_json(program))
            found += differences(document, own.raw, {p.part.mark: p.part for p in parts})
    return found


@pytest.mark.parametrize("seed", range(1000, 1003))
@pytest.mark.parametrize("name", NAMES)
def test_random_orders_on_the_sample_machines_give_exactly_their_pieces(name, seed):
    found, _ = replayed(shop(name), seed)
    assert found == []


@pytest.mark.parametrize("name", ODD)
def test_random_orders_on_odd_machines_give_exactly_their_pieces(name):
    own = odd(name)
    results = [replayed(own, seed) for seed in (2,)]
    assert [found for found, _ in results] == [[]]
    assert sum(bars for _, bars in results) > 0


def test_the_planned_bars_of_the_sample_delivery_give_exactly_their_pieces():
    own, delivered = shop(SAW), tern_quay()
    bars = planned(own, delivered, shared_mitres=True).bars
    assert replays(own, bars, delivered) == []
    assert len(bars) > 10


def test_a_random_order_planned_by_the_planner_gives_exactly_its_pieces():
    own = shop(BENCH)
    bars, parts = planned_order(3, own)
    assert replays(own, bars, parts) == []
    assert bars


# --- the simulator must see what is wrong ---------------------------------------------------


@functools.cache
def documents(name, seed):
    """The documents of a random order, as text so that nobody spoils them, and its parts."""
    own = shop(name)
    bars, parts = order(seed, own)
    texts = tuple(program_json(program_of(bar, parts, own.model)) for bar in bars)
    return texts, own.raw, {p.part.mark: p.part for p in parts}


def sound(name="punch-and-drill-line", seeds=range(50), wants=bool):
    """The first document of a sound program that has what a test wants, and its parts."""
    for seed in seeds:
        texts, raw, parts = documents(name, seed)
        for text in texts:
            document = json.loads(text)
            if wants(document):
                return document, raw, parts
    raise AssertionError("no such program")


def stops(document):
    return [step for step in document["program"]["steps"] if step["kind"] == "stop"]


def works(document, kind="operation"):
    return [
        (stop, op) for stop in stops(document) for op in stop["operations"] if op["kind"] == kind
    ]


def holes(document):
    return [(stop, op) for stop, op in works(document) if op["process"] in ("punch", "drill")]


def has(kind, **fields):
    """Whether a document has a work of a kind with some fields."""
    return lambda document: any(
        all(op.get(name) == value for name, value in fields.items())
        for _, op in works(document, kind)
    )


def renumbered(document):
    for number, stop in enumerate(stops(document), start=1):
        stop["number"] = number


def shift_stop(document):
    """Bar, carriage and counter 1 mm farther on, and the program's own words with them."""
    stop, op = holes(document)[0]
    for name in ("feed_mm", "counter_mm"):
        stop[name] += 1.0
    stop["carriage_mm"] += 1.0
    for op in stop["operations"]:
        op["bar_mm" if "bar_mm" in op else "heel_mm"] += 1.0


def say_another_place(document):
    holes(document)[0][1]["bar_mm"] += 0.5


def miss_operation(document):
    stop, op = holes(document)[0]
    stop["operations"].remove(op)
    if not stop["operations"]:
        document["program"]["steps"].remove(stop)
        renumbered(document)


def double_operation(document):
    stop, op = holes(document)[0]
    stop["operations"].insert(0, copy.deepcopy(op))


def wrong_side(document):
    _, op = holes(document)[0]
    op["side"] = {"left": "right", "right": "left"}[op["side"]]


def swap_legs(document):
    for kind in ("operation", "stamp"):
        for _, op in works(document, kind):
            op["side"] = {"left": "right", "right": "left"}[op["side"]]


def gauge_from_the_toe(document):
    _, op = holes(document)[0]
    width = document["program"][f"{op['side']}_leg_mm"]
    op["from_heel_mm"] = op["gauge_mm"] = width - op["from_heel_mm"]


def turn_end_for_end(document):
    """Pieces lie as said, but their operations as if the other end led."""
    pieces = {piece["number"]: piece for piece in document["program"]["pieces"]}
    for piece in pieces.values():
        lie = piece["placement"]
        lie["lead_end"] = {"start": "far", "far": "start"}[lie["lead_end"]]
        lie["leg_a"] = {"left": "right", "right": "left"}[lie["leg_a"]]


def cut_before_hole(document):
    steps = document["program"]["steps"]
    freeing = next(s for s, op in works(document, "cut") if "frees" in op)
    steps.remove(freeing)
    piece = freeing["operations"][-1]["frees"]
    first = next(s for s, op in works(document) if op["piece"] == piece)
    steps.insert(steps.index(first), freeing)
    renumbered(document)


def miss_cut(document):
    stop, op = next((s, op) for s, op in works(document, "cut") if "frees" in op)
    stop["operations"].remove(op)
    if not stop["operations"]:
        document["program"]["steps"].remove(stop)
        renumbered(document)


def grips(document):
    return [step for step in document["program"]["steps"] if step["kind"] == "grip"]


def grip_what_is_gone(document):
    for step in [*grips(document)[1:]] or grips(document):
        move_grip(document, step, -step["from_mm"])


def grip_past_the_end(document):
    grip = grips(document)[-1]
    move_grip(document, grip, document["program"]["length_mm"] - grip["from_mm"])


def move_grip(document, grip, by):
    """Move a grip along the bar and make everything that follows from it agree."""
    steps = document["program"]["steps"]
    grip["from_mm"] += by
    grip["to_mm"] += by
    for step in steps[steps.index(grip) :]:
        if step["kind"] == "grip" and step is not grip:
            break
        if "carriage_mm" in step:
            step["carriage_mm"] -= by


def lie_about_the_carriage(document):
    stops(document)[0]["carriage_mm"] += 5.0


def miss_tool_change(document):
    steps = document["program"]["steps"]
    document["program"]["steps"] = [s for s in steps if s["kind"] != "tool_change"]


def take_unknown_tool(document):
    holes(document)[0][1]["tool"] = "99"


def take_another_tool(document):
    _, op = next(
        (s, op) for s, op in holes(document) if op.get("tool") != "1" and op["station"] == "P1"
    )
    op |= {"tool": "1", "shape": "round", "diameter_mm": 17.4625}


def miss_measuring(document):
    steps = document["program"]["steps"]
    document["program"]["steps"] = [s for s in steps if s["kind"] != "measure"]


def read_the_other_way(document):
    _, op = works(document, "stamp")[0]
    op["reading_deg"] = 0.0 if op["reading_deg"] else 180.0


def stamp_elsewhere(document):
    _, op = works(document, "stamp")[0]
    op["from_heel_mm"] += 2.0
    op["nearest_mm"] += 2.0
    op["gauge_mm"] += 2.0


def swing_the_other_way(document):
    _, op = next((s, op) for s, op in works(document, "cut") if op["left_deg"] or op["right_deg"])
    op["left_deg"], op["right_deg"] = -op["left_deg"], -op["right_deg"]


def swap_stops(document):
    steps = document["program"]["steps"]
    one, two = (steps.index(stop) for stop in stops(document)[:2])
    steps[one], steps[two] = steps[two], steps[one]


def has_mitre(document):
    return any(op["left_deg"] or op["right_deg"] for _, op in works(document, "cut"))


def has_tool_change(document):
    return any(step["kind"] == "tool_change" for step in document["program"]["steps"])


def has_regrip(document):
    return bool(holes(document)) and len(grips(document)) > 1


def has_early_hole(document):
    """A hole in the first piece, and that piece cut off."""
    return any(op["piece"] == 1 for _, op in holes(document)) and not has_regrip(document)


def has_angle_holes(document):
    program = document["program"]
    return bool(holes(document)) and {"left_leg_mm", "right_leg_mm"} <= set(program)


def has_odd_gauge(document):
    """A first hole off the middle of its leg."""
    if not holes(document):
        return False
    _, op = holes(document)[0]
    return abs(2 * op["from_heel_mm"] - document["program"][f"{op['side']}_leg_mm"]) > 1.0


def has_other_punch(document):
    return any(op.get("tool") != "1" and op["station"] == "P1" for _, op in holes(document))


BROKEN = (
    (shift_stop, LINE, has("operation", process="punch")),
    (say_another_place, LINE, has("operation", process="punch")),
    (miss_operation, LINE, has("operation", process="punch")),
    (miss_operation, BENCH, has("operation", process="drill")),
    (double_operation, BENCH, has("operation", process="drill")),
    (wrong_side, LINE, has_angle_holes),
    (wrong_side, BENCH, has_angle_holes),
    (swap_legs, BENCH, has_angle_holes),
    (gauge_from_the_toe, BENCH, has_odd_gauge),
    (turn_end_for_end, BENCH, has_angle_holes),
    (cut_before_hole, LINE, has_early_hole),
    (cut_before_hole, BENCH, lambda document: any(op["piece"] == 1 for _, op in holes(document))),
    (miss_cut, LINE, has("cut")),
    (miss_cut, SAW, has("cut")),
    (grip_what_is_gone, LINE, has_regrip),
    (grip_past_the_end, LINE, has_regrip),
    (lie_about_the_carriage, SAW, has("cut")),
    (miss_tool_change, LINE, has_tool_change),
    (take_unknown_tool, LINE, has("operation", process="punch")),
    (take_another_tool, LINE, has_other_punch),
    (miss_measuring, LINE, has("cut")),
    (read_the_other_way, LINE, has("stamp")),
    (stamp_elsewhere, BENCH, has("stamp")),
    (swing_the_other_way, SAW, has_mitre),
    (swing_the_other_way, BENCH, has_mitre),
    (swap_stops, LINE, has_regrip),
)


@pytest.mark.parametrize(
    ("break_it", "name", "wants"),
    BROKEN,
    ids=[f"{break_it.__name__}-{name}" for break_it, name, _ in BROKEN],
)
def test_the_simulator_sees_a_broken_program(break_it, name, wants):
    document, machine, parts = sound(name, wants=wants)
    assert differences(copy.deepcopy(document), machine, parts) == []
    break_it(document)
    assert differences(document, machine, parts) != []


def test_the_simulator_sees_pieces_that_the_part_no_longer_is():
    document, machine, parts = sound(wants=has("operation", process="punch"))
    mark = document["program"]["pieces"][0]["mark"]
    other = parts[mark].model_copy(update={"length_mm": parts[mark].length_mm + 1.0})
    assert differences(document, machine, parts | {mark: other}) != []
