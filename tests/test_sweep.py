"""Whole deliveries: the same verdict however the work is cut up, kept or handed out."""

import os
import shutil
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from click.testing import CliRunner
from msgspec.structs import replace

from translator.batch import cache as drawers
from translator.batch.pool import each, pool
from translator.batch.record import FileRecord
from translator.batch.record_json import read, spelt
from translator.commands import main
from translator.commands._delivery import take
from translator.commands._found import find
from translator.commands._options import Run, Wanted
from translator.commands._sweep import through
from translator.readers import readers
from translator.sweep import Orders, Task, begun, sweep
from translator.sweep import task as sizes

SAMPLES = Path(__file__).resolve().parent.parent / "samples"


def _wanted(*paths):
    return Wanted(paths=paths, settings=(), config=None, kind=None, as_of=None, practice=None)


@pytest.fixture
def here(tmp_path, monkeypatch):
    for name in ("tern-quay", "faulty", "machines"):
        shutil.copytree(SAMPLES / name, tmp_path / name)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _swept(wanted, machines=(), **changes):
    found = find(wanted, None, machines)
    tasks = [
        Task(
            file=file,
            conventions=found.settings[file.folder].conventions,
            practice=found.settings[file.folder].practice,
            decisions=found.decisions[file.folder],
        )
        for file in found.files
    ]
    orders = Orders(machines=found.machines, **changes)
    return sweep(tasks, found.said, orders)


MACHINE = (Path("machines/punch-and-drill-line.machine.json"),)


@pytest.mark.parametrize("folder", ["tern-quay", "faulty"])
@pytest.mark.parametrize("machines", [(), MACHINE], ids=["no-machine", "a-machine"])
@pytest.mark.usefixtures("here")
def test_a_sweep_says_what_examining_in_memory_says(folder, machines):
    wanted = _wanted(folder)
    whole = take(wanted, machines=machines or None).outcome
    swept = _swept(wanted, machines or None).outcome
    assert swept.verdict == whole.verdict
    assert swept.refused == whole.refused
    assert [p.digest for p in swept.judged] == [p.digest for p in whole.judged]


def test_a_wrong_guess_at_what_a_writer_means_is_put_right(here, monkeypatch):
    (here / "tern-quay" / "backmark.toml").unlink()  # so that the files have to tell it
    wanted = _wanted("tern-quay/detailer")
    whole = take(wanted).outcome
    for pilot in (0, 1, 2, 32):
        monkeypatch.setattr(begun, "PILOT", pilot)
        swept = _swept(wanted)
        assert swept.outcome.verdict == whole.verdict
        # B53 proves the mitres, and all files of its writer are read by that.
        assert {record.conventions.mitre_sign for record in swept.records} == {"plus-left"}


@pytest.mark.parametrize("most", [1, 3, 100])
@pytest.mark.usefixtures("here")
def test_how_the_work_is_cut_up_makes_no_difference(monkeypatch, most):
    monkeypatch.setattr(sizes, "CHUNK_FILES", most)
    wanted = _wanted("tern-quay", "faulty")
    alone = _swept(wanted)
    with ThreadPoolExecutor(3) as threads:  # any executor will do
        shared = _swept(wanted, workers=threads, jobs=3)
    assert shared == alone


@pytest.mark.usefixtures("here")
def test_a_pool_of_processes_gives_the_same_bytes():
    said = set()
    for jobs in ("1", "3"):
        done = CliRunner().invoke(main, ["check", ".", "--no-cache", "--jobs", jobs])
        said.add((done.exit_code, done.stdout))
    assert len(said) == 1
    assert said.pop()[0] == 1


def _slow(number):
    # The first are the slowest: in order of being done they would come last.
    sum(range((20 - number) * 20_000))
    return number


def test_results_come_in_the_order_of_the_work():
    with pool(2) as workers:
        assert list(each(_slow, range(20), workers, 2)) == list(range(20))
    assert list(each(_slow, range(5), None, 1)) == list(range(5))


def _fail(number):
    if number == 3:
        raise ValueError("three")
    return number


def test_a_fault_in_the_pool_ends_it_and_comes_out():
    made = []
    with pytest.raises(ValueError, match="three"), pool(2) as workers:
        made.extend(each(_fail, range(50), workers, 2))
    assert made == [0, 1, 2]


def _die(_number):
    os._exit(7)


def test_a_process_that_dies_is_told_in_a_sentence():
    with pytest.raises(OSError, match="a process of this run was ended"), pool(2) as workers:
        list(each(_die, range(5), workers, 2))


@pytest.mark.skipif(sys.platform != "linux", reason="it looks into /proc")
def test_the_pool_ends_with_the_process_that_began_it(tmp_path):
    code = (
        "import os\n"
        "from translator.batch.pool import pool\n"
        "with pool(2) as workers:\n"
        "    print(*{workers.submit(os.getpid).result() for _ in range(20)}, flush=True)\n"
        "    os.kill(os.getpid(), 9)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert done.returncode == -9
    started = [Path("/proc", number) for number in done.stdout.split()]
    assert started
    for _ in range(100):
        if not any(_runs(process) for process in started):
            break
        time.sleep(0.1)
    assert not any(_runs(process) for process in started)


def _runs(process):
    try:
        return process.joinpath("stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


@pytest.mark.usefixtures("here")
def test_a_file_at_which_the_program_fails_is_told_and_the_others_go_on(monkeypatch):
    def broken(reader):
        def parse(source):
            if source.path.endswith("seats.bmk"):
                raise ValueError("deep inside")
            return reader.parse(source)

        return replace(reader, parse=parse)

    known = tuple(map(broken, readers()))
    monkeypatch.setattr("translator.batch.discover.readers", lambda: known)
    command = ["check", "tern-quay", "--no-cache", "--jobs", "1"]
    done = CliRunner().invoke(main, command)
    assert done.exit_code == 2
    line = next(line for line in done.stdout.splitlines() if "[program-fault]" in line)
    assert line == (
        "tern-quay/seats.bmk:1:1: error: a fault of this program while parsing"
        " tern-quay/seats.bmk: ValueError: deep inside [program-fault]"
    )
    assert "of 17 files" in done.stdout


@pytest.mark.usefixtures("here")
def test_a_file_that_can_not_be_read_is_told_and_the_others_go_on(monkeypatch):
    from translator.batch import discover
    from translator.errors import WorkError

    opened = discover.load

    def load(file, *more):
        if file.name.endswith("seats.bmk"):
            raise WorkError(f"can't read {file.name}: permission denied")
        return opened(file, *more)

    monkeypatch.setattr("translator.sweep.task.load", load)
    monkeypatch.setattr(discover, "load", load)
    done = CliRunner().invoke(main, ["check", "tern-quay", "--jobs", "1"])
    assert done.exit_code == 1
    assert "error: can't read tern-quay/seats.bmk: permission denied [file-unreadable]" in (
        done.stdout
    )
    again = CliRunner().invoke(main, ["check", "tern-quay", "--jobs", "1"])
    assert again.stdout == done.stdout


# ------------------------------------------------------------------ what earlier runs found


def _entries(folder):
    return [path for path in folder.rglob("*") if path.is_file()]


@pytest.mark.usefixtures("here")
def test_a_second_run_does_nothing_and_says_the_same(tmp_path, monkeypatch):
    monkeypatch.setenv("BACKMARK_CACHE", str(tmp_path / "kept"))
    command = ["check", "tern-quay", "faulty", "--jobs", "1"]
    first = CliRunner().invoke(main, command)
    entries = _entries(tmp_path / "kept")
    assert entries

    def never(*_given, **_more):
        raise AssertionError("nothing is to be done")

    monkeypatch.setattr("translator.sweep.sweep", never)
    second = CliRunner().invoke(main, command)
    assert (second.exit_code, second.stdout) == (first.exit_code, first.stdout)
    assert _entries(tmp_path / "kept") == entries


@pytest.mark.usefixtures("here")
def test_a_second_check_loads_nothing_that_reads_or_judges_parts(tmp_path, monkeypatch):
    monkeypatch.setenv("BACKMARK_CACHE", str(tmp_path / "kept"))
    code = (
        "import sys\nfrom translator.commands import main\n"
        "try:\n    main(['check', 'faulty', '--jobs', '1'])\n"
        "except SystemExit as end:\n    assert end.code == 1, end.code\n"
        "rooms = ('model', 'geometry', 'pipeline', 'sweep')\n"
        "heavy = {'pydantic', *(f'translator.{room}' for room in rooms)} & set(sys.modules)\n"
        "assert bool(heavy) == (sys.argv[1] == 'first'), heavy\n"
    )
    for run in ("first", "second"):
        done = subprocess.run(
            [sys.executable, "-c", code, run], capture_output=True, text=True, check=False
        )
        assert done.stderr == ""


@pytest.mark.usefixtures("here")
def test_one_changed_file_is_the_only_one_read_again(tmp_path, monkeypatch):
    monkeypatch.setenv("BACKMARK_CACHE", str(tmp_path / "kept"))
    command = ["check", "faulty", "--jobs", "1"]
    CliRunner().invoke(main, command)
    path = tmp_path / "faulty" / "spacing-short.bmk"
    path.write_bytes(path.read_bytes() + b"\n# looked at\n")
    worked = []
    finish = __import__("translator.sweep.work", fromlist=["finish"]).finish

    def watched(item, *given, **more):
        worked.append(item.source.path)
        return finish(item, *given, **more)

    monkeypatch.setattr("translator.sweep.work.finish", watched)
    warm = CliRunner().invoke(main, command)
    assert worked == ["faulty/spacing-short.bmk"]
    cold = CliRunner().invoke(main, [*command, "--no-cache"])
    assert warm.stdout == cold.stdout


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(["--practice", "none"], id="practice"),
        pytest.param(["--machine", "machines/hand-bench.machine.json"], id="machine"),
        pytest.param(["--nc", "y_datum=view-bottom"], id="setting"),
    ],
)
@pytest.mark.usefixtures("here")
def test_other_settings_are_other_entries(tmp_path, monkeypatch, change):
    monkeypatch.setenv("BACKMARK_CACHE", str(tmp_path / "kept"))
    CliRunner().invoke(main, ["check", "tern-quay", "faulty", "--jobs", "1"])
    warm = CliRunner().invoke(main, ["check", "tern-quay", "faulty", "--jobs", "1", *change])
    cold = CliRunner().invoke(main, ["check", "tern-quay", "faulty", "--no-cache", *change])
    assert warm.stdout == cold.stdout


@pytest.mark.usefixtures("here")
def test_the_settings_file_is_part_of_what_is_kept(tmp_path, monkeypatch):
    monkeypatch.setenv("BACKMARK_CACHE", str(tmp_path / "kept"))
    command = ["check", "faulty", "--jobs", "1", "--fail-on", "note"]
    before = CliRunner().invoke(main, command)
    (tmp_path / "faulty" / "backmark.toml").write_text(
        '[severities]\nspacing-short = "off"\nhole-in-fillet = "error"\n'
    )
    after = CliRunner().invoke(main, command)
    assert after.stdout != before.stdout
    assert after.stdout == CliRunner().invoke(main, [*command, "--no-cache"]).stdout


def _torn(path):
    path.write_bytes(path.read_bytes()[:-3])


def _flipped(path):
    data = bytearray(path.read_bytes())
    data[-1] ^= 1
    path.write_bytes(data)


def _folder(path):
    path.unlink()
    path.mkdir()


SPOILT = {
    "torn": _torn,
    "one-bit": _flipped,
    "empty": lambda path: path.write_bytes(b""),
    "other": lambda path: path.write_bytes(b"backmark-cache 1\n" + bytes(20) + b"{}"),
    "folder": _folder,
}


@pytest.mark.parametrize("spoil", SPOILT.values(), ids=SPOILT)
@pytest.mark.usefixtures("here")
def test_spoilt_entries_are_as_good_as_none(tmp_path, monkeypatch, spoil):
    monkeypatch.setenv("BACKMARK_CACHE", str(tmp_path / "kept"))
    command = ["check", "faulty", "--jobs", "1"]
    before = CliRunner().invoke(main, command)
    for path in _entries(tmp_path / "kept"):
        spoil(path)
    after = CliRunner().invoke(main, command)
    assert (after.exit_code, after.stdout) == (before.exit_code, before.stdout)


@pytest.mark.usefixtures("here")
def test_a_cache_that_can_not_be_written_is_no_fault(tmp_path, monkeypatch):
    (tmp_path / "kept").write_text("a file where the folder should be")
    monkeypatch.setenv("BACKMARK_CACHE", str(tmp_path / "kept"))
    done = CliRunner().invoke(main, ["check", "tern-quay", "--jobs", "1"])
    assert done.exit_code == 0
    assert done.stderr == ""


def test_an_entry_is_read_back_only_whole(tmp_path):
    drawers.keep(tmp_path, "ab" + "0" * 38, b"body")
    assert drawers.fetch(tmp_path, "ab" + "0" * 38) == b"body"
    assert drawers.fetch(tmp_path, "ab" + "1" * 38) is None
    assert drawers.key_of([b"a", b"bc"]) != drawers.key_of([b"ab", b"c"])


def test_a_full_drawer_loses_its_older_half(tmp_path, monkeypatch):
    monkeypatch.setattr(drawers, "MOST_ENTRIES", 10)
    keys = [f"ab{number:038x}" for number in range(11)]
    for age, key in enumerate(keys):
        drawers.keep(tmp_path, key, b"x")
        os.utime(tmp_path / "ab" / key[2:], (age, age))
    drawers.tidy(tmp_path, keys[0])
    assert [drawers.fetch(tmp_path, key) for key in keys] == [None] * 5 + [b"x"] * 6


def test_the_folder_is_the_one_named_else_the_platforms(tmp_path):
    assert drawers.folder_of({"BACKMARK_CACHE": str(tmp_path)}) == tmp_path
    assert "backmark" in drawers.folder_of({}).name


def test_a_person_without_a_home_has_no_cache(monkeypatch):
    monkeypatch.setattr("platformdirs.user_cache_path", lambda *_, **__: Path("~/.cache/backmark"))
    assert drawers.folder_of({}) is None


@pytest.mark.usefixtures("here")
def test_records_are_the_same_after_their_bytes():
    found = find(_wanted("tern-quay", "faulty"), None, MACHINE)
    _, records = through(_wanted("tern-quay", "faulty"), found, Run())
    assert len(records) > 40
    for record in records:
        assert read(FileRecord, spelt(record)) == record
    assert read(FileRecord, b"{}") is None
    assert read(FileRecord, None) is None
