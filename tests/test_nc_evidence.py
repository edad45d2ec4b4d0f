"""What one file says about what its writer left open: the tests of the fact sheet, section 4.4."""

import pytest
from nc_files import EXAMPLES, example, flat, nc, read, tree_of

from translator.conventions import Conventions, Weight, settle
from translator.conventions.comment import setting_comment, stated_setting
from translator.readers.nc import evidence, lower

PROOF, NEAR, HINT = Weight.PROOF, Weight.NEAR_PROOF, Weight.HINT
THICK = {"name": "L100*100*16", "flange_thickness": "16.00", "web_thickness": "16.00"}


def spoken(data, setting):
    """(value, weight) of what a file says about a setting."""
    record = evidence(tree_of(data))
    return [(t.value, t.weight) for t in record.testimonies if t.setting == setting]


def hole(view, ref, y, d=18.0, x=100.0):
    return ("BO", f"  {view} {x:.2f}{ref} {y:.2f} {d:.2f} 0.00")


Y_DATUM = {
    "s below the edge": (nc(*hole("v", "s", -20)), ["named-edge"]),
    "s beyond the middle": (nc(*hole("v", "s", 60)), ["view-bottom"]),
    "s near 0": (flat(*hole("v", "s", 3)), ["named-edge"]),
    "s at the middle": (flat(*hole("v", "s", 50)), ["view-bottom"]),
    "s at a quarter": (flat(*hole("v", "s", 25)), []),
    "o near the heel": (nc(*hole("v", "o", 15)), ["named-edge"]),
    "o near the upper edge": (nc(*hole("v", "o", 85)), ["view-bottom"]),
    "o in the middle": (nc(*hole("v", "o", 50)), []),
    "u": (nc(*hole("v", "u", 15)), []),
}


@pytest.mark.parametrize("case", Y_DATUM, ids=lambda name: name.replace(" ", "-"))
def test_y_datum(case):
    data, values = Y_DATUM[case]
    # One hole may be seen by two tests; they must agree.
    assert {(v, w) for v, w in spoken(data, "y_datum")} == {(v, PROOF) for v in values}


HEELS = {
    "proof of toe": (hole("u", "u", 20), [("toe", PROOF)]),
    "proof of heel": (hole("u", "u", 80), [("heel", PROOF)]),
    "near-proof where it may be a slip": (hole("u", "u", 22), [("toe", NEAR)]),
    "near-proof where the edge distance is poor": (hole("u", "u", 15), [("toe", NEAR)]),
    "clear either way": (hole("u", "u", 60), []),
    "off the leg either way": (hole("u", "u", 5), []),
    "a mark says nothing": (("BO", "  u 100.00u 20.00 0.00m 0.00"), []),
    "a blind hole says nothing": (("BO", "  u 100.00u 20.00 18.00 3.00"), []),
}


@pytest.mark.parametrize("case", HEELS, ids=lambda name: name.replace(" ", "-"))
def test_a_hole_that_would_run_into_the_other_leg(case):
    rows, expected = HEELS[case]
    found = spoken(nc(*rows, **THICK), "u_view_bottom")
    assert [voice for voice in found if voice[1] is not HINT] == expected


def test_h_view_by_the_heel_and_by_a_twin_in_front():
    assert spoken(nc(*hole("h", "u", 20), **THICK), "h_view") == [("rolled", PROOF)]
    twins = nc(*hole("v", "u", 40), hole("h", "u", 60)[1])
    assert spoken(twins, "h_view") == [("rolled", NEAR)]
    twins = nc(*hole("v", "u", 40), hole("h", "u", 40)[1])
    assert spoken(twins, "h_view") == [("upright", NEAR)]


def box(view, *, low=(), high=(), width=100):
    """A contour with notches 20 deep in its lower or upper edge, at the far end."""
    rows = ["0.00u 0.00"]
    depth = 20.0
    if low:
        rows += [f"{low[0]:.2f}u 0.00", f"{low[0]:.2f}u {depth:.2f}", f"1000.00u {depth:.2f}"]
    else:
        rows += ["1000.00u 0.00"]
    if high:
        top = width - depth
        rows += [f"1000.00u {top:.2f}", f"{high[0]:.2f}u {top:.2f}", f"{high[0]:.2f}u {width:.2f}"]
    else:
        rows += [f"1000.00u {width:.2f}"]
    rows += [f"0.00u {width:.2f}", "0.00u 0.00"]
    return ("AK", f"  {view} {rows[0]} 0.00", *(f"     {row} 0.00" for row in rows[1:]))


CORNERS = {
    "cut below, heel whole": ((*box("v"), *box("u", low=(900,))), [("toe", NEAR)]),
    "cut above, heel whole": ((*box("v"), *box("u", high=(900,))), [("heel", NEAR)]),
    "cut below, heel cut too": ((*box("v", low=(900,)), *box("u", low=(900,))), [("heel", NEAR)]),
    "cut above, heel cut too": ((*box("v", low=(900,)), *box("u", high=(900,))), [("toe", NEAR)]),
    "cut elsewhere": ((*box("v", low=(900,)), *box("u", low=(800,))), []),
    "cut on both edges": ((*box("v"), *box("u", low=(900,), high=(900,))), []),
    "no contour in v": (box("u", low=(900,)), [("toe", HINT)]),
    "nothing cut": ((*box("v"), *box("u")), []),
}


def test_a_hole_that_one_datum_puts_into_a_notch():
    rows = (*box("v", low=(900,)), *hole("v", "o", 70, x=950))
    # 70 from the upper edge is 30 from the lower one, within 9 + 20 of the notch: both sound.
    assert spoken(nc(*rows), "y_datum") == []
    rows = (*box("v", low=(900,)), *hole("v", "o", 75, x=950))
    assert spoken(nc(*rows), "y_datum") == [("view-bottom", PROOF)]


@pytest.mark.parametrize("case", CORNERS, ids=lambda name: name.replace(" ", "-"))
def test_the_corner_that_a_cut_at_the_heel_takes(case):
    rows, expected = CORNERS[case]
    assert spoken(nc(*rows), "u_view_bottom") == expected


def test_usual_gauges_are_only_hints():
    # DIN 997 and UK back mark of a 100 mm leg: 55 (from memory).
    assert spoken(nc(*hole("u", "u", 55)), "u_view_bottom") == [("heel", HINT)]
    assert spoken(nc(*hole("u", "u", 45)), "u_view_bottom") == [("toe", HINT)]
    both = nc(*hole("v", "u", 42), hole("u", "u", 58)[1])
    assert spoken(both, "u_view_bottom") == [("toe", HINT)]


SLOTS = {
    "no wider than the diameter": ("10.00", [], "slot_length", [("centres", PROOF)]),
    "wider than the diameter": ("30.00", [], "slot_length", []),
    "first centre over a hole": ("20.00", [300], "slot_reference", [("middle", HINT)]),
    "middle over a hole": ("20.00", [310], "slot_reference", [("first-centre", HINT)]),
    "both over holes": ("20.00", [300, 310], "slot_reference", []),
}


@pytest.mark.parametrize("case", SLOTS, ids=lambda name: name.replace(" ", "-"))
def test_slots(case):
    width, columns, setting, expected = SLOTS[case]
    others = [hole("v", "u", 20, x=x)[1] for x in columns]
    data = flat("BO", f"  v 300.00u 50.00 18.00 0.00l {width} 0.00 0.00", *others)
    assert spoken(data, setting) == expected


def test_hints_against_a_default_are_told():
    slot = "  v 300.00u 50.00 18.00 0.00l 20.00 0.00 0.00"
    data = flat("BO", slot, hole("v", "u", 20, x=300)[1])
    assert evidence(tree_of(data)).undecided == ("slot_reference",)
    findings = settle(Conventions(), [evidence(tree_of(data))]).findings
    assert [f.rule for f in findings] == ["nc-setting-hinted"]
    agreeing = flat("BO", slot, hole("v", "u", 20, x=310)[1])
    assert evidence(tree_of(agreeing)).undecided == ()


def rounded(sign):
    rows = ("0.00u 0.00 0", "1000.00u 0.00 0", f"1000.00u 80.00 {sign}20.00", "980.00u 100.00 0")
    return (
        "AK",
        f"  v {rows[0]}",
        *(f"    {r}" for r in rows[1:]),
        "  0.00u 100.00 0",
        "  0.00u 0.00 0",
    )


def test_arc_sign_by_the_tangents():
    # The contour runs to the left about its inside, so a rounded corner turns left.
    assert spoken(flat(*rounded("")), "arc_sign") == [("plus-left", PROOF)]
    assert spoken(flat(*rounded("-")), "arc_sign") == [("plus-right", PROOF)]


def test_arcs_that_bite_at_right_angles_prove_nothing():
    rows = (
        "0.00u 0.00 0",
        "1000.00u 0.00 0",
        "1000.00u 80.00 -20.00",
        "980.00u 100.00 0",
    )
    bite = ("AK", f"  v {rows[0]}", *(f"    {r}" for r in rows[1:3]), "    980.00u 80.00 0")
    data = flat(*bite, "    980.00u 100.00 0", "    0.00u 100.00 0", "    0.00u 0.00 0")
    assert spoken(data, "arc_sign") == []
    assert evidence(tree_of(data)).undecided == ("arc_sign",)


LEAN = ("0.00u 100.00 0", "57.74u 0.00 0", "1000.00u 0.00 0", "1000.00u 100.00 0", "0.00u 100.00 0")
RIGHT = ("0.00u 0.00 0", "1000.00u 0.00 0", "1000.00u 100.00 0", "57.74u 100.00 0", "0.00u 0.00 0")


def contour(view, rows):
    return ("AK", f"  {view} {rows[0]}", *(f"    {row}" for row in rows[1:]))


MITRES = {
    # Long at the upper edge of the start end, the trace leans to the left.
    "plus, to the left": ("30.000", LEAN, [("plus-left", PROOF)]),
    "minus, to the left": ("-30.000", LEAN, [("plus-right", PROOF)]),
    "plus, to the right": ("30.000", RIGHT, [("plus-right", PROOF)]),
    "minus, to the right": ("-30.000", RIGHT, [("plus-left", PROOF)]),
    "another angle": ("20.000", RIGHT, []),
}


@pytest.mark.parametrize("case", MITRES, ids=lambda name: name.replace(" ", "-"))
def test_mitre_sign(case):
    angle, rows, expected = MITRES[case]
    assert spoken(flat(*contour("v", rows), web_start=angle), "mitre_sign") == expected


def test_the_view_of_flange_cuts_needs_a_web_cut_beside_it():
    rows = (*contour("v", LEAN), *contour("u", RIGHT))
    cuts = {"web_start": "30.000", "flange_start": "-30.000"}
    assert spoken(nc(*rows, **cuts), "flange_cut_view") == [("u", PROOF)]
    cuts["flange_start"] = "30.000"
    assert spoken(nc(*rows, **cuts), "flange_cut_view") == [("o", PROOF)]
    assert spoken(nc(*contour("u", RIGHT), flange_start="30.000"), "flange_cut_view") == []


UNDECIDED = {
    "nothing open": (nc(*hole("v", "u", 40)), ()),
    "a hole off the middle": (nc(*hole("u", "u", 40)), ("u_view_bottom",)),
    "a hole in the middle": (nc(*hole("u", "u", 50)), ()),
    "holes on lines that mirror": (nc(*hole("u", "u", 40), hole("u", "u", 60)[1]), ()),
    "middle within rounding": (nc(*hole("u", "u", 50.01)), ()),
    "letter o": (nc(*hole("v", "o", 40)), ("y_datum",)),
    "letter o in the middle": (nc(*hole("v", "o", 50)), ()),
    "view h": (flat(*hole("h", "u", 40)), ("h_view",)),
    "both": (nc(*hole("u", "o", 40)), ("y_datum", "u_view_bottom")),
    "a stamp": (nc("SI", "  u 100.00u 20.00 0.00 10rX"), ("u_view_bottom",)),
    "a stamp about the middle": (nc("SI", "  u 100.00u 45.00 0.00 10rX"), ()),
    "mitre": (flat(web_end="10.000"), ("mitre_sign",)),
    "another profile": (nc(*hole("u", "u", 40), code="U"), ()),
}


@pytest.mark.parametrize("case", UNDECIDED, ids=lambda name: name.replace(" ", "-"))
def test_what_a_piece_depends_on(case):
    data, expected = UNDECIDED[case]
    assert evidence(tree_of(data)).undecided == expected


def test_files_of_one_writer_have_one_fingerprint():
    writers = {name: evidence(tree_of(example(name))).writer for name in EXAMPLES}
    assert writers["angle-80"] == writers["angle-150x100"] == writers["flat-120"]
    assert writers["careless"] != writers["angle-80"]
    assert writers["angle-80"].startswith('"invented test part"')


HABITS = {
    "line ends": nc(newline="\n"),
    "comments": nc(comments=("** by hand",)),
    "decimals": nc(height="100.0"),
    "indent": nc().replace(b"\n  TQ-7", b"\nTQ-7"),
}


@pytest.mark.parametrize("case", HABITS)
def test_other_habits_are_another_writer(case):
    assert evidence(tree_of(HABITS[case])).writer != evidence(tree_of(nc())).writer


def test_marks_dates_and_blank_texts_do_not_make_another_writer():
    one = nc(comments=("** K1.nc1 made 2024-05-01",), mark="K1", order="TQ-7", phase="1")
    two = nc(comments=("** K22.nc1 made 2025-11-30",), mark="K22", order="-", phase="")
    assert evidence(tree_of(one)).writer == evidence(tree_of(two)).writer


def test_copies_of_a_piece_count_once():
    rows = hole("u", "u", 40)
    one, two = (evidence(tree_of(nc(*rows, mark=mark))).piece for mark in ("K1", "K2"))
    assert one == two
    assert evidence(tree_of(nc(*hole("u", "u", 41)))).piece != one


def delivery(files, **settings):
    """The marks and the gauges of leg b of what a delivery gives."""
    trees = [tree_of(data, name) for name, data in files.items()]
    records = [evidence(tree) for tree in trees]
    settled = settle(Conventions(**settings), records)
    readings = [
        lower(tree, settled.by_writer[record.writer])
        for tree, record in zip(trees, records, strict=True)
    ]
    gauges = {
        placed.part.mark: placed.part.legs.b.features[0].y_mm
        for reading in readings
        for placed in reading.parts
    }
    return gauges, [f.rule for f in settled.findings]


PLAIN = {"K1.nc": nc(*hole("u", "u", 40), mark="K1")}


def test_the_proof_of_one_file_settles_its_writer():
    proof = nc(*hole("u", "u", 20), **THICK, mark="K2")
    gauges, rules = delivery({**PLAIN, "K2.nc": proof})
    assert gauges == {"K1": 60.0, "K2": 80.0}
    assert rules == ["nc-setting-settled"]


def test_near_proofs_of_three_pieces_settle_and_of_two_propose():
    def notched(at):
        return nc(*box("v"), *box("u", low=(at,)), *hole("u", "u", 40), mark=f"N{at}")

    two = {**PLAIN, "a.nc": notched(900), "b.nc": notched(910)}
    gauges, rules = delivery(two)
    assert (gauges, rules) == ({}, ["nc-setting-proposed"])
    gauges, rules = delivery({**two, "c.nc": notched(920)})
    assert set(gauges) == {"K1", "N900", "N910", "N920"}
    assert set(gauges.values()) == {60.0}
    assert rules == ["nc-setting-settled"]


def test_a_faulty_piece_does_not_settle_a_writer_against_a_sound_one():
    toe, heel = nc(*hole("u", "u", 20), **THICK), nc(*hole("u", "u", 80), **THICK)
    gauges, rules = delivery({**PLAIN, "a.nc": toe, "b.nc": heel})
    assert (gauges, rules) == ({}, ["nc-evidence-contradicts"])


def test_a_setting_given_is_not_outvoted():
    proof = nc(*hole("u", "u", 20), **THICK, mark="K2")
    gauges, rules = delivery({"K2.nc": proof}, u_view_bottom="heel")
    assert gauges == {"K2": 20.0}
    assert rules == ["nc-setting-against-evidence"]


def test_a_file_may_state_its_own_settings():
    comment = setting_comment("u_view_bottom", "toe")
    reading = read(nc(*hole("u", "u", 40), comments=(comment,)))
    assert reading.parts[0].part.legs.b.features[0].y_mm == 60.0
    assert reading.parts[0].part.carried == ()


def test_what_a_file_states_stands_above_a_doubtful_hole():
    comment = setting_comment("u_view_bottom", "heel")
    data = nc(*hole("u", "u", 20), **THICK, comments=(comment,))
    assert spoken(data, "u_view_bottom") == [("heel", PROOF)]


@pytest.mark.parametrize(
    "line",
    ["** setting colour = red", "** setting u_view_bottom = auto", "** setting u_view_bottom", "x"],
)
def test_other_comments_state_nothing(line):
    assert stated_setting(line) is None


def test_evidence_of_a_file_that_cannot_be_read_is_empty():
    record = evidence(tree_of(b"\0\xff garbage"))
    assert (record.writer, record.testimonies, record.undecided) == ("unknown", (), ())
