"""Parts of the opposite hand: what they take over, and what is said when they can't be read."""

import pytest
from bmk_reading import part, printed, read, told

from translator.findings import Severity
from translator.geometry.identity import mirrored, opposite_hand
from translator.model import leg_of
from translator.rules import rules
from translator.rules._run import run

BRACE = """\
units inch
drawing "E-103"
part B7 "brace" {
  section L3x3x1/4   length 24   quantity 6   grade A36
  mitre far 15deg, long at toe of leg a
  remark "galvanised after"
  leg a { cope start toe 2 long x 1 deep radius 1/2   holes bolt 3/4 gauge 1-3/4 at 4, 6-1/2 }
  waive edge-distance-short on leg a hole 2 at 1 "accepted"
}
"""
OPPOSITE = 'part B7R "other hand" opposite B7 { quantity 2 }\n'


def both(text):
    reading = read(text)
    assert [f for f in reading.findings if f.severity is not Severity.NOTE] == []
    return {placed.part.mark: placed.part for placed in reading.parts}


def test_the_opposite_is_the_mirror_image():
    parts = both(BRACE + OPPOSITE)
    drawn, other = parts["B7"], parts["B7R"]
    assert opposite_hand(drawn, other)
    same = {"mark": "B7", "title": "brace", "quantity": 6}
    assert other.model_copy(update=same) == mirrored(drawn)
    (cope,) = leg_of(other, "a").trims
    assert (cope.end, cope.side) == ("far", "toe")
    assert [f.x_mm for f in leg_of(other, "a").features] == pytest.approx([508.0, 444.5])
    assert other.ends.start == drawn.ends.far


def test_what_it_says_itself_and_what_it_takes_over():
    own = 'part B7R opposite B7 { grade A992 remark "r" lot "2" }'
    other = both(f'{BRACE}drawing "E-104"\n{own}')["B7R"]
    assert (other.quantity, other.title, other.grade, other.lot) == (1, None, "A992", "2")
    assert other.drawing == "E-104"
    assert other.remarks == ("galvanised after", "r")
    assert [w.feature for w in other.waivers] == ["a2"]


def test_what_the_drawn_part_says_itself_stands_over_the_file():
    text = f"{BRACE}grade A992\n{OPPOSITE}"
    assert both(text)["B7R"].grade == "A36"


def test_the_opposite_may_stand_first():
    head, rest = BRACE.split("part B7", 1)
    parts = read(f"{head}{OPPOSITE}part B7{rest}").parts
    assert [placed.part.mark for placed in parts] == ["B7R", "B7"]
    assert parts[0].part == both(BRACE + OPPOSITE)["B7R"]


def test_the_opposite_of_a_call():
    text = (
        "units mm family f(n) { section FB100x10 length n * 100 face { hole 18 gauge 30 at 40 } }"
        " part P = f(n = 3) { } part Q opposite P { }"
    )
    reading = read(text)
    assert reading.findings == ()
    assert [f.x_mm for f in leg_of(reading.parts[1].part, "face").features] == [260]
    lines = [r.message for r in reading.parts[1].beyond["legs.face.f1"]]
    assert lines == ["the line in the family f", "called in the part P"]


def test_an_opposite_reads_back_from_its_print():
    other = both(BRACE + OPPOSITE)["B7R"]
    assert part(printed(other)) == other


def test_places_are_at_the_word_and_at_the_line_of_the_drawn_part():
    placed = read(BRACE + OPPOSITE).parts[1]
    assert placed.places["ends.start"].line == 10
    assert [r.span.line for r in placed.beyond["ends.start"]] == [5]
    assert placed.places["ends.start"].column == 23
    assert placed.beyond["legs.a.a1"][0].message == "the line in the part B7"


def test_a_waiver_of_its_own_names_its_features():
    own = 'part B7R opposite B7 { waive end-distance-short on leg a hole 1 "seen" }'
    other = both(BRACE + own)["B7R"]
    assert [(w.rule, w.feature) for w in other.waivers] == [
        ("edge-distance-short", "a2"),
        ("end-distance-short", "a1"),
    ]


def test_notes_on_the_drawn_part_are_told_once():
    text = "units inch part P { section PL3/8x4 length 8 } part Q opposite P { }"
    found = [f for f in read(text).findings if f.rule == "section-assumed"]
    assert {f.mark for f in found} <= {"P"}


def test_words_and_carried_lines_are_told():
    text = (
        'units mm part P { section FB100x10 length 300 second work "cope the start" carried "x y" }'
        "\npart Q opposite P { }"
    )
    reading = read(text)
    assert [(f.rule, f.severity.value, f.span.line) for f in reading.findings] == [
        ("opposite-words", "note", 2),
        ("opposite-words", "note", 2),
    ]
    assert reading.parts[1].part.second_work == ("cope the start",)
    assert reading.parts[1].part.carried == ()


FAULTS = {
    "unknown mark": (
        BRACE.replace("B7", "BR-107") + "part B7R opposite BR-17 { }",
        ["10:19 opposite-unknown: There is no part BR-17 in this file: did you mean `BR-107`?"],
    ),
    "itself": (
        "units mm\npart P1 opposite P1 { }",
        [
            (
                "2:18 opposite-of-opposite: P1 is itself the opposite of a part: name the one that"
                " is drawn."
            )
        ],
    ),
    "ring": (
        "units mm\npart P1 opposite P2 { }\npart P2 opposite P1 { }",
        [
            (
                "2:18 opposite-of-opposite: P2 is itself the opposite of a part: name the one that"
                " is drawn."
            ),
            (
                "3:18 opposite-of-opposite: P1 is itself the opposite of a part: name the one that"
                " is drawn."
            ),
        ],
    ),
    "part with a fault": (
        "units mm\npart P1 { section FB100x10 }\npart P2 opposite P1 { }",
        [
            "2:1 length-missing: This part has no length: write `length 11-1/2`.",
            (
                "3:18 opposite-unread: P1 has a fault and is not read, so its opposite is not"
                " either."
            ),
        ],
    ),
    "two parts of the mark": (
        "units mm\npart P { section FB90x8 length 9 }\npart P { }\npart Q opposite P { }",
        [
            "3:1 length-missing: This part has no length: write `length 11-1/2`.",
            "3:1 section-missing: This part has no section: write `section L4x3-1/2x3/8`.",
            "4:17 opposite-unclear: 2 parts of this file have the mark P.",
        ],
    ),
    "something made": (
        BRACE + "part B7R opposite B7 { length 3 leg b { hole 18 gauge 50 at 40 } }",
        [
            (
                "10:24 opposite-adds: `length` has no place in an opposite part: what is made is"
                " the mirror image of the other part, in everything."
            ),
            (
                "10:33 opposite-adds: `leg` has no place in an opposite part: what is made is the"
                " mirror image of the other part, in everything."
            ),
        ],
    ),
}


@pytest.mark.parametrize(("text", "expected"), FAULTS.values(), ids=FAULTS)
def test_faults(text, expected):
    assert told(text) == expected


def test_many_opposites_of_a_large_part_are_bounded():
    remarks = " ".join('remark "r"' for _ in range(3_000))
    opposites = "\n".join(f"part Q{n} opposite P {{ }}" for n in range(60))
    text = f"units mm\npart P {{ section FB100x10 length 300 {remarks} }}\n{opposites}"
    assert any("families-too-long" in line for line in told(text))


def test_the_opposite_gets_its_own_findings():
    text = BRACE.replace("at 4, 6-1/2", "at 4, 22-3/4").replace("waive", "#")
    found = run(read(text + OPPOSITE).parts, rules()).findings[1]
    assert {f.mark for f in found} == {"B7R"}
    assert "end-distance-short" in {f.rule for f in found}
