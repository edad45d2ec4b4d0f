"""Patterns as drawn: both ends, both legs, rows that are staggered."""

import pytest
from bmk_reading import in_mm, on_face, on_leg, part, printed, told

from translator.model import leg_of


def places(piece, leg="a"):
    return [(f.x_mm, f.y_mm) for f in leg_of(piece, leg).features]


def test_running_positions_from_both_ends():
    piece = part(on_leg("holes 18 gauge 50 at 40, 1 @ 60 from both ends"))
    assert places(piece) == [(40, 50), (100, 50), (200, 50), (260, 50)]


def test_a_chain_from_both_ends():
    piece = part(on_leg("holes 18 gauge 50, 70 spaces 40, 60 from both ends"))
    assert [x for x, _ in places(piece)] == [40, 100, 200, 260] * 2


def test_staggered_rows_change_from_place_to_place():
    piece = part(on_leg("holes 18 gauge 40, 70 staggered at 30, 4 @ 40"))
    assert places(piece) == [(30, 40), (110, 40), (190, 40), (70, 70), (150, 70)]


def test_three_staggered_rows():
    piece = part(on_leg("holes 18 gauge 30, 50, 70 staggered at 30, 4 @ 40"))
    assert places(piece) == [(30, 30), (150, 30), (70, 50), (190, 50), (110, 70)]


def test_staggered_rows_from_both_ends_are_a_mirror_image():
    piece = part(on_leg("holes 18 gauge 40, 70 staggered at 30, 60 from both ends"))
    assert places(piece) == [(30, 40), (270, 40), (60, 70), (240, 70)]


def test_both_legs_and_each_leg():
    piece = part(in_mm("both legs { holes 18 gauge 50 at 40 } leg b { hole 18 gauge 50 at 90 }"))
    assert places(piece) == [(40, 50)]
    assert places(piece, "b") == [(40, 50), (90, 50)]
    assert [f.id for f in leg_of(piece, "b").features] == ["b1", "b2"]


def test_trims_at_both_ends():
    piece = part(
        on_leg(
            "clip both ends toe 20 x 30 cope at both ends heel 20 long x 30 deep"
            " round both ends toe radius 5"
        )
    )
    assert [(t.kind, t.end) for t in leg_of(piece, "a").trims] == [
        (kind, end) for kind in ("clip", "cope", "rounding") for end in ("start", "far")
    ]


def test_mitres_at_both_ends():
    piece = part(in_mm("mitre both ends 10deg from square, long at toe of leg a"))
    assert (piece.ends.start.leg_a_deg, piece.ends.far.leg_a_deg) == (10, 10)


def test_they_read_back_from_the_print():
    piece = part(
        in_mm(
            "mitre both ends 10deg, long at heel of leg a"
            " both legs { holes 18 gauge 40, 70 staggered at 90, 30 @ 1 from both ends }"
        ).replace("30 @ 1", "1 @ 30")
    )
    assert part(printed(piece)) == piece


FAULTS = {
    "the middle from both ends": (
        on_leg("holes 18 gauge 50 at 40, 150 from both ends"),
        [
            (
                "5:35 position-twice: 150 mm is the middle of the piece, and the same from both"
                " ends: give it in a statement of its own."
            )
        ],
    ),
    "one staggered row": (
        on_leg("holes 18 gauge 50 staggered at 40, 90"),
        [
            (
                "5:28 meaningless: These holes can't be staggered: give two gauges or more to"
                " change between."
            )
        ],
    ),
    "both legs twice": (
        in_mm("both legs { } both legs { }"),
        ["5:16 given-twice: `both legs` is given twice: put all of it into one block."],
    ),
    "both legs of a flat": (
        in_mm("both legs { }", section="FB100x10"),
        ["5:2 syntax: A flat has no two legs: write `face { }`."],
    ),
    "mitre twice": (
        in_mm("mitre both ends 9deg long at toe of leg a mitre far 8deg long at toe of leg a"),
        ["5:44 given-twice: The far end of leg a has two mitres."],
    ),
    "both without ends": (
        on_face("hole 18 gauge 50 at 40 from both"),
        ["5:42 syntax: `ends` is needed after `both`, not `}`."],
    ),
    "a stamp from both ends": (
        on_leg("stamp mark at 40 from both ends from heel 20 height 10"),
        ["5:21 syntax: A stamp has one position."],
    ),
    "a forgotten brace before both legs": (
        in_mm("leg a { hole 18 gauge 50 at 40\n both legs { hole 18 gauge 50 at 90 }"),
        ["6:2 syntax: A `}` is missing before `both`: `leg a` of line 5 is still open."],
    ),
    "so many from both ends": (
        on_leg("holes 9 gauge 50 at 1, 15000 @ 0.001 from both ends"),
        ["5:10 too-many-features: 30002 features are more than 20000, the most a leg may have."],
    ),
}


@pytest.mark.parametrize(("text", "expected"), FAULTS.values(), ids=FAULTS)
def test_faults(text, expected):
    assert told(text) == expected
