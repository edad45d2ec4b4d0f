"""Releases in a row: what is on hold, and what becomes of each mark of the earlier one."""

import json
import shutil

import pytest
from release_set import PARTS, delivery, files, manifest, release, released, run

from translator.release.holds import Hold, read_holds, settle_holds

HOLDS = """\
[[hold]]
mark = "P2"
order = "TQ-7"
reason = "RFI 14 is open"
"""


def marks(out):
    return {mark["mark"]: mark for mark in manifest(out)["marks"]}


def names(listed):
    return [item["mark"] for item in listed]


@pytest.mark.parametrize("how", ["option", "file"])
def test_a_mark_on_hold_is_told_and_has_no_file(tmp_path, how):
    (tmp_path / "holds.toml").write_text(HOLDS, encoding="utf-8")
    option = ("--hold", "P2=RFI 14 is open")
    more = option if how == "option" else ("--holds", tmp_path / "holds.toml")
    out = released(tmp_path, *more)
    held = marks(out)["P2"]
    assert (held["status"], held["reason"]) == ("on hold", "RFI 14 is open")
    assert "files" not in held
    assert [name for name in files(out) if "P2" in name] == []
    assert marks(out)["P1"]["files"]
    text = (out / "findings.txt").read_text(encoding="utf-8")
    assert "On hold: P2 of order TQ-7: RFI 14 is open." in text
    assert '"refused":"it is on hold: RFI 14 is open"' in (out / "review.html").read_text("utf-8")
    assert run("verify", out, "--rederive").exit_code == 0
    assert "on hold: 1\n  P2: RFI 14 is open" in run("verify", out).output


def test_nothing_that_looks_for_parts_finds_a_mark_on_hold(tmp_path):
    """Least of all the detailer's own file, which a machine could read."""
    out = released(tmp_path, "--hold", "F55=the hand is asked", "--hold", "P2=cancelled")
    done = run("translate", out, "--to", "json", "--out", tmp_path / "made")
    assert done.exit_code == 0, done.output
    assert [path.name for path in (tmp_path / "made").glob("*.part.json")] == ["P1.part.json"]
    kept = [name for name in files(out) if name.startswith("inputs/")]
    assert len(kept) == 4
    assert all(name.endswith(".kept") for name in kept)


def test_lifting_a_hold_changes_no_other_file(tmp_path):
    out = released(tmp_path, "--hold", "P2=cancelled")
    again = tmp_path / "r2"
    assert release(tmp_path / "in", again, "--supersedes", out).exit_code == 0
    before, after = files(out), files(again)
    same = {name for name in before if before[name] == after.get(name)}
    assert {name for name in before if name.startswith(("files/", "inputs/"))} <= same
    assert set(after) - set(before) == {"files/dxf/P2.face.dxf", "files/json/P2.part.json"}


def test_all_on_hold_is_no_release(tmp_path):
    source = delivery(tmp_path / "in")
    more = [piece for mark in ("F55", "P1", "P2") for piece in ("--hold", f"{mark}=wait")]
    done = release(source, tmp_path / "r1", *more)
    assert (done.exit_code, "there is no part to release" in done.output) == (2, True)
    assert not (tmp_path / "r1").exists()


def test_a_file_of_holds_with_an_unknown_mark_keeps_all_from_release(tmp_path):
    source = delivery(tmp_path / "in")
    wrong = HOLDS.replace("TQ-7", "TQ-8")
    (tmp_path / "holds.toml").write_text(f"# holds\n\n{wrong}", encoding="utf-8")
    done = release(source, tmp_path / "r1", "--holds", tmp_path / "holds.toml")
    assert done.exit_code == 1
    assert "holds.toml:3: the mark P2 of order TQ-8 is put on hold and is not in" in done.output
    assert not (tmp_path / "r1").exists()


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ("[[hold]]\nmark = 'P1'\n", 1, "the hold says no reason"),
        ("[[hold]]\nreason = 'x'\n", 1, "the hold says no mark"),
        ("[[hold]]\nmark = 'P1'\nreason = ' '\n", 3, 'reason is " ", it must be a text'),
        ("[[hold]]\nmark = 7\nreason = 'x'\n", 2, "mark is 7, it must be a text"),
        ("[[hold]]\nmark = 'P1'\nreason = 'x'\nuntil = 3\n", 4, 'a hold has no key "until"'),
        ("[[holds]]\nmark = 'P1'\n", 1, 'there is no table "holds" here; there is [[hold]]'),
        ("hold = 'P1'\n", 1, "hold is written [[hold]]"),
        ("[[hold]\n", 1, "the holds file can't be understood"),
        (b"\xff\xfe", 1, "it is not UTF-8 text"),
    ],
    ids=range(9),
)
def test_faults_of_a_file_of_holds_are_told_with_their_line(text, line, says):
    raw = text if isinstance(text, bytes) else text.encode()
    _, findings = read_holds("holds.toml", raw)
    assert says in findings[0].message
    assert (findings[0].span.path, findings[0].span.line) == ("holds.toml", line)


def test_an_empty_file_of_holds_holds_nothing():
    assert read_holds("holds.toml", b"# none today\n") == ((), ())


def test_two_holds_of_one_mark_tell_both_reasons():
    keys = [("TQ-7", "P1"), ("TQ-8", "P1"), ("", "P2")]
    one = Hold(mark="P1", order=None, reason="RFI 1")
    two = Hold(mark="P1", order="TQ-8", reason="RFI 2")
    none = Hold(mark="P2", order="TQ-8", reason="RFI 3")
    reasons, unknown = settle_holds([one, two, one, none], keys)
    assert reasons == {("TQ-7", "P1"): "RFI 1", ("TQ-8", "P1"): "RFI 1; RFI 2"}
    assert unknown == (none,)


def test_what_becomes_of_each_mark_is_told(tmp_path):
    out = released(tmp_path, "--name", "TQ-7 lot 1")
    source = tmp_path / "in"
    changed = PARTS.replace("qty 2", "qty 3").replace("(long = 9)", "(long = 9-1/2)")
    more = 'part P3 "strip" = strip(long = 6) { qty 1 }\n'
    (source / "strips.bmk").write_text(changed + more, encoding="utf-8")
    (source / "detailer" / "F55.nc1").unlink()
    done = release(source, tmp_path / "r2", "--supersedes", out)
    assert done.exit_code == 0, done.output
    said = manifest(tmp_path / "r2")
    assert said["number"] == 2
    earlier = said["supersedes"]
    digest = json.loads(run("verify", out, "--format", "json").stdout)["release"]
    assert earlier["manifest_sha256"] == digest["manifest_sha256"]
    assert (earlier["name"], earlier["number"]) == ("TQ-7 lot 1", 1)
    assert earlier.get("taken_over", []) == []
    assert {item["mark"]: item["what"] for item in earlier["changed"]} == {
        "P1": [
            "length 9 in. to 9-1/2 in.",
            "another piece, and the revision is still A",
        ],
        "P2": ["quantity 2 to 3"],
    }
    assert names(earlier["new"]) == ["P3"]
    assert names(earlier["dropped"]) == ["F55"]
    words = done.output
    assert 'supersedes release 1 "TQ-7 lot 1" by Q. Clerk' in words
    assert "changed: 2\n  P1 (TQ-7): length" in words
    assert "new: 1\n  P3 (TQ-7)\ndropped: 1\n  F55 (TQ-7)\n" in words


def test_the_same_set_is_taken_over(tmp_path):
    out = released(tmp_path)
    release(tmp_path / "in", tmp_path / "r2", "--supersedes", out)
    earlier = manifest(tmp_path / "r2")["supersedes"]
    assert names(earlier["taken_over"]) == ["F55", "P1", "P2"]
    assert [key for key in ("changed", "new", "dropped") if key in earlier] == []
    release(tmp_path / "in", tmp_path / "r3", "--supersedes", tmp_path / "r2")
    assert manifest(tmp_path / "r3")["number"] == 3
    assert 'supersedes release 2 "r2"' in run("verify", tmp_path / "r3").output


@pytest.mark.parametrize(
    ("first", "second", "text", "what"),
    [
        ((), ("--hold", "P1=RFI 9"), "", ["on hold now: RFI 9"]),
        (("--hold", "P1=RFI 9"), (), "", ["no longer on hold"]),
        (
            ("--hold", "P1=RFI 9"),
            ("--hold", "P1=RFI 10"),
            "",
            ["on hold for another reason: RFI 10"],
        ),
        (("--formats", "json"), (), "", ["the same piece in other formats"]),
        (
            (),
            (),
            PARTS.replace('P1 "strip"', 'P1 "strip, painted"'),
            ["the same piece, told otherwise: titles, remarks, bolts or drawing data"],
        ),
        ((), (), PARTS.replace('rev "A"', 'rev "B"'), ["revision A to B"]),
        (
            (),
            (),
            PARTS.replace("grade A36", "grade A572-50"),
            ["grade A36 to A572-50", "another piece, and the revision is still A"],
        ),
    ],
    ids=["held", "lifted", "reason", "formats", "title", "revision", "grade"],
)
def test_a_change_is_told_in_shop_words(tmp_path, first, second, text, what):
    out = released(tmp_path, *first)
    if text:
        (tmp_path / "in" / "strips.bmk").write_text(text, encoding="utf-8")
    done = release(tmp_path / "in", tmp_path / "r2", "--supersedes", out, *second)
    assert done.exit_code == 0, done.output
    changed = manifest(tmp_path / "r2")["supersedes"]["changed"]
    assert {item["mark"]: item["what"] for item in changed}["P1"] == what


def test_only_a_whole_release_can_be_superseded(tmp_path):
    out = released(tmp_path)
    (out / "files" / "json" / "P1.part.json").unlink()
    done = release(tmp_path / "in", tmp_path / "r2", "--supersedes", out)
    assert done.exit_code == 1
    assert "The release that it is to supersede does not verify:" in done.output
    assert "files/json/P1.part.json is missing" in done.output
    assert not (tmp_path / "r2").exists()


def test_a_format_that_can_not_tell_a_part_keeps_all_from_release(tmp_path):
    source = delivery(tmp_path / "in")
    rounded = (
        "part P4 { section flat width 4 thickness 3/8   length 9\n"
        "  face { round start upper radius 1   holes bolt 3/4 gauge 2 at 4 } }\n"
    )
    (source / "strips.bmk").write_text(PARTS + rounded, encoding="utf-8")
    done = release(source, tmp_path / "r1", "--formats", "json,nc")
    assert done.exit_code == 1, done.output
    assert "A format can't say what a part is" in done.output
    assert "  P4 (" in done.output
    assert sorted(path.name for path in tmp_path.iterdir()) == ["in"]
    done = release(source, tmp_path / "r1", "--formats", "json,nc", "--hold", "P4=no arcs in NC")
    assert done.exit_code == 0, done.output


def test_the_release_before_may_lie_inside_of_the_new_one_s_input(tmp_path):
    """A release in the folder of its own inputs is no input of the next one."""
    source = delivery(tmp_path / "in")
    assert release(source, source / "releases" / "r1").exit_code == 0
    done = release(source, source / "releases" / "r2", "--supersedes", source / "releases" / "r1")
    assert done.exit_code == 0, done.output
    said = manifest(source / "releases" / "r2")
    assert [file["path"] for file in said["inputs"] if "releases" in file["path"]] == []
    assert "left_out" not in said
    earlier = said["supersedes"]
    assert names(earlier["taken_over"]) == ["F55", "P1", "P2"]
    shutil.rmtree(source / "releases" / "r1")
    assert run("verify", source / "releases" / "r2", "--rederive").exit_code == 0
