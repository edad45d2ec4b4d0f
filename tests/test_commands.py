"""The command line: what it prints, what it writes, how it exits."""

import copy
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from translator.commands import main
from translator.findings import CAUTION
from translator.rules import rules

CLIP = {
    "format": "backmark/part",
    "version": "1.0",
    "part": {
        "mark": "C12",
        "quantity": 24,
        "grade": "A36",
        "length_mm": 292.1,
        "section": {
            "kind": "angle",
            "designation": "L4x3-1/2x3/8",
            "leg_a_mm": 101.6,
            "leg_b_mm": 88.9,
            "thickness_mm": 9.525,
            "root_radius_mm": 9.525,
            "toe_radius_mm": 4.7625,
        },
        "legs": {
            "a": {
                "features": [
                    {
                        "id": "a1",
                        "kind": "hole",
                        "x_mm": 31.75,
                        "y_mm": 63.5,
                        "diameter_mm": 20.6375,
                    },
                    {
                        "id": "a2",
                        "kind": "slot",
                        "x_mm": 184.15,
                        "y_mm": 63.5,
                        "width_mm": 20.6375,
                        "length_mm": 39.6875,
                        "angle_deg": 90.0,
                    },
                ],
                "trims": [
                    {
                        "kind": "cope",
                        "end": "far",
                        "side": "toe",
                        "along_mm": 50.8,
                        "across_mm": 25.4,
                        "radius_mm": 0.0,
                    }
                ],
            },
            "b": {
                "features": [
                    {
                        "id": "b1",
                        "kind": "hole",
                        "x_mm": 31.75,
                        "y_mm": 50.8,
                        "diameter_mm": 20.6375,
                    },
                    {
                        "id": "b2",
                        "kind": "stamp",
                        "x_mm": 152.4,
                        "from_heel_mm": 28.575,
                        "height_mm": 9.525,
                    },
                ],
                "trims": [],
            },
        },
        "ends": {"start": {"leg_a_deg": 0.0, "leg_b_deg": 0.0}, "far": {}},
        "title": "beam clip",
        "order": "TQ-7",
        "drawing": "E-104",
        "revision": "B",
        "units": "inch",
    },
}


def _clip(**changes):
    document = copy.deepcopy(CLIP)
    hole = changes.pop("hole", {})
    document["part"].update(changes)
    document["part"]["legs"]["a"]["features"][0].update(hole)
    return json.dumps(document)


OFF_LEG = {"y_mm": 120.65}
IN_FILLET = {"y_mm": 28.575}


@pytest.fixture
def here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("NO_COLOR", raising=False)
    return tmp_path


def _run(*args, **more):
    return CliRunner().invoke(main, args, **more)


def _write(**files):
    for name, text in files.items():
        path = Path(name.replace("__", "/") + ".part.json")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")


@pytest.mark.usefixtures("here")
def test_a_clean_part_is_silent_in_a_pipe():
    _write(C12=_clip())
    result = _run("check", "C12.part.json", "--practice", "none")
    assert (result.exit_code, result.stdout, result.stderr) == (0, "", "")


@pytest.mark.usefixtures("here")
def test_a_fault_is_said_with_its_place_and_gives_1():
    _write(C12=_clip(hole=OFF_LEG))
    result = _run("check", "C12.part.json")
    first = result.stdout.splitlines()[0]
    assert result.exit_code == 1
    assert first.startswith("C12.part.json:1:")
    assert first.endswith(
        "error: the centre of hole a1 is 3/4 in. outside the outline of leg a [feature-off-leg]"
    )
    assert CAUTION in result.stdout


@pytest.mark.parametrize(
    ("options", "settings", "code"),
    [
        pytest.param((), "", 0, id="a-warning-passes"),
        pytest.param(("--fail-on", "warning"), "", 1, id="unless-asked"),
        pytest.param((), 'fail_on = "warning"', 1, id="or-set"),
        pytest.param(("--fail-on", "error"), 'fail_on = "note"', 0, id="flags-win"),
    ],
)
def test_what_makes_a_run_fail(here, options, settings, code):
    _write(C12=_clip(hole=IN_FILLET))
    (here / "backmark.toml").write_text(settings)
    result = _run("check", "C12.part.json", *options)
    assert result.exit_code == code
    assert "[hole-in-fillet]" in result.stdout


@pytest.mark.usefixtures("here")
def test_a_waived_error_passes_and_is_shown():
    waiver = {"rule": "feature-off-leg", "leg": "a", "feature": "a1", "reason": "RFI 17"}
    _write(C12=_clip(hole=OFF_LEG, waivers=[waiver]))
    result = _run("check", "C12.part.json")
    assert result.exit_code == 0
    assert "waived: RFI 17" in result.stdout


@pytest.mark.usefixtures("here")
def test_json_is_a_document_even_when_nothing_is_found():
    _write(C12=_clip())
    result = _run("check", "C12.part.json", "--format", "json", "--practice", "none")
    document = json.loads(result.stdout)
    assert result.exit_code == 0
    assert document["findings"] == []
    idle = [entry["rule"] for entry in document["rules_not_applicable"]]
    assert sorted([*document["rules_run"], *idle]) == [rule.name for rule in rules()]


@pytest.mark.usefixtures("here")
def test_standard_input_is_read_and_its_format_told_or_sniffed():
    for options in ((), ("--as", "json")):
        result = _run("check", "-", *options, input=_clip(hole=OFF_LEG))
        assert result.exit_code == 1
        assert result.stdout.startswith("-:1:")


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (b'{"format": 1}', "json"),
        (b"\xef\xbb\xbf \n{", "json"),
        (b"ST\r\n  x", "nc"),
        (b"** a comment\n\nst\n", "nc"),
        (b"units mm\n", "bmk"),
        (b"", "bmk"),
        (b"\x00\xff", "bmk"),
        (b"STATED", "bmk"),
    ],
)
def test_sniffing(data, kind):
    from translator.commands._standard_input import _sniff

    assert _sniff(data) == kind


UNABLE = [
    pytest.param(("check", "no.nc"), "there is no file or folder no.nc", id="missing"),
    pytest.param(("check", "empty"), "the folder empty holds no part file", id="empty-folder"),
    pytest.param(("check", "-", "--as", "foo"), "can't be read as 'foo'", id="unknown-format"),
    pytest.param(
        ("check", "C12.part.json", "--format", "x"), "there is no report 'x'", id="report"
    ),
    pytest.param(
        ("check", "C12.part.json", "--nc", "x=y"), "there is no setting 'x'", id="setting"
    ),
    pytest.param(
        ("check", "C12.part.json", "--nc", "y_datum=top"),
        "'top' is no value of y_datum",
        id="setting-value",
    ),
    pytest.param(("check", "C12.part.json", "--nc", "x"), "--nc takes NAME=VALUE", id="no-value"),
    pytest.param(
        ("check", "C12.part.json", "--config", "no.toml"), "can't read no.toml", id="toml"
    ),
    pytest.param(
        ("check", "C12.part.json", "--as-of", "monday"), "--as-of takes a day", id="no-date"
    ),
    pytest.param(("check",), "Missing argument", id="no-path"),
    pytest.param(("frobnicate",), "No such command", id="no-command"),
    pytest.param(("rules", "no-rule"), "there is no rule 'no-rule'", id="no-rule"),
    pytest.param(("show", "C12.part.json", "X"), "there is no part X in C12", id="no-mark"),
    pytest.param(
        ("translate", "C12.part.json", "--to", "x", "--out", "o"), "no format 'x'", id="format"
    ),
    pytest.param(
        ("translate", "C12.part.json", "--to", ",", "--out", "o"), "names no format", id="nothing"
    ),
    pytest.param(("translate", "C12.part.json"), "name a folder for the files", id="no-out"),
    pytest.param(
        ("translate", ".", "--out", "."), "which is being read; name another", id="out-is-input"
    ),
    pytest.param(
        ("translate", "C12.part.json", "--out", "C12.part.json"),
        "can't write into the folder C12.part.json",
        id="out-is-a-file",
    ),
]


@pytest.mark.parametrize(("args", "message"), UNABLE)
def test_work_that_can_not_be_done_is_a_sentence_and_2(here, args, message):
    _write(C12=_clip())
    (here / "empty").mkdir()
    result = _run(*args)
    assert result.exit_code == 2
    assert message in result.stderr
    assert "Traceback" not in result.output
    assert result.stdout == ""


def test_translate_writes_what_is_clean_and_says_so(here):
    _write(
        d__C12=_clip(),
        d__C13=_clip(mark="C13", hole=OFF_LEG),
        d__C14=_clip(mark="C14", hole=IN_FILLET),
    )
    result = _run("translate", "d", "--to", "json,dxf", "--out", "out")
    assert result.exit_code == 1
    assert sorted(p.name for p in (here / "out").iterdir()) == [
        "C12.leg-a.dxf",
        "C12.leg-b.dxf",
        "C12.part.json",
        "C14.leg-a.dxf",
        "C14.leg-b.dxf",
        "C14.part.json",
        "index.json",
    ]
    summary = result.stdout[result.stdout.index("3 input files") :]
    assert summary.splitlines() == [
        "3 input files, 3 parts; 6 files of 2 parts made in out",
        "  part document (JSON): 2",
        "  leg drawings, one for each leg (DXF R2010, 1:1): 4",
        "not written: 1",
        "  C13 (d/C13.part.json): it has errors",
        "Look first at C13: error feature-off-leg (d/C13.part.json).",
        "",
        CAUTION,
    ]
    assert result.stdout.count(CAUTION) == 1


def test_translating_twice_gives_the_same_bytes(here):
    _write(C12=_clip())
    for out in ("one", "two"):
        assert _run("translate", "C12.part.json", "--out", out).exit_code == 0
    for path in (here / "one").iterdir():
        assert path.read_bytes() == (here / "two" / path.name).read_bytes()


def test_what_was_written_is_read_back_without_a_finding(here):
    _write(C12=_clip())
    _run("translate", "C12.part.json", "--to", "json", "--out", "out")
    result = _run("check", "out", "--practice", "none")
    assert (result.exit_code, result.stdout) == (0, "")
    document = json.loads((here / "out" / "C12.part.json").read_text())
    assert document["part"]["legs"]["a"]["features"][0]["x_mm"] == 31.75


def test_a_hostile_mark_stays_in_the_output_folder(here):
    _write(x=_clip(mark="../../C12\u202e"))
    result = _run("translate", "x.part.json", "--to", "json", "--out", "a/b/out")
    assert result.exit_code == 0
    made = [p for p in here.rglob("*") if p.is_file()]
    assert {p.relative_to(here).as_posix() for p in made} == {
        "x.part.json",
        "a/b/out/~2E.~2F..~2FC12~E2~80~AE.part.json",
        "a/b/out/index.json",
    }
    assert "\u202e" not in result.stdout


def test_nothing_is_written_under_settings_that_are_not_understood(here):
    _write(C12=_clip())
    (here / "backmark.toml").write_text("[nc]\ny_datun = 'named-edge'\n")
    result = _run("translate", "C12.part.json", "--to", "json", "--out", "out")
    assert result.exit_code == 1
    assert not (here / "out").exists()
    assert "backmark.toml:2:1: error: in [nc], there is no setting 'y_datun'" in result.stdout
    assert "everything: the settings file has errors" in result.stdout


def test_the_output_folder_of_the_settings_is_used_and_never_read(here):
    _write(d__C12=_clip())
    (here / "d" / "backmark.toml").write_text("out = 'made'\n")
    assert _run("translate", "d", "--to", "json").exit_code == 0
    made = sorted(p.name for p in (here / "d" / "made").iterdir())
    assert made == ["C12.part.json", "index.json"]
    result = _run("check", "d", "--format", "json")
    assert json.loads(result.stdout)["files"] == ["d/C12.part.json"]


def test_each_file_is_judged_by_the_settings_nearest_to_it(here):
    """The strictest fail_on counts; an error in one settings file holds everything back."""
    _write(d__C12=_clip(hole=IN_FILLET), e__C13=_clip(mark="C13"))
    (here / "d" / "backmark.toml").write_text("fail_on = 'error'\nout = 'made'\n")
    assert _run("check", "d", "e").exit_code == 0
    (here / "e" / "backmark.toml").write_text("fail_on = 'warning'\nout = 'made'\n")
    assert _run("check", "d").exit_code == 0
    assert _run("check", "d", "e").exit_code == 1
    result = _run("translate", "d", "e", "--to", "json")
    assert result.exit_code == 2
    assert "name a folder for the files with --out" in result.stderr
    assert _run("translate", "d", "e", "--to", "json", "--out", "o").exit_code == 1
    assert len(list((here / "o").iterdir())) == 3
    (here / "e" / "backmark.toml").write_text("colour = 1\n")
    result = _run("translate", "d", "e", "--to", "json", "--out", "p")
    assert "e/backmark.toml:1:1: error: there is no setting 'colour'" in result.stdout
    assert not (here / "p").exists()


SHOWN = """\
C12  beam clip
section   L4x3-1/2x3/8: 4 x 3-1/2 x 3/8 in.
length    11 1/2" (292.1 mm)
quantity  24
grade     A36
order     TQ-7
drawing   E-104
revision  B
mass      3.96 kg (8.7 lb) as billed, 3.77 kg (8.3 lb) finished
paint     0.112 m2
area      2.69 in2 (1734 mm2)
net area  2.03 in2 (1310 mm2) by AISC 360, through a1, b1
          2.08 in2 (1340 mm2) by EN 1993-1-1, through a1, b1
          geometry, not design: it knows nothing of the forces
cuts      1 on leg a

leg a, 4" (101.6 mm) wide; lengths in inches
                x  from heel  from toe  size
  a1  hole  1-1/4      2-1/2     1-1/2  13/16
  a2  slot  7-1/4      2-1/2     1-1/2  13/16 x 1-9/16, at 90 deg

leg b, 3 1/2" (88.9 mm) wide; lengths in inches
                 x  from heel  from toe  size
  b1  hole   1-1/4          2     1-1/2  13/16
  b2  stamp      6      1-1/8     2-3/8  "C12" 3/8 high

3 stops: 1-1/4 (a1, b1), 6 (b2), 7-1/4 (a2)

LEG A, OUTSIDE FACE, start end left
+----------------------------------------------------------+             toe
|                                                          |
|                                                          |
|                                            0             +-----------+
|       o                                    0                         |
|                                            0                         |
|                                            0                         |
|                                                                      |
|                                                                      |
|                                                                      |
|                                                                      |
|                                                                      |
+======================================================================+ heel

LEG B, OUTSIDE FACE, start end left
"""


@pytest.mark.usefixtures("here")
def test_show_draws_both_legs_from_outside():
    """Leg a has its heel at the bottom, leg b at the top; the cope is at leg a's far toe."""
    _write(C12=_clip())
    result = _run("show", "C12.part.json", "--practice", "none")
    assert result.exit_code == 0
    assert result.stdout[: len(SHOWN)].splitlines() == SHOWN.splitlines()
    leg_b = result.stdout[len(SHOWN) :].splitlines()
    assert leg_b[0].startswith("+====")
    assert leg_b[0].endswith("+ heel")
    hole_row = next(i for i, line in enumerate(leg_b) if "o" in line)
    stamp_row = next(i for i, line in enumerate(leg_b) if "C12" in line)
    assert 0 < stamp_row < hole_row
    assert leg_b[hole_row].index("o") == 8
    assert max(map(len, result.stdout.splitlines())) <= 80


TWO = """\
units mm
part F1 { section FB100x10 length 300 face { holes 22 gauge 150 at 50 } }
part F2 { section FB100x12 length 400 }
"""


def test_show_of_a_mark_in_several_files_says_which(here):
    (here / "a.bmk").write_text("units mm\npart F1 { quantity 4 section FB100x10 length 300 }")
    (here / "b.bmk").write_text("units mm\npart F1 { section FB100x10 length 400 }")
    lines = _run("show", ".", "F1").stdout.splitlines()
    assert lines[0].endswith("  4 pcs")
    assert lines[3] == "F1 stands in several files: a.bmk, b.bmk; name one of them."


def test_show_of_a_mark_twice_in_a_file_says_so(here):
    (here / "a.bmk").write_text(TWO.replace("F2", "F1"))
    lines = _run("show", "a.bmk", "F1").stdout.splitlines()
    assert lines[3] == "F1 stands 2 times in a.bmk; rename all but one."


@pytest.mark.parametrize(
    ("name", "near"),
    [
        pytest.param("hole-in-filet", "; much like it: hole-in-fillet", id="near"),
        pytest.param("syntax", "", id="of-a-reader"),
        pytest.param("cannot-write", "", id="of-a-writer"),
    ],
)
def test_a_name_that_is_no_rule_is_told_apart_without_the_whole_list(name, near):
    result = _run("rules", name)
    assert result.exit_code == 2
    assert f"there is no rule '{name}'{near}" in result.stderr
    assert "explained in its own message; `backmark rules` lists the rules" in result.stderr
    assert "feature-off-leg" not in result.stderr


def test_show_lists_the_parts_of_a_file_or_shows_the_one_named(here):
    (here / "flats.bmk").write_text(TWO)
    listed = _run("show", "flats.bmk")
    assert listed.stdout.splitlines()[:4] == [
        'F1  FB100x10  300 mm (11.811")  1 pc',
        'F2  FB100x12  400 mm (15.748")  1 pc',
        "",
        "Name one of these marks to see it.",
    ]
    assert listed.exit_code == 1
    one = _run("show", "flats.bmk", "F2")
    assert (one.exit_code, one.stdout.splitlines()[0]) == (0, "F2")
    assert "FACE, OUTSIDE FACE, start end left" in one.stdout
    assert "feature-off-leg" not in one.stdout
    other = _run("show", "flats.bmk", "F1")
    assert other.exit_code == 1
    assert "[feature-off-leg]" in other.stdout


@pytest.mark.usefixtures("here")
def test_show_rules_and_help_name_what_there_is():
    listed = _run("rules").stdout.splitlines()
    assert [line.split()[0] for line in listed] == [rule.name for rule in rules()]
    one = _run("rules", "hole-in-fillet").stdout
    assert one.startswith("hole-in-fillet (warning, of a part)\n\nA hole or slot cuts into")
    assert "Reference: common practice, no source" in one
    for command in ("check", "rules", "show", "translate"):
        assert f"\n  {command} " in _run("--help").stdout
        assert _run(command, "--help").exit_code == 0


def test_a_fault_of_the_program_is_2_with_stage_and_file_and_no_traceback(here, monkeypatch):
    from msgspec.structs import replace

    from translator import readers as room
    from translator.readers import readers

    def fail(_source):
        raise ValueError("deep inside")

    broken = tuple(replace(reader, parse=fail) for reader in readers())
    monkeypatch.setattr(room, "readers", lambda: broken)
    monkeypatch.setattr("translator.batch.discover.readers", lambda: broken)
    _write(C12=_clip())
    result = _run("check", "C12.part.json", "--no-cache")
    assert result.exit_code == 2
    assert result.stderr == (
        "backmark: the work could not be done; a fault of this program while parsing"
        " C12.part.json: ValueError: deep inside\n"
    )
    assert here.exists()


def test_stopping_by_hand_is_said(monkeypatch):
    from translator.batch import discover

    def stop(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(discover, "discover", stop)
    result = _run("check", "x")
    assert (result.exit_code, result.stderr) == (2, "\nbackmark: stopped\n")


def _spawn(*args, **more):
    return subprocess.run(
        [sys.executable, "-m", "translator", *args], capture_output=True, check=False, **more
    )


def test_a_reader_that_closes_the_pipe_gets_no_traceback(here):
    _write(C12=_clip())
    read, write = os.pipe()
    os.close(read)
    done = subprocess.run(
        [sys.executable, "-m", "translator", "show", "C12.part.json"],
        stdout=write,
        stderr=subprocess.PIPE,
        check=False,
    )
    os.close(write)
    assert (done.returncode, done.stderr) == (2, b"")
    assert here.exists()


def test_the_same_bytes_in_any_locale_and_hash_order(here):
    _write(C12=_clip(hole=OFF_LEG, title="Träger ½"))
    outputs = set()
    for seed, locale in (("0", "C"), ("1", "C.UTF-8")):
        env = {**os.environ, "PYTHONHASHSEED": seed, "LC_ALL": locale, "PYTHONUTF8": "0"}
        done = _spawn("show", "C12.part.json", env=env, cwd=here)
        assert done.returncode == 1
        outputs.add(done.stdout)
    assert len(outputs) == 1
    assert "Träger ½" in outputs.pop().decode()
