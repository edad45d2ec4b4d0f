"""Bars that get no program: why, and what would help."""

import pytest
from bar_machines import changed
from machine_parts import hole, slot
from program_bars import (
    BENCH,
    FAR,
    L100X75,
    PUNCHING,
    SAWING,
    START,
    bar,
    part,
    piece,
    program,
    refusals,
    slug,
    stops,
)

from translator.model import AngleEnd, AngleEnds, AngleLegs, Cope, Leg

BOTH_MITRED = AngleEnds(start=AngleEnd(leg_a_deg=45.0, leg_b_deg=45.0))


def test_a_part_that_is_not_there():
    one = part()
    assert refusals(program(bar(piece(one)), [])) == [
        ("part-missing", "W1 is on the bar, but not among the parts")
    ]


def test_a_part_of_another_revision_is_not_there():
    one = part(revision="B")
    laid = bar(piece(one, revision="A"))
    assert refusals(program(laid, [one])) == [
        ("part-missing", "W1 revision A is on the bar, but not among the parts")
    ]


def test_a_part_that_was_changed():
    one = part(length_mm=310.0)
    found = refusals(program(bar(piece(part())), [one]))
    assert ("length-differs", "W1 is 310 mm long, in the plan 300 mm") in found


def test_a_piece_that_the_machine_can_not_make_as_it_lies():
    """A slot across leg b: with the start end leading leg b lies right, where holes are drilled."""
    one = part(b=[slot("b1", 150.0, 50.0, width=20.6375, length=25.4, angle_deg=90.0)])
    made = program(bar(piece(one)), [one])
    assert refusals(made) == [
        (
            "slot-without-tool",
            "slot b1 is 20.637 x 25.4 mm, no tool on the right side makes it",
        )
    ]
    assert made.refused[0].remedy == "plan it with its far end leading"
    assert (made.refused[0].piece, made.refused[0].source.line) == (1, 14)


def test_a_hole_that_breaks_the_end_would_cut_into_the_next_piece():
    """6 mm from the end on a saw that asks for no distance; radius 9."""
    one = part(a=[hole("a1", 6.0, 45.0, 18.0)])
    made = program(bar(piece(one, lead=15.0), loss=5.0, kind="saw"), [one], SAWING)
    assert refusals(made) == [
        (
            "hole-breaks-end",
            (
                "a1 of W1 reaches 3 mm over the leading end: on the bar it would cut into the next"
                " piece"
            ),
        )
    ]


def test_a_cut_in_the_dead_end():
    """The bar ends 100 mm behind the cut, the tail is 203.2."""
    one = part()
    assert refusals(program(bar(piece(one), length=410.0), [one])) == [
        (
            "in-dead-end",
            (
                "the cut at 310 mm is 100 mm from the trailing end of the bar, less than the"
                " 203.2 mm that can't be brought under the tools"
            ),
        )
    ]


def test_a_hole_in_the_dead_end_of_a_piece_that_ends_with_the_bar():
    """The bar ends with the piece, no cut; its hole is 100 mm from the end."""
    one = part(a=[hole("a1", 200.0, 50.0, 18.0)])
    laid = bar(piece(one), cuts=[slug(-6.0, "behind", behind=1)], length=310.0)
    found = refusals(program(laid, [one]))
    assert found == [
        (
            "in-dead-end",
            (
                "a1 of piece 1 (W1) is 100 mm from the trailing end of the bar, less than the"
                " 203.2 mm that can't be brought under the tools"
            ),
        )
    ]


def test_a_bar_too_long_for_the_travel_of_a_carriage_that_can_not_regrip():
    """Line 2 with 6 m of travel: at feed 65 the jaw of a 9 m bar is at 65 - 8850."""

    def short(raw):
        raw["grip"]["travel_mm"] = 6000.0

    one = part(a=[hole("a1", 50.0, 45.0, 18.0)])
    laid = bar(piece(one, lead=15.0), loss=5.0, kind="saw", length=9000.0)
    made = program(laid, [one], own=changed("short", SAWING, short))
    assert refusals(made) == [
        (
            "beyond-travel",
            (
                "for a1 of piece 1 (W1) the carriage would stand 4185 mm behind its rearmost place:"
                " its travel is 6000 mm, and it can't regrip"
            ),
        )
    ]
    assert made.refused[0].remedy.startswith("plan for shorter bars")


def test_legs_keep_their_sides_on_a_bar():
    one = part(section=L100X75)
    other = part(section=L100X75, mark="W2")
    laid = bar(piece(one), piece(other, 2, 326.0, FAR))
    assert [rule for rule, _ in refusals(program(laid, [one, other]))] == ["section-differs"]


@pytest.mark.parametrize(
    ("cuts", "rule"),
    [
        ([slug(-6.0, "behind", behind=1)], "end-not-cut"),
        ([slug(-6.0, "behind", behind=1), slug(311.0, "ahead", ahead=1)], "end-not-cut"),
        ([slug(-6.0, "behind", behind=1), slug(310.0, "ahead", ahead=1, loss=5.0)], "cut-differs"),
        (
            [
                slug(5.0, "behind", behind=1, kind="saw", loss=5.0),
                slug(310.0, "ahead", ahead=1, kind="saw", loss=5.0),
            ],
            "cut-differs",
        ),
    ],
    ids=["no cut behind", "cut elsewhere", "another slug", "a saw"],
)
def test_cuts_that_do_not_make_the_piece(cuts, rule):
    one = part()
    assert rule in [found for found, _ in refusals(program(bar(piece(one), cuts=cuts), [one]))]


def test_a_mitre_swung_the_wrong_way():
    """Long at the toe of leg a, that lies left: at the leading end the swing is positive."""
    one = part(ends=AngleEnds(start=AngleEnd(leg_a_deg=45.0)), length_mm=400.0)
    loss = 5.0 * 2.0**0.5
    back = slug(415.0, "ahead", ahead=1, kind="saw", loss=5.0)
    # its heel stands back by the leg's 90 mm
    good, bad = (
        slug(105.0 - loss, "behind", behind=1, kind="saw", loss=loss).model_copy(
            update={"left_deg": degrees}
        )
        for degrees in (45.0, -45.0)
    )
    found = {}
    for name, front in (("good", good), ("bad", bad)):
        laid = bar(piece(one, lead=15.0), cuts=[front, back])
        found[name] = [f.rule for f in program(laid, [one], SAWING).refused]
    assert found == {"good": [], "bad": ["end-not-cut"]}


FRONT = slug(-6.0, "behind", behind=1)
BETWEEN = slug(310.0, "both", ahead=1, behind=2)
LAST = slug(626.0, "ahead", ahead=2)


@pytest.mark.parametrize(
    ("numbers", "cuts", "said"),
    [
        ((2, 1), [FRONT, BETWEEN, LAST], "the pieces are not numbered from 1 on in order"),
        ((1, 1), [FRONT, BETWEEN, LAST], "the pieces are not numbered from 1 on in order"),
        ((1, 2), [FRONT, LAST, BETWEEN], "the cuts are not in the order of the pieces"),
        ((1, 2), [FRONT, BETWEEN, BETWEEN, LAST], "the cuts are not in the order of the pieces"),
        (
            (1, 2),
            [FRONT, BETWEEN.model_copy(update={"serves": "ahead"}), LAST],
            "the cut at 310 mm does not name the pieces that it serves",
        ),
        (
            (1, 2),
            [slug(50.0, "trim"), FRONT, BETWEEN, LAST],
            "the trim at 50 mm cuts into the pieces",
        ),
    ],
    ids=["turned round", "twice 1", "last first", "cut twice", "names too many", "through a piece"],
)
def test_a_plan_out_of_order(numbers, cuts, said):
    one = part()
    pieces = [piece(one, n, lead) for n, lead in zip(numbers, (10.0, 326.0), strict=True)]
    assert ("plan-out-of-order", said) in refusals(program(bar(*pieces, cuts=cuts), [one]))


def test_a_trim_ahead_of_the_first_piece_is_cut():
    one = part()
    front = [slug(-8.0, "trim"), slug(4.0, "behind", behind=1), slug(320.0, "ahead", ahead=1)]
    made = program(bar(piece(one, 1, 20.0), cuts=front), [one])
    assert made.refused == ()
    assert [op.serves for stop in stops(made) for op in stop.operations] == [
        *("trim", "behind", "ahead")
    ]


def test_pieces_that_overlap():
    one = part()
    pieces = [piece(one, 1, 10.0), piece(one, 2, 320.0)]
    cuts = [
        slug(-6.0, "behind", behind=1),
        slug(310.0, "ahead", ahead=1),
        slug(304.0, "behind", behind=2),
        slug(620.0, "ahead", ahead=2),
    ]
    assert refusals(program(bar(*pieces, cuts=cuts), [one])) == [
        (
            "pieces-overlap",
            "piece 2 (W1) begins at 320 mm of the bar, steel is left from 326 mm on",
        )
    ]


def test_pieces_that_overlap_on_the_inside_only():
    """Mitred 45 degrees on both legs, long at both toes: inside, the toes reach 9 mm farther.

    Piece 1 ends at 305, the kerf at 308, where piece 2 begins by its outer faces.
    """
    one, two = part(), part(mark="W2", length_mm=400.0, ends=BOTH_MITRED)
    loss = 3.0 * 3.0**0.5
    swung = slug(308.0 + 90.0 - loss, "behind", behind=2, kind="saw", loss=loss)
    cuts = [
        slug(2.0, "behind", behind=1, kind="saw", loss=3.0),
        slug(305.0, "ahead", ahead=1, kind="saw", loss=3.0),
        swung.model_copy(update={"left_deg": 45.0, "right_deg": 45.0}),
        slug(708.0, "ahead", ahead=2, kind="saw", loss=3.0),
    ]
    laid = bar(piece(one, 1, 5.0), piece(two, 2, 308.0), cuts=cuts)
    assert refusals(program(laid, [one, two], BENCH)) == [
        (
            "pieces-overlap",
            "piece 2 (W2) begins at 299 mm of the bar, steel is left from 308 mm on",
        )
    ]


def test_a_first_piece_that_wants_more_than_the_front_of_the_bar():
    """The same piece, 5 mm behind the front: its inside begins 4 mm before the bar does."""
    one = part(length_mm=400.0, ends=BOTH_MITRED)
    loss = 3.0 * 3.0**0.5
    swung = slug(5.0 + 90.0 - loss, "behind", behind=1, kind="saw", loss=loss)
    cuts = [
        swung.model_copy(update={"left_deg": 45.0, "right_deg": 45.0}),
        slug(405.0, "ahead", ahead=1, kind="saw", loss=3.0),
    ]
    assert refusals(program(bar(piece(one, 1, 5.0), cuts=cuts), [one], BENCH)) == [
        ("beyond-the-bar", "piece 1 (W1) reaches to -4 mm of a bar of 6000 mm")
    ]


def test_a_piece_past_the_bar_as_measured():
    one = part()
    found = refusals(program(bar(piece(one), measured_mm=305.0), [one]))
    assert ("beyond-the-bar", "piece 1 (W1) ends at 310 mm of a bar of 305 mm") in found


def test_a_placement_that_the_machine_does_not_offer():
    one = part()
    up = START.model_copy(update={"heel": "up", "lead_end": "far"})
    found = refusals(program(bar(piece(one, placement=up), heel="up"), [one]))
    assert "placement-not-offered" in [rule for rule, _ in found]


def test_a_machine_that_does_not_cut():
    own = changed("uncut", PUNCHING, lambda raw: raw.pop("cut_off"))
    one = part()
    assert ("no-cut-off", "Line 1 does not cut bars: its profile has no cut_off") in refusals(
        program(bar(piece(one)), [one], own=own)
    )


def test_second_work_the_shop_does_not_do_refuses_the_piece():
    own = changed("no copes", PUNCHING, lambda raw: raw["second_work"].remove("cope"))
    cut = (Cope(end="start", side="toe", along_mm=30.0, across_mm=20.0, radius_mm=5.0),)
    one = part(legs=AngleLegs(a=Leg(trims=cut)))
    made = program(bar(piece(one)), [one], own=own)
    assert [rule for rule, _ in refusals(made)] == ["second-work-not-offered"]
