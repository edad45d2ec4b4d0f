"""``backmark program``: a plan and its parts to a program for each bar, or a refusal."""

import json

import pytest
from bar_orders import MACHINES, placed
from click.testing import CliRunner
from machine_parts import hole
from program_bars import FAR, bar, part, piece, slug

from translator.bars.fingerprint import fingerprint
from translator.bars.plan_load import load_plan
from translator.bars.plan_model import Plan, PlannedMark, PlanOptions
from translator.bars.program_batch import strangers
from translator.commands import main
from translator.emitters import EmitOptions
from translator.emitters.part_json import EMITTER
from translator.source import Source

LINE_1 = MACHINES / "punch-and-drill-line.machine.json"
LINE_2 = MACHINES / "drill-and-saw-line.machine.json"
OPTIONS = PlanOptions(
    cut="slug", loss_mm=16.0, front_trim_mm=10.0, tail_mm=203.2, least_remnant_mm=500.0
)
ONE = part(a=[hole("a1", 50.0, 50.0, 18.0)])


def plan_of(*bars, parts=(ONE,), machine="Line 1", **marks):
    return Plan(
        machine=machine,
        options=OPTIONS,
        bars=bars,
        marks=tuple(
            PlannedMark(
                mark=one.mark,
                source="w.part.json",
                length_mm=one.length_mm,
                quantity=1,
                planned=1,
                fingerprint=fingerprint(one),
                **marks,
            )
            for one in parts
        ),
    )


def run(folder, plan, *parts, machine=LINE_1):
    """Run the command in a folder; return exit code, result, remarks."""
    inputs = folder / "parts"
    inputs.mkdir(exist_ok=True)
    for one in parts:
        (inputs / f"{one.mark}.part.json").write_bytes(EMITTER.emit(one, EmitOptions()))
    document = {"format": "backmark/plan", "version": "1.0"}
    document["plan"] = plan.model_dump(mode="json", exclude_none=True)
    (folder / "plan.json").write_text(json.dumps(document), encoding="utf-8")
    arguments = ["program", str(folder / "plan.json"), str(inputs), "--machine", str(machine)]
    ran = CliRunner().invoke(
        main, [*arguments, "--out", str(folder / "out")], catch_exceptions=False
    )
    return ran.exit_code, ran.stdout, ran.stderr


def flowed(text):
    """A text with its lines joined again."""
    return " ".join(text.split())


def test_a_program_for_each_bar(tmp_path):
    code, said, _ = run(tmp_path, plan_of(bar(piece(ONE)), bar(piece(ONE), number=2)), ONE)
    assert code == 0
    assert said.splitlines()[:3] == [
        "bar-001  6000 mm, 3 stops  1 W1",
        "bar-002  6000 mm, 3 stops  1 W1",
        "2 bars programmed",
    ]
    assert "These checks are an aid." in said
    names = sorted(path.name for path in (tmp_path / "out").iterdir())
    assert names == ["bar-001.program.json", "bar-002.program.json"]
    document = json.loads((tmp_path / "out" / names[0]).read_text(encoding="utf-8"))
    assert document["format"] == "backmark/program"
    source = document["program"]["steps"][2]["operations"][0]["source"]
    assert source["file"].endswith("parts/W1.part.json")


def test_the_same_bytes_each_time(tmp_path):
    plan = plan_of(bar(piece(ONE)))
    made = []
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        run(tmp_path / name, plan, ONE)
        text = (tmp_path / name / "out" / "bar-001.program.json").read_text(encoding="utf-8")
        made.append(text.replace(str(tmp_path / name), ""))
    assert made[0] == made[1]


def test_a_part_changed_after_the_plan_is_refused(tmp_path):
    """The hole moved by 1 mm; nothing else would tell."""
    moved = part(a=[hole("a1", 51.0, 50.0, 18.0)])
    code, _, said = run(tmp_path, plan_of(bar(piece(ONE))), moved)
    assert code == 2
    assert "W1 was changed after the plan was made" in said
    assert not (tmp_path / "out").exists()


def test_another_quantity_or_a_remark_is_no_change(tmp_path):
    more = part(a=[hole("a1", 50.0, 50.0, 18.0)], quantity=7, remarks=("hurry",))
    code, _, _ = run(tmp_path, plan_of(bar(piece(ONE))), more)
    assert code == 0


def test_another_machine_is_refused(tmp_path):
    code, _, said = run(tmp_path, plan_of(bar(piece(ONE))), ONE, machine=LINE_2)
    assert code == 2
    assert "the plan was made for Line 1, the machine is Line 2" in said


def test_two_bars_of_one_number_are_refused(tmp_path):
    """Their programs would share a file."""
    code, _, said = run(tmp_path, plan_of(bar(piece(ONE)), bar(piece(ONE))), ONE)
    assert code == 2
    assert "2 bars have the number 1" in said


def test_a_part_that_is_missing_is_refused(tmp_path):
    other = part(mark="W2")
    code, _, said = run(tmp_path, plan_of(bar(piece(ONE))), other)
    assert code == 2
    assert "the plan has 1 of W1, which is not among the parts" in said


def test_a_bar_that_can_not_be_made_gets_a_file_that_says_why(tmp_path):
    """Bar 2 ends 100 mm behind its last cut; an older program of it must not stay."""
    out = tmp_path / "out"
    out.mkdir()
    for name in ("bar-002.program.json", "bar-009.program.json"):
        (out / name).write_text("an older program", encoding="utf-8")
    plan = plan_of(bar(piece(ONE)), bar(piece(ONE), number=2, length=410.0))
    code, said, remarks = run(tmp_path, plan, ONE)
    assert code == 1
    assert "1 bar programmed, 1 refused" in said
    assert "bar-002: the cut at 310 mm is 100 mm from the trailing end" in flowed(said)
    assert "(in-dead-end); plan this piece for a longer bar" in flowed(said)
    assert max(len(line) for line in said.splitlines()) <= 100
    document = json.loads((out / "bar-002.program.json").read_text(encoding="utf-8"))
    assert document["program"]["steps"] == []
    assert document["program"]["refused"][0]["rule"] == "in-dead-end"
    assert "older programs still there, not of this plan: bar-009.program.json" in remarks


def test_a_refused_piece_is_told_with_its_file_and_line(tmp_path):
    turned = bar(piece(ONE, placement=FAR), cuts=[slug(-6.0, "behind", behind=1)])
    code, said, _ = run(tmp_path, plan_of(turned), ONE)
    assert code == 1
    assert "parts/W1.part.json:" in said
    assert "no cut of the plan makes the trailing end of piece 1 (W1), at 310 mm" in flowed(said)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", "error"),
        ('{"format": "backmark/part", "version": "1.0"}', 'it must be "backmark/plan"'),
        (
            '{"format": "backmark/plan", "version": "1.0", "plan": {"machine": 3}}',
            "machine of the plan: input should be a valid string",
        ),
    ],
    ids=["no JSON", "another document", "a wrong field"],
)
def test_what_is_no_plan(tmp_path, text, said):
    (tmp_path / "plan.json").write_text(text, encoding="utf-8")
    ran = CliRunner().invoke(
        main,
        ["program", str(tmp_path / "plan.json"), str(tmp_path), "--out", str(tmp_path / "out")],
        catch_exceptions=False,
    )
    assert ran.exit_code == 2
    assert said in ran.stderr
    assert "is no cutting plan that can be followed" in ran.stderr


def test_a_plan_that_is_not_there(tmp_path):
    ran = CliRunner().invoke(
        main, ["program", str(tmp_path / "none.json"), str(tmp_path), "--out", str(tmp_path)]
    )
    assert ran.exit_code == 2
    assert "can't read" in ran.stderr


def test_a_plan_of_many_faults_is_cut_short():
    document = {"format": "backmark/plan", "version": "1.0"}
    document["plan"] = {"machine": "Line 1", "options": {}, "bars": [{}] * 50}
    plan, findings = load_plan(Source(path="plan.json", data=json.dumps(document).encode()))
    assert plan is None
    assert len(findings) == 21
    assert "more than are listed" in " ".join(finding.message for finding in findings)


def test_a_mark_of_which_nothing_is_planned_need_not_be_there():
    plan = plan_of(bar(piece(ONE)), parts=(ONE, part(mark="W9")))
    marks = (plan.marks[0], plan.marks[1].model_copy(update={"planned": 0}))
    plan = plan.model_copy(update={"marks": marks})
    machine = type("Machine", (), {"name": "Line 1"})
    assert list(strangers(plan, [placed(ONE, "w.bmk", 1)], machine)) == []
