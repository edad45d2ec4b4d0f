"""The setup sheet: tools, gauges, stamps and first pieces, from parts and from programs."""

import csv
import re
from collections import Counter
from pathlib import Path

import pytest
from bar_orders import NAMES, order, shop
from click.testing import CliRunner
from machine_parts import angle, drill, flat, hole, machine, oblong, punch, slot, stamp, tool

from translator.bars.program import program_of
from translator.bars.setup_gather import of_parts, of_programs
from translator.bars.setup_sheet import setup
from translator.bars.setup_text import setup_csv, setup_page, setup_text
from translator.commands import main
from translator.findings import CAUTION
from translator.machines import capable
from translator.model import CentreMark, Placed
from translator.source import Span

SAMPLES = Path(__file__).parent.parent / "samples"
LINE_1 = SAMPLES / "machines" / "punch-and-drill-line.machine.json"
PLACE = Span("clips.bmk", 1, 1, 1, 1)


def placed(*parts):
    return [Placed(part=part, places={"": PLACE}) for part in parts]


def line(**more):
    given = {
        "stations": [
            punch(
                tool("4"),
                oblong("7"),
                tool("9", 26.0, place="crib", change_time_s=240.0),
                tool("2", 14.0),
                side="left",
            ),
            drill(tool("D1"), side="right"),
        ],
        "marker": {"side": "left", "heights_mm": [10.0], "characters": "ABC0123456789"},
    }
    return machine(**(given | more))


def sheet(own, *parts):
    return setup(own, of_parts(own, placed(*parts)))


CLIP = angle(
    a=(hole("a1", x=100.0), hole("a2", x=300.0), slot("a3", y=60.0), stamp("a4", x=130.0)),
    b=(hole("b1", x=100.0, y=45.0),),
    mark="C12",
    quantity=10,
)


def test_tools_with_size_side_and_hits_by_hand():
    """Ten clips: two holes and a slot punched left, a hole drilled right."""
    made = sheet(line(), CLIP)
    rows = [
        (s.name, s.side, s.process, t.number, t.what, t.place, t.uses, t.marks)
        for s in made.stations
        for t in s.tools
    ]
    assert rows == [
        ("P1", "left", "punch", "4", "round 22 mm", "loaded", 20, ("C12",)),
        ("P1", "left", "punch", "7", "oblong 18 mm x 24 mm, at 0 deg", "loaded", 10, ("C12",)),
        ("D1", "right", "drill", "D1", "round 22 mm", "loaded", 10, ("C12",)),
    ]
    assert made.stations[0].not_used == ("2",)


def test_gauges_from_the_heel_and_as_the_machine_shows_them():
    from_toe = {"along": "lead-end", "across": "toe", "gauge_at_datum_mm": 5.0}
    made = sheet(line(datum=from_toe), CLIP)
    shown = [(g.from_heel_mm, g.gauge_mm, g.uses) for s in made.stations for g in s.gauges]
    # Legs of 90 mm: a gauge of 50 from the heel is 40 from the toe, and 5 stands at the toe.
    assert shown == [(50.0, 45.0, 20), (60.0, 35.0, 10), (45.0, 50.0, 10)]


def test_a_tool_of_the_crib_is_asked_for_by_name():
    made = sheet(line(), angle(a=(hole("a1", diameter=26.0),), mark="W1", quantity=3))
    (crib,) = made.stations[0].tools
    assert (crib.place, crib.change_s, crib.uses) == ("crib", 240.0, 3)
    sentence = "Fetch tool 9 (round 26 mm) from the crib for station P1: 3 hits of W1"
    assert sentence in setup_text(made)
    assert sentence in setup_page(made)
    assert "FETCH from the crib, 240 s" in setup_csv(made).decode()
    assert made.idle == ("D1",)


def test_what_the_machine_lacks_is_told():
    made = sheet(line(), angle(a=(hole("a1", diameter=33.0),), mark="W9"), CLIP)
    assert [mark for mark, _ in made.not_made] == ["W9"]
    for text in (setup_text(made), setup_page(made)):
        assert "hole a1 is 33 mm" in text
        assert "W9" in text


def test_letters_of_the_stamp_set():
    made = sheet(line(), CLIP)
    assert made.stamps is not None
    assert (made.stamps.letters, made.stamps.missing, made.stamps.heights_mm) == (
        "12C",
        "",
        (10.0,),
    )
    assert [(s.mark, s.text, s.count) for s in made.stamps.stamps] == [("C12", "C12", 10)]


def test_a_text_with_letters_that_are_not_held_is_left_to_hand():
    part = angle(a=(stamp("a1", text="Z1"),), mark="W1")
    made = sheet(line(), part)
    assert made.stamps is None
    assert made.first_pieces[0].second_work == ("stamp a1",)


def test_a_centre_that_any_drill_spots():
    own = line(stations=[drill(tool("D1"), side="both")])
    part = angle(a=(CentreMark(id="a1", x_mm=100.0, y_mm=40.0),), quantity=4)
    (spot,) = sheet(own, part).stations[0].tools
    assert (spot.number, spot.uses) == ("any", 4)


def test_what_is_measured_on_a_first_piece():
    (first,) = sheet(line(), CLIP).first_pieces
    told = {(m.leg, m.what): m.sizes_mm for m in first.measures}
    assert told == {
        ("", "length"): (400.0,),
        ("leg a", "first and last hole from the start end"): (100.0, 300.0),
        ("leg a", "gauges from the heel"): (50.0, 60.0),
        ("leg a", "hole diameter"): (22.0,),
        ("leg a", "slot, width and length overall"): (18.0, 24.0),
        ("leg b", "first and last hole from the start end"): (100.0,),
        ("leg b", "gauges from the heel"): (45.0,),
        ("leg b", "hole diameter"): (22.0,),
    }


def test_sizes_in_the_units_of_the_batch_and_metric_tools_stay_metric():
    inch = angle(
        a=(hole("a1", y=50.8, diameter=22.0), hole("a2", x=300.0, y=55.0)),
        units="inch",
        length_mm=292.1 + 107.9,
    )
    text = setup_text(sheet(line(), inch))
    assert re.search(r"P1 +2 in\. +2 in\. +1", text)
    assert re.search(r"P1 +55 mm +55 mm +1", text)
    assert "round 22 mm" in text
    metric = setup_text(sheet(line(), angle(a=(hole("a1", y=50.8),))))
    assert "50.8 mm" in metric
    assert " in." not in metric


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_of_programs_counts_what_the_programs_do(name, seed):
    """Against the programs themselves: each operation once, by station and tool."""
    own = shop(name)
    bars, parts = order(seed, own)
    programs = [program_of(bar, parts, own.model) for bar in bars]
    made = setup(own.model, of_programs(bars, programs, parts))
    counted = Counter(
        (each.station, each.tool or "any")
        for one in programs
        for step in one.steps
        if step.kind == "stop"
        for each in step.operations
        if each.kind == "operation"
    )
    assert {(s.name, t.number): t.uses for s in made.stations for t in s.tools} == dict(counted)
    assert sum(g.uses for s in made.stations for g in s.gauges) == counted.total()
    assert sum(line.count for line in made.stock) == len(bars)
    assert {f.mark for f in made.first_pieces} == {p.mark for b in bars for p in b.pieces}


def test_parts_and_programs_ask_for_the_same_tools():
    """A bar with all pieces of a mark, each as it lies best, needs what the parts ask for."""
    from plan_bars import bar

    own = shop(NAMES[0]).model
    part = angle(
        a=(hole("a1", x=100.0, y=50.0, diameter=22.0),),
        b=(hole("b1", x=100.0, y=50.0, diameter=22.0),),
        mark="C12",
        quantity=5,
    )
    stick = bar(pieces=[("C12", 400.0)] * 5, section="L90x90x10")
    part = part.model_copy(update={"order": "TQ-7", "revision": "B"})
    assert capable(own, part).feed == stick.pieces[0].placement
    program = program_of(stick, placed(part), own)
    assert program.refused == ()
    from_parts = setup(own, of_parts(own, placed(part)))
    from_programs = setup(own, of_programs([stick], [program], placed(part)))
    assert from_parts.stations == from_programs.stations
    assert from_parts.first_pieces == from_programs.first_pieces


HOSTILE = angle(a=(hole("a1"),), mark="=cmd|<img src=x onerror=alert(1)>\u202e", order="\u2066x")


def test_hostile_marks_stay_texts():
    made = sheet(line(), HOSTILE)
    text, page = setup_text(made), setup_page(made)
    assert all(c.isprintable() or c == "\n" for c in text)
    assert "<img" not in page
    assert "&lt;img src=x" in page
    assert "\u202e" not in page
    rows = list(csv.reader(setup_csv(made).decode().splitlines()))
    assert rows[1][-1].startswith("'=cmd|")


def test_every_form_is_whole_within_its_width_and_the_same_again():
    marked = (hole("a1"), stamp("a2", x=100.0))
    many = [
        *(angle(a=marked, mark=f"LONG-MARK-NUMBER-{n}", quantity=n) for n in range(1, 60)),
        angle(a=marked, mark="M" * 200),
    ]
    own = line(name="N" * 80, marker={"side": "left", "heights_mm": [10.0]})
    made = sheet(own, *many, flat(hole("f1")))
    text = setup_text(made)
    assert all(len(row) <= 100 for row in text.splitlines())
    assert all(f"LONG-MARK-NUMBER-{n}" in text for n in range(1, 60))
    assert " ".join(CAUTION.split()) in " ".join(text.split())
    assert CAUTION in setup_page(made)
    assert "Letters -" in text
    again = sheet(own, *many, flat(hole("f1")))
    assert (setup_text(again), setup_page(again), setup_csv(again)) == (
        text,
        setup_page(made),
        setup_csv(made),
    )


def test_the_command(tmp_path):
    asked = ["setup", str(SAMPLES / "tern-quay" / "clips.bmk"), "--machine", str(LINE_1)]
    text = CliRunner().invoke(main, asked)
    assert text.exit_code == 0
    assert text.output.startswith("SETUP FOR Line 1: 3 marks, 3 tools")
    out = tmp_path / "setup.html"
    assert CliRunner().invoke(main, [*asked, "--format", "html", "--out", str(out)]).exit_code == 0
    assert out.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    two = CliRunner().invoke(
        main, [*asked, "--machine", str(LINE_1.with_name("hand-bench.machine.json"))]
    )
    assert two.exit_code == 2
    assert "a setup sheet is of one machine" in two.output


def test_two_orders_may_have_one_mark():
    one = angle(a=(hole("a1", x=100.0),), mark="C1", order="TQ-7")
    two = angle(a=(hole("a1", x=150.0),), mark="C1", order="TQ-8", length_mm=500.0)
    text = setup_text(sheet(line(), one, two))
    assert text.count("leg a: hole diameter") == 2
    assert len(re.findall(r"^ +length +400 mm$", text, re.MULTILINE)) == 1
