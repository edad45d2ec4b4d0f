"""Verification: every way to tamper with a release is told, and nothing outside is opened."""

import json
import os
import shutil
import time

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from release_set import files, manifest, release, released, rewrite, run, seal

from translator.release.load import load_manifest
from translator.release.verification import verification_schema
from translator.resources import resource
from translator.source import Source

PART = "files/json/P1.part.json"
LINKS = pytest.mark.skipif(not hasattr(os, "symlink"), reason="the system has no links")


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    """Return a release that no test changes."""
    return released(tmp_path_factory.mktemp("whole"))


@pytest.fixture
def copy(whole, tmp_path):
    """Return a copy of it to spoil."""
    return shutil.copytree(whole, tmp_path / "r1")


def told(out, *more):
    """Return the rules of the differences of a release, and their words."""
    done = run("verify", out, "--format", "json", *more)
    answer = json.loads(done.stdout)
    assert answer["untouched"] == (done.exit_code == 0)
    return {(d["rule"].removeprefix("release-"), d["message"]) for d in answer["differences"]}


def test_a_whole_release_is_told_in_a_sentence(whole):
    done = run("verify", whole)
    assert done.exit_code == 0
    number = len(files(whole))
    first = done.stdout.splitlines()[0]
    assert first == f"{number} files as released by Q. Clerk on 2026-01-31 at 12:00 UTC"
    assert "signature: none" in done.stdout


def test_a_whole_release_is_made_again(whole):
    before = files(whole)
    done = run("verify", whole, "--rederive")
    assert done.exit_code == 0, done.output
    assert "made again from its inputs: all 9 outputs are the same bytes" in done.stdout
    assert files(whole) == before


def test_the_answer_for_a_program_has_a_schema(whole, copy):
    schema = json.loads(resource("schemas", "verification.schema.json").read_text("utf-8"))
    assert schema == verification_schema()
    checker = jsonschema.Draft202012Validator(schema)
    for folder, code in ((whole, 0), (copy, 1)):
        if code:
            (folder / PART).unlink()
        done = run("verify", folder, "--rederive", "--format", "json")
        assert done.exit_code == code
        answer = json.loads(done.stdout)
        assert list(checker.iter_errors(answer)) == []
        assert answer["rederived"] == ("not possible" if code else "the same")


def flip(path):
    data = bytearray(path.read_bytes())
    data[len(data) // 2] ^= 1
    path.write_bytes(data)


@pytest.mark.parametrize("name", [PART, "review.html", "inputs/detailer/F55.nc1.kept"])
def test_one_changed_bit_is_told(copy, name):
    flip(copy / name)
    what = f"{name} has other bytes than when it was released"
    assert told(copy) == {("file-changed", what)}


def test_every_file_counts(copy):
    """Change each file in turn: each change is told under that file's name."""
    names = sorted(files(copy))
    assert len(names) > 10
    for name in names:
        before = (copy / name).read_bytes()
        (copy / name).write_bytes(before + b"\n")
        done = run("verify", copy, "--format", "json")
        assert done.exit_code == 1, name
        (copy / name).write_bytes(before)
    assert run("verify", copy).exit_code == 0


def test_sizes_and_missing_and_extra_files_are_told(copy):
    (copy / PART).write_bytes(b"{}")
    (copy / "files/dxf/P1.face.dxf").unlink()
    (copy / "files/dxf/P9.face.dxf").write_bytes(b"0")
    (copy / "files/nc").mkdir()
    (copy / "files/nc/P1.nc1").write_bytes(b"ST\n")
    (copy / ".hidden").write_bytes(b"")
    size = manifest(copy)["outputs"]
    was = next(file["bytes"] for file in size if file["path"] == PART)
    assert told(copy) == {
        ("file-changed", f"{PART} has 2 bytes, it had {was} when it was released"),
        ("file-missing", "files/dxf/P1.face.dxf is missing"),
        ("file-extra", "files/dxf/P9.face.dxf is no file of the release"),
        (
            "file-extra",
            "the folder files/nc, with all that is in it, is no part of the release",
        ),
        ("file-extra", ".hidden is no file of the release"),
    }


@LINKS
def test_links_are_told_even_where_they_lead_to_the_same_bytes(copy, tmp_path):
    outside = tmp_path / "same.json"
    shutil.move(copy / PART, outside)
    (copy / PART).symlink_to(outside)
    (copy / "files" / "more").symlink_to(tmp_path)
    assert told(copy) == {
        ("file-changed", f"{PART} is a link, and a release holds none; a file is expected"),
        (
            "file-extra",
            "files/more is a link, and a release holds none, and is no file of the release",
        ),
    }


@LINKS
@pytest.mark.parametrize("name", ["release.json", "SHA256SUMS"])
def test_a_linked_manifest_is_refused(copy, tmp_path, name):
    shutil.move(copy / name, tmp_path / name)
    (copy / name).symlink_to(tmp_path / name)
    done = run("verify", copy)
    assert (done.exit_code, f"{name} is a link, and a release holds" in done.output) == (2, True)


@LINKS
def test_a_linked_folder_is_not_walked(copy, tmp_path):
    shutil.move(copy / "files" / "json", tmp_path / "json")
    (copy / "files" / "json").symlink_to(tmp_path / "json")
    rules = told(copy)
    assert ("file-missing", f"{PART} is missing") in rules
    assert any(rule == "file-extra" and "files/json is a link" in what for rule, what in rules)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="the system has no pipes with names")
def test_a_pipe_in_a_file_s_place_does_not_keep_us_waiting(copy):
    for name in (PART, "SHA256SUMS"):
        (copy / name).unlink()
        os.mkfifo(copy / name)
    done = run("verify", copy)
    assert done.exit_code == 2
    assert "SHA256SUMS is no ordinary file" in done.output


def test_names_that_differ_in_capitals_are_told(copy):
    (copy / "files/json/p1.part.json").write_bytes(b"{}")
    if (copy / PART).read_bytes() == b"{}":
        pytest.skip("the file system is case-blind")
    what = f"files/json/p1.part.json differs from {PART} in capitals only and is no file of"
    assert told(copy) == {("file-extra", f"{what} the release")}


def test_a_changed_mode_is_no_change(copy):
    (copy / PART).chmod(0o600)
    assert run("verify", copy).exit_code == 0


def test_a_list_of_digests_that_does_not_fit_is_told_with_its_line(copy):
    path = copy / "SHA256SUMS"
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    path.write_text("".join((*lines[:2], *lines[3:])), encoding="utf-8")
    done = run("verify", copy)
    assert done.exit_code == 1
    assert "SHA256SUMS:3: line 3 of SHA256SUMS is not what the files" in done.stdout
    path.unlink()
    assert told(copy) == {("file-missing", "SHA256SUMS is missing")}


def test_a_manifest_changed_alone_is_told(copy):
    path = copy / "release.json"
    path.write_text(path.read_text("utf-8").replace("Q. Clerk", "Z. Other"), encoding="utf-8")
    (difference,) = told(copy)
    assert difference[0] == "sums-differ"


def test_a_forged_manifest_is_found_by_its_digest(copy):
    told_once = json.loads(run("verify", copy, "--format", "json").stdout)
    digest = told_once["release"]["manifest_sha256"]
    assert run("verify", copy, "--manifest-sha256", digest.upper()).exit_code == 0
    rewrite(copy, lambda said: said.update(by="Z. Other"))
    assert run("verify", copy).exit_code == 0  # nothing in the folder can tell
    ((rule, what),) = told(copy, "--manifest-sha256", digest)
    assert rule == "manifest-other"
    assert what.endswith("not the one given")
    done = run("verify", copy, "--manifest-sha256", "abc")
    assert done.exit_code == 2


def test_a_forged_mass_is_found_by_making_it_again(copy):
    rewrite(copy, lambda said: said["marks"][1].update(mass_kg=99.0))
    assert run("verify", copy).exit_code == 0
    what = "the kept inputs give other marks than the manifest says"
    assert told(copy, "--rederive") == {("not-derived", what)}


def test_a_forged_output_is_found_by_making_it_again(copy):
    flip(copy / PART)

    def change(said):
        import hashlib

        file = next(file for file in said["outputs"] if file["path"] == PART)
        file["sha256"] = hashlib.sha256((copy / PART).read_bytes()).hexdigest()

    rewrite(copy, change)
    assert run("verify", copy).exit_code == 0
    what = f"{PART} comes out of the kept inputs with other bytes"
    assert told(copy, "--rederive") == {("not-derived", what)}


def test_another_version_of_the_tool_is_told(copy):
    rewrite(copy, lambda said: said["tool"].update(version="0.0.1"))
    done = run("verify", copy, "--rederive")
    assert "released by backmark 0.0.1, made again by backmark" in done.stdout
    assert "another version" in done.stdout


def test_a_folder_without_a_release_can_not_be_verified(tmp_path):
    done = run("verify", tmp_path)
    assert (done.exit_code, "holds no release" in done.output) == (2, True)
    done = run("verify", tmp_path / "nowhere")
    assert (done.exit_code, "there is no folder" in done.output) == (2, True)


def test_a_missing_manifest_is_a_missing_file(copy):
    (copy / "release.json").unlink()
    done = run("verify", copy, "--rederive")
    assert done.exit_code == 1
    assert "NOT proved" in done.stdout
    assert "release.json is missing" in done.stdout


@pytest.mark.parametrize(
    "path",
    [
        "../in/strips.bmk",
        "/etc/passwd",
        "files/../../in/strips.bmk",
        "files//x",
        "files/./x",
        "C:/windows/x",
        "files\\x",
        "files/x\n",
        "files/ x",
        "files/x.",
        "~/../x",
        "",
        "a/" * 60 + "b",
        "files/" + "x" * 300,
        "release.json",
        "sha256sums",
        "FILES/json/p1.part.json",
        "review.html/x",
    ],
)
def test_a_hostile_path_is_a_fault_and_never_opened(copy, path, monkeypatch):
    rewrite_path(copy, path)
    opened = []
    real = os.open
    monkeypatch.setattr(
        os, "open", lambda name, *a, **k: opened.append(str(name)) or real(name, *a, **k)
    )
    done = run("verify", copy, "--rederive")
    monkeypatch.undo()
    assert done.exit_code == 1, done.output
    assert "NOT proved: the manifest can't be used" in done.stdout
    assert opened, "the manifest itself is opened"
    inside = os.path.realpath(copy)
    assert [name for name in opened if not os.path.realpath(name).startswith(inside)] == []


def rewrite_path(out, path):
    file = out / "release.json"
    document = json.loads(file.read_text(encoding="utf-8"))
    document["release"]["outputs"][0]["path"] = path
    file.write_text(json.dumps(document), encoding="utf-8")
    if path.isprintable():
        seal(out)


def drop(said):
    del said["marks"]


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (drop, "release.marks is missing"),
        (lambda s: s.update(colour="red"), 'release has no field "colour"'),
        (lambda s: s.update(number=0), "release.number is 0, it must be at least 1"),
        (lambda s: s.update(number="one"), 'release.number is "one", it must be a whole number'),
        (lambda s: s.update(at="today"), 'release.at is "today", it must be a moment like'),
        (lambda s: s.update(marks=[]), "release.marks has 0 entries, it must have at least 1"),
        (lambda s: s.update(by="x" * 300), "release.by has 300 characters, it must have at most"),
        (
            lambda s: s["outputs"][0].update(bytes=1 << 50),
            "bytes is 1125899906842624, it must be at most 1099511627776",
        ),
        (lambda s: s["outputs"][0].update(bytes=-1), "bytes is -1, it must be at least 0"),
        (lambda s: s["outputs"][0].update(sha256="AB"), 'sha256 is "AB", it must be a SHA-256'),
        (lambda s: s["marks"][0].update(status="maybe"), '"released" or "on hold"'),
        (lambda s: s["marks"][0].update(status="on hold"), "a mark on hold has a reason"),
        (lambda s: s["marks"][0].pop("files"), "are not the part files among the outputs"),
        (lambda s: s["marks"].append(s["marks"][0]), "the files of the marks are not"),
        (lambda s: s["inputs"][1].update(settings="x"), "'x' is named and is none of the inputs"),
        (lambda s: s["inputs"][1].update(name="backmark.toml"), "two inputs have one name"),
        (lambda s: s["options"].update(practice="mine"), '"auto", "us", "eu" or "none"'),
        (lambda s: s["options"].update(paper="wall"), 'paper is "wall", it must be "A4"'),
    ],
    ids=[
        *("missing", "unknown", "too small", "no number", "no moment", "no marks", "long name"),
        *("huge", "negative", "no digest", "no status", "no reason", "no files", "twice"),
        *("no settings", "one name", "no practice", "no paper"),
    ],
)
def test_faults_of_a_manifest_are_told_with_their_place(copy, change, says):
    rewrite_raw(copy, change)
    done = run("verify", copy)
    assert done.exit_code == 1
    assert says in done.stdout
    assert "release.json" in done.stdout


def rewrite_raw(out, change):
    file = out / "release.json"
    document = json.loads(file.read_text(encoding="utf-8"))
    change(document["release"])
    file.write_text(json.dumps(document, indent=1), encoding="utf-8")


@pytest.mark.parametrize(
    "change",
    [
        lambda s: s["options"].update(formats=["json", "paper"]),
        lambda s: s["options"].update(nc={"no_such": "x"}),
        lambda s: s["inputs"][1].update(format="dwg"),
    ],
    ids=["format", "setting", "reader"],
)
def test_options_that_do_not_exist_can_not_be_made_again(copy, change):
    rewrite(copy, change)
    differences = told(copy, "--rederive")
    assert differences
    assert {rule for rule, _ in differences} == {"not-derived"}


def test_inputs_that_hold_an_error_are_made_again_as_something_else(copy):
    """A forger puts another input in, with all digests right: making it again tells."""
    kept = copy / "inputs" / "strips.bmk.kept"
    kept.write_bytes(kept.read_bytes().replace(b"long = 9", b"long = 8"))

    def change(said):
        import hashlib

        file = next(f for f in said["inputs"] if f["name"] == "strips.bmk")
        file["sha256"] = hashlib.sha256(kept.read_bytes()).hexdigest()

    rewrite(copy, change)
    assert run("verify", copy).exit_code == 0
    differences = told(copy, "--rederive")
    assert ("not-derived", f"{PART} comes out of the kept inputs with other bytes") in differences


def test_a_stranger_of_any_depth_and_number_is_told_once(copy):
    deep = copy / "files" / "deep"
    for _ in range(60):
        deep.mkdir()
        deep /= "d"
    for number in range(1100):
        (copy / "files" / f"x{number}").touch()
    done = run("verify", copy)
    assert done.exit_code == 1
    assert "the folder files/deep, with all that is in it" in done.stdout
    assert "more (--format json has all)" in done.stdout
    assert len(done.stdout.splitlines()) < 80


def test_a_release_can_be_released_on(whole, tmp_path):
    """The part documents of a release are parts like any other; kept inputs are none."""
    done = release(whole, tmp_path / "r2", "--formats", "json")
    assert done.exit_code == 0, done.output
    names = {file["name"] for file in manifest(tmp_path / "r2")["inputs"]}
    assert names == {f"files/json/{mark}.part.json" for mark in ("F55", "P1", "P2")}


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda s: s.update(outputs=[{}] * 100_000), "release.outputs[0].path is missing"),
        (lambda s: s.update(marks=[1] * 200_000), "release.marks[0] is 1, it must be an object"),
        (
            lambda s: s.update({f"k{n}": 0 for n in range(50_000)}),
            "fields here, more than 64",
        ),
        (
            lambda s: s["outputs"].extend(
                {**s["outputs"][-1], "path": f"a/{'b/' * 20}{n}/{n}/{n}"} for n in range(11_000)
            ),
            "release: the files lie in more than 20000 folders",
        ),
        (lambda s: s["judged"].update(rules=[[]] * 310_000), "brackets and braces that open"),
    ],
    ids=["faults", "numbers", "fields", "folders", "brackets"],
)
def test_a_manifest_of_a_hostile_size_is_told_in_a_few_words(copy, change, says):
    rewrite_raw(copy, change)
    begun = time.process_time()
    done = run("verify", copy, "--format", "json")
    assert time.process_time() - begun < 10
    assert done.exit_code == 1
    differences = json.loads(done.stdout)["differences"]
    assert 1 <= len(differences) < 20
    assert any(says in difference["message"] for difference in differences)


def test_any_bytes_are_a_manifest_s_fault(whole):
    data = (whole / "release.json").read_bytes()

    @settings(
        max_examples=150,
        deadline=None,
        derandomize=True,
        suppress_health_check=[HealthCheck.too_slow],
    )
    @given(st.integers(0, len(data) - 1), st.binary(max_size=8), st.integers(0, 40))
    def spoil(at, new, gone):
        source = Source(path="release.json", data=data[:at] + new + data[at + gone :])
        read, findings = load_manifest(source)
        assert read is not None or findings

    spoil()
