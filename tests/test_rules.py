"""The rules: their own examples, their exact words, and what they must not say."""

import inspect
import re
import time
import tomllib

import pytest

from translator.batch.bill import read_bill
from translator.batch.practice import read_practice
from translator.conventions import Conventions
from translator.findings import Severity
from translator.machines import load_machine
from translator.model import (
    Angle,
    AngleEnds,
    AngleLegs,
    CentreMark,
    Clip,
    Cope,
    Flat,
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    Notch,
    Opening,
    OutlineTrim,
    Part,
    Placed,
    Scribe,
    Slot,
    Stamp,
    Stated,
    Vertex,
)
from translator.pipeline import Input, examine
from translator.readers import readers
from translator.rules import rules
from translator.rules._catalogue import catalogue, documentation
from translator.rules._practice import Practice
from translator.rules._run import run
from translator.source import Source, Span

RULES = [pytest.param(rule, id=rule.name) for rule in rules()]
HEADINGS = ("What it checks:", "Why:", "What to do:", "Reference:")


def _examples(kind):
    return [
        pytest.param(rule, example, id=f"{rule.name}-{number}")
        for rule in rules()
        for number, example in enumerate(getattr(rule, kind))
    ]


def _checked(example):
    inputs = []
    for name, text in ((example.name, example.text), *example.files):
        (reader,) = (r for r in readers() if re.fullmatch(r.pattern, name))
        source = Source(path=name, data=text.encode())
        inputs.append(
            Input(
                source=source,
                reader=reader,
                conventions=Conventions(),
                practice=_practice(example.settings),
            )
        )
    bill, said = _bill(example)
    return examine(inputs, said=said, machines=_machines(example), bill=bill).verdict.findings


def _bill(example):
    if not example.bill:
        return None, ()
    reading = read_bill(Source(path="bill.csv", data=example.bill.encode()))
    assert reading.bill is not None
    return reading.bill, reading.findings


def _practice(text):
    faults = []
    practice = read_practice(tomllib.loads(text), lambda *fault: faults.append(fault))
    assert not faults
    return practice


def _machines(example):
    if not example.machine:
        return ()
    source = Source(path="line.machine.json", data=example.machine.encode())
    machine, findings = load_machine(source)
    assert not findings
    return (machine,)


def _marked(example):
    files = ((example.name, example.text), *example.files, ("bill.csv", example.bill))
    return {(example.name, line) for line in example.lines} | {
        (name, number)
        for name, text in files
        for number, line in enumerate(text.splitlines(), start=1)
        if "<--" in line
    }


def _said(findings):
    return [(f.span.path, f.span.line, f.rule, f.severity.value, f.message) for f in findings]


@pytest.mark.parametrize(("rule", "example"), _examples("passing"))
def test_passing_examples_pass(rule, example):
    found = _checked(example)
    assert not _marked(example)
    assert not _said(f for f in found if f.severity is not Severity.NOTE or f.rule == rule.name)


@pytest.mark.parametrize(("rule", "example"), _examples("failing"))
def test_failing_examples_fail_on_their_lines_and_nowhere_else(rule, example):
    found = _checked(example)
    mine = [f for f in found if f.rule == rule.name]
    assert _marked(example)
    assert {(f.span.path, f.span.line) for f in mine} == _marked(example)
    others = [f for f in found if f.severity is not Severity.NOTE and f.rule != rule.name]
    assert not _said(others)


@pytest.mark.parametrize("rule", RULES)
def test_a_rule_is_told_in_one_order(rule):
    text = documentation(rule)
    places = [text.find(f"\n\n{heading} ") for heading in HEADINGS]
    assert all(place > 0 for place in places)
    assert places == sorted(places)
    first = text[: places[0]]
    assert first.endswith(".")
    assert re.search(r"\n\nReference: (.*)\Z", text, re.DOTALL)[1].replace("\n", " ") == (
        rule.reference
    )
    source = inspect.getsource(inspect.getmodule(rule.check))
    order = [source.find(word) for word in ("\nfrom ", "\ndef check(", "\nRULE: Final = Rule(")]
    assert all(place > 0 for place in order)
    assert order == sorted(order)
    assert len(source.splitlines()) <= 200


@pytest.mark.parametrize("rule", RULES)
def test_a_rule_names_the_fault(rule):
    assert re.fullmatch(r"[a-z]+(-[a-z]+)+", rule.name)
    assert not re.match(r"(check|no|test|verify|ensure)-", rule.name)
    assert rule.title[0].islower()
    assert rule.passing
    assert rule.failing


PLACE = Span("p", 1, 1, 1, 1)
L90 = Angle(leg_a_mm=90.0, leg_b_mm=90.0, thickness_mm=10.0, root_radius_mm=11.0)
FB100 = Flat(width_mm=100.0, thickness_mm=10.0)


def _(*words):
    return "".join(words)


def _leg(*features, trims=()):
    return Leg(features=features, trims=trims)


def _angle(a=None, b=None, **changes):
    fields = {
        "mark": "A1",
        "grade": "S275JR",
        "length_mm": 400.0,
        "section": L90,
        "legs": AngleLegs(a=a or Leg(), b=b or Leg()),
        "ends": AngleEnds(),
    }
    return Part(**(fields | changes))


def _flat(*features, trims=(), **changes):
    fields = {
        "mark": "F1",
        "grade": "S275JR",
        "length_mm": 400.0,
        "section": FB100,
        "legs": FlatLegs(face=_leg(*features, trims=trims)),
        "ends": FlatEnds(),
    }
    return Part(**(fields | changes))


def _hole(number, x, y=50.0, diameter=22.0, **more):
    return Hole(id=f"f{number}", x_mm=x, y_mm=y, diameter_mm=diameter, **more)


def _corners(*places):
    return tuple(Vertex(x_mm=x, y_mm=y) for x, y in places)


def _square(number, left, low, size):
    right, high = left + size, low + size
    places = ((left, low), (right, low), (right, high), (left, high))
    return Opening(id=f"f{number}", contour=_corners(*places))


def _found(*parts):
    placed = [Placed(part=part, places={"": PLACE}) for part in parts]
    practices = [Practice(code="none")] * len(placed)
    checked = run(placed, rules(), practices=practices)
    return [f for found in checked.findings for f in found]


def _words(*parts):
    return [(f.rule, f.severity.value, f.element, f.message) for f in _found(*parts)]


def _outline(*places):
    return OutlineTrim(contour=_corners(*places))


THIN = "less than 5 mm; the thickness is 10 mm"

CASES = [
    # feature-past-end
    pytest.param(
        _flat(_hole(1, -0.01, diameter=4.0)),
        [("feature-past-end", "error", "hole f1 is at x = -0.01 mm, the start end is at 0")],
        id="hole-before-the-start",
    ),
    pytest.param(
        _flat(_hole(1, 412.75), units="inch"),
        [
            (
                "feature-past-end",
                "error",
                "hole f1 is at x = 16-1/4 in., the far end is at 15.748 in.",
            )
        ],
        id="hole-beyond-the-far-end-in-inches",
    ),
    pytest.param(
        _flat(_square(1, 400.01, 40.0, 20.0)),
        [
            (
                "feature-past-end",
                "error",
                "opening f1 is at x = 410.01 mm, the far end is at 400 mm",
            )
        ],
        id="opening-beyond-the-far-end",
    ),
    # feature-off-leg
    pytest.param(
        _flat(_hole(1, 50.0, 100.01, 4.0)),
        [
            (
                "feature-off-leg",
                "error",
                "the centre of hole f1 is 0.01 mm outside the outline of the face",
            )
        ],
        id="hole-off-the-upper-edge",
    ),
    pytest.param(
        _flat(Slot(id="f1", x_mm=50.0, y_mm=-3.0, width_mm=10.0, length_mm=30.0)),
        [
            (
                "feature-off-leg",
                "error",
                "the centre of slot f1 is 3 mm outside the outline of the face",
            )
        ],
        id="slot-off-the-lower-edge",
    ),
    pytest.param(
        _flat(
            CentreMark(id="f1", x_mm=20.0, y_mm=90.0),
            trims=(Clip(end="start", side="upper", along_mm=50.0, across_mm=50.0),),
        ),
        [
            (
                "feature-off-leg",
                "error",
                "the centre of centre mark f1 is 14.142 mm outside the outline of the face",
            )
        ],
        id="mark-in-a-clipped-corner",
    ),
    pytest.param(
        _flat(Scribe(id="f1", line=_corners((10.0, 10.0), (10.0, 100.06)))),
        [("feature-off-leg", "warning", "scribed line f1 runs 0.06 mm off the face")],
        id="line-over-the-edge",
    ),
    pytest.param(
        _flat(Scribe(id="f1", line=_corners((10.0, 0.0), (10.0, 100.04)))),
        [],
        id="line-to-the-edge",
    ),
    # a hole that breaks an edge
    pytest.param(
        _flat(_hole(1, 200.0, 11.0)),
        [("feature-breaks-edge", "error", "hole f1 touches the edge of the face")],
        id="hole-touches-the-edge",
    ),
    pytest.param(
        _flat(_hole(1, 200.0, 11.01)),
        [("thin-web-at-edge", "warning", f"hole f1 leaves 0.01 mm of steel to the edge, {THIN}")],
        id="hole-just-inside-the-edge",
    ),
    pytest.param(
        _flat(_hole(1, 200.0, 10.99)),
        [("feature-breaks-edge", "error", "hole f1 reaches 0.01 mm over the edge of the face")],
        id="hole-just-over-the-edge",
    ),
    pytest.param(
        _flat(_hole(1, 400.0)),
        [("feature-breaks-edge", "error", "hole f1 reaches 11 mm over the edge of the face")],
        id="hole-centred-on-the-end",
    ),
    pytest.param(
        _flat(_square(1, 100.0, 81.0, 19.01)),
        [("feature-breaks-edge", "error", "opening f1 reaches 0.01 mm over the edge of the face")],
        id="opening-over-the-edge",
    ),
    pytest.param(
        _flat(
            _hole(1, 100.0, 60.0),
            trims=(Notch(side="upper", x_from_mm=80.0, x_to_mm=120.0, across_mm=30.0),),
        ),
        [("feature-breaks-edge", "error", "hole f1 reaches 1 mm over the edge of the face")],
        id="hole-into-a-notch",
    ),
    # holes-overlap and duplicate-hole
    pytest.param(
        _flat(_hole(1, 50.0), _hole(2, 72.0)),
        [("holes-overlap", "error", "hole f2 touches hole f1")],
        id="holes-touch",
    ),
    pytest.param(
        _flat(_hole(1, 50.0), _hole(2, 72.01)),
        [
            (
                "thin-web-between-holes",
                "warning",
                f"hole f2 leaves 0.01 mm of steel to its neighbour, {THIN}",
            )
        ],
        id="holes-just-apart",
    ),
    pytest.param(
        _flat(_hole(1, 50.0), _square(2, 40.0, 40.0, 40.0)),
        [("holes-overlap", "error", "opening f2 runs 21 mm into hole f1")],
        id="hole-inside-an-opening",
    ),
    pytest.param(
        _flat(_hole(1, 50.0), _hole(2, 50.0, diameter=30.0)),
        [("holes-overlap", "error", "hole f2 runs 26 mm into hole f1")],
        id="two-sizes-at-one-place",
    ),
    pytest.param(
        _flat(_hole(1, 50.0), _hole(2, 50.0, diameter=30.0, depth_mm=4.0)), [], id="counterbore"
    ),
    pytest.param(
        _flat(_hole(1, 50.0), _hole(2, 50.01)),
        [("duplicate-hole", "warning", "hole f2 repeats hole f1: the same size at the same place")],
        id="the-same-hole-rounded",
    ),
    pytest.param(
        _flat(_square(1, 40.0, 40.0, 40.0), _square(2, 40.0, 40.0, 40.0)),
        [
            (
                "duplicate-hole",
                "warning",
                "opening f2 repeats opening f1: the same size at the same place",
            )
        ],
        id="the-same-opening",
    ),
    pytest.param(
        _angle(a=_leg(_hole(1, 50.0)), b=_leg(_hole(2, 50.0))), [], id="one-place-on-both-legs"
    ),
    pytest.param(
        _flat(_hole(1, 50.0), CentreMark(id="f2", x_mm=50.0, y_mm=50.0)), [], id="mark-in-a-hole"
    ),
    # hole-in-fillet
    pytest.param(
        _angle(a=_leg(_hole(1, 200.0, 31.99))),
        [
            (
                "hole-in-fillet",
                "warning",
                _(
                    "the edge of hole f1 is 20.99 mm from the heel, less than thickness and root",
                    " radius, 21 mm",
                ),
            )
        ],
        id="hole-just-in-the-fillet",
    ),
    pytest.param(_angle(b=_leg(_hole(1, 200.0, 32.0))), [], id="hole-beside-the-fillet"),
    pytest.param(
        _angle(b=_leg(_hole(1, 200.0, 20.99))),
        [
            (
                "hole-in-fillet",
                "error",
                _(
                    "the edge of hole f1 is 9.99 mm from the heel, less than the thickness of",
                    " 10 mm: it cuts the other leg",
                ),
            )
        ],
        id="hole-in-the-other-leg",
    ),
    pytest.param(
        _angle(
            a=_leg(_hole(1, 60.0, 25.0, 10.0)),
            b=_leg(trims=(Cope(end="start", side="heel", along_mm=120.0, across_mm=40.0),)),
        ),
        [],
        id="where-the-other-leg-is-cut-away",
    ),
    # stamp-off-leg
    pytest.param(
        _flat(Stamp(id="f1", text="ABCDE", x_mm=370.01, from_heel_mm=10.0, height_mm=10.0)),
        [("stamp-off-leg", "warning", "stamp f1 reaches 0.01 mm over the edge of the face")],
        id="stamp-over-the-end",
    ),
    pytest.param(
        _flat(Stamp(id="f1", x_mm=388.0, from_heel_mm=90.0, height_mm=10.0)), [], id="stamp-of-mark"
    ),
    pytest.param(
        _flat(
            Stamp(
                id="f1", text="ABCDE", x_mm=200.0, from_heel_mm=71.0, height_mm=10.0, angle_deg=90.0
            )
        ),
        [("stamp-off-leg", "warning", "stamp f1 reaches 1 mm over the edge of the face")],
        id="stamp-turned-over-the-edge",
    ),
    # stated-mass-differs: L90x90x10 weighs 13.4 kg/m (EN 10056-1)
    pytest.param(_flat(stated=Stated(mass_per_metre_kg=8.08)), [], id="mass-just-within"),
    pytest.param(_flat(stated=Stated(mass_per_metre_kg=0.0)), [], id="mass-not-said"),
    pytest.param(
        _flat(stated=Stated(mass_per_metre_kg=8.09)),
        [
            (
                "stated-mass-differs",
                "warning",
                "the stated mass is 8.09 kg/m, that of the section is 7.85 kg/m",
            )
        ],
        id="mass-just-beyond",
    ),
    pytest.param(
        _flat(stated=Stated(mass_per_metre_kg=3.14)),
        [
            (
                "stated-mass-differs",
                "note",
                _(
                    "the stated mass is 3.14 kg/m, that of the section is 7.85 kg/m;",
                    " it fits the mass of the whole piece in kg",
                ),
            )
        ],
        id="mass-of-the-piece",
    ),
    pytest.param(
        _flat(stated=Stated(mass_per_metre_kg=5.275)),
        [
            (
                "stated-mass-differs",
                "note",
                _(
                    "the stated mass is 5.275 kg/m, that of the section is 7.85 kg/m;",
                    " it fits pounds per foot",
                ),
            )
        ],
        id="mass-in-pounds-per-foot",
    ),
    pytest.param(
        _flat(stated=Stated(mass_per_metre_kg=78.5)),
        [
            (
                "stated-mass-differs",
                "note",
                _(
                    "the stated mass is 78.5 kg/m, that of the section is 7.85 kg/m;",
                    " it fits kg per square metre",
                ),
            )
        ],
        id="mass-per-square-metre",
    ),
    # designation-differs
    pytest.param(
        _flat(section=FB100.model_copy(update={"designation": "FB100x12"})),
        [
            (
                "designation-differs",
                "warning",
                _(
                    "the name FB100x12 differs by 2 mm from the sizes given, which are those of",
                    " FB100x10",
                ),
            )
        ],
        id="name-of-another-thickness",
    ),
    pytest.param(
        _angle(
            section=L90.model_copy(
                update={"designation": "L90x60x6", "leg_a_mm": 60.0, "thickness_mm": 6.4}
            )
        ),
        [
            (
                "designation-differs",
                "note",
                _(
                    "the name L90x60x6 differs by 0.4 mm from the sizes given, which are those of",
                    " L60x90x6.4",
                ),
            ),
        ],
        id="legs-in-the-other-order-and-rounded",
    ),
    pytest.param(
        _flat(section=FB100.model_copy(update={"designation": "L100x100x10"})),
        [
            (
                "designation-differs",
                "warning",
                "the name L100x100x10 is that of an angle, the sizes are not",
            )
        ],
        id="name-of-an-angle",
    ),
    pytest.param(
        _flat(section=FB100.model_copy(update={"designation": "strap no. 7"})), [], id="own-name"
    ),
    pytest.param(
        _angle(
            section=Angle(
                leg_a_mm=101.6,
                leg_b_mm=88.9,
                thickness_mm=9.53,
                designation="L4x3-1/2x3/8",
            )
        ),
        [],
        id="inch-name-in-a-metric-file",
    ),
    # outlines
    pytest.param(
        _flat(trims=(_outline((0.0, 0.0), (400.0, 100.0), (400.0, 0.0), (0.0, 100.0)),)),
        [("outline-crosses-itself", "error", "the outline of the face crosses itself")],
        id="bow-tie",
    ),
    pytest.param(
        _flat(trims=(_outline((0.0, 0.0), (400.0, 0.0), (200.0, 0.0)),)),
        [("outline-crosses-itself", "error", "the outline of the face encloses nothing")],
        id="outline-of-nothing",
    ),
    pytest.param(
        _flat(trims=(_outline((0.0, 0.0), (399.94, 0.0), (399.94, 99.0), (0.0, 99.0)),)),
        [
            (
                "outline-size-differs",
                "error",
                "the outline of the face ends at x = 399.94 mm, the length is 400 mm",
            ),
            (
                "outline-size-differs",
                "error",
                "the outline of the face ends at y = 99 mm, the leg measures 100 mm",
            ),
        ],
        id="outline-too-small",
    ),
    pytest.param(
        _flat(trims=(_outline((0.05, 0.0), (399.95, 0.0), (399.95, 100.0), (0.0, 99.95)),)),
        [],
        id="outline-rounded",
    ),
    pytest.param(
        _flat(
            trims=(
                _outline((0.0, 0.0), (400.0, 0.0), (400.0, 100.0), (0.0, 100.0)),
                Clip(end="far", side="upper", along_mm=5.0, across_mm=5.0),
            )
        ),
        [
            (
                "cuts-overlap",
                "error",
                _(
                    "a trim beside the outline of the face, which is the whole shape of the leg",
                    " already",
                ),
            )
        ],
        id="trim-beside-an-outline",
    ),
]


@pytest.mark.parametrize(("part", "expected"), CASES)
def test_what_is_said_about_a_part(part, expected):
    assert [(rule, severity, message) for rule, severity, _, message in _words(part)] == expected


def test_what_is_said_about_a_set():
    one, two = _flat(), _flat(length_mm=300.0, grade="S355")
    assert (
        _words(one, two)
        == [
            (
                "duplicate-mark",
                "error",
                "mark",
                "F1 is given twice and differs in length and grade",
            )
        ]
        * 2
    )
    assert _words(one, one) == [
        ("duplicate-mark", "warning", "mark", "F1 is given again, the same piece as before")
    ]
    old, new = _flat(revision="A"), _flat(revision="B", length_mm=300.0)
    assert _words(old, new) == [
        ("duplicate-mark", "note", "mark", "revision A of F1 is replaced by revision B")
    ]
    other = _flat(revision="1", length_mm=300.0)
    assert _words(old, other)[0][3] == (
        "F1 is given twice and differs in length; the revisions A and 1 can't be put in order"
    )
    assert _words(one, _flat(order="TQ-8", length_mm=300.0)) == []


def test_every_fault_of_an_outline_is_said_by_some_rule():
    """Rules take the place of geometry's own words where the source gives the outline."""
    from translator.geometry.outline import leg_outline

    places = (
        ((0.0, 0.0), (400.0, 90.0), (400.0, 0.0), (0.0, 90.0)),
        ((0.0, 0.0), (400.0, 0.0), (200.0, 0.0)),
        ((-1.0, 0.0), (400.0, 0.0), (400.0, 90.0), (-1.0, 90.0)),
        ((0.0, 0.0), (401.0, 0.0), (401.0, 90.0), (0.0, 90.0)),
        ((0.0, -1.0), (400.0, -1.0), (400.0, 90.0), (0.0, 90.0)),
        ((0.0, 0.0), (400.0, 0.0), (400.0, 91.0), (0.0, 91.0)),
        ((50.0, 0.0), (400.0, 0.0), (400.0, 90.0), (0.0, 90.0), (0.0, 40.0), (50.0, 40.0)),
        ((0.0, 20.0), (400.0, 20.0), (400.0, 90.0), (0.0, 90.0)),
    )
    for contour in places:
        part = _angle(a=_leg(trims=(_outline(*contour),)))
        assert leg_outline(part, "a").faults
        assert [s for _, s, _, _ in _words(part)].count("error") >= 1, contour


def _timed(part):
    start = time.process_time()
    found = _found(part)
    return found, time.process_time() - start


HOSTILE = [
    pytest.param(
        [_hole(i, 50.0 + i % 7 * 1e-5, 50.0, 1.0 + i * 1e-4) for i in range(3000)],
        id="all-at-one-place",
    ),
    pytest.param(
        [_hole(i, 50.0 + i * 0.1, 50.0, 0.05) for i in range(3000)], id="a-row-of-small-ones"
    ),
    pytest.param(
        [_hole(i, 200.0, 0.03 * (i + 1), 0.01) for i in range(3000)], id="a-column-of-small-ones"
    ),
    pytest.param(
        [_hole(0, 200.0, 50.0, 90.0), *(_hole(i, 10.0, i * 0.03, 0.01) for i in range(1, 3000))],
        id="one-wide-many-small",
    ),
]


@pytest.mark.parametrize("features", HOSTILE)
def test_a_hostile_number_of_holes_takes_no_time(features):
    _, seconds = _timed(_flat(*features))
    assert seconds < 5.0  # 0.5 s on a quiet machine; without a budget it would be minutes


def test_pairs_that_were_not_compared_are_said(monkeypatch):
    from translator.rules import holes_overlap

    monkeypatch.setattr(holes_overlap, "MOST_PAIRS", 3)
    found = _found(_flat(*(_hole(i, 50.0 + i, 50.0, 0.5) for i in range(9))))
    found = [f for f in found if f.rule == "holes-overlap"]
    assert [(f.rule, f.severity.value, f.element, f.message) for f in found] == [
        (
            "holes-overlap",
            "error",
            "legs.face",
            "more than 3 pairs of holes lie close together on the face; the rest was not compared",
        )
    ]


def test_rules_leave_the_part_as_it_was():
    part = _flat(_hole(1, 50.0), _hole(2, 60.0), stated=Stated(mass_per_metre_kg=3.0))
    before = part.model_dump_json()
    assert _found(part)
    assert part.model_dump_json() == before


def test_the_catalogue_is_fresh():
    """Rewrite it with ``python .ci/fresh.py``."""
    from pathlib import Path

    import translator.rules as room

    path = Path(room.__file__).with_name("CATALOGUE.md")
    assert path.read_text(encoding="utf-8") == catalogue(rules())
