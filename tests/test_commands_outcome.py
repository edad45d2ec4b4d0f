"""What a run tells of itself: files made, files left over, and a report that finds no room."""

import subprocess
import sys
from pathlib import Path

import pytest

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
