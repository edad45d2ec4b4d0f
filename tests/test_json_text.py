"""JSON as it is laid out: against the standard library, and against the rule said the plain way."""

import json
import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from translator.json_text import json_text

WIDTH, RECORD = 100, 240
"""Columns of a line that is a list or an object, and of one that is an object of plain values."""

NAMES = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
PLAIN = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**30), 10**30),
    st.floats(allow_nan=False, allow_infinity=False),
    st.text(max_size=60),
)
VALUES = st.recursive(
    PLAIN,
    lambda inner: st.one_of(
        st.lists(inner, max_size=6),
        st.lists(inner, max_size=6).map(tuple),
        st.dictionaries(NAMES, inner, max_size=6),
    ),
    max_leaves=40,
)


def spelt(value):
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def laid_out(value, depth, used):
    """Lay a value out: on one line where that line fits, else each member on a line of its own."""
    line = spelt(value)
    if not value or not isinstance(value, dict | list | tuple):
        return line
    inside = value.values() if isinstance(value, dict) else value
    holds_none = not any(isinstance(member, dict | list | tuple) for member in inside)
    most = RECORD if isinstance(value, dict) and holds_none else WIDTH
    if len(line) + used <= most:
        return line
    blank = "  " * (depth + 1)
    lines = []
    for name in value if isinstance(value, dict) else range(len(value)):
        before = f"{blank}{spelt(name)}: " if isinstance(value, dict) else blank
        lines.append(before + laid_out(value[name], depth + 1, len(before) + 1))
    first, last = "{}" if isinstance(value, dict) else "[]"
    return "\n".join([first, ",\n".join(lines), "  " * depth + last])


@given(VALUES)
@settings(max_examples=150, deadline=None)
def test_it_reads_back_as_the_same_value(value):
    text = json_text(value)
    assert json.loads(text) == json.loads(json.dumps(value))
    assert text.endswith("\n")


@given(VALUES)
@settings(max_examples=150, deadline=None)
def test_a_line_is_broken_only_where_it_must_be(value):
    assume(spelt(value).isprintable())  # else signs are escaped as well
    assert json_text(value) == laid_out(value, 0, 0) + "\n"


@pytest.mark.parametrize("kind", ["list", "object", "record"])
@pytest.mark.parametrize("depth", [0, 1, 2, 3])
def test_at_the_last_column(kind, depth):
    for length in (*range(70, WIDTH + 5), *range(RECORD - 30, RECORD + 5)):
        value = {"list": ["x" * length], "object": {"n": ["x" * length]}}.get(
            kind, {"n": "x" * length}
        )
        for _ in range(depth):
            value = {"m": value, "k": [[], {}]}
        assert json_text(value) == laid_out(value, 0, 0) + "\n", (length, depth)


@pytest.mark.parametrize("number", [math.inf, -math.inf, math.nan])
@pytest.mark.parametrize("shape", [lambda n: n, lambda n: [n], lambda n: {"a": {"b": n}}])
def test_a_number_that_json_has_no_word_for_is_refused(number, shape):
    with pytest.raises(ValueError, match="JSON"):
        json_text(shape(number))


def test_signs_that_steer_a_terminal_are_escaped():
    text = json_text({"remark": "a\u202eb\x9b31m\x7f\u200b", "half": "\ud800"})
    assert text.isascii()
    assert json.loads(text) == {"remark": "a\u202eb\x9b31m\x7f\u200b", "half": "\ud800"}
