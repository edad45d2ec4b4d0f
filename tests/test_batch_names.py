"""File names for marks: readable, safe, never shared."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from translator.batch.names import LONGEST, stems

HOSTILE = [
    pytest.param("C12", "C12", id="plain"),
    pytest.param("12-B_1.2+3", "12-B_1.2+3", id="all-kept-signs"),
    pytest.param("12-B/1", "12-B~2F1", id="slash"),
    pytest.param("a\\b", "a~5Cb", id="backslash"),
    pytest.param("../../etc/passwd", "~2E.~2F..~2Fetc~2Fpasswd", id="way-up"),
    pytest.param("..", "~2E.", id="dots"),
    pytest.param(".hidden", "~2Ehidden", id="hidden"),
    pytest.param("-rf", "~2Drf", id="looks-like-an-option"),
    pytest.param("CON", "~43ON", id="reserved"),
    pytest.param("nul.x", "~6Eul.x", id="reserved-with-ending"),
    pytest.param("LPT1", "~4CPT1", id="reserved-port"),
    pytest.param("LPT12", "LPT12", id="not-reserved"),
    pytest.param("A B", "A~20B", id="blank"),
    pytest.param("C:1", "C~3A1", id="drive"),
    pytest.param("A~2F", "A~7E2F", id="looks-escaped"),
    pytest.param("é", "~C3~A9", id="composed"),
    pytest.param("e\u0301", "e~CC~81", id="decomposed"),
    pytest.param("\u202eTXT", "~E2~80~AETXT", id="turns-the-line"),
    pytest.param('"*?<>|', "~22~2A~3F~3C~3E~7C", id="barred-signs"),
]


@pytest.mark.parametrize(("mark", "stem"), HOSTILE)
def test_stem_of_one_mark(mark, stem):
    assert stems([("", mark)]) == {("", mark): stem}


@pytest.mark.parametrize(
    ("keys", "expected"),
    [
        pytest.param([("", "C12"), ("", "c12")], ["C12", "~6312"], id="capitals-only"),
        pytest.param(
            [("A", "C12"), ("B", "C12"), ("A", "C13")],
            ["A~-C12", "B~-C12", "C13"],
            id="one-mark-of-two-orders",
        ),
        pytest.param([("", "C12"), ("A", "C12")], ["~-C12", "A~-C12"], id="with-and-without-order"),
        pytest.param(
            [("a", "C1"), ("A", "C1")], ["~61~-C1", "A~-C1"], id="orders-differ-in-capitals"
        ),
    ],
)
def test_stems_of_a_delivery(keys, expected):
    assert [stems(keys)[key] for key in keys] == expected


def test_over_long_marks_keep_their_beginning_and_differ():
    one, two = "M" * 200, "M" * 199 + "N"
    names = stems([("", one), ("", two)])
    assert len(set(names.values())) == 2
    for stem in names.values():
        assert len(stem) == LONGEST
        assert stem.startswith("MMMM")
        assert "~~" in stem


def test_order_of_the_marks_makes_no_difference():
    keys = [("", "c1"), ("", "C1"), ("x", "C1"), ("x", "A/1")]
    assert stems(keys) == stems(reversed(keys))


_marks = st.text(
    st.sampled_from("aAbBzZ0.-_~/\\ éÉßI\u0131\u0130con") | st.characters(codec="utf-8"),
    min_size=1,
    max_size=8,
)


@settings(deadline=None)
@given(st.lists(st.tuples(st.sampled_from(["", "a", "A", "T/1"]), _marks), max_size=12))
def test_no_two_parts_share_a_file_and_every_name_is_safe(keys):
    names = stems(keys)
    assert set(names) == set(keys)
    assert len({name.lower() for name in names.values()}) == len(names)
    for stem in names.values():
        assert re.fullmatch(r"[A-Za-z0-9_~][A-Za-z0-9._+~-]*", stem)
        assert len(stem) <= LONGEST
        assert stem.split(".", 1)[0].upper() not in {"CON", "NUL", "AUX", "PRN", "COM1"}
