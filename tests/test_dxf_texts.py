"""Texts of a drawing: whatever a mark or a stamp says, it reads back and stays a text."""

import re

import ezdxf
import pytest
from dxf_parts import BEAM_CLIP, COPED
from dxf_reading import Sheet
from ezdxf import bbox
from hypothesis import example, given, settings
from hypothesis import strategies as st

from translator.emitters import EmitOptions
from translator.emitters.dxf import EMITTER, _text
from translator.model import AngleLegs, Leg, Stamp
from translator.source import printable

HOSTILE = {
    "overline and degree codes": "%%oA%%d %%c20 %%p1",
    "percent signs": "100% %%% 50%%",
    "character number": "%%065",
    "unicode code": r"\U+0041\U+00B0 \M+18140",
    "paragraph and braces": r"{\Fromans|c0;A}\P\pxi-3;B\\",
    "caret": "^J^M^I ^^ A^ B",
    "end of file": "0\\nEOF",
    "quotes and formula": '=HYPERLINK("x")\'',
    "markup": "<b>&amp;</b>",
    "blanks": "  A  B  ",
    "only a blank": " ",
    "other scripts": "Pfosten Ø20 \u2013 č ž ł 鋼 角 ж",
    "beyond the first plane": "𝄞 A",
    "one backslash": "\\",
}


def emitted(part, leg="b"):
    return EMITTER.emit(part, EmitOptions(leg=leg))


def told(part, *, unchecked=False, **fields):
    """Return the part with other fields, past the model's own checks if asked."""
    values = {n: fields.get(n, getattr(part, n)) for n in type(part).model_fields}
    return type(part).model_construct(**values) if unchecked else type(part)(**values)


def stamped(text, *, unchecked=False):
    build = Stamp.model_construct if unchecked else Stamp
    stamp = build(
        id="b1",
        kind="stamp",
        text=text,
        x_mm=50.0,
        from_heel_mm=30.0,
        height_mm=8.0,
        angle_deg=0.0,
        may_move=False,
    )
    legs = AngleLegs.model_construct(a=Leg(), b=Leg.model_construct(features=(stamp,), trims=()))
    return told(COPED, legs=legs, unchecked=True)


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE.keys())
def test_a_stamp_reads_back_as_it_was(text, tmp_path):
    path = tmp_path / "leg.dxf"
    path.write_bytes(emitted(stamped(text)))
    drawing = ezdxf.readfile(path)
    auditor = drawing.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    (letters,) = Sheet(path.read_bytes()).letters("STAMP")
    assert letters.text == text


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE.keys())
def test_all_other_texts_read_back(text):
    fields = ("mark", "title", "grade", "order", "drawing", "revision", "phase", "lot", "finish")
    part = told(COPED, **dict.fromkeys(fields, text), remarks=(text,), second_work=(text,))
    sheet = Sheet(emitted(part))
    auditor = sheet.drawing.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    facts = sheet.facts()
    # Long lines are broken at a blank; blanks are not counted here.
    # The reader itself drops carets at the end of a line.
    bare = re.sub(r"[\s^]", "", text)
    captions = ("MARK", "TITLE", "GRADE", "ORDER", "DRAWING", "REVISION", "PHASE", "LOT", "FINISH")
    assert {c: re.sub(r"[\s^]", "", facts[c]) for c in captions} == dict.fromkeys(captions, bare)
    notes = re.sub(r"[\s^]", "", facts["NOTES"])
    assert f"Secondwork:{bare}Remark:{bare}" in notes


@settings(max_examples=40, deadline=None)
@given(st.text(min_size=1, max_size=30))
@example("%%")
@example("A%%%%")
@example("\\\\U+0041")
@example("\x00\n\r\x1a\x85\u2028\u202e\ud800")
def test_any_text_reads_back(text):
    (letters,) = Sheet(emitted(stamped(text, unchecked=True))).letters("STAMP")
    # The reader itself drops carets at the end of a text.
    assert letters.text.rstrip("^") == printable(text).rstrip("^")


INJECTION = "C12\n  0\nENDSEC\n  0\nEOF\n  0\nLINE\r  8\r0\r"


def groups(data):
    lines = data.decode("utf-8").split("\n")
    assert lines[-1] == ""
    assert len(lines) % 2 == 1
    return list(zip(lines[:-1:2], lines[1::2], strict=True))


def test_no_text_can_begin_a_group_even_past_the_model():
    """The model refuses control characters; a part built around it gets no further."""
    plain, hostile = (
        told(BEAM_CLIP, mark=text, title=text, order=text, remarks=(text,), unchecked=True)
        for text in ("C12", INJECTION)
    )
    before, after = groups(emitted(plain)), groups(emitted(hostile))
    assert all(re.fullmatch(r" *\d{1,4}", code) for code, _ in after)
    assert [pair for pair in after if pair[1] == "EOF"] == [("  0", "EOF")]
    assert after[-1] == ("  0", "EOF")
    kinds = [value for code, value in after if code.strip() == "0" and value != "TEXT"]
    assert kinds == [value for code, value in before if code.strip() == "0" and value != "TEXT"]
    (stamp,) = Sheet(emitted(hostile)).letters("STAMP")
    assert stamp.text == printable(INJECTION)


@pytest.mark.parametrize(
    ("names", "words"),
    [
        (["a1", "a2", "a3", "a4"], "a1 to a4"),
        (["a1", "a2"], "a1, a2"),
        (["a1", "a3", "a4", "a5"], "a1, a3 to a5"),
        (["a1", "b2", "b3"], "a1, b2, b3"),
        (["a09", "a10", "a11"], "a09, a10, a11"),
        (["x", "y", "z"], "x, y, z"),
        (["9", "10", "11"], "9 to 11"),
        (["a5", "a4", "a3"], "a5, a4, a3"),
    ],
)
def test_runs_of_names_are_told_shortly(names, words):
    assert _text.ranges(names) == words


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("", []),
        ("short", ["short"]),
        ("four and five six", ["four and", "five six"]),
        ("abcdefghijklmnopqr", ["abcdefghijkl", "mnopqr"]),
        ("WWWWWWWWW", ["WWWWWW", "WWW"]),
        ("W", ["W"]),
    ],
)
def test_long_lines_are_broken_at_blanks(text, lines):
    assert list(_text.fitted(text, 10.0)) == lines


def test_further_lines_of_a_broad_room_are_indented():
    lines = list(_text.fitted("plain words of a remark that goes on and on, " * 3, 40.0))
    assert len(lines) > 2
    assert not lines[0].startswith(" ")
    assert all(re.match(r"  \S", line) for line in lines[1:])


@given(st.text(st.characters(min_codepoint=32, max_codepoint=0x2FF), max_size=200))
def test_no_line_is_broader_than_its_room_and_nothing_is_lost(text):
    lines = list(_text.fitted(text, 12.0))
    assert all(_text.width(line) <= 12.0 for line in lines)
    assert re.sub(r"\s", "", "".join(lines)) == re.sub(r"\s", "", printable(text))


@pytest.mark.parametrize(
    "text", ["C12", "LEG B: OUTSIDE FACE", "MWM", "10 x hole 13/16; gauge 2-1/2", "Größe 鋼"]
)
def test_the_room_planned_for_a_text_is_enough(text):
    """Measured by the independent reader with the font it finds on this machine."""
    drawing = ezdxf.new("R2010")
    drawing.styles.add("LETTERS", font="arial.ttf")
    entity = drawing.modelspace().add_text(text, height=10, dxfattribs={"style": "LETTERS"})
    assert bbox.extents([entity]).size.x <= 10 * _text.width(text)


def test_a_text_is_broken_without_measuring_all_the_rest_for_each_line(monkeypatch):
    measured = 0

    class Counted(dict):
        def get(self, letter, otherwise):
            nonlocal measured
            measured += 1
            return super().get(letter, otherwise)

    monkeypatch.setattr(_text, "_ROOM", Counted(_text._ROOM))
    text = ", ".join(f"{number} mm" for number in range(5_000, 9_000))
    for kept in (_text.one_line, _text.broken):
        kept.cache_clear()
    lines = _text.fitted(text, 80.0)
    assert " ".join(line.strip() for line in lines) == text
    assert len(text) / 2 < measured < 3 * len(text)
