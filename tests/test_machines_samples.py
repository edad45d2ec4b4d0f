"""The sample machines on the Tern Quay parts, and ``check --machine``."""

import json
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner
from machine_parts import angle, document, drill, hole, machine, punch

from translator.commands import main
from translator.emitters import EmitOptions
from translator.emitters.part_json import EMITTER
from translator.findings import CAUTION
from translator.model import Cope, Placed, Waiver
from translator.reports._schema import findings_schema
from translator.rules import rules
from translator.rules._machines import best
from translator.rules._run import run
from translator.source import Span

SAMPLES = Path(__file__).parent.parent / "samples"
QUAY = SAMPLES / "tern-quay"
LINES = ("punch-and-drill-line", "drill-and-saw-line", "hand-bench")
PLACE = Span("p", 1, 1, 1, 1)
OF_MACHINE = {rule.name for rule in rules() if rule.scope == "machine"}

# mark: what Line 1 (punch and drill, shear), Line 2 (drill both, saw) and the bench make of it
COMPLETE, SECOND, NOT = "complete", "with second work", "not"
EXPECTED = {
    "C11": (COMPLETE, COMPLETE, COMPLETE),
    "C12": (COMPLETE, NOT, SECOND),  # slots: punched, or filed out at the bench
    "C13": (COMPLETE, COMPLETE, COMPLETE),
    "C21": (SECOND, SECOND, SECOND),  # clipped corners
    "C22": (SECOND, SECOND, SECOND),  # a cope
    "B7": (NOT, SECOND, SECOND),  # mitred: not on the square shear; a cope
    "B8": (COMPLETE, COMPLETE, COMPLETE),
    "W31": (COMPLETE, COMPLETE, COMPLETE),
    "W32": (COMPLETE, COMPLETE, COMPLETE),
    "B41": (NOT, COMPLETE, COMPLETE),  # mitred at both ends
    "F41": (COMPLETE, COMPLETE, COMPLETE),
    "F42": (NOT, NOT, SECOND),  # a slanted slot
    "L1": (NOT, NOT, COMPLETE),  # shorter than either line holds
    "L2": (COMPLETE, NOT, SECOND),  # slots, as C12
    "L3": (SECOND, SECOND, SECOND),  # clipped corners
    "L4": (SECOND, SECOND, SECOND),  # clipped corners
    "L5": (COMPLETE, COMPLETE, COMPLETE),
    "L6": (NOT, COMPLETE, COMPLETE),  # mitred
    "L6R": (NOT, COMPLETE, COMPLETE),  # mitred
    "L7": (SECOND, SECOND, SECOND),  # rounded ends
    "L8": (COMPLETE, COMPLETE, COMPLETE),
    "L9": (COMPLETE, COMPLETE, COMPLETE),
}


def profile(name):
    return str(SAMPLES / "machines" / f"{name}.machine.json")


def check(*arguments):
    return CliRunner().invoke(main, ["check", *arguments])


def with_machines(path, *names, form="json"):
    options = [word for name in names for word in ("--machine", profile(name))]
    return check(str(path), "--format", form, *options)


def test_every_part_of_the_quay_has_its_machine():
    files = sorted(QUAY.glob("*.bmk"))
    assert files
    made = {}
    for path in files:
        result = with_machines(path, *LINES)
        assert result.exit_code == 0, result.output
        report = json.loads(result.stdout)
        # The library holds families and no part of its own.
        assert ("machines" in report) == (path.name != "library.bmk")
        for fit in report.get("machines", ()):
            made.setdefault(fit["mark"], []).append(fit["verdict"])
        # Of each part only the machine that serves it best is heard: nothing above a note.
        assert {f["severity"] for f in report["findings"] if f["rule"] in OF_MACHINE} <= {"note"}
    assert {mark: tuple(verdicts) for mark, verdicts in made.items()} == EXPECTED


def test_the_report_fits_its_schema():
    report = json.loads(with_machines(QUAY / "clips.bmk", *LINES).stdout)
    jsonschema.Draft202012Validator(findings_schema()).validate(report)
    assert report["machines"][3:5] == [
        {
            "path": (QUAY / "clips.bmk").as_posix(),
            "mark": "C12",
            "machine": "Line 1",
            "verdict": "complete",
        },
        {
            "path": (QUAY / "clips.bmk").as_posix(),
            "mark": "C12",
            "machine": "Line 2",
            "verdict": "not",
            "why": "slot b1 is 13/16 in. x 1 in., no tool on the right side makes it",
        },
    ]
    assert set(report["rules_run"]) >= OF_MACHINE


def test_without_a_machine_its_rules_are_not_applied():
    report = json.loads(check(str(QUAY / "clips.bmk"), "--format", "json").stdout)
    assert "machines" not in report
    assert not OF_MACHINE & set(report["rules_run"])
    idle = {r["rule"] for r in report["rules_not_applicable"] if r["why"] == "no machine is named"}
    assert idle == OF_MACHINE


def test_the_table_for_a_person():
    result = with_machines(QUAY / "bracing.bmk", "punch-and-drill-line", form="text")
    assert result.exit_code == 1
    lines = result.stdout.splitlines()
    assert lines[0].endswith(
        ": error: Line 1: the far end is cut at 15 deg on leg a, the shear only cuts square"
        " [mitre-on-square-shear]"
    )
    assert lines[1:3] == [
        "      mitre far 15deg from square, long at toe of leg a",
        "      ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^",
    ]
    start = lines.index("mark  machine  verdict   first reason, or what is left to do")
    assert lines[start + 1 : start + 3] == [
        (
            "B7    Line 1   not       the far end is cut at 15 deg on leg a, the shear only cuts"
            " square"
        ),
        "B8    Line 1   complete",
    ]
    assert lines[-1] == CAUTION


FILES = {
    "missing": ({}, 2, "backmark: can't read line.machine.json: no such file or directory"),
    "two of one name": (
        {"line.machine.json": document({"name": "x", "angles": {}})},
        2,
        "backmark: two machines are called 'x'",
    ),
}


@pytest.fixture
def clip(tmp_path, monkeypatch):
    """A part file in a folder of its own, which the run starts in."""
    monkeypatch.chdir(tmp_path)
    part = angle([hole("a1", diameter=26.0)])
    Path("A1.part.json").write_bytes(EMITTER.emit(part, EmitOptions()))
    return tmp_path


@pytest.mark.parametrize(("files", "code", "message"), FILES.values(), ids=FILES)
def test_a_profile_that_can_not_be_used_stops_the_run(clip, files, code, message):
    for name, text in files.items():
        (clip / name).write_text(text, encoding="utf-8")
    options = ["--machine", "line.machine.json"] * (2 if files else 1)
    result = check("A1.part.json", *options)
    assert (result.exit_code, result.stderr.strip()) == (code, message)


def test_a_profile_larger_than_any_stops_the_run(clip):
    (clip / "line.machine.json").write_bytes(b" " * 250_001)
    result = check("A1.part.json", "--machine", "line.machine.json")
    assert result.exit_code == 2
    assert "line.machine.json is larger than 250 kB; a machine profile is not" in result.stderr


def test_a_faulty_profile_is_a_finding_with_its_place(clip):
    text = '{"format": "backmark/machine", "version": "1.0",\n "machine": {"name": "Line 9"}}\n'
    (clip / "line.machine.json").write_text(text, encoding="utf-8")
    result = check("A1.part.json", "--machine", "line.machine.json")
    assert result.exit_code == 1
    assert result.stdout.splitlines()[:3] == [
        (
            "line.machine.json:2:13: error: the machine: it takes neither angles nor flats: one of"
            " them must be there [field-wrong]"
        ),
        '     "machine": {"name": "Line 9"}}',
        "                ^",
    ]


# Several machines, waivers


def placed(part):
    return Placed(part=part, places={"": PLACE})


def found(part, *machines):
    checked = run([placed(part)], rules(), machines=machines)
    return [f for f in checked.findings[0] if f.rule in OF_MACHINE or f.rule.startswith("waiver")]


def test_a_part_that_one_machine_makes_is_at_fault_on_none():
    part = angle([hole("a1", diameter=26.0)])
    small, large = machine(stations=[punch()]), machine(name="Line 2", stations=[drill(TOOL)])
    assert [f.message for f in found(part, small)] == [
        "Line 1: hole a1 is 26 mm, the nearest tool on the left side is 22 mm (4)"
    ]
    assert found(part, small, large) == []
    fits = run([placed(part)], rules(), machines=(small, large)).fits
    assert [(f.machine, f.verdict) for f in fits] == [("Line 1", "not"), ("Line 2", "complete")]


TOOL = {"number": "1", "shape": "round", "diameter_mm": 26}


def test_of_machines_that_serve_alike_the_first_is_heard():
    part = angle(trims=[Cope(end="start", side="toe", along_mm=60.0, across_mm=30.0)])
    names = [f.message.partition(":")[0] for f in found(part, machine(), machine(name="Line 2"))]
    assert names == ["Line 1"]


def test_the_best_has_the_fewest_faults_then_the_least_work():
    from translator.machines import capable

    part = angle(
        [hole("a1", diameter=26.0)],
        trims=[Cope(end="start", side="toe", along_mm=60.0, across_mm=30.0)],
    )
    each = [
        capable(one, part)
        for one in (
            machine(stations=[punch()]),
            machine(stations=[punch()], second_work=["hole", "cope"]),
            machine(stations=[drill(TOOL)]),
        )
    ]
    assert [c.verdict for c in each] == [NOT, SECOND, SECOND]
    assert best(each) == 2


def waived(rule, **more):
    waiver = Waiver(rule=rule, leg="a", feature="a1", reason="tried on the first piece", **more)
    return angle([hole("a1", y=49.99)], waivers=(waiver,))


def test_a_machines_fault_can_be_waived_up_to_its_value():
    one = machine(stations=[punch(from_heel={"least_mm": 50})])
    part = waived("gauge-out-of-reach", value=49.99)
    assert [(f.rule, f.waived) for f in found(part, one)] == [
        ("gauge-out-of-reach", "tried on the first piece (accepted down to 49.99 mm)")
    ]
    worse = part.model_copy(update={"legs": angle([hole("a1", y=49.9)]).legs})
    assert [(f.rule, f.waived) for f in found(worse, one)] == [
        ("gauge-out-of-reach", None),
        ("waiver-lapsed", None),
    ]


def test_a_waiver_of_a_machines_fault_rests_while_no_machine_is_named():
    assert found(waived("gauge-out-of-reach")) == []
    (finding,) = found(waived("gauge-out-of-reach"), machine(stations=[punch()]))
    assert finding.rule == "waiver-unused"
