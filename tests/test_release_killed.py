"""A release is there whole or not at all: killed runs, full disks, folders that refuse."""

import errno
import json
import os
import random
import signal
import subprocess
import sys
import time

import pytest
from release_set import NOON, SAMPLES, delivery, files, release, released, run

from translator.errors import WorkError
from translator.release import placing
from translator.release.placing import place

KILLS = int(os.environ.get("BACKMARK_KILLS", "10"))
POSIX = pytest.mark.skipif(os.name != "posix", reason="signals and locks of another system")


SERVER = """\
import os, sys
from translator.commands import main

def release(out):
    sys.stdout = sys.stderr = open(os.devnull, 'w')
    try:
        main(['release', sys.argv[1], '--to', out, '--by', 'Q. Clerk', '--at', sys.argv[2],
              '--formats', 'json,bmk,nc,svg'])
    except SystemExit as end:
        return end.code

said = sys.stdout
release(sys.argv[3])
while line := sys.stdin.readline():
    child = os.fork()
    if child == 0:
        os._exit(release(line.strip()))
    print(child, file=said, flush=True)
    sys.stdin.readline()  # until then its number is its own
    print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), file=said, flush=True)
"""
"""Makes a first release, then one for each line it is sent, each in a process of its own.

The tool is loaded once, so that the kills fall into its work and not into its start.
"""


class Runs:
    """Releases in processes that can be killed."""

    def __init__(self, source, first):
        self.server = subprocess.Popen(
            [sys.executable, "-c", SERVER, str(source), NOON, str(first)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def start(self, out):
        print(out, file=self.server.stdin, flush=True)
        return int(self.server.stdout.readline())

    def end(self):
        print("end", file=self.server.stdin, flush=True)
        return int(self.server.stdout.readline())

    def close(self):
        self.server.communicate()


def hidden(folder):
    return sorted(path.name for path in folder.iterdir() if path.name.startswith("."))


@POSIX
def test_kills_leave_no_half_release(tmp_path):
    """Half of the kills fall anywhere in a run, half into the time in which it writes."""
    dice = random.Random(7)
    runs = Runs(delivery(tmp_path / "in"), tmp_path / "whole")
    out = tmp_path / "r1"
    runs.start(tmp_path / "timed")  # behind it the first one is done too
    begun = time.monotonic()
    assert runs.end() == 0
    usual = time.monotonic() - begun
    wanted = files(tmp_path / "whole")
    left = 0
    for number in range(KILLS):
        process = runs.start(out)
        if number % 2:
            wait_for(out.with_name(".r1.backmark-release"))
            time.sleep(dice.uniform(0, usual / 3))
        else:
            time.sleep(dice.uniform(0, usual))
        os.kill(process, signal.SIGKILL)
        runs.end()
        left += len(hidden(tmp_path))
        if out.exists():  # then all of it is there
            assert whole_but_for_the_name(out, wanted)
            assert run("verify", out).exit_code == 0
            out.rename(tmp_path / f"done-{number}")
    assert left, "no kill fell into the time in which a release is written"
    runs.start(out)
    assert runs.end() == 0
    runs.close()
    assert run("verify", out).exit_code == 0
    assert whole_but_for_the_name(out, wanted)
    assert hidden(tmp_path) == []


def whole_but_for_the_name(out, wanted):
    found = files(out)
    named = {"release.json", "SHA256SUMS"}
    return found.keys() == wanted.keys() and all(
        found[name] == wanted[name] for name in wanted.keys() - named
    )


def wait_for(path):
    until = time.monotonic() + 5
    while not path.exists() and time.monotonic() < until:
        time.sleep(0.001)


@POSIX
@pytest.mark.parametrize("moment", ["nothing", "some", "all"])
def test_a_kill_between_any_two_files_leaves_nothing(tmp_path, moment):
    """The run ends itself, so the moment is sure."""
    code = (
        "import os, signal, sys\n"
        "from translator.release.placing import place\n"
        "def files():\n"
        "    for number in range(3):\n"
        "        if number == int(sys.argv[2]): os.kill(os.getpid(), signal.SIGKILL)\n"
        "        yield f'files/{number}', b'x'\n"
        "    if sys.argv[2] == '3': os.kill(os.getpid(), signal.SIGKILL)\n"
        "from pathlib import Path\n"
        "place(Path(sys.argv[1]), files(), lambda: True)\n"
    )
    at = {"nothing": "0", "some": "2", "all": "3"}[moment]
    out = tmp_path / "r1"
    done = subprocess.run([sys.executable, "-c", code, str(out), at], check=False)
    assert done.returncode == -signal.SIGKILL
    assert not out.exists()
    assert ".r1.backmark-release" in hidden(tmp_path)
    place(tmp_path / "r2", [("a", b"1")], lambda: True)  # any later run beside it clears up
    assert hidden(tmp_path) == []
    assert sorted(path.name for path in tmp_path.iterdir()) == ["r2"]


@POSIX
def test_a_run_that_is_still_at_work_is_left_alone(tmp_path):
    seen = []

    def slowly():
        yield "a", b"1"
        with pytest.raises(WorkError, match="another run is making the release"):
            place(tmp_path / "r1", [("b", b"2")], lambda: True)
        place(tmp_path / "r2", [("c", b"3")], lambda: True)
        seen.extend(hidden(tmp_path))
        yield "d", b"4"

    place(tmp_path / "r1", slowly(), lambda: True)
    assert seen == [".r1.backmark-lock", ".r1.backmark-release"]
    assert files(tmp_path / "r1") == {"a": b"1", "d": b"4"}
    assert files(tmp_path / "r2") == {"c": b"3"}
    assert hidden(tmp_path) == []


@POSIX
def test_a_link_in_the_hidden_folder_s_place_is_not_followed(tmp_path):
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "letter").touch()
    (tmp_path / ".r1.backmark-release").symlink_to(tmp_path / "mine")
    place(tmp_path / "r1", [("a", b"1")], lambda: True)
    assert files(tmp_path / "r1") == {"a": b"1"}
    assert (tmp_path / "mine" / "letter").exists()


def full(path, data):
    if data.startswith(b"{") and b"backmark/release" in data:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    path.write_bytes(data)


def test_a_full_disk_is_said_and_leaves_nothing(tmp_path, monkeypatch):
    source = delivery(tmp_path / "in")
    monkeypatch.setattr(placing, "_write", full)
    done = release(source, tmp_path / "deep" / "r1")
    assert done.exit_code == 2
    said = f"can't write the release {tmp_path.as_posix()}/deep/r1: no space left on device"
    assert said in done.output
    assert sorted(path.name for path in tmp_path.iterdir()) == ["in"]


@POSIX
def test_a_limit_of_the_system_is_said_and_leaves_nothing(tmp_path):
    """The kernel itself refuses to let a file grow, as a full disk or a quota does."""
    source = delivery(tmp_path / "in")
    code = (
        "import resource, sys\n"
        "from translator.commands import main\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))\n"
        "main(sys.argv[1:])\n"
    )
    command = [sys.executable, "-c", code, "release", source, "--to", tmp_path / "r1", "--by", "Q"]
    done = subprocess.run([*map(str, command)], capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert "can't write the release" in done.stderr
    assert "file too large" in done.stderr
    assert done.stdout == ""
    assert sorted(path.name for path in tmp_path.iterdir()) == ["in"]


@pytest.mark.parametrize("what", ["file", "read-only"])
def test_a_place_that_can_not_be_written_is_said(tmp_path, what):
    source = delivery(tmp_path / "in")
    above = tmp_path / "above"
    if what == "file":
        above.touch()
    else:
        above.mkdir(mode=0o500)
        if os.access(above, os.W_OK):
            pytest.skip("this user may write everywhere")
    done = release(source, above / "r1")
    assert done.exit_code == 2
    assert "can't" in done.output
    assert "Traceback" not in done.output


def test_a_release_that_may_not_appear_leaves_nothing(tmp_path):
    place(tmp_path / "deep" / "r1", [("a", b"1")], lambda: False)
    assert list(tmp_path.iterdir()) == []


def test_an_exception_leaves_nothing(tmp_path):
    def broken():
        yield "a", b"1"
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        place(tmp_path / "deep" / "r1", broken(), lambda: True)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_filled_meanwhile_is_not_written_over(tmp_path):
    out = tmp_path / "r1"

    def meanwhile():
        yield "a", b"1"
        out.mkdir()
        (out / "theirs").write_bytes(b"2")

    with pytest.raises(WorkError, match="can't write the release"):
        place(out, meanwhile(), lambda: True)
    assert files(out) == {"theirs": b"2"}
    assert hidden(tmp_path) == []


def test_many_marks_are_released_in_a_time_that_grows_with_them(tmp_path):
    """No step may look at each of them for each of them."""
    source = tmp_path / "in"
    source.mkdir()
    base = json.loads(
        (SAMPLES / "tern-quay" / "stair" / "S61.part.json").read_text(encoding="utf-8")
    )
    base.pop("computed")
    spent = []
    for count in (20, 80):
        for number in range(count):
            base["part"]["mark"] = f"M{number}"
            (source / f"M{number}.part.json").write_text(json.dumps(base), encoding="utf-8")
        begun = time.process_time()
        done = release(source, tmp_path / f"r{count}", "--formats", "json")
        spent.append(time.process_time() - begun)
        assert done.exit_code == 0, done.output[-2000:]
    assert spent[1] < 8 * spent[0]


def test_a_second_release_reads_the_same(tmp_path):
    out = released(tmp_path)
    assert release(tmp_path / "in", tmp_path / "r2", "--name", "r1").exit_code == 0
    assert files(out) == files(tmp_path / "r2")
