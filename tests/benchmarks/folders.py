"""What whole folders cost, against other ways of doing the work: ratios of one run.

    python tests/benchmarks/folders.py            2,000 and 20,000 parts
    python tests/benchmarks/folders.py --quick    200 and 2,000

It makes its own parts (``delivery.py``), then measures the processor time of each command with all
its processes, the time on the clock and the largest process, each the least of a few runs:

- ``check-jsonschema`` on the same part documents with the part schema (the extra ``bench``);
- a plain script with the same libraries (``plain.py``), its drawings proved to hold the same;
- floors: starting up, reading, hashing and writing the same bytes.

Ratios are of processor time unless they say "clock". On a machine that does other work the ratios
hold, the seconds do not.
"""

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from time import perf_counter
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent.parent.parent
HERE = ROOT / "tests" / "benchmarks"
BACKMARK = (sys.executable, "-m", "translator")
READ = "import pathlib, sys\nfor p in sorted(pathlib.Path(sys.argv[1]).iterdir()): p.read_bytes()"
HASH = (
    "import hashlib, pathlib, sys\n"
    "for p in sorted(pathlib.Path(sys.argv[1]).iterdir()): hashlib.sha256(p.read_bytes()).digest()"
)
WRITE = (
    "import pathlib, sys\n"
    "for p in sorted(pathlib.Path(sys.argv[1]).iterdir()):\n"
    "    pathlib.Path(sys.argv[2], p.name).write_bytes(p.read_bytes())"
)


class Cost(NamedTuple):
    """Processor seconds of a command and what it started, clock seconds, MB of the largest."""

    cpu: float
    clock: float
    memory: float


class Bench:
    """A folder to work in, and the commands measured there."""

    def __init__(self, folder: Path, repeat: int) -> None:
        self.folder = folder
        self.repeat = repeat
        self.aside: list[Path] = []
        self.env = {n: v for n, v in os.environ.items() if n != "PYTHONDONTWRITEBYTECODE"}
        self.env["BACKMARK_CACHE"] = str(folder / "cache")

    def cost(self, *command: str | Path, times: int = 0, fresh: Path | None = None) -> Cost:
        """Return the least cost of a command; ``fresh`` is not there when a run begins.

        What stood there is put aside, not removed: for some seconds after a removal of many
        files ext4 is slow to make new ones, and this would measure the removal.
        """
        runs = []
        for _ in range(times or self.repeat):
            if fresh is not None and fresh.exists():
                fresh.rename(self.folder / f"aside-{len(self.aside)}")
                self.aside.append(fresh)
            runs.append(self._run(*map(str, command)))
        return Cost(*map(min, zip(*runs, strict=True)))

    def _run(self, *command: str) -> Cost:
        begun = perf_counter()
        with subprocess.Popen(
            command, cwd=ROOT, env=self.env, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
        ) as process:
            said = process.stderr.read() if process.stderr else b""
            _, status, used = os.wait4(process.pid, 0)
            process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode not in (0, 1) or b"fault of this program" in said:
            raise SystemExit(f"{' '.join(command)[-200:]}\n{said.decode(errors='replace')}")
        return Cost(used.ru_utime + used.ru_stime, perf_counter() - begun, used.ru_maxrss / 1024.0)

    def make(self, count: int, *formats: str) -> Path:
        """Return the folder of so many parts, made in a process of its own."""
        folder = self.folder / str(count)
        if not folder.exists():
            self._run(sys.executable, str(HERE / "delivery.py"), str(folder), str(count), *formats)
        return folder


def say(what: str, cost: Cost, ratio: float | None = None, bar: str = "") -> None:
    numbers = f"{cost.cpu:9.2f} {cost.clock:9.2f} {cost.memory:7.0f}"
    against = "" if ratio is None else f"{ratio:7.2f}"
    sys.stdout.write(f"{what:46.46s} {numbers} {against:7s}  {bar}\n")
    sys.stdout.flush()


def one_file(bench: Bench, small: Path) -> None:
    """Measure starting up and one file of each kind."""
    part = next(iter(sorted((small / "json").iterdir())))
    detailer = next(p for p in sorted((small / "nc").iterdir()) if p.suffix == ".nc1")
    text = ROOT / "samples" / "tern-quay" / "clips.bmk"
    bench.cost(*BACKMARK, "check", text, part, detailer, times=1)  # writes the .pyc files
    say("python -c pass", bench.cost(sys.executable, "-c", "pass", times=7))
    say("backmark --version", bench.cost(*BACKMARK, "--version", times=7), bar="CPU < 0.1 s")
    for kind, path in (("part JSON", part), ("NC", detailer), ("part text, 3 parts", text)):
        cost = bench.cost(*BACKMARK, "check", "--no-cache", path, times=7)
        say(f"check of one file: {kind}", cost, bar="CPU < 0.4 s")


def against_schema(bench: Bench, small: Path, count: int) -> Cost:
    """Measure check of a folder against the general checker of JSON; return that of JSON."""
    documents = sorted((small / "json").iterdir())
    tool = Path(sys.executable).with_name("check-jsonschema")
    schema = ROOT / "schemas" / "part.schema.json"
    other = bench.cost(tool, "--schemafile", schema, *documents)
    say(f"check-jsonschema, {count:,} part JSON", other)
    for kind, most in (("json", 1.0), ("nc", 1.5)):
        for jobs in ("1", "2"):
            command = ("check", "--no-cache", "--jobs", jobs, small / kind)
            cost = bench.cost(*BACKMARK, *command)
            ratio = cost.clock / other.clock if jobs == "2" else cost.cpu / other.cpu
            clock = " (clock)" if jobs == "2" else ""
            say(f"check, {count:,} {kind}, --jobs {jobs}", cost, ratio, f"<= {most}{clock}")
            if kind == "json" and jobs == "1":
                plain_check = cost
    return plain_check


def warm(bench: Bench, small: Path, count: int) -> None:
    """Measure a second check of the same files against the floors."""
    version = bench.cost(*BACKMARK, "--version", times=5)
    start = bench.cost(*BACKMARK, "check", "--help", times=5)
    reading = bench.cost(sys.executable, "-c", READ, small / "json")
    hashing = bench.cost(sys.executable, "-c", HASH, small / "json")
    bare = bench.cost(sys.executable, "-c", "pass", times=5)
    say(f"floor: reading {count:,} files", reading)
    say(f"floor: reading and hashing {count:,} files", hashing)
    say("floor: starting up (check --help)", start)
    bench.cost(*BACKMARK, "check", "--jobs", "1", small / "json", times=1)
    again = bench.cost(*BACKMARK, "check", "--jobs", "1", small / "json")
    floor = hashing.cpu - bare.cpu
    say("check, warm, / (start + reading + hashing)", again, again.cpu / (floor + start.cpu),
        "<= 1.5")  # fmt: skip
    say("  the same / (--version + reading + hashing)", again, again.cpu / (floor + version.cpu))


def against_plain(bench: Bench, parts: Path, count: int) -> None:
    """Measure translate against the plain script; prove that the drawings hold the same."""
    ours, lists, plain = (bench.folder / name for name in ("ours", "lists", "plain"))
    command = ("translate", parts, "--to", "json,dxf", "--no-cache", "--jobs", "1", "--out", ours)
    script = (sys.executable, HERE / "plain.py", parts, lists, plain)
    bench.cost(*BACKMARK, *command, times=1)
    bench.cost(sys.executable, HERE / "same_drawings.py", "lists", ours, lists, times=1)
    runs = []
    for _ in range(bench.repeat):  # in turn: how fast a machine is changes within minutes
        other = bench.cost(*script, times=1, fresh=plain)
        runs.append((bench.cost(*BACKMARK, *command, times=1, fresh=ours), other))
    mine, theirs = (Cost(*map(min, zip(*each, strict=True))) for each in zip(*runs, strict=True))
    bench.cost(sys.executable, HERE / "same_drawings.py", "same", ours, plain, times=1)
    copy = bench.folder / "copy"
    copy.mkdir()
    writing = bench.cost(sys.executable, "-c", WRITE, ours, copy)
    drawings = len(list(ours.glob("*.dxf")))
    say(f"plain script, {count:,} parts, {drawings:,} drawings", theirs)
    say("translate --to json,dxf, --jobs 1 (plain / ours)", mine, theirs.cpu / mine.cpu, ">= 10")
    each = ", ".join(f"{b.cpu / a.cpu:.1f}" for a, b in runs)
    say(f"  on the clock; of each run: {each}", mine, theirs.clock / mine.clock)
    say("floor: reading and writing what it made", writing)


def growth(bench: Bench, sizes: tuple[int, int], folders: Iterator[Path], few: Cost) -> None:
    """Measure how cost and memory grow with ten times the parts."""
    small, large = folders
    for jobs in ("1", "2"):
        least = few if jobs == "1" else None
        command = (*BACKMARK, "check", "--no-cache", "--jobs", jobs)
        least = least or bench.cost(*command, small / "json")
        most = bench.cost(*command, large / "json", times=1)
        grown = most.memory - least.memory
        say(f"check, {sizes[1]:,} json, --jobs {jobs} / {sizes[0]:,}", most, most.cpu / least.cpu,
            f"<= 11; memory {grown:+.0f} MB (< 60)")  # fmt: skip


def main() -> None:
    """Make the parts, measure, and print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--quick", action="store_true", help="200 and 2,000 parts")
    parser.add_argument("--repeat", type=int, default=2, help="runs of each, the least counts")
    parser.add_argument("--work", type=Path, help="folder to keep the parts in; else a new one")
    parser.add_argument("--plain", type=int, help="parts for the plain script; 1,000 or 200")
    given = parser.parse_args()
    few, many = (200, 2_000) if given.quick else (2_000, 20_000)
    with tempfile.TemporaryDirectory() as made:
        bench = Bench(given.work or Path(made), given.repeat)
        bench.folder.mkdir(parents=True, exist_ok=True)
        small = bench.make(few, "json", "nc")
        say_head()
        one_file(bench, small)
        cost = against_schema(bench, small, few)
        warm(bench, small, few)
        count = given.plain or (200 if given.quick else 1_000)
        drawn = bench.make(count, "json", "nc")
        for old in bench.folder.glob("aside-*"):
            shutil.rmtree(old)
        for name in ("ours", "lists", "plain", "copy"):
            shutil.rmtree(bench.folder / name, ignore_errors=True)
        against_plain(bench, drawn / "json", count)
        growth(bench, (few, many), iter((small, bench.make(many, "json"))), cost)


def say_head() -> None:
    sys.stdout.write(f"{'':46s} {'CPU s':>9s} {'clock s':>9s} {'MB':>7s} {'ratio':>7s}  bar\n")


if __name__ == "__main__":
    main()
