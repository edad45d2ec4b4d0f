"""Waivers and revisions: what accepts a finding, and what no longer does."""

import pytest

from translator.findings import Finding, Severity
from translator.model import Flat, FlatEnds, FlatLegs, Hole, Leg, Part, Placed, Waiver
from translator.rules._digest import differences, digest, superseded
from translator.rules._revisions import comparable, is_newer
from translator.rules._waive import waive
from translator.source import Span

PLACE = Span("a.bmk", 1, 1, 1, 1)
KNOWN = frozenset({"too-near", "no-figure"})


def _part(*waivers, revision=None, **changes):
    fields = {
        "mark": "F1",
        "length_mm": 300.0,
        "section": Flat(width_mm=100.0, thickness_mm=10.0),
        "legs": FlatLegs(),
        "ends": FlatEnds(),
        "revision": revision,
        "waivers": waivers,
    }
    return Placed(part=Part(**(fields | changes)), places={"": PLACE})


def _finding(element="legs.face.f1", value=20.0, limit=25.0, rule="too-near"):
    return Finding(
        rule=rule,
        severity=Severity.ERROR,
        message="too near",
        span=PLACE,
        mark="F1",
        element=element,
        value=value,
        limit=limit,
    )


def _waiver(rule="too-near", feature="f1", leg=None, **more):
    return Waiver(rule=rule, feature=feature, leg=leg, reason="RFI 17", **more)


def _waived(waiver, finding, revision=None, as_of=None):
    found = waive(_part(waiver, revision=revision), [finding], KNOWN, as_of)
    return found[0].waived, [(f.rule, f.severity.value, f.message) for f in found[1:]]


LOWER, HIGHER = _finding(), _finding(value=25.0, limit=20.0)


@pytest.mark.parametrize(
    ("waiver", "finding"),
    [
        pytest.param(_waiver(), LOWER, id="any-figure"),
        pytest.param(_waiver(leg="face"), LOWER, id="with-its-leg"),
        pytest.param(_waiver(value=20.0), LOWER, id="the-same-figure"),
        pytest.param(_waiver(value=20.0004), LOWER, id="the-same-figure-rounded"),
        pytest.param(_waiver(value=19.0), LOWER, id="better-than-accepted-low"),
        pytest.param(_waiver(value=25.0), HIGHER, id="the-same-figure-high"),
        pytest.param(_waiver(value=26.0), HIGHER, id="better-than-accepted-high"),
        pytest.param(_waiver(value=20.0), _finding(limit=None), id="no-limit-the-same"),
        pytest.param(_waiver(feature=None), _finding(element="length"), id="whole-part"),
        pytest.param(
            _waiver(feature=None, leg="face"),
            _finding(element="legs.face.trims.0"),
            id="a-cut-of-the-leg",
        ),
        pytest.param(_waiver(feature=None, leg="face"), _finding(element="legs.face"), id="leg"),
    ],
)
def test_a_waiver_that_accepts(waiver, finding):
    reason, said = _waived(waiver, finding)
    assert (reason.partition(" (")[0], said) == ("RFI 17", [])


@pytest.mark.parametrize(
    ("waiver", "finding", "words"),
    [
        pytest.param(_waiver(), LOWER, "RFI 17", id="no-terms"),
        pytest.param(_waiver(by="QA"), LOWER, "RFI 17 (by QA)", id="who"),
        pytest.param(
            _waiver(until_date="2031-05-28"), LOWER, "RFI 17 (until 2031-05-28)", id="day"
        ),
        pytest.param(
            _waiver(value=19.5, by="QA", until_revision="C"),
            LOWER,
            "RFI 17 (accepted down to 19.5 mm, by QA, until revision C)",
            id="all-low",
        ),
        pytest.param(
            _waiver(value=26.0), HIGHER, "RFI 17 (accepted up to 26 mm)", id="a-figure-high"
        ),
        pytest.param(
            _waiver(value=20.0),
            _finding(limit=None),
            "RFI 17 (accepted at 20 mm)",
            id="a-figure-without-limit",
        ),
    ],
)
def test_what_is_waived_says_its_terms(waiver, finding, words):
    assert _waived(waiver, finding, revision="B") == (words, [])


UNUSED = ("waiver-unused", "note")
LAPSED = ("waiver-lapsed", "warning")
STALE = "the waiver of too-near f1 no longer holds:"


@pytest.mark.parametrize(
    ("waiver", "finding", "said"),
    [
        pytest.param(
            _waiver(rule="no-such-rule"),
            LOWER,
            ("waiver-unknown", "warning", "there is no rule 'no-such-rule' to waive"),
            id="unknown-rule",
        ),
        pytest.param(
            _waiver(feature="f2", leg="face"),
            LOWER,
            (*UNUSED, "the waiver of too-near on the face f2 finds nothing to accept"),
            id="other-feature",
        ),
        pytest.param(
            _waiver(leg="b"),
            LOWER,
            (*UNUSED, "the waiver of too-near on leg b f1 finds nothing to accept"),
            id="other-leg",
        ),
        pytest.param(
            _waiver(feature=None),
            LOWER,
            (*UNUSED, "the waiver of too-near finds nothing to accept"),
            id="part-for-feature",
        ),
        pytest.param(
            _waiver(feature=None, leg="face"),
            LOWER,
            (*UNUSED, "the waiver of too-near on the face finds nothing to accept"),
            id="leg-for-feature",
        ),
        pytest.param(
            _waiver(value=20.01),
            LOWER,
            (
                *LAPSED,
                f"{STALE} the value is now 20 mm, it accepts 20.01 mm",
            ),
            id="worse-low",
        ),
        pytest.param(
            _waiver(value=24.99),
            HIGHER,
            (
                *LAPSED,
                f"{STALE} the value is now 25 mm, it accepts 24.99 mm",
            ),
            id="worse-high",
        ),
        pytest.param(
            _waiver(value=19.0),
            _finding(value=None, limit=None),
            (
                *LAPSED,
                f"{STALE} this finding has no figure to hold against its value",
            ),
            id="no-figure",
        ),
    ],
)
def test_a_waiver_that_does_not(waiver, finding, said):
    assert _waived(waiver, finding) == (None, [said])


@pytest.mark.parametrize(
    ("until", "revision", "why"),
    [
        ("B", "A", ""),
        ("B", "B", ""),
        ("B", "C", "it ran until revision B, the part is at C"),
        ("9", "10", "it ran until revision 9, the part is at 10"),
        ("B", None, "it runs until revision B, and the part states no revision"),
        ("B", "2", "it runs until revision B, which can't be compared with 2"),
    ],
)
def test_a_waiver_until_a_revision(until, revision, why):
    waived, said = _waived(_waiver(until_revision=until), LOWER, revision=revision)
    if why:
        assert (waived, said) == (None, [(*LAPSED, f"{STALE} {why}")])
    else:
        assert (waived, said) == (f"RFI 17 (until revision {until})", [])


@pytest.mark.parametrize(
    ("as_of", "holds"),
    [(None, True), ("2027-01-31", True), ("2027-02-01", False), ("2026-12-31", True)],
)
def test_a_date_counts_only_when_a_day_is_given(as_of, holds):
    waived, said = _waived(_waiver(until_date="2027-01-31"), LOWER, as_of=as_of)
    assert waived == ("RFI 17 (until 2027-01-31)" if holds else None)
    assert [message for *_, message in said] == (
        [] if holds else [f"{STALE} it ran until 2027-01-31"]
    )


def test_one_waiver_accepts_all_findings_at_its_place_that_are_good_enough():
    found = waive(
        _part(_waiver(value=20.0)),
        [_finding(value=21.0), _finding(value=20.0), _finding(value=19.0)],
        KNOWN,
        None,
    )
    words = "RFI 17 (accepted down to 20 mm)"
    assert [f.waived for f in found] == [words, words, None, None]
    assert found[3].rule == "waiver-lapsed"


def test_the_first_of_two_waivers_gives_the_reason():
    second = Waiver(rule="too-near", feature="f1", reason="another")
    (found,) = waive(_part(_waiver(), second), [LOWER], KNOWN, None)
    assert found.waived == "RFI 17"


@pytest.mark.parametrize(
    ("older", "newer"),
    [("A", "B"), ("Z", "AA"), ("2", "10"), ("a", "B"), ("A", "A1"), ("A1", "A2"), ("A9", "A10")],
)
def test_revisions_in_order(older, newer):
    assert is_newer(newer, older)
    assert not is_newer(older, newer)
    assert not is_newer(newer, newer)


@pytest.mark.parametrize(
    ("one", "other"), [("A", "1"), ("A", None), (None, None), ("A", "-"), ("-", "-"), ("", "A")]
)
def test_revisions_that_can_not_be_compared(one, other):
    assert not comparable(one, other)
    assert not is_newer(one, other)
    assert not is_newer(other, one)


def _digests(*parts):
    return tuple(digest(number, placed) for number, placed in enumerate(parts))


def test_the_newest_revision_supersedes_all_older_ones():
    digests = _digests(
        _part(revision="B"),
        _part(revision="A"),
        _part(revision="C"),
        _part(revision="1"),
        _part(),
        _part(revision="A", order="TQ-8"),
    )
    assert {n: d.revision for n, d in superseded(digests).items()} == {0: "C", 1: "C"}


def test_a_piece_turned_end_for_end_is_the_same_piece():
    one, other = (
        _part(legs=FlatLegs(face=Leg(features=(Hole(id="f1", x_mm=x, y_mm=y, diameter_mm=22.0),))))
        for x, y in ((50.0, 40.0), (250.0, 60.0))
    )
    assert differences(*_digests(one, other)) == ()
    assert differences(*_digests(one, _part())) == ("face",)


@pytest.mark.parametrize(
    ("change", "trait"),
    [
        ({"length_mm": 301.0}, "length"),
        ({"grade": "S355"}, "grade"),
        ({"finish": "galvanized"}, "finish"),
        ({"section": Flat(width_mm=100.0, thickness_mm=12.0)}, "section"),
        ({"ends": FlatEnds(far={"face_deg": 5.0})}, "ends"),
        ({"section": Flat(width_mm=100.0, thickness_mm=10.0, designation="FB100x10")}, None),
        ({"second_work": ("saw",)}, "second work"),
        ({"quantity": 3, "title": "strap", "drawing": "E-102", "remarks": ("x",)}, None),
    ],
)
def test_what_makes_a_piece(change, trait):
    one, other = _digests(_part(), _part(**change))
    assert differences(one, other) == ((trait,) if trait else ())
