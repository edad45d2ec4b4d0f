"""What a run tells of itself: files made, files left over, and a report that finds no room."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from translator.commands import main

TWO = """\
units mm
part A1 { section L90x90x10 length 500 }
part A2 { section FB100x10 length 300 face { hole 18 gauge 50 at 50 } }
"""


@pytest.fixture
def here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "two.bmk").write_text(TWO)
    return tmp_path


@pytest.mark.usefixtures("here")
@pytest.mark.skipif(not Path("/dev/full").exists(), reason="the system has no full device")
@pytest.mark.parametrize("options", [("check", "--fail-on", "note"), ("show",), ("rules",)])
def test_a_report_that_finds_no_room_is_said_in_a_sentence(options):
    paths = () if options == ("rules",) else ("two.bmk",)
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "translator", *options, *paths],
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
        )
    said = b"backmark: can't write the report: no space left on device\n"
    assert (done.returncode, done.stderr) == (2, said)


def _translate(*options):
    return CliRunner().invoke(
        main, ["translate", "two.bmk", "--out", "tt", "--practice", "none", *options]
    )


def _summary(*options):
    lines = _translate(*options).stdout.splitlines()
    start = next(i for i, line in enumerate(lines) if " input file" in line)
    return lines[start : lines.index("", start)]


BROKEN = TWO.replace("gauge 50 at 50", "gauge 150 at 50")
UNREAD = TWO.replace("FB100x10", "FB0x10")


def test_files_of_an_earlier_run_beside_a_refusal_are_told_and_kept(here):
    assert _translate().exit_code == 0
    before = {path.name: path.read_bytes() for path in (here / "tt").iterdir()}
    (here / "two.bmk").write_text(BROKEN)
    summary = _summary()
    assert summary[3:] == [
        "not written: 1",
        "  A2 (two.bmk): it has errors",
        "older files still there: 2",
        "  tt/A2.part.json",
        "  tt/A2.face.dxf",
        "  --prune removes those that an earlier run made",
        "Look first at A2: error feature-off-leg (two.bmk).",
    ]
    after = {path.name: path.read_bytes() for path in (here / "tt").iterdir()}
    index = json.loads(after.pop("index.json"))
    assert before.pop("index.json")
    assert after == before
    assert {one["name"] for one in index["files"]} == {
        *("A1.part.json", "A1.leg-a.dxf", "A1.leg-b.dxf"),
    }
    assert {one["name"] for one in index["earlier"]} == {"A2.part.json", "A2.face.dxf"}
    (said,) = [line for line in _translate().stdout.splitlines() if "[older-output]" in line]
    assert said == (
        "two.bmk:3:1: warning: tt/A2.part.json and tt/A2.face.dxf were there before: this run"
        " did not write them [older-output]"
    )


@pytest.mark.parametrize(
    ("text", "formats", "older"),
    [
        pytest.param(
            BROKEN,
            "json",
            ["tt/A2.part.json", "tt/A1.leg-a.dxf", "tt/A1.leg-b.dxf", "tt/A2.face.dxf"],
            id="formats-not-asked-for-too",
        ),
        pytest.param(UNREAD, "json,dxf", ["tt/A2.part.json", "tt/A2.face.dxf"], id="not-read"),
        pytest.param(
            TWO.replace("section FB100x10", "section L100x100x10").replace("face", "leg b"),
            "json,dxf",
            ["tt/A2.face.dxf"],
            id="another-section",
        ),
        pytest.param(TWO, "json,dxf", [], id="all-written-again"),
    ],
)
def test_which_files_count_as_older(here, text, formats, older):
    _translate()
    (here / "tt" / "notes.txt").write_text("mine")
    (here / "two.bmk").write_text(text)
    summary = _summary("--to", formats)
    told = [line.strip() for line in summary if line.startswith("  tt/")]
    assert told == older
    assert (f"older files still there: {len(older)}" in summary) == bool(older)


def test_an_older_file_fails_a_run_that_fails_on_warnings(here):
    assert _translate("--fail-on", "warning").exit_code == 0
    (here / "two.bmk").write_text(TWO.replace("FB100x10", "L100x100x10").replace("face", "leg b"))
    assert _translate().exit_code == 0
    assert _translate("--fail-on", "warning").exit_code == 1


def test_all_files_are_older_under_settings_that_are_not_understood(here):
    _translate("--to", "json")
    (here / "backmark.toml").write_text("colour = 1\n")
    summary = _summary("--to", "json")
    assert summary[0] == "1 input file, 2 parts; no file made"
    assert summary[3:6] == ["older files still there: 2", "  tt/A1.part.json", "  tt/A2.part.json"]


def test_an_input_in_the_output_folder_is_no_older_output(here):
    (here / "A2.part.json").write_text("old")
    (here / "A2.bmk").write_text(BROKEN)
    done = CliRunner().invoke(main, ["translate", "A2.bmk", "--to", "bmk,json", "--out", "."])
    lines = done.stdout.splitlines()
    assert "older files still there: 1" in lines
    assert lines[lines.index("older files still there: 1") + 1] == "  A2.part.json"


@pytest.mark.parametrize(
    ("text", "line"),
    [
        pytest.param(UNREAD, "  two.bmk: 1 part could not be read (A2)", id="mark-known"),
        pytest.param("units mm\npart {", "  two.bmk: no part could be read", id="no-mark"),
    ],
)
def test_parts_that_could_not_be_read_are_not_written(here, text, line):
    (here / "two.bmk").write_text(text)
    summary = _summary()
    assert summary[summary.index("not written: 1") + 1] == line


@pytest.mark.parametrize(
    ("text", "formats", "last"),
    [
        pytest.param(
            TWO, "json,dxf", "tt/A1.leg-a.dxf: hold this drawing against the detailer's", id="dxf"
        ),
        pytest.param(
            TWO, "json", "tt/A1.part.json: hold it against the detailer's drawing", id="no-drawing"
        ),
        pytest.param("units mm\nfoo", "json", "two.bmk: error syntax", id="file-told-once"),
    ],
)
def test_the_last_line_names_what_to_look_at(here, text, formats, last):
    (here / "two.bmk").write_text(text)
    assert _summary("--to", formats)[-1] == f"Look first at {last}."


def test_a_run_that_makes_nothing_says_so(here):
    (here / "two.bmk").write_text(BROKEN.replace("part A1", "part A2", 1))
    assert _summary()[0] == "1 input file, 2 parts; no file made"
    assert not (here / "tt").exists()
