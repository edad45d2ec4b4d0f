"""``backmark bars``: everything that is printed for a plan, of one mind with the plan."""

import csv
import json
import shutil
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from translator.bars.estimate_document import estimate_schema
from translator.commands import main
from translator.findings import CAUTION

ROOT = Path(__file__).parent.parent
CLIPS = ROOT / "samples" / "tern-quay" / "clips.bmk"
LINE_1 = ROOT / "samples" / "machines" / "punch-and-drill-line.machine.json"
NAMES = [
    *(
        "bars.html",
        "estimate.csv",
        "estimate.html",
        "estimate.json",
        "estimate.txt",
        "labels.csv",
        "labels.html",
    ),
    *("setup.csv", "setup.html", "setup.txt"),
]


def run(*arguments):
    return CliRunner().invoke(main, list(map(str, arguments)), catch_exceptions=False)


@pytest.fixture(scope="module")
def planned(tmp_path_factory):
    """Return a folder with clips and a plan of them."""
    folder = tmp_path_factory.mktemp("planned")
    shutil.copy(CLIPS, folder / "clips.bmk")
    done = run(
        *("plan", folder / "clips.bmk", "--machine", LINE_1, "--standard", "20'"),
        *("--out", folder / "plan"),
    )
    assert done.exit_code == 0, done.output
    return folder


def made(planned, out, *more):
    return run(
        *("bars", planned / "plan" / "plan.json", planned / "clips.bmk", "--machine", LINE_1),
        *("--out", out, *more),
    )


@pytest.fixture(scope="module")
def lists(planned, tmp_path_factory):
    out = tmp_path_factory.mktemp("lists")
    done = made(planned, out, "--release", "TQ-7-R1")
    assert done.exit_code == 0, done.output
    return out


def plan_of(planned):
    return json.loads((planned / "plan" / "plan.json").read_text(encoding="utf-8"))["plan"]


def test_all_lists_are_written_with_the_caution(lists):
    assert sorted(path.name for path in lists.iterdir()) == NAMES
    for name in NAMES:
        if not name.endswith(".csv"):
            text = " ".join((lists / name).read_text(encoding="utf-8").split())
            assert CAUTION in text, name


def test_there_is_a_label_for_every_piece_of_the_plan(planned, lists):
    rows = list(csv.DictReader((lists / "labels.csv").read_text(encoding="utf-8").splitlines()))
    wanted = [
        (f"bar-{bar['number']:03d}", str(piece["number"]), piece["mark"], str(piece["index"]))
        for bar in plan_of(planned)["bars"]
        for piece in bar["pieces"]
    ]
    assert [(r["bars"], r["bar_piece"], r["mark"], r["from"]) for r in rows] == wanted
    assert len(rows) == 12 + 24 + 8
    assert {r["release"] for r in rows} == {"TQ-7-R1"}
    assert {r["drawing"] for r in rows} == {"E-101"}


def test_the_estimate_counts_what_the_plan_holds(planned, lists):
    document = json.loads((lists / "estimate.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator(estimate_schema()).validate(document)
    (own,) = document["estimate"]["machines"]
    assert own["basis"] == "programs"
    plan = plan_of(planned)
    assert own["totals"]["bars"] == len(plan["bars"])
    assert own["totals"]["pieces"] == sum(len(bar["pieces"]) for bar in plan["bars"]) == 44


def test_the_setup_sheet_counts_every_hole(lists):
    """C11: 12 x 6, C12: 24 x 8 (four of them slots), C13: 8 x 8."""
    rows = list(csv.DictReader((lists / "setup.csv").read_text(encoding="utf-8").splitlines()))
    assert sum(int(row["hits"]) for row in rows) == 12 * 6 + 24 * 8 + 8 * 8


def test_the_bar_list_draws_each_pattern(planned, lists):
    page = (lists / "bars.html").read_text(encoding="utf-8")
    patterns = {(bar["group"], bar["pattern"]) for bar in plan_of(planned)["bars"]}
    assert page.count('class="bar"') == len(patterns)


def test_the_same_again_gives_the_same_bytes(planned, lists, tmp_path):
    assert made(planned, tmp_path, "--release", "TQ-7-R1").exit_code == 0
    for name in NAMES:
        assert (tmp_path / name).read_bytes() == (lists / name).read_bytes(), name


def test_a_part_that_was_changed_since_is_refused(planned, tmp_path):
    changed = CLIPS.read_text(encoding="utf-8").replace("gauge 2-1/2", "gauge 2-1/4", 1)
    (tmp_path / "clips.bmk").write_text(changed, encoding="utf-8")
    done = run(
        *("bars", planned / "plan" / "plan.json", tmp_path / "clips.bmk"),
        *("--machine", LINE_1, "--out", tmp_path / "out"),
    )
    assert done.exit_code == 2
    assert "was changed after the plan was made" in done.output
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("document", "said"),
    [
        pytest.param("{", "is no cutting plan", id="no JSON"),
        pytest.param('{"format": "backmark/part", "version": "1.0"}', "format is", id="a part"),
        pytest.param(None, "can't read", id="no file"),
    ],
)
def test_what_is_no_plan_is_refused(planned, tmp_path, document, said):
    path = tmp_path / "plan.json"
    if document is not None:
        path.write_text(document, encoding="utf-8")
    done = run(
        *("bars", path, planned / "clips.bmk", "--machine", LINE_1, "--out", tmp_path / "out")
    )
    assert done.exit_code == 2
    assert said in done.output
    assert not (tmp_path / "out").exists()


def test_a_wrong_size_is_told_before_anything_is_done(planned, tmp_path):
    done = made(planned, tmp_path / "out", "--size", "70x37")
    assert done.exit_code == 2
    assert "--size is 70x37" in done.output


@pytest.mark.parametrize("name", ["estimate", "setup", "labels"])
def test_a_list_may_be_written_beside_the_parts(tmp_path, name):
    shutil.copy(CLIPS, tmp_path / "clips.bmk")
    machine = [] if name == "labels" else ["--machine", LINE_1]
    out = tmp_path / f"{name}.out"
    done = run(name, tmp_path, *machine, "--out", out)
    assert done.exit_code == 0, done.output
    assert "C12" in out.read_text(encoding="utf-8")


def test_all_lists_may_be_written_beside_the_parts(planned):
    done = run(
        *("bars", planned / "plan" / "plan.json", planned, "--machine", LINE_1, "--out", planned)
    )
    assert done.exit_code == 0, done.output
    assert (planned / "bars.html").is_file()
    assert (
        run(
            "bars", planned / "plan" / "plan.json", planned, "--machine", LINE_1, "--out", planned
        ).exit_code
        == 0
    )
