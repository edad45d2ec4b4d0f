"""Releases: what is written, what is refused, and what is the same wherever it is made."""

import json
import shutil
import subprocess

import jsonschema
import pytest
from release_set import FAULTY, NOON, SAMPLES, delivery, files, manifest, release, released, run

from translator.findings import CAUTION
from translator.release.schema import release_schema
from translator.resources import resource

OWN = {"release.json", "SHA256SUMS"}
OUTPUTS = {
    "files/dxf/F55.face.dxf",
    "files/dxf/P1.face.dxf",
    "files/dxf/P2.face.dxf",
    "files/json/F55.part.json",
    "files/json/P1.part.json",
    "files/json/P2.part.json",
    "findings.json",
    "findings.txt",
    "review.html",
}
INPUTS = {
    "inputs/backmark.toml.kept",
    "inputs/detailer/F55.nc1.kept",
    "inputs/library.bmk.kept",
    "inputs/strips.bmk.kept",
}


@pytest.fixture(scope="module")
def first(tmp_path_factory):
    """Return a release that no test changes."""
    return released(tmp_path_factory.mktemp("first"))


def test_a_release_holds_outputs_inputs_and_the_proof(first):
    assert set(files(first)) == OWN | OUTPUTS | INPUTS
    said = manifest(first)
    assert {file["path"] for file in said["inputs"]} == INPUTS
    assert {file["path"] for file in said["outputs"]} == OUTPUTS
    assert {f["path"]: f["role"] for f in said["inputs"]} == {
        "inputs/backmark.toml.kept": "settings",
        "inputs/detailer/F55.nc1.kept": "part file",
        "inputs/library.bmk.kept": "part file",
        "inputs/strips.bmk.kept": "part file",
    }
    strips = next(f for f in said["inputs"] if f["name"] == "strips.bmk")
    assert strips["uses"] == ["library.bmk"]
    assert strips["settings"] == "backmark.toml"
    assert (said["by"], said["at"], said["name"], said["number"]) == ("Q. Clerk", NOON, "r1", 1)


def test_inputs_are_kept_as_they_were_read(first):
    source = first.parent / "in"
    for name in ("library.bmk", "strips.bmk", "detailer/F55.nc1", "backmark.toml"):
        assert (first / "inputs" / f"{name}.kept").read_bytes() == (source / name).read_bytes()


def test_the_manifest_tells_each_mark(first):
    marks = {mark["mark"]: mark for mark in manifest(first)["marks"]}
    assert list(marks) == ["F55", "P1", "P2"]
    strip = marks["P1"]
    # Mass worked by hand: 2.5 in. x 0.375 in. x 9 in. of steel at 7850 kg/m3.
    by_hand = 2.5 * 0.375 * 9 * 0.0254**3 * 7850
    assert strip["mass_kg"] == pytest.approx(by_hand, abs=2e-3)
    assert strip["net_mass_kg"] < strip["mass_kg"]
    assert strip["length_mm"] == pytest.approx(9 * 25.4)
    assert (strip["order"], strip["revision"], strip["quantity"]) == ("TQ-7", "A", 4)
    assert (strip["status"], strip["source"]) == ("released", "strips.bmk")
    assert strip["files"] == ["files/json/P1.part.json", "files/dxf/P1.face.dxf"]
    assert strip["piece"] != marks["P2"]["piece"]


def test_the_schema_describes_the_manifest(first):
    document = json.loads((first / "release.json").read_text(encoding="utf-8"))
    schema = json.loads(resource("schemas", "release.schema.json").read_text(encoding="utf-8"))
    assert schema == release_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    checker = jsonschema.Draft202012Validator(schema)
    assert list(checker.iter_errors(document)) == []
    document["release"]["marks"][0]["status"] = "perhaps"
    document["release"]["outputs"][0]["path"] = "../away"
    assert len(list(checker.iter_errors(document))) == 2


@pytest.mark.skipif(not shutil.which("sha256sum"), reason="the system has no sha256sum")
def test_sha256sum_takes_the_list_of_digests(first):
    done = subprocess.run(
        ["sha256sum", "--check", "--strict", "SHA256SUMS"],
        cwd=first,
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")
    told = {line.removesuffix(": OK") for line in done.stdout.splitlines()}
    assert told == set(files(first)) - {"SHA256SUMS"}


def test_only_the_manifest_says_who_and_when(first, tmp_path):
    again = tmp_path / "elsewhere"
    more = ("--by", "Another Person", "--at", "2027-02-01T00:00:00Z")
    done = run("release", first.parent / "in", "--to", again, *more)
    assert done.exit_code == 0, done.output
    one, two = files(first), files(again)
    assert {name for name in one if one[name] != two[name]} == OWN
    before, after = manifest(first), manifest(again)
    differ = {key for key in before if before[key] != after[key]}
    assert differ == {"by", "at", "name"}


def test_a_copy_of_the_inputs_elsewhere_makes_the_same_bytes(first, tmp_path, monkeypatch):
    copy = tmp_path / "deeply" / "moved" / "set"
    shutil.copytree(first.parent / "in", copy)
    out = tmp_path / "r1"
    monkeypatch.chdir(copy)
    done = release(".", out)
    assert done.exit_code == 0, done.output
    assert files(out) == files(first)


def test_nothing_in_a_release_tells_where_it_was_made(first):
    away = str(first.parent.parent).encode()
    assert [name for name, data in files(first).items() if away in data] == []
    assert len(files(first)) > 10


def test_the_report_tells_how_files_were_read_and_what_is_left_out(tmp_path):
    done = release(SAMPLES / "tern-quay" / "detailer", tmp_path / "r1", "--formats", "json")
    assert done.exit_code == 0, done.output
    text = (tmp_path / "r1" / "findings.txt").read_text(encoding="utf-8")
    assert 'Read with (the writer "detailing office north span"' in text
    assert "u_view_bottom = toe, slot_length = centres" in text
    assert "Practice auto: each hole by the unit of its bolt" in text
    assert "Left out: detailer/H57.nc1: not for this tool: profile code I" in text
    assert text.endswith(f"{CAUTION}\n")
    (writer,) = manifest(tmp_path / "r1")["writers"]
    assert writer["settings"]["u_view_bottom"] == "toe"
    assert len(writer["files"]) == 7
    assert "left out: 1\n  detailer/H57.nc1: not for this tool" in done.output


def test_an_open_error_keeps_all_from_release(tmp_path):
    source = delivery(tmp_path / "in")
    (source / "faulty.bmk").write_text(FAULTY, encoding="utf-8")
    done = release(source, tmp_path / "r1")
    assert done.exit_code == 1
    assert "Nothing is released and nothing was written. 1 error stands open:" in done.output
    assert "  F9: holes-overlap\n" in done.output
    assert sorted(path.name for path in tmp_path.iterdir()) == ["in"]


def test_an_error_of_a_settings_file_keeps_all_from_release(tmp_path):
    source = delivery(tmp_path / "in")
    (source / "backmark.toml").write_text("[nc]\nu_view_bottom = 'sideways'\n", encoding="utf-8")
    done = release(source, tmp_path / "r1")
    assert done.exit_code == 1
    assert "backmark.toml: setting-unknown" in done.output
    assert not (tmp_path / "r1").exists()


def test_a_waived_error_is_released_with_its_reason(tmp_path):
    source = delivery(tmp_path / "in")
    (source / "faulty.bmk").write_text(FAULTY, encoding="utf-8")
    waiver = '[[waiver]]\nrule = "holes-overlap"\nmark = "F9"\nleg = "face"\nfeature = "f2"\n'
    (source / "waivers.toml").write_text(f'{waiver}reason = "RFI 3"\n', encoding="utf-8")
    done = release(source, tmp_path / "r1", "--formats", "json")
    assert done.exit_code == 0, done.output
    kept = {file["name"]: file for file in manifest(tmp_path / "r1")["inputs"]}
    assert kept["waivers.toml"]["role"] == "waivers"
    assert kept["waivers.toml"]["whole"]
    assert kept["detailer/F55.nc1"]["waivers"] == ["waivers.toml"]
    assert "RFI 3" in (tmp_path / "r1" / "findings.txt").read_text(encoding="utf-8")
    assert run("verify", tmp_path / "r1", "--rederive").exit_code == 0


def test_formats_come_from_the_settings_and_the_command_line(tmp_path):
    source = delivery(tmp_path / "in")
    settings = (source / "backmark.toml").read_text(encoding="utf-8")
    more = f'{settings}\n[release]\nformats = ["bmk"]\n'
    (source / "backmark.toml").write_text(more, encoding="utf-8")
    assert release(source, tmp_path / "r1").exit_code == 0
    assert manifest(tmp_path / "r1")["options"]["formats"] == ["json", "dxf", "bmk"]
    assert release(source, tmp_path / "r2", "--formats", "nc").exit_code == 0
    assert manifest(tmp_path / "r2")["options"]["formats"] == ["nc"]
    assert (tmp_path / "r2" / "files" / "nc" / "P1.nc1").is_file()
    done = release(source, tmp_path / "r3", "--formats", "json,paper")
    assert done.exit_code == 2
    assert "there is no format 'paper'" in done.output


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[release]\nformats = 'json'\n", "in [release], formats is 'json'"),
        ("[release]\nformats = ['jsn']\n", "in [release], formats is ['jsn']"),
        ("[release]\nsigned = true\n", "in [release], there is no setting 'signed'"),
        ("release = 1\n", "release is 1; it is a table, [release]"),
    ],
    ids=["no list", "unknown format", "unknown key", "no table"],
)
def test_faults_of_the_table_release_are_told(tmp_path, text, says):
    source = delivery(tmp_path / "in")
    (source / "backmark.toml").write_text(text, encoding="utf-8")
    done = run("check", source)
    assert done.exit_code == 1
    assert says in done.output


def test_machine_profiles_are_kept_where_they_lie_outside(tmp_path):
    source = delivery(tmp_path / "in")
    profile = SAMPLES / "machines" / "hand-bench.machine.json"
    done = release(source, tmp_path / "r1", "--machine", profile, "--formats", "json")
    assert done.exit_code == 0, done.output
    (kept,) = [f for f in manifest(tmp_path / "r1")["inputs"] if f["role"] == "machine profile"]
    assert kept["path"] == "beside/hand-bench.machine.json.kept"
    assert manifest(tmp_path / "r1")["options"]["machines"] == [kept["name"]]
    assert run("verify", tmp_path / "r1", "--rederive").exit_code == 0


def test_a_library_outside_of_the_named_file_is_kept(tmp_path):
    source = delivery(tmp_path / "in")
    done = release(source / "strips.bmk", tmp_path / "r1")
    assert done.exit_code == 0, done.output
    roles = {file["name"]: file["role"] for file in manifest(tmp_path / "r1")["inputs"]}
    assert roles == {
        "backmark.toml": "settings",
        "library.bmk": "library",
        "strips.bmk": "part file",
    }
    assert run("verify", tmp_path / "r1", "--rederive").exit_code == 0


def test_flags_are_part_of_what_is_released(tmp_path):
    source = delivery(tmp_path / "in")
    flags = ("--nc", "arc-sign=plus-left", "--practice", "us", "--as-of", "2026-01-31")
    done = release(source, tmp_path / "r1", *flags)
    assert done.exit_code == 0, done.output
    options = manifest(tmp_path / "r1")["options"]
    assert options["nc"] == {"arc_sign": "plus-left"}
    assert (options["practice"], options["as_of"]) == ("us", "2026-01-31")
    assert run("verify", tmp_path / "r1", "--rederive").exit_code == 0


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (("--at", "yesterday"), "--at takes a moment like"),
        (("--at", "2026-01-31T12:00:00"), "does not say its zone"),
        (("--by", " "), "--by takes a text"),
        (("--name", "a\x07b"), "--name takes a text"),
        (("--name", "x" * 201), "--name takes a text"),
        (("--hold", "P1"), "--hold takes MARK=REASON"),
        (("--hold", "P1= "), "--hold takes MARK=REASON"),
        (("--hold", "P9=lost"), "the mark 'P9', which is not in the delivery; there are F55, P1"),
        (("--formats", ","), "--formats names no format"),
        (("--supersedes", "nowhere"), "there is no folder nowhere"),
        (("--sign", "nowhere"), "can't read nowhere"),
        (("--holds", "nowhere"), "can't read nowhere"),
    ],
    ids=lambda value: "-".join(value)[:24].strip("- ") if isinstance(value, tuple) else "",
)
def test_what_can_not_be_done_is_said(tmp_path, more, says):
    done = release(delivery(tmp_path / "in"), tmp_path / "r1", *more)
    assert done.exit_code == 2, done.output
    assert says in done.output
    assert sorted(path.name for path in tmp_path.iterdir()) == ["in"]


def test_standard_input_can_not_be_released(tmp_path):
    done = release("-", tmp_path / "r1")
    assert done.exit_code == 2
    assert "standard input can't be kept" in done.output


def test_the_moment_comes_from_the_environment(tmp_path, monkeypatch):
    source = delivery(tmp_path / "in")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1800000000")
    done = run("release", source, "--to", tmp_path / "r1", "--by", "Q", "--formats", "json")
    assert done.exit_code == 0, done.output
    assert manifest(tmp_path / "r1")["at"] == "2027-01-15T08:00:00Z"  # date -u -d @1800000000
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "soon")
    done = run("release", source, "--to", tmp_path / "r2", "--by", "Q")
    assert done.exit_code == 2
    assert "SOURCE_DATE_EPOCH is 'soon'" in done.output


def test_a_release_is_never_written_over(first):
    before = files(first)
    done = release(first.parent / "in", first)
    assert done.exit_code == 2
    words = " ".join(done.output.split())
    assert "holds a release, and a release is never written over" in words
    assert f"--supersedes {first.as_posix()}" in words
    assert files(first) == before


def test_a_folder_with_other_things_is_left_alone(tmp_path):
    source = delivery(tmp_path / "in")
    (tmp_path / "r1").mkdir()
    (tmp_path / "r1" / "letter.txt").write_text("mine", encoding="utf-8")
    done = release(source, tmp_path / "r1")
    assert done.exit_code == 2
    assert "is there already" in done.output
    (tmp_path / "r2").mkdir()
    assert release(source, tmp_path / "r2").exit_code == 0  # an empty one may be filled


def test_older_revisions_are_told_and_not_released(tmp_path):
    source = delivery(tmp_path / "in")
    later = PARTS_B.replace("qty 2", "qty 3")
    (source / "later.bmk").write_text(later, encoding="utf-8")
    done = release(source, tmp_path / "r1")
    assert done.exit_code == 0, done.output
    said = manifest(tmp_path / "r1")
    strip = next(mark for mark in said["marks"] if mark["mark"] == "P2")
    assert (strip["revision"], strip["quantity"], strip["source"]) == ("B", 3, "later.bmk")
    assert {
        "source": "strips.bmk",
        "mark": "P2",
        "order": "TQ-7",
        "revision": "A",
        "why": "revision B in later.bmk replaces it",
    } in said["left_out"]


PARTS_B = """\
use "library.bmk"
units inch
contract "TQ-7"   drawing "E-120"   rev "B"
grade A36
part P2 "strip" = strip(long = 12) { qty 2 }
"""
