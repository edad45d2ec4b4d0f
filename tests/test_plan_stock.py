"""Stock lists and tables of what is cut already: read strictly, written so that they read back."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from translator.bars.demand import Progress, demands, read_progress
from translator.bars.plan_model import StockLine
from translator.bars.stock import grade_key, read_stock, section_key, stock_csv
from translator.findings import Severity
from translator.model import Angle, Flat
from translator.source import Source

HEAD = "section,grade,length,length_mm,count,remnant,heat,certificate,location,price\n"
NO_UNIT = (
    "the length 6000 has no unit: write it like 20' or 6000mm, or call the column length_mm or"
    " length_in"
)


def read(text):
    data = text if isinstance(text, bytes) else text.encode()
    return read_stock(Source(path="stock.csv", data=data))


def faults(text):
    return [(f.message, f.span.line) for f in read(text).findings if f.severity is Severity.ERROR]


def test_a_stock_list_as_a_shop_keeps_it():
    found = read(
        HEAD
        + "L4x3-1/2x3/8,A36,20',,3,,H1,C1,rack 2,95.5\n"
        + "L3-1/2x4x3/8,ASTM A36,,12192,,,,,,\n"
        + "RSA 90x90x10,S275 JR,,3450,,R7,H2,,,\n"
    )
    assert found.is_sound
    one, two, three = found.lines
    assert one == StockLine(
        id="S1",
        section="L4x3-1/2x3/8",
        grade="A36",
        length_mm=6096.0,
        count=3,
        heat="H1",
        certificate="C1",
        location="rack 2",
        price=95.5,
    )
    assert (two.section, two.count, two.length_mm) == ("L4x3-1/2x3/8", None, 12192.0)
    assert grade_key(two.grade) == grade_key(one.grade)
    assert (three.id, three.count, three.is_remnant) == ("R7", 1, True)


@pytest.mark.parametrize(
    ("row", "message"),
    [
        ("L90x90x10,,6000,,1,,,,,", NO_UNIT),
        ("L90x90x10,,,,1,,,,,", "the length is missing"),
        ("L90x90x10,,20',6096,1,,,,,", "the length stands in two columns"),
        ("L90x90x10,,,six,1,,,,,", "the length six is no plain number of millimetres"),
        (
            "L90x90x10,,,200000,1,,,,,",
            "the length is 200000, it must be more than 0 and at most 100 m",
        ),
        (
            "L90x90x10,,,6000,many,,,,,",
            "the count is many, it must be a whole number, or empty for any",
        ),
        ("L90x90x10,,,6000,2,R1,,,,", "remnant R1 stands 2 times"),
        (",,,6000,2,,,,,", "the section is missing: a bar of what?"),
        ("2L90x90x10,,,6000,2,,,,,", None),
        ("L90x90x10,,,6000,2,,,,,cheap", "the price cheap is no plain number"),
    ],
)
def test_a_line_that_is_no_good_is_told_at_its_cell(row, message):
    found = faults(HEAD + row + "\n")
    assert len(found) == 1
    assert found[0][1] == 2
    if message is not None:
        assert found[0][0] == message


def test_an_id_that_stands_twice_is_refused():
    rows = "L90x90x10,,,6000,,R1,,,,\n" * 2
    assert [line for _, line in faults(HEAD + rows)] == [3]


def test_length_in_inches_by_its_column():
    found = read("section,length_in,count\nL4x4x3/8,240,1\nL4x4x3/8,112-1/2,1\n")
    assert [line.length_mm for line in found.lines] == [6096.0, 2857.5]


lines = st.lists(
    st.builds(
        StockLine,
        id=st.sampled_from(["S1", "S2", "R1", "R2", "=1+1", "a,b"]),
        section=st.sampled_from(["L90x90x10", "L4x3-1/2x3/8", "FB100x10", "FB4x3/8"]),
        grade=st.sampled_from([None, "A36", "S275JR"]),
        length_mm=st.integers(1, 40_000).map(lambda n: n / 2),
        count=st.integers(1, 50),
        heat=st.sampled_from([None, "H1", "=H2"]),
        price=st.sampled_from([None, 12.5, 100.0]),
    ),
    max_size=6,
    unique_by=lambda line: line.id,
)


@settings(max_examples=60, deadline=None)
@given(lines)
def test_what_is_written_reads_back(made):
    found = read(stock_csv(made))
    assert found.is_sound
    assert list(found.lines) == made


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=300) | st.text(max_size=300).map(lambda t: (HEAD + t).encode()))
def test_no_bytes_raise(data):
    read(data)
    read_progress(Source(path="done.csv", data=data))


def test_sections_of_one_steel_have_one_key():
    one = Angle(leg_a_mm=88.9, leg_b_mm=101.6, thickness_mm=9.525, root_radius_mm=9.0)
    two = Angle(leg_a_mm=101.6, leg_b_mm=88.9, thickness_mm=9.525)
    assert section_key(one) == section_key(two) == "L4x3-1/2x3/8"
    assert section_key(Flat(width_mm=100.0, thickness_mm=10.0)) == "FB100x10"
    assert grade_key(None) == grade_key("  ") == ""
    assert grade_key("my  steel") == "MY STEEL"


def test_progress_by_order_and_mark():
    from bar_orders import placed
    from program_bars import part

    data = b"mark,order,done,recut,priority\nW1,,3,1,\nW2,TQ-7,,,5\nX9,,1,,\n"
    table = read_progress(Source(path="done.csv", data=data))
    assert table.is_sound
    parts = [
        placed(part(mark="W1", quantity=8), "w.bmk", 1),
        placed(part(mark="W2", order="TQ-7", quantity=2), "w.bmk", 20),
        placed(part(mark="W2", order="TQ-8", quantity=2), "w.bmk", 40),
    ]
    found, strangers = demands(parts, table)
    assert [d.progress for d in found] == [
        Progress(done=3, recut=1),
        Progress(priority=5),
        Progress(),
    ]
    assert [d.count for d in found] == [6, 2, 2]
    assert [(f.span.line, f.severity) for f in strangers] == [(4, Severity.WARNING)]


@pytest.mark.parametrize("cell", ["-1", "two", "1.5", "99999999"])
def test_a_count_that_is_none_is_told(cell):
    table = read_progress(Source(path="done.csv", data=f"mark,done\nW1,{cell}\n".encode()))
    assert not table.is_sound
    twice = read_progress(Source(path="done.csv", data=b"mark,done\nW1,1\nW1,1\n"))
    assert not twice.is_sound
