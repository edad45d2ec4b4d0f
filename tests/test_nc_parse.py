"""What careless writers do to lines, headers and numbers: tolerated, and each thing reported."""

import pytest
from nc_files import FIELDS, flat, lines, nc, part_of, places, read, said, tree_of

from translator.model import Stated

HOLE = ("BO", "  v    100.00u    50.00    18.00    0.00")


def joined(rows, newline="\r\n"):
    return "".join(row + newline for row in rows).encode()


def rules(reading):
    return [rule for rule, _, _ in said(reading)]


PLAIN = nc(*HOLE)

DIRT = {
    "cr lf": (PLAIN, []),
    "lf": (PLAIN.replace(b"\r\n", b"\n"), []),
    "cr": (PLAIN.replace(b"\r\n", b"\r"), []),
    "cr cr lf": (PLAIN.replace(b"\r\n", b"\r\r\n"), ["nc-line-ends"]),
    "double-spaced": (PLAIN.replace(b"\r\n", b"\n\n"), ["nc-line-ends"]),
    "no newline at the end": (PLAIN.rstrip(), []),
    "byte-order mark": (b"\xef\xbb\xbf" + PLAIN, ["nc-byte-order-mark"]),
    "old end-of-file byte": (PLAIN + b"\x1a", ["nc-end-byte"]),
    "zeros at the end": (PLAIN + b"\0" * 40, ["nc-end-byte"]),
    "zeros within": (PLAIN.replace(b"TQ-7", b"TQ\0-7"), ["nc-control-character"]),
    "trailing blanks": (PLAIN.replace(b"\r\n", b"   \r\n"), []),
    "windows-1252": (nc(*HOLE, order="Träger", encoding="cp1252"), ["nc-not-ascii"]),
    "utf-8": (nc(*HOLE, order="Träger"), ["nc-not-ascii"]),
    "long line": (nc(*HOLE, order="x" * 90), ["nc-long-line"]),
    "blank lines between blocks": (nc("", *HOLE, "   ", ""), []),
    "comments in the header": (nc(*HOLE, comments=("** a", "** b")), []),
    "comment in a block": (nc(HOLE[0], "** made twice", HOLE[1]), []),
    "odd comment": (nc("; a word", *HOLE), ["nc-comment-odd"]),
    "comment behind data": (
        nc(HOLE[0], HOLE[1] + "  ** first"),
        ["nc-comment-behind-data"],
    ),
    "small block code": (nc("bo", HOLE[1]), ["nc-small-letters"]),
    "indented block code": (nc(" BO", HOLE[1]), ["nc-code-indented"]),
    "words behind a code": (nc("BO holes", HOLE[1]), ["nc-code-trailing"]),
    "data in column 1": (nc("BO", HOLE[1].lstrip()), ["nc-not-indented"]),
    "text behind EN": (PLAIN + b"made on Monday\r\n", ["nc-text-behind-end"]),
    "text before ST": (b"hello\r\n" + PLAIN, ["nc-text-before-start"]),
    "no EN": (nc(*HOLE, end=""), ["nc-end-missing"]),
    "no ST": (PLAIN[4:], ["nc-start-missing"]),
    "information block": (nc(*HOLE, "E0", "  a word"), ["nc-block-kept"]),
    "tolerances": (nc(*HOLE, "TO", "  v 1 2"), ["nc-block-kept"]),
    "camber": (nc(*HOLE, "UE", "  v 1 2"), ["nc-block-kept"]),
    "empty block": (nc(*HOLE, "IK"), []),
    "a text line too many": (nc(*HOLE, texts=("a", "b", "c", "d", "e")), ["nc-text-surplus"]),
    "no text lines": (nc(*HOLE, texts=()), ["nc-text-missing"]),
    "lines between header and block": (nc("  -5", *HOLE), ["nc-text-surplus"]),
    "trailing comma": (nc("BO", HOLE[1] + ","), ["nc-number-odd"]),
    "plus sign": (nc("BO", "  v   +100.00u    50.00    18.00    0.00"), ["nc-number-odd"]),
    "exponent": (nc("BO", "  v   1.0E+02u    50.00    18.00    0.00"), ["nc-number-odd"]),
    "three decimals": (nc("BO", "  v  100.001u    50.00    18.00    0.00"), ["nc-many-decimals"]),
    "commas between": (nc("BO", "  v 100.00u, 50.00, 18.00, 0.00"), ["nc-number-odd"]),
    "commas for blanks": (nc("BO", "  v 100.00u 50.00,18.00,0.00"), ["nc-comma-between"]),
    "thousands": (nc("BO", "  v 0.100.00u 50 18 0", length="1000.00"), None),
    "figures too many": (nc("BO", HOLE[1] + " 0 0 0 7"), ["nc-row-too-long"]),
    "reference missing": (nc("BO", "  v 100.00 50.00 18.00 0.00"), ["nc-reference-missing"]),
    "reference apart": (nc("BO", "  v 100.00 u 50.00 18.00 0.00"), ["nc-letter-apart"]),
    "depth missing": (nc("BO", "  v 100.00u 50.00 18.00"), ["nc-depth-missing"]),
}


@pytest.mark.parametrize("case", [c for c in DIRT if DIRT[c][1] is not None])
def test_dirt_is_tolerated_and_reported(case):
    data, expected = DIRT[case]
    reading = read(data)
    assert rules(reading) == expected
    (placed,) = reading.parts
    (hole,) = placed.part.legs.a.features
    assert (hole.x_mm, hole.y_mm, hole.diameter_mm) == (
        pytest.approx(100.0, abs=0.0015),
        50.0,
        18.0,
    )
    assert placed.part.mark == "K1"


def test_numbers_that_touch_are_split_before_the_sign():
    reading = read(nc("BO", "  v   100.00s-20.00    18.00    0.00"), y_datum="named-edge")
    assert places(reading.parts[0].part, "a") == [("hole", 100.0, 30.0)]
    glued = read(flat("SI", "  v  10.00u-5.00 0.00 10 X", "BO", "  v 40.00u 1000.00-2.00"))
    assert "nc-numbers-touch" in rules(glued)


UNREADABLE = {
    "overflow": ("BO", "  v ********u 50.00 18.00 0.00", "nc-number-overflow", "did not fit"),
    "two numbers in one": ("BO", "  v 100.0050.00 18.00 0.00", "nc-number-unreadable", "run tog"),
    "beyond a kilometre": ("BO", "  v 1.0e300u 50 18 0", "nc-number-unreadable", "is no number"),
    "two commas": ("BO", "  v 1,0,0u 50 18 0", "nc-number-unreadable", "more than one comma"),
    "three behind a comma": ("BO", "  v 1,100u 50 18 0", "nc-number-unreadable", "1.100 or 1100"),
    "words": ("BO", "  v ten u 50 18 0", "nc-row-unreadable", "'ten'"),
    "no view": ("BO", "  100.00u 50.00 18.00 0.00", "nc-view-missing", "leg cannot be told"),
    "two figures": ("BO", "  v 100.00u 50.00", "nc-row-unreadable", "has 2 figures"),
    "odd reference": ("BO", "  v 100.00x 50.00 18.00 0.00", "nc-row-unreadable", "'x' behind x"),
    "odd kind": ("BO", "  v 100.00u 50.00 18.00q 0.00", "nc-row-unreadable", "'q'"),
    "two kinds": ("BO", "  v 100.00u 50.00g 18.00m 0.00", "nc-row-unreadable", "g, m"),
    "odd depth letter": ("BO", "  v 100.00u 50.00 18.00 0.00g", "nc-row-unreadable", "depth"),
    "odd sign": ("BO", "  v 100.00u 50.00 18.00 0.00 %", "nc-row-unreadable", "'%'"),
    "point of one figure": ("AK", "  v 100.00u", "nc-row-unreadable", "needs x and y"),
    "stamp without text": ("SI", "  v 100.00u 50.00", "nc-row-unreadable", "needs x, y, angle"),
}


@pytest.mark.parametrize("case", UNREADABLE)
def test_a_row_that_cannot_be_read_refuses_the_part(case):
    code, row, rule, words = UNREADABLE[case]
    reading = read(nc(code, row))
    assert reading.parts == ()
    (message,) = said(reading, rule)
    assert words in message
    assert [f.span.line for f in reading.findings if f.rule == rule] == [27]


def test_one_fault_does_not_hide_the_next():
    reading = read(nc("BO", "  v ****u 1 2 0", "  v 1 2", "  v 10.00u 50.00 18.00q 0.00"))
    assert [line for _, severity, line in said(reading) if severity == "error"] == [27, 28, 29]


LENGTHS = {
    "alone": ("1250.00", 1250.0, None),
    "pair": ("1250.00,  1256.00", 1250.0, 1256.0),
    "pair without blank": ("1250.00,1256.00", 1250.0, 1256.0),
    "two blanks apart": ("1250.00  1256.00", 1250.0, 1256.0),
    "decimal comma": ("1250,00", 1250.0, None),
    "decimal comma, one digit": ("1250,5", 1250.5, None),
    "comma and four digits": ("1250,1256", 1250.0, 1256.0),
    "comma and blank": ("1250, 1256", 1250.0, 1256.0),
    "three commas": ("1250,00, 1256,00", 1250.0, 1256.0),
    "two commas, one reading": ("1250,00,1256", 1250.0, 1256.0),
    "saw length 0": ("1250.00, 0.00", 1250.0, None),
    "whole number": ("1250", 1250.0, None),
}


@pytest.mark.parametrize("case", LENGTHS)
def test_length_line(case):
    text, length, saw = LENGTHS[case]
    part = part_of(nc(length=text))
    assert part.length_mm == length
    assert (part.stated.saw_length_mm if part.stated else None) == saw


BAD_LENGTHS = {
    "thousands": ("1,250.00", "length 1250.00 or length 1 with saw length 250.00"),
    "continental thousands": ("1.250,00", "length 1250.00 or length 1.250 with saw length 00"),
    "comma and three digits": ("1,250", "length 1250 or length 1.250"),
    "two commas, no reading": ("1250,1,2", "no length"),
    "overflow": ("********", "did not fit"),
    "nothing": ("0.00", "length 0 mm"),
    "too long": ("1000001.00", "1e+06"),
}


@pytest.mark.parametrize("case", BAD_LENGTHS)
def test_length_line_that_is_no_length(case):
    text, words = BAD_LENGTHS[case]
    reading = read(nc(length=text))
    assert reading.parts == ()
    errors = [f.message for f in reading.findings if f.severity == "error"]
    assert any(words in message for message in errors)


def test_a_saw_length_shorter_than_the_length_is_reported():
    assert said(read(nc(length="1250.00, 1200.00")), severity="warning") == [
        ("nc-saw-length", "warning", 10)
    ]


def test_decimal_comma_setting_decides():
    row = ("BO", "  v 1,100u 50 18 0")
    assert places(part_of(nc(*row), decimal_comma="yes"), "a") == [("hole", 1.1, 50.0)]
    refused = read(nc("BO", "  v 100,00u 50 18 0"), decimal_comma="no")
    assert said(refused, "nc-number-unreadable") == [
        "'100,00' has a comma, and decimal_comma is set to \"no\""
    ]
    assert part_of(nc(length="1250,1256"), decimal_comma="yes").length_mm == 1250.1256


def header(*drop, extra=()):
    """A file whose header lacks some fields, or has lines in front."""
    rows = lines()
    body = [row for name, row in zip(FIELDS, rows[1:21], strict=True) if name not in drop]
    return joined([rows[0], *extra, *body, *rows[21:]])


def test_a_missing_header_line_is_told_and_the_mark_still_found():
    reading = read(header("phase"))
    (placed,) = reading.parts
    assert placed.part.mark == "K1"
    (message,) = said(reading, "nc-header-repaired")
    assert message.startswith("1 line is missing from the header: 7 header lines stand before")


def test_header_lines_too_many_are_told_and_kept():
    reading = read(header(extra=("  a word", "  or two")))
    (placed,) = reading.parts
    assert (placed.part.mark, placed.part.order) == ("K1", "TQ-7")
    assert placed.part.carried == ("  a word", "  or two")
    assert "2 lines are too many" in said(reading, "nc-header-repaired")[0]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (header("web_thickness"), "11 lines of numbers follow the profile code L"),
        (nc(code="W"), "line 8 behind ST must be a profile code"),
        (nc(code=""), "line 8 behind ST must be a profile code"),
        (b"hello\r\nworld\r\n", "no header was found"),
        (b"ST\r\n", "no header was found"),
        (b"ST", "no header was found"),
        (b"", "the file is empty"),
        (b"\r\n \r\n", "the file is empty"),
    ],
    ids=["number-missing", "unknown-code", "no-code", "prose", "st-only", "st", "empty", "blank"],
)
def test_a_header_that_is_not_there_is_an_error(data, words):
    reading = read(data)
    assert reading.parts == ()
    assert any(words in f.message for f in reading.findings if f.severity == "error")


QUANTITIES = {
    "4": (4, []),
    "4.00": (4, ["nc-quantity-real"]),
    "4,00": (4, ["nc-decimal-comma", "nc-quantity-real"]),
    "0": (1, ["nc-quantity"]),
    "0.00": (1, ["nc-quantity", "nc-quantity-real"]),
    "": (1, ["nc-quantity"]),
}


@pytest.mark.parametrize("text", QUANTITIES, ids=lambda text: text or "blank")
def test_quantity(text):
    pieces, expected = QUANTITIES[text]
    reading = read(nc(quantity=text))
    assert reading.parts[0].part.quantity == pieces
    assert rules(reading) == expected


@pytest.mark.parametrize("text", ["four", "4.5", "-1", "1234567"])
def test_quantity_that_is_no_number_of_pieces(text):
    reading = read(nc(quantity=text))
    assert reading.parts == ()
    assert [f.severity for f in reading.findings if f.rule == "nc-quantity"] == ["error"]


def test_missing_texts_are_not_said():
    part = part_of(nc(order="-", drawing="", phase="0", grade="."))
    assert (part.order, part.drawing, part.phase, part.grade) == (None, None, None, None)


def test_a_missing_mark_falls_back_to_the_file_name_with_an_error():
    reading = read(nc(mark="-"), name="in/C 12.nc1")
    assert reading.parts[0].part.mark == "C 12"
    assert [(f.rule, f.severity) for f in reading.findings] == [("nc-mark-missing", "error")]


TEXTS = {
    "title and remarks": (("clip", "grind", "-", "see E-9"), "clip", ("grind", "see E-9")),
    "first text is the title": (("", "clip", "", "grind"), "clip", ("grind",)),
    "a dash says no title": (("-", "grind", "-", "-"), None, ("grind",)),
    "nothing": (("", "", "", ""), None, ()),
}


@pytest.mark.parametrize("case", TEXTS)
def test_header_texts(case):
    texts, title, remarks = TEXTS[case]
    part = part_of(nc(texts=texts))
    assert (part.title, part.remarks) == (title, remarks)


def test_left_aligned_texts_that_look_like_codes_are_counted_first():
    rows = [row.strip() for row in lines(texts=("BO", "EN", "x", "y"))]
    rows[-1:] = ["BO", "  v 100.00u 50.00 18.00 0.00", "EN"]
    reading = read(joined(rows))
    assert reading.parts[0].part.title == "BO"
    assert reading.parts[0].part.remarks == ("EN", "x", "y")
    assert places(reading.parts[0].part, "a") == [("hole", 100.0, 50.0)]


def test_left_aligned_order_called_st_does_not_start_a_file():
    rows = [row.strip() for row in lines(order="ST", mark="EN")]
    (sheet,) = tree_of(joined(rows)).sheets
    assert [line.text for line in sheet.fields[:4]] == ["ST", "E-101", "1", "EN"]


def test_several_parts_in_one_file_are_split_and_told():
    reading = read(nc(mark="A") + nc(mark="B"))
    assert [placed.part.mark for placed in reading.parts] == ["A", "B"]
    assert said(reading) == [("nc-several-parts", "warning", 27)]


PROFILES = {
    "I": "profile code I (I and H sections)",
    "U": "profile code U (channels)",
    "RO": "profile code RO (round tubes)",
    "RU": "profile code RU (round bars)",
    "M": "profile code M (hollow sections)",
    "C": "profile code C (C sections)",
    "T": "profile code T (tees)",
    "SO": "profile code SO (special sections)",
}


@pytest.mark.parametrize("code", PROFILES)
def test_other_profiles_are_not_for_this_tool_and_no_error(code):
    reading = read(nc(*HOLE, "SC", "  v 1", code=code, name="HEA200", mark=""))
    assert (reading.parts, reading.findings) == ((), ())
    assert reading.not_ours == PROFILES[code]


def test_another_profile_beside_an_angle_is_a_note():
    reading = read(nc(mark="A") + nc(mark="B", code="I", name="IPE200"))
    assert [placed.part.mark for placed in reading.parts] == ["A"]
    assert reading.not_ours == ""
    assert ("nc-not-ours", "note", 27) in said(reading)


def test_a_flat_coded_as_special_section_is_read_as_a_flat():
    reading = read(flat(*HOLE, code="SO"))
    assert reading.parts[0].part.section.kind == "flat"
    assert said(reading, severity="warning") == [("nc-profile-code", "warning", 9)]


@pytest.mark.parametrize("code", ["SC", "KA"])
def test_blocks_that_change_the_shape_refuse_the_part(code):
    reading = read(nc(code, "  v 1.00 2.00"))
    assert reading.parts == ()
    assert [f.rule for f in reading.findings if f.severity == "error"] == ["nc-block-shape"]


def test_stated_figures_are_kept_as_written():
    part = part_of(nc(mass="15.100", paint="0.000"))
    assert part.stated == Stated(mass_per_metre_kg=15.1)
    assert part_of(nc(mass="0.000", paint="0.000")).stated is None
