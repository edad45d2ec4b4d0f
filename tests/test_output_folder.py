"""The output folder: whole files or none, an index that comes last, and what is left of before."""

import errno
import hashlib
import json
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from translator.batch import staging as waiting_room
from translator.batch.flushing import flushing
from translator.batch.index import Index, IndexedFile, index_bytes, read_index, still_there
from translator.batch.staging import PREFIX, call_by_name, put, staging
from translator.commands import main
from translator.errors import WorkError
from translator.findings import CAUTION

ROOT = Path(__file__).resolve().parent.parent
SCHEMA = json.loads((ROOT / "schemas" / "index.schema.json").read_text())

PART = """\
part {mark} {{ section FB100x10  length {length}  grade S275JR
  face {{ holes 22 gauge 50 at 50, {length} - 50 }}
}}
"""


def _parts(marks, length=300):
    return "units mm\n" + "".join(PART.format(mark=mark, length=length) for mark in marks)


@pytest.fixture
def here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "a.bmk").write_text(_parts(["A1", "A2"]))
    return tmp_path


def _run(*args):
    return CliRunner().invoke(main, list(args))


def _translate(*more):
    return _run("translate", "in", "--to", "json,dxf", "--out", "out", *more)


def _names(folder):
    return sorted(path.name for path in folder.iterdir())


def _bytes(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir()}


BOTH = ["A1.face.dxf", "A1.part.json", "A2.face.dxf", "A2.part.json", "index.json"]


def test_the_index_names_every_file_with_the_digest_of_its_bytes(here):
    assert _translate().exit_code == 0
    assert _names(here / "out") == BOTH
    document = json.loads((here / "out" / "index.json").read_bytes())
    jsonschema.Draft202012Validator(SCHEMA).validate(document)
    assert document["caution"] == CAUTION
    told = {one["name"]: one["sha256"] for one in document["files"]}
    made = {name: data for name, data in _bytes(here / "out").items() if name != "index.json"}
    assert told == {name: hashlib.sha256(data).hexdigest() for name, data in made.items()}
    assert {one["mark"] for one in document["files"]} == {"A1", "A2"}
    assert document["earlier"] == []


def test_the_same_run_gives_the_same_bytes_in_any_number_of_processes(here):
    for number in range(30):
        (here / "in" / f"{number:02}.bmk").write_text(_parts([f"B{number}"], 300 + number))
    made = []
    for jobs in ("1", "3"):
        assert _run("translate", "in", "--out", jobs, "--jobs", jobs).exit_code == 0
        made.append(_bytes(here / jobs))
    assert made[0] == made[1]
    assert len(made[0]) == 2 * 32 + 1


def test_what_an_earlier_run_made_is_told_until_it_is_pruned(here):
    _translate()
    (here / "in" / "a.bmk").write_text(_parts(["A1", "A3"]))
    (here / "out" / "mine.txt").write_text("a note")
    told = _translate()
    assert told.exit_code == 0
    lines = told.stdout.splitlines()
    at = lines.index("older files still there: 2")
    assert lines[at + 1 : at + 4] == [
        "  out/A2.face.dxf",
        "  out/A2.part.json",
        "  --prune removes those that an earlier run made",
    ]
    index = read_index(here / "out")
    assert {one.name for one in index.earlier} == {"A2.face.dxf", "A2.part.json"}
    again = _translate()  # it is not forgotten
    assert "older files still there: 2" in again.stdout
    pruned = _translate("--prune")
    assert "older files removed: 2" in pruned.stdout
    names = ["A1.face.dxf", "A1.part.json", "A3.face.dxf", "A3.part.json", "index.json"]
    assert _names(here / "out") == [*names, "mine.txt"]
    assert read_index(here / "out").earlier == ()
    assert "older" not in _translate("--prune").stdout


def test_a_file_that_somebody_changed_is_never_pruned(here):
    _translate()
    (here / "out" / "A2.part.json").write_text("changed by hand")
    (here / "in" / "a.bmk").write_text(_parts(["A1"]))
    assert "older files removed: 1" in _translate("--prune").stdout
    assert (here / "out" / "A2.part.json").read_text() == "changed by hand"


HOSTILE = {
    "way-out": [{"name": "../../in/a.bmk", "sha256": "0" * 64, "mark": "A", "title": "t"}],
    "absolute": [{"name": "/etc/hosts", "sha256": "0" * 64, "mark": "A", "title": "t"}],
    "no-list": "A1",
    "deep": None,
}


@pytest.mark.parametrize("files", HOSTILE.values(), ids=HOSTILE)
def test_an_index_that_no_run_wrote_is_kept_and_told(here, files):
    _translate()
    index = {"format": "backmark/index", "version": "1.0", "caution": "", "files": files}
    text = "[" * 100_000 if files is None else json.dumps(index)
    (here / "out" / "index.json").write_text(text)
    assert read_index(here / "out") is None
    before = _bytes(here / "out")
    (here / "in" / "a.bmk").write_text(_parts(["A1"], length=400))
    done = _translate("--prune")
    assert done.exit_code == 2
    assert done.stderr == (
        "backmark: out/index.json is no index that an earlier run wrote; move it away, or name"
        " another folder\n"
    )
    assert _bytes(here / "out") == before


def test_an_index_that_is_a_folder_or_a_dead_link_is_told_too(here):
    for make in (Path.mkdir, lambda path: path.symlink_to(here / "nowhere")):
        (here / "out").mkdir(exist_ok=True)
        make(here / "out" / "index.json")
        assert _translate().exit_code == 2
        assert _names(here / "out") == ["index.json"]
        path = here / "out" / "index.json"
        path.rmdir() if path.is_dir() else path.unlink()


def test_a_link_out_of_the_folder_is_not_followed(here):
    (here / "elsewhere").write_text("x")
    (here / "out").mkdir()
    (here / "out" / "A9.part.json").symlink_to(here / "elsewhere")
    digest = hashlib.sha256(b"x").hexdigest()
    one = IndexedFile(name="A9.part.json", sha256=digest, mark="A9", title="t")
    (here / "out" / "index.json").write_bytes(index_bytes([one]))
    assert still_there(here / "out", read_index(here / "out"), []) == ()
    _translate("--prune")
    assert (here / "elsewhere").read_text() == "x"
    assert (here / "out" / "A9.part.json").is_symlink()


def test_an_index_reads_back():
    files = tuple(
        IndexedFile(name=f"{n}.part.json", sha256="a" * 64, mark=mark, order=order, title="t")
        for n, (mark, order) in enumerate((("A1", None), ('"A2"', "TQ-7"), ("ü½", "x\\")))
    )
    index = Index(files=files, earlier=files[:1])
    assert Index.model_validate_json(index_bytes(files, files[:1])) == index
    jsonschema.Draft202012Validator(SCHEMA).validate(json.loads(index_bytes(files)))


# ------------------------------------------------------------------ the disk refuses


def test_a_full_disk_is_a_sentence_and_leaves_what_was(here, monkeypatch):
    _translate()
    before = _bytes(here / "out")
    (here / "in" / "a.bmk").write_text(_parts(["A1", "A2"], length=400))

    def full(_handle):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(waiting_room.os, "fsync", full)
    done = _translate("--jobs", "1")
    assert done.exit_code == 2
    assert done.stderr == ("backmark: can't write into the folder out: no space left on device\n")
    assert _bytes(here / "out") == before


@pytest.mark.skipif(sys.platform != "linux", reason="it needs a disk in memory")
@pytest.mark.skipif(os.geteuid() != 0, reason="only root may mount")
def test_a_disk_that_is_really_full(here):
    disk = here / "disk"
    disk.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(disk)],
        capture_output=True,
        check=False,
    )
    if mounted.returncode:
        pytest.skip("mounting is not allowed here")
    try:
        (here / "in" / "a.bmk").write_text(_parts([f"A{n}" for n in range(40)]))
        done = _run("translate", "in", "--to", "json,dxf", "--out", "disk/out")
        assert done.exit_code == 2
        assert "no space left on device" in done.stderr
        assert list(disk.iterdir()) == []
    finally:
        subprocess.run(["umount", str(disk)], check=True)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written_is_a_sentence(here):
    (here / "out").mkdir(mode=0o500)
    done = _translate()
    assert done.exit_code == 2
    assert "can't write into the folder out: permission denied" in done.stderr


def test_a_name_that_is_taken_by_a_folder_is_a_sentence(here):
    (here / "out" / "A2.part.json").mkdir(parents=True)
    done = _translate()
    assert done.exit_code == 2
    assert "can't write out/A2.part.json: is a directory" in done.stderr


def test_folders_made_for_nothing_go_again(here):
    (here / "in" / "a.bmk").write_text(_parts(["A1"]).replace("gauge 50", "gauge 500"))
    assert _run("translate", "in", "--out", "x/y/z").exit_code == 1
    assert not (here / "x").exists()


# ------------------------------------------------------------------ stopped at any moment


def test_what_a_killed_run_left_waiting_is_cleared_by_the_next(tmp_path):
    gone = subprocess.Popen([sys.executable, "-c", ""])
    gone.wait()
    left = tmp_path / f"{PREFIX}{gone.pid}"
    left.mkdir()
    (left / "0-0-0").write_text("half")
    alive = tmp_path / f"{PREFIX}{os.getppid()}"
    alive.mkdir()
    other = tmp_path / f"{PREFIX}notes"
    other.mkdir()
    with staging(tmp_path) as waiting:
        with flushing(tmp_path) as flush:
            assert put(waiting, "0", b"x", flush) == hashlib.sha256(b"x").digest()
        call_by_name(waiting, [("0", "x.txt")])
    assert _names(tmp_path) == sorted([alive.name, other.name, "x.txt"])


def test_nothing_is_called_by_name_that_was_not_put(tmp_path):
    with (
        pytest.raises(WorkError, match=r"can't write .*/x: no such file"),
        staging(tmp_path) as own,
    ):
        call_by_name(own, [("0", "x")])
    assert list(tmp_path.iterdir()) == []


def test_a_run_killed_at_any_moment_leaves_old_files_or_new_ones(here):
    """SIGKILL at random moments: no half file, no lost old one, and the next run completes."""
    marks = [f"A{number}" for number in range(12)]
    states = []
    for length in (300, 400):
        (here / "in" / "a.bmk").write_text(_parts(marks, length))
        assert _run("translate", "in", "--out", f"as-{length}").exit_code == 0
        states.append(_bytes(here / f"as-{length}"))
    old, new = states
    assert set(old) == set(new)
    chance = random.Random(7)
    kills, reached = int(os.environ.get("BACKMARK_KILLS", "10")), 0
    command = [sys.executable, "-m", "translator", "translate", "in", "--out", "out"]
    whole = _timed(command, here)
    for number in range(kills):
        (here / "in" / "a.bmk").write_text(_parts(marks, (300, 400)[number % 2]))
        run = subprocess.Popen(
            command, cwd=here, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        time.sleep(whole * chance.uniform(0.4, 1.0))
        run.send_signal(signal.SIGKILL)
        reached += run.wait() != 0
        now = _bytes_of_files(here / "out")
        assert set(now) == set(old)
        for name, data in now.items():
            assert data in (old[name], new[name]), name
    assert reached  # else nothing was killed, and nothing shown
    assert _run("translate", "in", "--out", "out").exit_code == 0
    assert _bytes(here / "out") in (old, new)


def _timed(command, here):
    begun = time.monotonic()
    subprocess.run(command, cwd=here, check=True, stdout=subprocess.DEVNULL)
    return time.monotonic() - begun


def _bytes_of_files(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}
