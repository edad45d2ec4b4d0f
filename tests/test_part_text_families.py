"""Families of parts: what a call comes to, and what is said of calls that do not fit."""

from fractions import Fraction

import pytest
from bmk_reading import part, printed, read, told
from hypothesis import given, settings
from hypothesis import strategies as st

from translator.findings import Severity
from translator.model import leg_names, leg_of
from translator.rules import rules
from translator.rules._run import run

CLIP = """\
units inch
family clip(rows, pitch = 3, line = 2-1/2) {
  section L4x3-1/2x3/8
  length  2 * 1-1/4 + (rows - 1) * pitch
  leg a { holes 13/16 gauge line at 1-1/4, (rows - 1) @ pitch }
}
"""

BLOCK = """\
units inch
order "TQ-7"   drawing "E-104"  revision "B"
grade A36

part C12 "beam clip" {
  section  L4x3-1/2x3/8
  length   11-1/2
  quantity 24
  leg a {
    holes 13/16  gauge 2-1/2  at 1-1/4, 3 @ 3         # first at 1-1/4, then three more spaces of 3
  }
  leg b {
    slots 13/16 x 1 across leg  gauge 2  spaces 1-1/4, 3 @ 3 = 9, 1-1/4 to end
    stamp mark at 5-1/4 from heel 1-1/8 height 3/8
  }
}

part B7 "brace" {
  section  L3x3x1/4     length 9'-4 1/2"    quantity 6
  mitre far 15deg from square, long at toe of leg a
  leg a { cope start toe 2 long x 1 deep radius 1/2   holes bolt 3/4 gauge 1-3/4 at 4, 6-1/2   \
holes bolt 3/4 gauge 2-1/16 at 12 }
  waive edge-distance-short on leg a hole 3 at 15/16 "RFI 17: engineer accepts" by "QA"
}

part B7R opposite B7 { quantity 6 }

family clip(rows, pitch = 3, line = 2-1/2) {
  section L4x3-1/2x3/8
  length  2 * 1-1/4 + (rows - 1) * pitch
  leg a { holes 13/16 gauge line at 1-1/4, (rows - 1) @ pitch }
}
part C20 = clip(rows = 5) { quantity 8 }
"""


def xs(piece, leg="a"):
    return [feature.x_mm for feature in leg_of(piece, leg).features]


def test_the_reference_block_has_nothing_above_a_note():
    reading = read(BLOCK)
    assert [placed.part.mark for placed in reading.parts] == ["C12", "B7", "B7R", "C20"]
    checked = run(reading.parts, rules())
    found = [*reading.findings, *(f for each in checked.findings for f in each)]
    assert [f for f in found if f.severity is not Severity.NOTE and f.waived is None] == []
    waived = [(f.mark, f.rule, f.waived) for f in found if f.waived is not None]
    reason = "RFI 17: engineer accepts (accepted down to 23.8125 mm, by QA)"  # 15/16 in.
    assert sorted(waived) == [
        ("B7", "edge-distance-short", reason),
        ("B7R", "edge-distance-short", reason),
    ]


def test_a_call_comes_to_what_is_typed_out():
    called = part(CLIP + "part C20 = clip(rows = 5) { quantity 8 }")
    typed = part(
        "units inch part C20 { section L4x3-1/2x3/8 length 14-1/2 quantity 8"
        " leg a { holes 13/16 gauge 2-1/2 at 1-1/4, 4 @ 3 } }"
    )
    assert called == typed
    assert part(printed(called)) == called


def test_arguments_take_the_place_of_defaults():
    piece = part(CLIP + "part C21 = clip(line = 2, rows = 2, pitch = 70mm) { }")
    assert piece.length_mm == pytest.approx(63.5 + 70)
    assert [f.y_mm for f in leg_of(piece, "a").features] == [50.8, 50.8]
    assert xs(piece) == [31.75, 101.75]


def test_defaults_work_with_the_parameters_before_them():
    piece = part(
        "units mm family tab(rows, pitch = 70, long = 2 * 40 + (rows - 1) * pitch) {"
        " section FB100x10 length long } part T1 = tab(rows = 4) { }"
    )
    assert piece.length_mm == 290


def test_a_body_adds_and_overrides():
    piece = part(
        CLIP + 'part C22 "x" = clip(rows = 2) { length 6 grade A36 leg a { hole 13/16 gauge 1-1/4'
        ' at 3 id "mid" } leg b { holes 13/16 gauge 2 at 3 } remark "r" }'
    )
    assert piece.length_mm == pytest.approx(152.4)
    assert [f.id for f in leg_of(piece, "a").features] == ["a1", "a2", "mid"]
    assert xs(piece, "b") == [76.2]
    assert (piece.title, piece.grade, piece.remarks) == ("x", "A36", ("r",))


def test_a_mitre_of_the_body_overrides_the_familys():
    text = (
        "units mm family f(long) { section FB100x10 length long"
        " mitre far 10deg, long at upper mitre start 5deg, long at upper }"
        " part P = f(long = 400) { mitre far 20deg, long at lower }"
    )
    ends = part(text).ends
    assert (ends.start.face_deg, ends.far.face_deg) == (5.0, -20.0)


def test_what_the_file_says_holds_where_the_part_stands():
    first, second = (f"part P{n} = clip(rows = 2) {{ }}" for n in (1, 2))
    text = f'{CLIP}grade A36\n{first}\ngrade "A992"\n{second}'
    assert [placed.part.grade for placed in read(text).parts] == ["A36", "A992"]


def test_a_familys_own_word_stands_over_the_files():
    text = (
        CLIP.replace("length ", "grade S355J2 length ", 1)
        + "grade A36 part P1 = clip(rows = 2) { }"
    )
    assert part(text).grade == "S355J2"


def test_a_family_builds_on_another():
    text = (
        "units mm family base(long, g = 50) { section L100x100x10 length long"
        " leg a { hole 18 gauge g at 40 } }"
        " family more(n) = base(long = n * 100 + 80) { leg a { hole 18 gauge 50 at n * 100 } }"
        " part P = more(n = 3) { leg a { hole 18 gauge 50 at 350 } }"
    )
    piece = part(text)
    assert piece.length_mm == 380
    assert xs(piece) == [40, 300, 350]


def test_a_family_may_be_called_before_it_stands_and_be_named_like_a_keyword():
    piece = part(
        "units mm part P = hole(n = 2) { } family hole(n) { section FB100x10 length n * 50 }"
    )
    assert piece.length_mm == 100
    assert piece.units == "mm"


def test_places_are_at_the_call_and_at_the_familys_line():
    (placed,) = read(CLIP + "part C20 = clip(rows = 5) { quantity 8 }").parts
    assert placed.places["length"] == ("shop/x.bmk", 7, 12, 7, 26)
    (line,) = placed.beyond["length"]
    assert (line.span.line, line.message) == (4, "the line in the family clip")
    assert "quantity" not in placed.beyond
    assert placed.places["quantity"].column == 29


def test_rules_tell_both_places():
    (placed,) = read(CLIP + "part C20 = clip(rows = 2, line = 3-1/2) { }").parts
    (found,) = run([placed], rules()).findings
    short = next(f for f in found if f.rule == "edge-distance-short")
    assert short.span.line == 7
    assert [r.span.line for r in short.related] == [5]


FAULTS = {
    "missing parameter": (
        CLIP + "part P = clip() { }",
        ["7:10 parameter-missing: The family clip needs rows: write `rows = ...`."],
    ),
    "two missing parameters": (
        "units mm family f(m, n) { section FB100x10 length m + n }\npart P = f() { }",
        ["2:10 parameter-missing: The family f needs m and n: write `m = ...`."],
    ),
    "unknown parameter": (
        CLIP + "part P = clip(rows = 2, pich = 3) { }",
        ["7:25 parameter-unknown: The family clip has no parameter pich: did you mean `pitch`?"],
    ),
    "parameter given twice": (
        CLIP + "part P = clip(rows = 2, rows = 3) { }",
        ["7:25 given-twice: The parameter rows is given twice."],
    ),
    "length for a count": (
        CLIP + "part P = clip(rows = 2in) { }",
        [
            "7:10 count-not-whole: 1 in. is a length, not a count of spaces.",
        ],
    ),
    "no whole count": (
        CLIP + "part P = clip(rows = 2-1/2) { }",
        [
            (
                "7:10 count-not-whole: 1.5 is no count of spaces: it must be 0 or a whole number"
                " above it."
            ),
        ],
    ),
    "unknown family": (
        CLIP + "part P = clipp(rows = 2) { }",
        ["7:10 family-unknown: There is no family clipp: did you mean `clip`?"],
    ),
    "unknown family, nothing near": (
        "part P = clip(rows = 2) { }",
        ["1:10 family-unknown: There is no family clip."],
    ),
    "name that is no parameter, told once": (
        (
            "units mm family f(n) { section FB100x10 length m }\npart P = f(n = 2) { }\n"
            "part Q = f(n = 3) { }"
        ),
        [
            (
                "1:48 name-unknown: `m` stands for nothing here: before this, the family f has"
                " no parameter of that name."
            ),
            "2:10 family-unsound: The family f has a fault at line 1: it can't be called.",
            "3:10 family-unsound: The family f has a fault at line 1: it can't be called.",
        ],
    ),
    "default of a later parameter": (
        "units mm family f(pitch = rows, rows = 2) { section FB100x10 length pitch }",
        [
            (
                "1:27 name-unknown: `rows` stands for nothing here: before this, the family f has"
                " no parameter of that name."
            ),
        ],
    ),
    "name in the body of a part": (
        CLIP + "part P = clip(rows = 2) { length pitch }",
        [
            (
                "7:34 name-unknown: `pitch` stands for nothing here: only a family gives names to"
                " numbers."
            ),
        ],
    ),
    "parameter declared twice": (
        "family f(n, n) { }",
        ["1:13 given-twice: The parameter n of the family f stands twice."],
    ),
    "family declared twice": (
        "family f() { }\nfamily f() { }",
        ["2:8 given-twice: There are two families f: give one of them another name."],
    ),
    "family in a ring of two": (
        "family f() = g() { }\nfamily g() = f() { }\npart P = f() { }",
        [
            "1:14 family-in-a-ring: These families build on each other in a ring: f on g on f.",
            "2:14 family-in-a-ring: These families build on each other in a ring: f on g on f.",
            "3:10 family-unsound: The family f has a fault at line 1: it can't be called.",
        ],
    ),
    "family on itself": (
        "family f() = f() { }",
        ["1:14 family-in-a-ring: These families build on each other in a ring: f on f."],
    ),
    "family on an unknown one": (
        "family fin() = clipp() { } family clip() { }\npart P = fin() { }",
        [
            "1:16 family-unknown: There is no family clipp: did you mean `clip`?",
            "2:10 family-unsound: The family fin has a fault at line 1: it can't be called.",
        ],
    ),
    "fault of spelling in a family": (
        "units mm\nfamily f() { section FB100x10 lenght 3 }\npart P = f() { }",
        [
            "2:31 syntax: `lenght` is no word known here: did you mean `length`?",
            "3:10 family-unsound: The family f has a fault at line 2: it can't be called.",
        ],
    ),
    "no length anywhere": (
        "units mm family f() { section FB100x10 }\npart P = f() { }",
        ["2:1 length-missing: This part has no length: write `length 11-1/2`."],
    ),
    "given twice in a family": (
        "units mm family f() { section FB100x10 length 3 length 4 }\npart P = f() { }",
        ["2:10 given-twice: The length of this family is given twice."],
    ),
}


@pytest.mark.parametrize(("text", "expected"), FAULTS.values(), ids=FAULTS)
def test_faults(text, expected):
    assert told(text) == expected


def test_a_fault_in_a_family_names_its_line_and_each_call():
    text = (
        "units mm\nfamily base(n) {\n section FB100x10 length 300\n"
        " face { holes 18 gauge 50 at 30, n @ 40 }\n}\n"
        "family more(m) = base(n = m) { }\npart P = more(m = 2.5) { }"
    )
    (finding,) = read(text).findings
    assert (finding.rule, finding.span.line, finding.mark) == ("count-not-whole", 7, "P")
    assert [(r.span.line, r.message) for r in finding.related] == [
        (4, "the line in the family base"),
        (6, "called in the family more"),
    ]


def chain(depth):
    links = [f"family f{n}(k) = f{n - 1}(k = k) {{ }}" for n in range(1, depth)]
    base = "units mm\nfamily f0(k) { section FB100x10 length k * 100 }"
    return "\n".join([base, *links, f"part P = f{depth - 1}(k = 3) {{ }}"])


def test_sixteen_families_may_build_on_each_other_and_no_more():
    assert part(chain(16)).length_mm == 300
    assert {line.split(" ")[1] for line in told(chain(17))} == {
        "families-too-deep:",
        "family-unsound:",
    }


def test_a_very_long_chain_is_told_fast():
    assert len(told(chain(2000))) < 4000


def test_a_ring_of_very_many():
    text = "\n".join(f"family f{n}() = f{(n + 1) % 300}() {{ }}" for n in range(300))
    assert len(told(text)) == 300


def test_calls_of_a_huge_family_are_bounded():
    remarks = " ".join('remark "r"' for _ in range(3_000))
    calls = "\n".join(f"part P{n} = f() {{ }}" for n in range(60))
    text = f"units mm\nfamily f() {{ section FB100x10 length 300 {remarks} }}\n{calls}"
    found = told(text)
    assert any("families-too-long" in line for line in found)


def test_holes_of_many_calls_are_bounded():
    calls = "\n".join(f"part P{n} = f(n = 9000) {{ }}" for n in range(100))
    text = (
        "units mm\nfamily f(n) { section FB100x10 length 300 face { holes 5 gauge 50 at 1, n @ 0.01"
        f" }} }}\n{calls}"
    )
    assert any("too-many-features" in line for line in told(text))


def test_numbers_of_many_digits_are_refused():
    parameters = ", ".join(f"p{n} = p{n - 1} * p{n - 1}" for n in range(1, 40))
    family = f"units mm family f(p0, {parameters}) {{ section FB100x10 length p39 }}"
    text = f"{family} part P = f(p0 = 3) {{ }}"
    assert any("number-too-long" in line for line in told(text))


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    rows=st.integers(1, 30),
    pitch=st.integers(8, 48).map(lambda eighths: Fraction(eighths, 8)),
)
def test_a_call_is_what_arithmetic_says(rows, pitch):
    piece = part(
        CLIP
        + f"part P = clip(rows = {rows}, pitch = {pitch.numerator} / {pitch.denominator}) {{ }}"
    )
    length = (Fraction(5, 2) + (rows - 1) * pitch) * Fraction(127, 5)
    assert piece.length_mm == pytest.approx(float(length), abs=1e-6)
    assert len(xs(piece)) == rows
    assert leg_names(piece) == ("a", "b")
