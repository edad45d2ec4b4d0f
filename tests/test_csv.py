"""Tables of separated values: read with places and faults, written safe and the same."""

import csv
import io
import time
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from translator.documents import csv_faults, csv_scan, csv_table
from translator.documents.csv_numbers import decimal_sign, number, whole_number
from translator.documents.csv_scan import cells_of, records
from translator.documents.csv_table import Table, read_table
from translator.documents.csv_text import csv_bytes, harmless, unguarded
from translator.findings import Severity
from translator.source import Source, lines_of

WANTED = {
    "mark": ("piece mark", "mark"),
    "quantity": ("quantity", "qty"),
    "length": ("length", "len"),
}


def read(data: str | bytes, **how: object) -> Table:
    data = data.encode() if isinstance(data, str) else data
    given_how = {"required": ("mark", "quantity"), **how}
    return read_table(Source(path="bill.csv", data=data), WANTED, **given_how)  # type: ignore[arg-type]


def told(table: Table) -> list[tuple[str, int, int]]:
    return [(f.rule, f.span.line, f.span.column) for f in table.findings]


def values(table: Table) -> list[tuple[str, ...]]:
    return [tuple(row.text(field) for field in WANTED) for row in table.rows]


@pytest.mark.parametrize(
    ("data", "rows"),
    [
        pytest.param("mark,qty,len\nA1,2,300\n", [("A1", "2", "300")], id="commas"),
        pytest.param("Mark;QTY;Len\r\nA1;2;12,5\r\n", [("A1", "2", "12,5")], id="semicolons"),
        pytest.param("mark\tqty\tlength\rA\t1\t2", [("A", "1", "2")], id="tabs-and-lone-CR"),
        pytest.param("\ufeffmark,qty\nA,1\n", [("A", "1", "")], id="byte-order-mark"),
        pytest.param("mark,qty\nA,1\n".encode("utf-16"), [("A", "1", "")], id="utf-16"),
        pytest.param("sep=;\nmark;qty\nA,B;1\n", [("A,B", "1", "")], id="separator-said"),
        pytest.param('mark,qty\n"A,1",2\n', [("A,1", "2", "")], id="separator-in-quotes"),
        pytest.param('mark,qty\n"A""1" , 2\n', [('A"1', "2", "")], id="quote-in-quotes"),
        pytest.param('mark,qty\n"A\r\n1",2\n', [("A\r\n1", "2", "")], id="line-end-in-quotes"),
        pytest.param("mark,qty,len\nA,1,9'-4 1/2\"\n", [("A", "1", "9'-4 1/2\"")], id="inch-mark"),
        pytest.param("mark,qty\n\n,,\nA,1,,\n", [("A", "1", "")], id="blank-rows-and-cells"),
        pytest.param("qty,Piece_Mark,Mark\n1,A,x\n", [("A", "1", "")], id="best-name-first"),
        pytest.param("mark,qty\n'-A,1\n'A,1\n", [("-A", "1", ""), ("'A", "1", "")], id="guarded"),
    ],
)
def test_tables_are_read(data: str | bytes, rows: list[tuple[str, ...]]) -> None:
    table = read(data)
    assert values(table) == rows
    assert table.is_whole


@pytest.mark.parametrize(
    ("data", "rules", "rows"),
    [
        pytest.param(b"", [("csv-empty", 1, 1)], 0, id="empty"),
        pytest.param(b"mark\0,qty", [("csv-not-text", 1, 1)], 0, id="zero-byte"),
        pytest.param(b"\nPK\x03\x00", [("csv-not-text", 2, 1)], 0, id="workbook"),
        pytest.param(b"\xff\xfem", [("csv-not-text", 1, 1)], 0, id="half-utf-16"),
        pytest.param("mark,len\nA,2\n", [("csv-column-missing", 1, 1)], 0, id="column-missing"),
        pytest.param("a,b\nA,2\n", [("csv-header-missing", 1, 1)], 0, id="no-header"),
        pytest.param("mark,qty,Mark\n", [("csv-column-repeated", 1, 10)], 0, id="column-twice"),
        pytest.param("mark,qty\nA,1,2\nB,1", [("csv-row-too-long", 2, 1)], 1, id="too-many-cells"),
        pytest.param("mark,qty\nA\nB,1", [("csv-row-short", 2, 1)], 2, id="too-few-cells"),
        pytest.param('mark,qty\nA, "1\nB,1', [("csv-quote-open", 2, 4)], 0, id="quote-open"),
        pytest.param('mark,qty\nA,"1"x\nB,1', [("csv-quote-stray", 2, 3)], 1, id="quote-stray"),
        pytest.param("x\nmark,qty\nA,1", [("csv-rows-above", 1, 1)], 1, id="rows-above"),
        pytest.param(
            "mark,qty\nA,1\nmark,qty\nB,1", [("csv-header-repeated", 3, 1)], 2, id="header-again"
        ),
        pytest.param("mark,qty,x\nA,1,", [("csv-column-unused", 1, 1)], 1, id="column-unused"),
        pytest.param(b"mark,qty\n\xc4,1", [("csv-encoding-assumed", 1, 1)], 1, id="not-utf-8"),
        pytest.param("," * 300 + "\n", [("csv-row-too-wide", 1, 1)], 0, id="too-wide"),
    ],
)
def test_faults_are_told_in_their_place(
    data: str | bytes, rules: list[tuple[str, int, int]], rows: int
) -> None:
    table = read(data)
    assert [f for f in told(table) if f in rules] == rules
    others = {f[0] for f in told(table)} - {rule for rule, _, _ in rules}
    assert others <= {"csv-header-missing"}
    assert len(table.rows) == rows


def test_a_cell_has_its_place_also_in_quotes_and_over_lines() -> None:
    table = read('mark,qty,len\n"A\nB" ,  7 ,"9\'-4 1/2"""\n')
    (row,) = table.rows
    assert row.span("mark")[1:] == (2, 1, 3, 3)
    assert row.span("quantity")[1:] == (3, 7, 3, 8)
    assert row.span("length")[1:] == (3, 10, 3, 22)
    assert row.place[1:] == (2, 1, 3, 22)


def test_a_field_without_column_stands_where_its_row_does() -> None:
    (row,) = read("mark,qty\nA,1\n").rows
    assert row.text("length") == ""
    assert row.span("length") == row.place


def test_the_settings_name_of_a_column_is_the_only_one() -> None:
    text = "Mark,Pos.No,qty\nA,B,1\n"
    assert values(read(text, columns={"mark": "posno"})) == [("B", "1", "")]
    table = read(text, columns={"length": "Size"}, setting="[bill] columns")
    assert told(table) == [("csv-column-missing", 1, 1)]
    assert '"Size"' in table.findings[0].message


def test_unused_columns_are_named() -> None:
    table = read("Phase,mark,qty,Remark\n1,A,2,x\n")
    assert table.unused == ("Phase", "Remark")
    (note,) = table.findings
    assert note.message == 'the columns "Phase", "Remark" are not read'
    assert note.severity is Severity.NOTE


def test_many_faults_of_a_kind_are_counted() -> None:
    table = read("mark,qty\n" + "A,1,2\n" * 250)
    assert len(table.findings) == csv_faults.MOST_FAULTS + 1
    assert any(f.message.startswith("150 more rows") for f in table.findings)


def test_limits() -> None:
    rows = csv_table.MOST_ROWS
    assert read("mark,qty\n" + "A,1\n" * rows).is_whole
    assert told(read("mark,qty\n" + "A,1\n" * (rows + 1)))[0] == (
        "csv-too-many-rows",
        rows + 2,
        1,
    )
    longest = csv_scan.LONGEST_CELL
    assert read("mark,qty\n" + "A" * longest + ",1\n").is_whole
    assert told(read("mark,qty\n" + "A" * (longest + 1) + ",1\n"))[0][0] == "csv-cell-too-long"
    quoted = 'mark,qty\n"' + "A" * (longest + 1) + '",1\n'
    assert told(read(quoted))[0][0] == "csv-cell-too-long"
    assert told(read(quoted.replace("A", "A\n")))[0][0] == "csv-quote-open"
    assert told(read(b"x" * (csv_table.LARGEST_BYTES + 1)))[0][0] == "csv-too-large"


TEXT = st.text(alphabet="aA1 ,;\t\"'\r\n.-=\0ä\u2028", max_size=60)


@given(st.one_of(st.binary(max_size=80), TEXT.map(str.encode), TEXT.map("mark,qty\n{}".format)))
@example(b"\xff\xfe\x00\xd8")
@example('mark,qty\n"')
def test_no_bytes_raise_and_places_lie_in_the_file(data: str | bytes) -> None:
    table = read(data)
    raw = data.encode() if isinstance(data, str) else data
    if not raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        count = len(lines_of(raw.decode("utf-8", "replace")))
        for row in table.rows:
            assert 1 <= row.span("mark").line <= row.place.end_line <= count
        assert all(f.span.line <= count for f in table.findings)
    assert all(f.message and f.span.line > 0 for f in table.findings)


CELL = st.text(alphabet="ab1 ,;\"'\n\t=-", max_size=8).map(str.strip)


@given(st.lists(st.lists(CELL, min_size=2, max_size=5), min_size=1, max_size=5))
def test_cells_agree_with_the_standard_library(rows: list[list[str]]) -> None:
    """The csv module writes and reads the same table; cells here are without outer blanks."""
    out = io.StringIO(newline="")
    csv.writer(out, quoting=csv.QUOTE_ALL).writerows(rows)
    text = out.getvalue()
    expected = [tuple(row) for row in csv.reader(io.StringIO(text, newline=""))]
    found = list(records(text, ","))
    assert [r.cells for r in found] == expected
    assert [tuple(c.text for c in cells_of(r.raw, ",")) for r in found] == expected


@given(st.text(alphabet="a ,\"'1", max_size=20))
def test_both_ways_through_a_line_agree(line: str) -> None:
    for record in records(line, ","):
        if record.fault is None:
            cells = cells_of(record.raw, ",")
            assert tuple(c.text for c in cells) == record.cells
            assert all(c.text == "" or c.text[-1] in record.raw[c.start : c.end] for c in cells)
            assert all(one.end < other.start + 1 for one, other in pairwise(cells))


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(b"mark,qty\n" + b'"' * 4_000_000, id="quotes"),
        pytest.param(b"\n" * 4_000_000 + b"x", id="line-ends"),
        pytest.param(b",\n" * 2_000_000, id="blank-rows"),
        pytest.param(b"mark,qty\n" + b"a," * 2_000_000, id="one-row"),
        pytest.param(b"mark,qty\n" + b'"a"b,' * 800_000, id="stray-quotes"),
        pytest.param(b"mark,qty\n" + b" " * 4_000_000, id="blanks"),
    ],
)
def test_hostile_tables_are_done_soon(data: bytes) -> None:
    begin = time.process_time()
    read(data)
    assert time.process_time() - begin < 4


@pytest.mark.parametrize(
    ("text", "sign", "value"),
    [
        pytest.param("12", "", Fraction(12), id="whole"),
        pytest.param("12.5", ",", Fraction(25, 2), id="point-is-sure"),
        pytest.param("12,5", ".", Fraction(25, 2), id="comma-is-sure"),
        pytest.param("1.234", "", None, id="open"),
        pytest.param("1.234", ".", Fraction(1234, 1000), id="by-the-table"),
        pytest.param("1.234", ",", Fraction(1234), id="thousands"),
        pytest.param("1.234,5", "", Fraction(2469, 2), id="both-signs"),
        pytest.param("1,234.5", "", Fraction(2469, 2), id="both-signs-the-other-way"),
        pytest.param("1,234,567", ".", Fraction(1234567), id="many-groups"),
        pytest.param("0.125", "", Fraction(1, 8), id="nought-parts-no-thousands"),
        pytest.param("3048.125", "", Fraction(3048125, 1000), id="four-before"),
        pytest.param("-3", ".", Fraction(-3), id="negative"),
        pytest.param("1e3", ".", None, id="exponent"),
        pytest.param("12..5", ".", None, id="two-points"),
        pytest.param("1,23.4", ".", None, id="bad-group"),
        pytest.param("", ".", None, id="empty"),
        pytest.param("1" * 25, ".", None, id="too-long"),
        pytest.param("\u0661", ".", None, id="other-digits"),
    ],
)
def test_numbers(text: str, sign: str, value: Fraction | None) -> None:
    assert number(text, sign) == value


@pytest.mark.parametrize(
    ("texts", "delimiter", "sign"),
    [
        pytest.param(["1,5", "1.234"], ";", ",", id="one-comma-says-all"),
        pytest.param(["1.5", "1.234"], ";", ".", id="one-point-says-all"),
        pytest.param(["1.234"], ";", "", id="open"),
        pytest.param(["1.234"], ",", ".", id="a-comma-parts-cells"),
        pytest.param(["1.5", "1,5"], ",", "", id="contradiction"),
    ],
)
def test_the_decimal_sign_of_a_table(texts: list[str], delimiter: str, sign: str) -> None:
    assert decimal_sign(texts, delimiter) == sign


def test_counts() -> None:
    assert whole_number("4.00", ".") == 4
    assert whole_number("4.5", ".") is None


@pytest.mark.parametrize(
    "text",
    ["=1+1", "+1", "-1", "@x", "\t=1", "\r1", " =1", "'=1", "''=1", "\uff1d1", "\n=1"],
)
def test_no_text_is_a_formula(text: str) -> None:
    assert harmless(text).startswith("'")
    assert unguarded(harmless(text)) == text


def test_written_tables() -> None:
    data = csv_bytes(
        ("mark", "mm"), [("A,1", -2.5), ('2"', 0), ("=x", None), ("\x1b[0mä", 1e-7), ("x", 1e21)]
    )
    assert data.decode() == (
        'mark,mm\r\n"A,1",-2.5\r\n"2""",0\r\n\'=x,\r\n[0mä,0\r\nx,1000000000000000000000\r\n'
    )


@settings(max_examples=200)
@given(
    st.lists(
        st.tuples(
            st.text(alphabet="ab='+-@ ,;\"\n1", min_size=1, max_size=8).map(str.strip),
            st.integers(0, 99),
        ),
        min_size=1,
        max_size=4,
    )
)
def test_what_is_written_is_read_again(rows: list[tuple[str, int]]) -> None:
    table = read(csv_bytes(("mark", "qty"), rows))
    assert table.is_whole
    assert [row.text("mark") for row in table.rows] == [mark for mark, _ in rows]
    assert [row.text("quantity") for row in table.rows] == [str(n) for _, n in rows]
