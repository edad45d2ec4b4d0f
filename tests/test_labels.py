"""Labels: what they say, that no text leaves its label, and that codes can be read."""

import csv
import re
from itertools import pairwise
from pathlib import Path
from urllib.parse import parse_qs
from xml.etree import ElementTree as ET

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from machine_parts import angle
from plan_bars import bar

from translator.bars.label_code import MOST_LETTERS, qr_code
from translator.bars.label_layout import PAPERS, SheetSize, broken, set_texts
from translator.bars.label_page import label_lines, labels_page
from translator.bars.labels import labels_csv, part_labels, planned_labels
from translator.bars.letters import text_width
from translator.commands import main
from translator.findings import CAUTION
from translator.model import Placed
from translator.source import Span

CLIPS = Path(__file__).parent.parent / "samples" / "tern-quay" / "clips.bmk"
PLACE = Span("clips.bmk", 1, 1, 1, 1)
SHEET = SheetSize(label_width=70.0, label_height=37.0, paper_width=210.0, paper_height=297.0)


def placed(**fields):
    given = {
        "mark": "C12",
        "order": "TQ-7",
        "drawing": "E-101",
        "revision": "B",
        "quantity": 24,
        "length_mm": 292.1,
        "units": "inch",
        "grade": "A36",
    }
    return Placed(part=angle(**(given | fields)), places={"": PLACE})


def svg(page):
    (text,) = re.findall(r"<svg.*?</svg>", page, re.DOTALL)[:1]
    return ET.fromstring(text)  # noqa: S314 - our own page


# --- what they say -------------------------------------------------------------------------


def test_a_label_for_each_piece():
    made = list(part_labels([placed(quantity=3)], "piece", "R-3"))
    assert [label.quantity_words for label in made] == [
        "piece 1 of 3",
        "piece 2 of 3",
        "piece 3 of 3",
    ]
    assert label_lines(made[0]) == [
        "order TQ-7  dwg E-101  rev B",
        'L90x90x10  11 1/2"  A36',
        "piece 1 of 3",
        "release R-3",
    ]


def test_bundles_of_at_most_ten():
    made = list(part_labels([placed(quantity=24)], "bundle", "", 10))
    assert [(one.first, one.last, one.pieces) for one in made] == [
        (1, 10, 10),
        (11, 20, 10),
        (21, 24, 4),
    ]
    assert made[0].quantity_words == "10 pieces, 1-10 of 24"
    (whole,) = part_labels([placed(quantity=24)], "bundle")
    assert whole.quantity_words == "24 pieces, all"


def bars():
    """Two bars of one heat and one of another, six pieces each, counted through."""
    made = [
        bar(1, [("C12", 292.1)] * 6, heat="H1"),
        bar(2, [("C12", 292.1)] * 6, heat="H1"),
        bar(3, [("C12", 292.1)] * 6, heat="H2"),
    ]
    return [
        one.model_copy(
            update={
                "pieces": tuple(
                    piece.model_copy(update={"index": piece.number + 6 * at, "count": 18})
                    for piece in one.pieces
                )
            }
        )
        for at, one in enumerate(made)
    ]


def test_the_trail_from_bar_to_piece_to_release():
    made = list(planned_labels(bars(), [placed(quantity=18)], "piece", "R-3"))
    assert len(made) == 18
    assert [(one.first, one.bars, one.bar_piece, one.heat) for one in made[5:8]] == [
        (6, ("bar-001",), 6, "H1"),
        (7, ("bar-002",), 1, "H1"),
        (8, ("bar-002",), 2, "H1"),
    ]
    assert label_lines(made[6])[2:] == [
        "piece 7 of 18",
        "heat H1  bar-002 no. 1",
        "release R-3",
    ]


def test_a_bundle_never_mixes_heats():
    made = list(planned_labels(bars(), [placed(quantity=18)], "bundle"))
    assert [(one.first, one.last, one.heat, one.bars) for one in made] == [
        (1, 12, "H1", ("bar-001", "bar-002")),
        (13, 18, "H2", ("bar-003",)),
    ]
    small = list(planned_labels(bars(), [placed(quantity=18)], "bundle", "", 5))
    assert sum(one.pieces for one in small) == 18
    assert max(one.pieces for one in small) == 5


def test_bars_of_unknown_heat_are_not_mixed():
    unknown = [one.model_copy(update={"heat": None}) for one in bars()]
    made = list(planned_labels(unknown, [placed(quantity=18)], "bundle"))
    assert [(one.first, one.last, one.bars) for one in made] == [
        (1, 6, ("bar-001",)),
        (7, 12, ("bar-002",)),
        (13, 18, ("bar-003",)),
    ]


def test_as_a_table():
    made = planned_labels(bars(), [placed(quantity=18, title="=1+1")], "piece", "R-3")
    rows = list(csv.DictReader(labels_csv(made).decode().splitlines()))
    assert len(rows) == 18
    row = rows[6]
    assert (row["mark"], row["order"], row["drawing"], row["revision"]) == (
        *("C12", "TQ-7", "E-101", "B"),
    )
    assert (row["from"], row["to"], row["of"], row["pieces"]) == ("7", "7", "18", "1")
    assert (row["heat"], row["bars"], row["bar_piece"]) == ("H1", "bar-002", "1")
    assert (row["length"], row["length_mm"]) == ('11 1/2"', "292.1")
    assert (row["title"], row["release"]) == ("'=1+1", "R-3")
    assert parse_qs(row["code"])["bar"] == ["bar-002"]


@given(st.text(max_size=30), st.text(max_size=30))
def test_no_text_of_a_code_can_be_taken_for_another_field(mark, order):
    keep = "".join(c for c in mark if c.isprintable()) or "M"
    other = "".join(c for c in order if c.isprintable())
    (label,) = part_labels([placed(mark=keep, order=other, quantity=1)], "piece")
    fields = parse_qs(label.code, strict_parsing=True)
    assert fields["mark"] == [keep]
    assert fields.get("order", [""]) == [other]
    assert fields["of"] == ["1"]
    assert set(fields) <= {"order", "mark", "rev", "piece", "of"}


# --- no text leaves its label --------------------------------------------------------------

LINES = st.lists(
    st.text(
        st.characters(codec="utf-8", exclude_categories=["C", "Z"]) | st.just(" "), max_size=80
    ),
    max_size=9,
)


@settings(max_examples=80, deadline=None)
@given(
    st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), min_size=1, max_size=200),
    LINES,
    st.floats(10.0, 120.0),
    st.floats(12.0, 120.0),
)
def test_every_line_lies_within_its_box(mark, lines, width, height):
    laid = set_texts(mark, lines, width, height)
    for line in laid:
        assert text_width(line.text, line.size) <= width + 1e-6
        assert line.baseline - 0.75 * line.size > 0.0
        assert line.baseline + 0.22 * line.size <= height + 1e-6
    for above, below in pairwise(laid):
        assert below.baseline - 0.75 * below.size >= above.baseline + 0.2 * above.size - 1e-6


@pytest.mark.parametrize("size", [(70.0, 37.0), (48.5, 25.4), (101.6, 50.8)])
def test_on_a_usual_label_nothing_is_cut_off(size):
    part = placed(mark="C12-NORTH/104.3", title="beam clip, slotted for fit-up", phase="2")
    for label in planned_labels(bars(), [placed(quantity=18)], "piece", "TQ-7-R3"):
        laid = set_texts(part.part.mark, label_lines(label), size[0] - 4.0, size[1] - 4.0)
        told = " ".join(line.text for line in laid)
        assert "~" not in told
        for words in label_lines(label):
            assert all(word in told for word in words.split())


def test_a_long_mark_is_broken_and_whole():
    mark = "C12-" + "-".join(str(n) for n in range(40))
    laid = set_texts(mark, ["order TQ-7"], 66.0, 33.0)
    assert "".join(line.text for line in laid if line.kind == "mark") == mark
    assert sum(line.kind == "mark" for line in laid) > 1


def test_what_can_not_fit_says_so():
    laid = set_texts("M" * 200, ["x" * 80] * 9, 12.0, 12.0)
    assert laid[-1].text.endswith("~")


def test_a_length_keeps_its_fraction():
    for width in range(12, 60):
        told = broken("L3-1/2x3-1/2x5/16  6'-2 1/2\"  A36", float(width), 2.0)
        if all(text_width(part, 2.0) <= width for part in ("L3-1/2x3-1/2x5/16", "6'-2 1/2\"")):
            assert any("6'-2 1/2\"" in line for line in told), told


# --- sheets --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("label", "paper", "columns", "rows"),
    [
        pytest.param((70.0, 37.0), "A4", 3, 8, id="3 x 8 of 70 x 37"),
        pytest.param((52.5, 29.7), "A4", 4, 10, id="4 x 10 of 52.5 x 29.7"),
        pytest.param((101.6, 50.8), "letter", 2, 5, id="2 x 5 of 4 x 2 in."),
        pytest.param((300.0, 37.0), "A4", 0, 8, id="too wide"),
    ],
)
def test_how_many_labels_a_sheet_holds(label, paper, columns, rows):
    width, height = PAPERS[paper]
    sheet = SheetSize(
        label_width=label[0], label_height=label[1], paper_width=width, paper_height=height
    )
    assert (sheet.columns, sheet.rows) == (columns, rows)


@settings(max_examples=80, deadline=None)
@given(st.floats(15.0, 200.0), st.floats(15.0, 280.0), st.floats(0.0, 20.0), st.floats(0.0, 6.0))
def test_labels_lie_on_their_paper_and_not_on_each_other(width, height, margin, gap):
    sheet = SheetSize(
        label_width=width,
        label_height=height,
        paper_width=210.0,
        paper_height=297.0,
        margin=margin,
        gap=gap,
    )
    places = [sheet.place(number) for number in range(sheet.per_sheet)]
    assert len(set(places)) == len(places)
    for left, top in places:
        assert left >= margin - 1e-6
        assert top >= margin - 1e-6
        assert left + width <= 210.0 - margin + 1e-6
        assert top + height <= 297.0 - margin + 1e-6
    for at, (left, top) in enumerate(places):
        for other_left, other_top in places[at + 1 :]:
            assert abs(left - other_left) >= width - 1e-6 or abs(top - other_top) >= height - 1e-6


def test_used_places_of_the_first_sheet_stay_free():
    labels = list(part_labels([placed(quantity=24)], "piece"))
    page = labels_page(labels, SHEET, skip=5)
    assert page.count("<svg") == 2
    moved = [g.attrib["transform"] for g in svg(page).iter("{http://www.w3.org/2000/svg}g")]
    assert moved[0] == "translate(140 37.5)"
    assert len(moved) == 24 - 5


def test_the_page_is_whole_and_the_same_again():
    labels = list(part_labels([placed()], "piece", "R-3"))
    page = labels_page(labels, SHEET)
    assert page == labels_page(labels, SHEET)
    assert CAUTION in page
    assert "size: 210mm 297mm" in page
    assert len(list(svg(page).iter("{http://www.w3.org/2000/svg}rect"))) == 24


def test_a_border_that_is_wide_enough_carries_the_caution():
    wide = SheetSize(
        label_width=50.0, label_height=50.0, paper_width=210.0, paper_height=297.0, margin=15.0
    )
    page = labels_page(list(part_labels([placed(quantity=1)], "piece")), wide)
    assert page.count(CAUTION) == 2


def test_hostile_marks_stay_texts():
    mark = '"><script>alert(1)</script>\u202e'
    page = labels_page(list(part_labels([placed(mark=mark, quantity=1)], "piece", "</svg>")), SHEET)
    assert "<script>" not in page
    assert "\u202e" not in page
    told = "".join(e.text or "" for e in svg(page).iter("{http://www.w3.org/2000/svg}text"))
    assert "<script>alert(1)</script>\\u202e" in told
    assert "release </svg>" in told


# --- codes ---------------------------------------------------------------------------------


def bitmap(drawn, scale=4):
    """Draw a code from its path, a row of the path at a time, as a picture."""
    import numpy as np

    modules, path = drawn
    picture = np.full((modules * scale, modules * scale), 255, dtype=np.uint8)
    for x, y, length in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\d+z", path):
        left, top, wide = int(x) * scale, int(y) * scale, int(length) * scale
        picture[top : top + scale, left : left + wide] = 0
    return picture


@pytest.mark.parametrize(
    "fields",
    [
        pytest.param({}, id="a usual label"),
        pytest.param({"mark": "12-B/1 & more", "order": "a=b"}, id="signs of the code itself"),
        pytest.param({"mark": "Träger-Ø-梁"}, id="letters beyond ASCII"),
        pytest.param({"mark": "M" * 150}, id="a long mark"),
    ],
)
def test_an_independent_reader_reads_the_code(fields):
    import zxingcpp

    (label,) = part_labels([placed(quantity=1, **fields)], "piece", "TQ-7-R3")
    drawn = qr_code(label.code)
    assert drawn is not None
    (read,) = zxingcpp.read_barcodes(bitmap(drawn))
    assert read.text == label.code
    assert parse_qs(read.text)["mark"] == [label.part.mark]


def test_a_text_too_long_for_a_label_has_no_code():
    assert qr_code("x" * (MOST_LETTERS + 1)) is None
    labels = list(part_labels([placed(mark="M" * 200, order="O" * 200, quantity=1)], "piece"))
    assert 'class="code"' not in labels_page(labels, SHEET, code=qr_code)


def test_the_code_lies_within_its_label():
    labels = list(part_labels([placed(quantity=1)], "piece", "R-3"))
    page = labels_page(labels, SHEET, code=qr_code)
    (code,) = (
        e for e in svg(page).iter("{http://www.w3.org/2000/svg}path") if e.get("class") == "code"
    )
    left, top, scale = map(float, re.findall(r"-?\d+\.?\d*", code.attrib["transform"]))
    side = qr_code(labels[0].code)[0] * scale
    assert left + side <= 70.0
    assert top + side <= 37.0
    # A module that a phone can tell: a third of a millimetre, common practice, no source.
    assert scale >= 0.33
    for text in svg(page).iter("{http://www.w3.org/2000/svg}text"):
        own = float(text.attrib["x"]) + text_width(text.text, float(text.attrib["font-size"]))
        assert own <= left + 1e-3


# --- the command ---------------------------------------------------------------------------


def run(*arguments):
    return CliRunner().invoke(main, ["labels", str(CLIPS), *arguments])


def test_the_command(tmp_path):
    out = tmp_path / "labels.html"
    assert run("--size", "4x2in", "--paper", "letter", "--code", "--out", str(out)).exit_code == 0
    page = out.read_text(encoding="utf-8")
    # Twelve, twenty-four and eight pieces, ten labels a sheet.
    assert page.count("<svg") == 5
    assert page.count('class="code"') == 44
    roll = run("--paper", "roll", "--each", "bundle")
    assert roll.output.count("<svg") == 3
    assert "size: 70mm 37mm" in roll.output


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        pytest.param(("--size", "70x37"), "must be like 70x37mm", id="no unit"),
        pytest.param(("--size", "7x3mm"), "each side must be 15 to 500 mm", id="too small"),
        pytest.param(("--size", "250x37mm"), "no label of 250x37mm fits on A4", id="too wide"),
        pytest.param(("--margin", "5"), "say its unit too", id="a bare margin"),
        pytest.param(("--bundle", "5"), "goes with --each bundle", id="bundles of pieces"),
        pytest.param(("--skip", "24"), "less than the 24 labels", id="a whole sheet skipped"),
        pytest.param(("--paper", "roll", "--skip", "1"), "a roll has no", id="skipping on a roll"),
    ],
)
def test_the_command_says_what_is_wrong(asked, said):
    done = run(*asked)
    assert done.exit_code == 2
    assert said in done.output
