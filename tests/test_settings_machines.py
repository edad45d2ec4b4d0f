"""Machines named in the settings file: a check is made for them, a flag wins."""

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from translator.commands import main

MACHINES = Path(__file__).parent.parent / "samples" / "machines"
PART = """\
units mm
part A1 { section L90x90x10   length 400   leg a { holes 22 gauge 50 at 100 } }
"""


def check(folder: Path, *arguments: str) -> dict[str, object]:
    ran = CliRunner().invoke(main, ["check", str(folder), "--format", "json", *arguments])
    assert ran.exit_code in (0, 1), ran.output
    return json.loads(ran.output)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shop = tmp_path / "shop"
    shop.mkdir()
    (shop / "a.bmk").write_text(PART)
    shutil.copy(MACHINES / "hand-bench.machine.json", shop / "bench.machine.json")
    return shop


def test_machines_of_the_settings_are_checked(folder: Path) -> None:
    (folder / "backmark.toml").write_text('machines = ["bench.machine.json"]\n')
    assert [fit["machine"] for fit in check(folder)["machines"]] == ["Bench"]


def test_a_machine_named_on_the_command_line_wins(folder: Path) -> None:
    (folder / "backmark.toml").write_text('machines = ["bench.machine.json"]\n')
    found = check(folder, "--machine", str(MACHINES / "drill-and-saw-line.machine.json"))
    assert [fit["machine"] for fit in found["machines"]] == ["Line 2"]


@pytest.mark.parametrize("value", ["3", '"bench.machine.json"', "[3]", '[""]'])
def test_a_wrong_list_of_machines_is_a_finding(folder: Path, value: str) -> None:
    (folder / "backmark.toml").write_text(f"\nmachines = {value}\n")
    (finding,) = (f for f in check(folder)["findings"] if f["severity"] == "error")
    assert finding["rule"] == "setting-bad"
    assert finding["line"] == 2
    assert finding["message"].endswith(
        'it takes a list of profiles, like ["machines/line-1.machine.json"]'
    )


def test_a_missing_profile_stops_the_run(folder: Path) -> None:
    (folder / "backmark.toml").write_text('machines = ["gone.machine.json"]\n')
    ran = CliRunner().invoke(main, ["check", str(folder)])
    assert ran.exit_code == 2
    assert "gone.machine.json" in ran.output
