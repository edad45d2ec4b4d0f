"""The road: what each stage gets, and what comes out of a delivery."""

import pytest
from hypothesis import HealthCheck, given, settings
from strategies import parts

from translator import conventions as open_points
from translator.conventions import Conventions, Evidence, Weight
from translator.emitters import EmitOptions, Emitter, emitters
from translator.errors import CannotRepresentError
from translator.findings import Finding, Severity
from translator.model import Flat, FlatEnds, FlatLegs, Part, Placed
from translator.pipeline import Input, emit, examine
from translator.readers import Reader, Reading
from translator.rules import rules
from translator.source import Source, Span

UNSETTLED = Conventions()


def _place(path, line=1):
    return Span(path, line, 1, line, 1)


def _placed(path, mark="F1", line=1, **changes):
    fields = {
        "mark": mark,
        "grade": "S275JR",
        "length_mm": 300.0,
        "section": Flat(width_mm=100.0, thickness_mm=10.0),
        "legs": FlatLegs(),
        "ends": FlatEnds(),
    }
    return Placed(part=Part(**(fields | changes)), places={"": _place(path, line)})


def _error(path, mark="", line=1):
    return Finding(
        rule="bad",
        severity=Severity.ERROR,
        message="it is bad",
        span=_place(path, line),
        mark=mark,
    )


def _reader(lower, parse=lambda source: source.data.decode(), evidence=lambda _: None):
    return Reader(
        name="fake",
        title="fake",
        pattern=".*",
        ending=".fake",
        parse=parse,
        evidence=evidence,
        lower=lower,
    )


def _input(path, reader, data=b"", given_=UNSETTLED):
    return Input(source=Source(path=path, data=data), reader=reader, conventions=given_)


def _fixed(*placed, findings=(), not_ours=""):
    reading = Reading(parts=placed, findings=tuple(findings), not_ours=not_ours)
    return _reader(lambda _tree, _conventions: reading)


def test_files_and_findings_come_in_order_whatever_order_they_are_given_in():
    one = _input("a", _fixed(_placed("a", "A1"), findings=[_error("a", "A1")]))
    two = _input("b", _fixed(not_ours="profile I"))
    said = _error("backmark.toml")
    outcome = examine([two, one], said=[said])
    assert outcome == examine([one, two], said=[said])
    assert [p.part.mark for p in outcome.parts] == ["A1"]
    verdict = outcome.verdict
    assert verdict.files == ("a", "b")
    assert verdict.parts == 1
    assert verdict.not_ours == (("b", "profile I"),)
    assert [f.span.path for f in verdict.findings] == ["a", "backmark.toml"]
    idle = [name for name, _ in verdict.rules_not_applicable]
    assert sorted([*verdict.rules_run, *idle]) == [rule.name for rule in rules()]


def test_each_stage_gets_what_the_stage_before_it_made():
    heard = []

    def lower(tree, conventions):
        heard.append((tree, conventions.y_datum))
        return Reading()

    def evidence(tree):
        writer = tree[0]
        proof = open_points.Testimony(
            setting="y_datum",
            value="named-edge",
            weight=Weight.PROOF,
            message="a proof",
            span=_place(tree),
        )
        return Evidence(
            writer=writer,
            piece=tree,
            path=tree,
            testimonies=(proof,) if tree == "p1" else (),
            undecided=("y_datum",),
        )

    reader = _reader(lower, evidence=evidence)
    names = ("p1", "p2", "q1")
    examine([_input(n, reader, n.encode()) for n in names])
    # What p1 proves holds for p2 of the same writer, and says nothing about q1.
    assert heard == [("p1", "named-edge"), ("p2", "named-edge"), ("q1", "auto")]


def test_a_format_without_open_conventions_gets_the_settings_as_given():
    heard = []
    reader = _reader(lambda _tree, conventions: heard.append(conventions) or Reading())
    given_ = Conventions(strict="yes")
    examine([_input("a", reader, given_=given_)])
    assert heard == [given_]


def test_files_under_other_settings_are_settled_apart():
    heard = []

    def lower(tree, conventions):
        heard.append((tree, conventions.u_view_bottom, conventions.y_datum))
        return Reading()

    def evidence(tree):
        proof = open_points.Testimony(
            setting="y_datum",
            value="named-edge",
            weight=Weight.PROOF,
            message="a proof",
            span=_place(tree),
        )
        testimonies = (proof,) if tree == "a" else ()
        return Evidence(writer="w", piece=tree, path=tree, testimonies=testimonies)

    reader = _reader(lower, evidence=evidence)
    toe = Conventions(u_view_bottom="toe")
    inputs = [_input(n, reader, n.encode(), g) for n, g in (("a", toe), ("b", toe))]
    examine([*inputs, _input("c", reader, b"c")])
    assert heard == [
        ("a", "toe", "named-edge"),
        ("b", "toe", "named-edge"),
        ("c", "auto", "auto"),
    ]


def _fail(*_):
    raise ZeroDivisionError("three by nought")


@pytest.mark.parametrize(
    ("reader", "note"),
    [
        (_reader(lambda *_: Reading(), parse=_fail), "while parsing x.nc"),
        (_reader(lambda *_: Reading(), evidence=_fail), "while weighing x.nc"),
        (_reader(_fail), "while lowering x.nc"),
    ],
    ids=["parse", "evidence", "lower"],
)
def test_a_stage_that_fails_is_named(reader, note):
    with pytest.raises(ZeroDivisionError) as raised:
        examine([_input("x.nc", reader)])
    assert raised.value.__notes__ == [note]


def _refused(*inputs):
    outcome = examine(inputs)
    return [
        (placed.part.mark, why) for placed, why in zip(outcome.parts, outcome.refused, strict=True)
    ]


def test_a_part_with_an_error_is_refused_and_its_neighbour_is_not():
    reader = _fixed(_placed("a", "A1"), _placed("a", "A2"), findings=[_error("a", "A1")])
    assert _refused(_input("a", reader)) == [("A1", "it has errors"), ("A2", "")]


def test_an_error_outside_any_part_refuses_the_whole_file_and_no_other():
    reader = _fixed(_placed("a", "A1"), findings=[_error("a")])
    other = _fixed(_placed("b", "B1"))
    assert _refused(_input("a", reader), _input("b", other)) == [
        ("A1", "its file has errors"),
        ("B1", ""),
    ]


def test_only_the_newest_revision_of_a_mark_is_handed_on():
    old = _fixed(_placed("a", revision="A", length_mm=299.0))
    new = _fixed(_placed("b", revision="B"))
    assert _refused(_input("a", old), _input("b", new)) == [
        ("F1", "revision B in b replaces it"),
        ("F1", ""),
    ]


def test_the_same_piece_twice_is_handed_on_once():
    one, two = _fixed(_placed("a")), _fixed(_placed("b"))
    assert _refused(_input("a", one), _input("b", two)) == [
        ("F1", ""),
        ("F1", "the same mark is written from a"),
    ]


def test_one_mark_for_two_pieces_refuses_both():
    one, two = _fixed(_placed("a")), _fixed(_placed("b", length_mm=299.0))
    assert _refused(_input("a", one), _input("b", two)) == [
        ("F1", "it has errors"),
        ("F1", "it has errors"),
    ]


def _emitter(name="one", *, per_leg=False, losses=(), raises=None):
    def write(part, options):
        if raises:
            raise CannotRepresentError(raises)
        return f"{part.mark} {options.leg}".encode()

    return Emitter(
        name=name,
        title=name.title(),
        suffix=f".{name}",
        per_leg=per_leg,
        media_type="text/plain",
        emit=write,
        losses=lambda _: losses,
    )


def test_files_of_a_part_are_named_by_stem_leg_and_suffix():
    formats = (_emitter("one"), _emitter("dwg", per_leg=True))
    emitted = emit(_placed("a"), "F~1", formats, EmitOptions())
    assert emitted.files == (("F~1.one", b"F1 None"), ("F~1.face.dwg", b"F1 face"))
    assert emitted.made == ("One", "Dwg")
    assert emitted.findings == ()


def test_the_legs_of_an_angle_are_files_of_their_own():
    from translator.model import Angle, AngleEnds, AngleLegs

    placed = _placed(
        "a",
        section=Angle(leg_a_mm=90.0, leg_b_mm=60.0, thickness_mm=6.0),
        legs=AngleLegs(),
        ends=AngleEnds(),
    )
    emitted = emit(placed, "F1", (_emitter("dwg", per_leg=True),), EmitOptions())
    assert emitted.files == (("F1.leg-a.dwg", b"F1 a"), ("F1.leg-b.dwg", b"F1 b"))


def test_a_loss_is_a_note_and_a_refusal_an_error_without_a_file():
    formats = (
        _emitter("one", losses=("the bolt is not written",)),
        _emitter("two", raises="it has no words for a tapped hole"),
    )
    emitted = emit(_placed("a", line=7), "F1", formats, EmitOptions())
    assert [name for name, _ in emitted.files] == ["F1.one"]
    assert [
        (f.rule, f.severity.value, f.mark, f.span.line, f.message) for f in emitted.findings
    ] == [
        ("cannot-carry", "note", "F1", 7, "One: the bolt is not written"),
        (
            "cannot-write",
            "error",
            "F1",
            7,
            "no Two is written: it has no words for a tapped hole",
        ),
    ]


def test_an_emitter_that_fails_is_named():
    broken = _emitter("one")
    broken = Emitter(**{f: getattr(broken, f) for f in broken.__slots__} | {"emit": _fail})
    with pytest.raises(ZeroDivisionError) as raised:
        emit(_placed("a.bmk"), "F1", (broken,), EmitOptions())
    assert raised.value.__notes__ == ["while writing one a.bmk"]


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(parts())
def test_sound_parts_go_the_whole_road_unchanged(part):
    before = part.model_dump_json()
    placed = Placed(part=part, places={"": _place("a")})
    outcome = examine([_input("a", _fixed(placed))])
    for emitter in emitters():
        if emitter.name != "nc":
            emitted = emit(placed, "x", (emitter,), EmitOptions())
            assert emitted.files
            assert emitted == emit(placed, "x", (emitter,), EmitOptions())
    assert part.model_dump_json() == before
    known = {rule.name for rule in rules()} | {
        "waiver-unknown",
        "waiver-unused",
        "waiver-lapsed",
    }
    assert {f.rule for f in outcome.verdict.findings} <= known
