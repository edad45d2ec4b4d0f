"""``backmark plan`` as a person calls it."""

import csv
import io
import json
from pathlib import Path

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator

from translator.bars.plan_document import plan_schema
from translator.bars.plan_model import StockLine
from translator.bars.stock import read_stock
from translator.commands import main
from translator.findings import CAUTION
from translator.source import Source

ROOT = Path(__file__).parent.parent
MACHINE = str(ROOT / "samples" / "machines" / "punch-and-drill-line.machine.json")
STOCK = str(ROOT / "samples" / "stock.csv")
QUAY = ROOT / "samples" / "tern-quay"

ANGLES = """\
units mm
order "TQ-7"
grade S275JR
part A1 { section L90x90x10 length 500 quantity 9 }
part A2 { section L90x90x10 length 800 quantity 4 }
"""


def run(*args):
    return CliRunner().invoke(main, ["plan", *args])


@pytest.fixture
def angles(tmp_path):
    path = tmp_path / "angles.bmk"
    path.write_text(ANGLES, "utf-8")
    return str(path)


def test_the_sample_stock_plans_the_sample_clips():
    ran = run(str(QUAY / "clips.bmk"), "--stock", STOCK, "--machine", MACHINE)
    assert ran.exit_code == 0, ran.output
    assert "Cutting plan for Line 1" in ran.stdout
    assert "gap 0 %: no better plan exists" in ran.stdout
    assert CAUTION in ran.stdout
    assert all(len(line) <= 100 for line in ran.stdout.split("\n") if line != CAUTION)


def test_all_formats_tell_the_same_plan(angles, tmp_path):
    given = (angles, "--standard", "6000mm", "--machine", MACHINE)
    document = json.loads(run(*given, "--format", "json").stdout)
    Draft202012Validator(plan_schema()).validate(document)
    assert document["caution"] == CAUTION
    bars = document["plan"]["bars"]
    rows = list(csv.DictReader(io.StringIO(run(*given, "--format", "csv").stdout, newline="")))
    pieces = [(bar["number"], piece["mark"]) for bar in bars for piece in bar["pieces"]]
    assert [(int(row["bar"]), row["mark"]) for row in rows] == pieces
    assert len(pieces) == 13
    out = tmp_path / "out"
    ran = run(*given, "--out", str(out))
    assert sorted(p.name for p in out.iterdir()) == [
        "cut-list.csv",
        "plan.json",
        "plan.txt",
        "stock-left.csv",
    ]
    assert json.loads((out / "plan.json").read_text("utf-8")) == document
    assert (out / "plan.txt").read_text("utf-8") == ran.stdout


def test_the_stock_that_is_left_can_be_fed_in_again(angles, tmp_path):
    out = tmp_path / "out"
    first = run(angles, "--stock", STOCK, "--machine", MACHINE, "--out", str(out))
    assert first.exit_code == 0, first.output
    left = str(out / "stock-left.csv")
    document = json.loads((out / "plan.json").read_text("utf-8"))["plan"]
    read = read_stock(Source(path=left, data=Path(left).read_bytes()))
    assert read.is_sound
    assert [line.model_dump(exclude_none=True) for line in read.lines] == [
        StockLine.model_validate(line).model_dump(exclude_none=True) for line in document["left"]
    ]
    assert "R102" not in {line.id for line in read.lines}  # the remnant that was used up
    again = run(angles, "--stock", left, "--machine", MACHINE)
    assert again.exit_code == 0, again.output


def test_fill_is_one_line_and_its_arithmetic(angles):
    ran = run("--fill", "6000mm", angles, "--machine", MACHINE)
    assert ran.exit_code == 0
    assert ran.stdout.startswith("A1: 11 pieces from a bar of 6000 mm; drop 314 mm\n")
    assert CAUTION in ran.stdout


def test_what_is_on_no_bar_makes_the_exit_code_one(tmp_path):
    path = tmp_path / "b.bmk"
    path.write_text(ANGLES + "part A3 { section L90x90x10 length 5900 quantity 1 }\n", "utf-8")
    ran = run(str(path), "--standard", "6000mm", "--machine", MACHINE)
    assert ran.exit_code == 1
    assert "On no bar: 1 piece" in ran.stdout
    assert "1 A3: no bar of L90x90x10 in S275JR is left that it fits" in ran.stdout


def test_parts_with_errors_are_left_out_and_told(tmp_path):
    path = tmp_path / "b.bmk"
    bad = "part A3 { section L90x90x10 length 500 leg a { hole 22 gauge 50 at 600 } }\n"
    path.write_text(ANGLES + bad, "utf-8")
    ran = run(str(path), "--standard", "6000mm", "--machine", MACHINE, "--format", "json")
    assert ran.exit_code == 1
    (gone,) = json.loads(ran.stdout)["plan"]["unplaced"]
    assert (gone["mark"], gone["kind"]) == ("A3", "refused")


def test_phases_and_progress(tmp_path, angles):
    path = tmp_path / "b.bmk"
    path.write_text(
        ANGLES + 'part A3 { section L90x90x10 length 500 quantity 2 phase "2" }\n', "utf-8"
    )
    done = tmp_path / "done.csv"
    done.write_text("mark,done,recut,priority\nA1,9,,\nA2,1,2,3\n", "utf-8")
    given = ("--standard", "6000mm", "--machine", MACHINE, "--format", "json")
    ran = run(str(path), "--phase", "2", *given)
    assert ran.exit_code == 0, ran.output
    document = json.loads(ran.stdout)["plan"]
    assert {p["mark"] for b in document["bars"] for p in b["pieces"]} == {"A3"}
    assert {(u["mark"], u["kind"]) for u in document["unplaced"]} == {
        ("A1", "later"),
        ("A2", "later"),
    }
    ran = run(angles, "--done", str(done), *given)
    document = json.loads(ran.stdout)["plan"]
    assert [(m["mark"], m["planned"]) for m in document["marks"]] == [("A1", 0), ("A2", 5)]


def test_a_release_is_planned_without_what_is_on_hold(tmp_path, angles):
    out = tmp_path / "released"
    ran = CliRunner().invoke(
        main,
        ["release", angles, "--to", str(out), "--by", "QA", "--hold", "A2=RFI 4"],
    )
    assert ran.exit_code == 0, ran.output
    given = (str(out), "--standard", "6000mm", "--machine", MACHINE, "--format", "json")
    ran = run(*given)
    assert ran.exit_code == 0, ran.output
    document = json.loads(ran.stdout)["plan"]
    assert {p["mark"] for b in document["bars"] for p in b["pieces"]} == {"A1"}
    (held,) = document["unplaced"]
    assert (held["mark"], held["kind"], held["count"]) == ("A2", "on-hold", 4)
    (one,) = (out / "files" / "json").glob("*A1*")
    one.write_text(one.read_text("utf-8").replace("500", "501"), "utf-8")
    ran = run(*given)
    assert ran.exit_code == 2
    assert "is not the release that its manifest tells of" in ran.stderr


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ((), "a plan needs bars"),
        (("--standard", "6000"), "say its unit too"),
        (("--standard", "0mm"), "must be more than 0"),
        (("--stock", "none.csv"), "can't read none.csv"),
    ],
)
def test_what_is_missing_is_said(angles, given, words):
    ran = run(angles, "--machine", MACHINE, *given)
    assert ran.exit_code == 2
    assert words in ran.stderr


def test_a_stock_list_with_errors_plans_nothing(angles, tmp_path):
    path = tmp_path / "stock.csv"
    path.write_text("section,length,count\nL90x90x10,6000,1\n", "utf-8")
    ran = run(angles, "--stock", str(path), "--machine", MACHINE)
    assert ran.exit_code == 2
    assert "stock.csv:2: error: the length 6000 has no unit" in ran.stderr
    assert ran.stdout == ""


def test_the_solver_is_loaded_only_for_a_plan():
    import subprocess
    import sys

    code = "import sys; import translator.commands.plan; print('highspy' in sys.modules)"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout == "False\n"


def test_without_the_solver_a_sentence_says_what_to_install(angles, monkeypatch):
    import sys

    monkeypatch.setitem(sys.modules, "highspy", None)
    ran = run(angles, "--standard", "6000mm", "--machine", MACHINE)
    assert ran.exit_code == 2
    assert "python -m pip install highspy" in ran.stderr


def test_a_file_with_a_hostile_name_is_planned_and_told_on_one_line(tmp_path):
    folder = tmp_path / "x\ny"
    folder.mkdir()
    (folder / "a\tb.bmk").write_text(
        ANGLES + 'part "=1+1" { section L90x90x10 length 700 quantity 1 }\n'
        "part A3 { section L90x90x10 length 500 leg a { hole 22 gauge 50 at 600 } }\n",
        "utf-8",
    )
    ran = run(str(tmp_path), "--standard", "6000mm", "--machine", MACHINE, "--format", "csv")
    assert ran.exit_code == 1, ran.output
    rows = list(csv.DictReader(io.StringIO(ran.stdout, newline="")))
    assert {row["mark"] for row in rows} == {"A1", "A2", "'=1+1"}
    assert "\n" not in "".join(row["source"] for row in rows)
    text = run(str(tmp_path), "--standard", "6000mm", "--machine", MACHINE).stdout
    assert "x\ny" not in text
