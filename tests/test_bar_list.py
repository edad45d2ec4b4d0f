"""The bar list: everything of the plan is on it, drawn to scale, and no label meets another."""

import re
from html import unescape
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from bar_orders import NAMES, order, shop
from hypothesis import given, settings
from hypothesis import strategies as st
from plan_bars import LOSS, TRIM, bar, group, plan, stock_line, unplaced

from translator.bars.bar_list_page import bar_list_page
from translator.bars.bar_picture import (
    BAND_HEIGHT,
    BAND_TOP,
    MOST_NAMED,
    ROOM,
    WIDTH,
    bar_picture,
    run_numbers,
    runs,
)
from translator.bars.bar_tables import numbers_text
from translator.bars.letters import shortened, text_width
from translator.bars.plan_model import Drop, PlannedCut
from translator.findings import CAUTION

SPACE = "{http://www.w3.org/2000/svg}"
LEGS = (101.6, 88.9)


def picture(own, full=None, units="mm", legs=LEGS):
    text = bar_picture(own, units, full or own.length_mm, legs)
    return ET.fromstring(text)  # noqa: S314 - our own drawing


def shapes(own, kind, **more):
    """Return the corners of each shape of a kind: x at heel, toe, toe, heel."""
    out = []
    for path in picture(own, **more).iter(f"{SPACE}path"):
        if path.get("class") == kind:
            numbers = list(map(float, re.findall(r"-?\d+\.?\d*", path.get("d"))))
            out.append(tuple(numbers[0::2]))
    return out


def texts(own, kind, **more):
    return [t for t in picture(own, **more).iter(f"{SPACE}text") if t.get("class") == kind]


def scaled(mm, full=6096.0):
    return pytest.approx(mm * ROOM / full, abs=0.02)


# --- drawn to scale ------------------------------------------------------------------------


def test_pieces_cuts_and_drop_to_scale():
    own = bar(pieces=[("C12", 292.1), ("C11", 215.9)])
    first, second = shapes(own, "piece")
    assert first == (scaled(TRIM), scaled(TRIM), *(scaled(TRIM + 292.1),) * 2)
    begin = TRIM + 292.1 + LOSS
    assert second == (scaled(begin), scaled(begin), *(scaled(begin + 215.9),) * 2)
    (drop,) = shapes(own, "remnant")
    behind = begin + 215.9 + LOSS
    assert drop == (scaled(behind), scaled(behind), scaled(6096.0), scaled(6096.0))
    (waste,) = shapes(own, "waste")
    assert waste == (0.0, 0.0, ROOM, ROOM)
    assert len(shapes(own, "kerf")) == 3


def test_a_shorter_bar_is_shorter_on_the_same_scale():
    own = bar(length=3048.0)
    (waste,) = shapes(own, "waste", full=6096.0)
    assert max(waste) == pytest.approx(ROOM / 2.0)


def test_a_mitre_leans_as_it_is_cut():
    """45 degrees on a left leg of 100 mm: at the toe it lies 100 mm nearer the lead end."""
    own = bar(pieces=[("B7", 1000.0)])
    leaning = PlannedCut(
        kind="saw", serves="ahead", ahead=1, heel_mm=1010.0, loss_mm=5.0, left_deg=45.0
    )
    own = own.model_copy(update={"cuts": (own.cuts[0], leaning)})
    (piece,) = shapes(own, "piece", legs=(100.0, 100.0))
    assert piece[3] == scaled(1010.0)
    assert piece[2] == scaled(910.0)


def test_the_tail_is_marked():
    own = bar()
    (tail,) = shapes(own, "tail")
    assert tail[0] == scaled(6096.0 - own.tail_mm)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("name", NAMES)
def test_pieces_of_random_orders_lie_side_by_side(name, seed):
    own = shop(name)
    for each in order(seed, own)[0]:
        drawn = shapes(each, "piece")
        assert len(drawn) == len(each.pieces)
        for one in drawn:
            assert min(one) >= -0.01
            assert max(one) <= ROOM + 0.01
        for before, behind in pairwise(drawn):
            assert before[3] <= behind[0] + 0.02
            assert before[2] <= behind[1] + 0.02


# --- labels --------------------------------------------------------------------------------


def boxes(own, units="mm", **more):
    """Return left, top, right, bottom of each text below the bar."""
    out = []
    for text in texts(own, "run", units=units, **more):
        x, y, size = (float(text.get(name)) for name in ("x", "y", "font-size"))
        out.append((x, y - 0.75 * size, x + text_width(text.text, size), y + 0.2 * size))
    return out


def leaders(own):
    """Return x, top and bottom of each leader."""
    out = []
    for path in picture(own).iter(f"{SPACE}path"):
        if path.get("class") == "leader":
            x, top, down = re.search(r"M([\d.]+) ([\d.]+)V([\d.]+)h3$", path.get("d")).groups()
            out.append((float(x), float(top), float(down)))
    return out


PIECES = st.lists(
    st.tuples(st.sampled_from(["C11", "C12", "B7-NORTH/3", "梁12"]), st.integers(5, 900)),
    min_size=1,
    max_size=30,
)


@settings(max_examples=50, deadline=None)
@given(PIECES)
def test_no_label_meets_another_or_a_leader_or_leaves_the_drawing(pieces):
    length = 100.0 + sum(size + LOSS for _, size in pieces) + 300.0
    own = bar(pieces=[(mark, float(size)) for mark, size in pieces], length=length)
    drawn = boxes(own)
    assert len(drawn) == len(runs(own))
    height = float(picture(own).get("viewBox").split()[3])
    for left, top, right, bottom in drawn:
        assert left >= 0.0
        assert right <= WIDTH
        assert top >= BAND_TOP + BAND_HEIGHT
        assert bottom <= height
    for at, one in enumerate(drawn):
        for two in drawn[at + 1 :]:
            apart = one[2] <= two[0] or two[2] <= one[0] or one[3] <= two[1] or two[3] <= one[1]
            assert apart
        for x, top, down in leaders(own):
            crossed = one[0] + 0.01 < x < one[2] and top < one[3] and down > one[1]
            assert not crossed


@settings(max_examples=30, deadline=None)
@given(PIECES)
def test_a_mark_inside_a_piece_fits_into_it(pieces):
    length = 100.0 + sum(size + LOSS for _, size in pieces) + 300.0
    own = bar(pieces=[(mark, float(size)) for mark, size in pieces], length=length)
    drawn = shapes(own, "piece")
    for text in texts(own, "on"):
        if text.text == (own.drop.label or "remnant"):
            continue
        half = text_width(text.text, float(text.get("font-size"))) / 2.0
        middle = float(text.get("x"))
        assert any(one[0] < middle - half and middle + half < one[3] for one in drawn)


def test_runs_of_equal_pieces():
    own = bar(pieces=[("C12", 292.1)] * 3 + [("C11", 215.9)] + [("C12", 292.1)] * 2)
    assert [run_numbers(run) for run in runs(own)] == ["1-3", "4", "5-6"]
    assert [text.text for text in texts(own, "run", units="inch")] == [
        '3 x C12  11 1/2"',
        'C11  8 1/2"',
        '2 x C12  11 1/2"',
    ]


def test_very_many_runs_are_told_by_their_numbers():
    pieces = [(f"P{n}", 50.0 + n) for n in range(MOST_NAMED + 1)]
    own = bar(pieces=pieces, length=12000.0)
    assert [text.text for text in texts(own, "run")] == [str(n) for n in range(1, len(pieces) + 1)]


def test_texts_are_shortened_to_their_places():
    assert shortened("C12-NORTH", 5) == "C12-~"
    assert shortened("C12", 5) == "C12"
    assert shortened("梁梁梁", 4) == "梁~"


# --- the page ------------------------------------------------------------------------------


def cells(page):
    """Return the rows of all tables as texts."""
    rows = re.findall(r"<tr>(<th scope=\"row\".*?)</tr>", page)
    return [
        [unescape(re.sub(r"<[^>]+>", "", cell)) for cell in re.split(r"</t[dh]>", row)[:-1]]
        for row in rows
    ]


def order_of_bars():
    clips = [("C12", 292.1)] * 18
    first = [bar(n, clips, heat="H4711", location="rack 3") for n in range(1, 13)]
    mixed = bar(13, [("C11", 215.9)] * 4 + [("C12", 292.1)], pattern=2, stock="R7", is_remnant=True)
    metric = bar(
        14,
        [("W31", 220.0)] * 20,
        group=2,
        pattern=3,
        section="L90x90x10",
        length=6000.0,
        grade="S275JR",
    )
    bars = (*first, mixed, metric)
    groups = (group(1, bars), group(2, bars, units="mm"))
    return plan(
        *bars,
        groups=groups,
        unplaced=(unplaced(),),
        left=(stock_line(count=4), stock_line("R13", 4500.0, is_remnant=True, count=1)),
        remarks=("Shared mitres were not asked for",),
    )


def test_equal_bars_are_drawn_once_with_their_count():
    page = bar_list_page(order_of_bars())
    assert page.count("<svg") == 3
    assert re.findall(r'class="times">(.*?)<', page) == ["x 12", "x 1", "x 1"]
    assert "bars 1-12: 20&#x27;-0&quot;, heel down, 18 pieces" in page


def test_loading_order_totals_marks_and_what_is_left():
    rows = cells(bar_list_page(order_of_bars()))
    loading = [row for row in rows if row[0] in ("1-12", "13", "14") and row[1] in ("12", "1")]
    assert loading[0][:9] == [
        *("1-12", "12", "L4x3-1/2x3/8", "A36", "S1", "20'-0\"", "", "heel down", "H4711"),
    ]
    assert loading[1][4] == "R7 (remnant)"
    assert loading[2][5] == "6000 mm"
    (b7,) = (row for row in rows if row[0] == "B7")
    assert b7[3] == "the far end is cut at 15 deg, the shear only cuts square"
    (c12,) = (row for row in rows if row[0] == "C12" and len(row) == 10 and row[3] != "")
    assert c12[5:9] == ["217", "0", "0", "217"]
    (left,) = (row for row in rows if row[0] == "R13")
    assert left[5] == "remnant"


def test_how_a_bar_is_laid_in():
    """With unequal legs it matters: the wrong way round every hole is on the wrong leg."""
    long = bar(1, long_leg="right", lead_end="unmarked", heat="H1")
    flat = bar(2, section="FB100x10", group=2, pattern=2)
    other = bar(3, long_leg="left", group=1)
    page = unescape(bar_list_page(plan(long, flat, other)))
    rows = {row[0]: row for row in cells(page) if len(row) == 12}
    assert rows["1"][7] == "heel down, long leg right, marked end last"
    assert rows["2"][7] == ""
    assert rows["3"][7] == "heel down, long leg left"
    assert "bar 1: 20'-0\", heel down, long leg right, marked end last, 1 piece" in page


def test_bars_that_lie_otherwise_are_drawn_by_themselves():
    page = bar_list_page(plan(bar(1, long_leg="right"), bar(2, long_leg="left")))
    assert page.count("<svg") == 2


def test_totals_add_up():
    made = order_of_bars()
    rows = cells(bar_list_page(made))
    (metric,) = (row for row in rows if row[0] == "L90x90x10" and len(row) == 10)
    stock, pieces, kept, lost = (float(cell.removesuffix(" m")) for cell in metric[4:8])
    assert stock == pytest.approx(pieces + kept + lost, abs=1e-9)
    assert float(metric[8]) == pytest.approx(100.0 * pieces / stock, abs=0.06)
    assert float(metric[9]) == pytest.approx(stock * 13.5, abs=0.06)


def test_every_mark_bar_and_remark_is_on_the_page():
    made = order_of_bars()
    page = bar_list_page(made)
    text = unescape(re.sub(r"<[^>]+>", " ", page))
    for each in made.bars:
        for piece in each.pieces:
            assert piece.mark in text
    assert "Shared mitres were not asked for" in text
    assert "2 pieces on no bar" in text
    assert CAUTION in text


def test_the_caution_stands_in_what_browsers_repeat_on_every_sheet():
    page = bar_list_page(order_of_bars())
    (foot,) = re.findall(r"<tfoot>(.*?)</tfoot>", page, re.DOTALL)
    assert CAUTION in unescape(foot)


@pytest.mark.parametrize("kind", ["remnant", "scrap", "none"])
def test_the_drop_is_told(kind):
    label = "R1" if kind == "remnant" else ""
    own = bar(drop=Drop(length_mm=500.0 if kind != "none" else 0.0, kind=kind, label=label))
    page = unescape(bar_list_page(plan(own)))
    words = {"remnant": "remnant R1 500 mm", "scrap": "scrap 500 mm", "none": ", none<"}
    assert words[kind] in page


def test_a_plan_of_nothing_is_a_page_all_the_same():
    page = bar_list_page(plan().model_copy(update={"bars": (), "groups": (), "marks": ()}))
    assert CAUTION in page
    assert "<svg" not in page


def test_hostile_texts_stay_texts():
    mark = '"><script>alert(1)</script>\u202e'
    own = bar(pieces=[(mark, 292.1)] * 3, stock="<b>S</b>", heat="</svg>", location="&lt;")
    page = bar_list_page(plan(own, remarks=("<img src=x>",), machine="<i>"))
    for bad in ("<script", "<b>S", "</svg></td>", "<img", "<i>", "\u202e"):
        assert bad not in page
    assert "&lt;script&gt;" in page


def test_the_same_plan_gives_the_same_bytes():
    assert bar_list_page(order_of_bars()) == bar_list_page(order_of_bars())


def test_500_bars_make_a_page_of_reasonable_size():
    bars = [
        bar(n, [(f"P{n}-{k % 5}", 200.0 + 10 * (k % 5)) for k in range(6)], pattern=n)
        for n in range(1, 501)
    ]
    page = bar_list_page(plan(*bars))
    assert page.count("<svg") == 500
    assert len(page) < 5_000_000


def test_numbers_that_follow_each_other_are_drawn_together():
    assert numbers_text([1, 2, 3, 7]) == "1-3, 7"
    assert numbers_text([5]) == "5"
    assert numbers_text([]) == ""
