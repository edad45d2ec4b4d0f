"""A delivery that a command line names, file by file: any number of files, flat memory."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Final

from msgspec.structs import replace

from translator.commands._delivery import Delivery
from translator.commands._found import Found, day, find, practice_of, settled
from translator.commands._options import Run, Wanted
from translator.commands._progress import progress
from translator.errors import WorkError

if TYPE_CHECKING:
    from translator.batch.discover import InputFile
    from translator.batch.outcome import Outcome
    from translator.batch.record import FileRecord
    from translator.batch.staging import Making
    from translator.findings import Verdict

FEW_FILES: Final = 24
FEW_BYTES: Final = 60_000
"""Below both, more processes and a look into the cache would cost more than they save."""


class Sources(Mapping[str, bytes]):
    """The bytes of what was read, by path; part files are read again when they are asked for."""

    def __init__(self, held: Mapping[str, bytes], files: "tuple[InputFile, ...]") -> None:
        """Hold the bytes of small files, and know where the part files are."""
        self._held = held
        self._files = {file.name: file for file in files}

    def __getitem__(self, path: str) -> bytes:
        from translator.batch.discover import load

        if path in self._held:
            return self._held[path]
        try:
            return load(self._files[path]).data
        except WorkError as error:
            raise KeyError(path) from error

    def __iter__(self) -> Iterator[str]:
        yield from {**self._held, **self._files}

    def __len__(self) -> int:
        return len({**self._held, **self._files})


def look_through(
    wanted: Wanted,
    run: Run,
    machines: tuple[Path, ...] | None = None,
    bill: Path | None = None,
) -> Delivery:
    """Find, read and judge part files; the parts themselves are not kept. See ``take``.

    Raises:
        WorkError: when a path, a settings file or a date is no good, or the run is stopped.
        UnknownNameError: for a setting or format that does not exist.
    """
    found = find(wanted, None, machines, bill)
    if run.cache is None or _is_little(found):
        return through(wanted, found, replace(run, cache=None))[0]
    from translator.batch.cache import fetch, keep, tidy
    from translator.batch.record_json import read, spelt
    from translator.findings import Verdict

    sizes, key = _weighed(wanted, found)
    if key:
        kept = read(Verdict, fetch(run.cache, key))
        if kept is not None:
            return _delivery(wanted, found, kept)
    delivery, records = through(wanted, found, run, sizes=sizes)
    if key and _is_sound(records):
        keep(run.cache, key, spelt(delivery.outcome.verdict))
        tidy(run.cache, key)
    return delivery


def through(
    wanted: Wanted,
    found: Found,
    run: Run,
    *,
    making: "Making | None" = None,
    sizes: Mapping[str, int] | None = None,
) -> "tuple[Delivery, tuple[FileRecord, ...]]":
    """Go through the files that were found, in as many processes as they are worth.

    Returns:
        The delivery, and the record of each file.

    Raises:
        WorkError: when the run is stopped, or the disk refuses what is written.
    """
    from translator.batch.pool import pool
    from translator.sweep import Orders, Task, sweep

    own = {id(one): practice_of(wanted, one) for one in found.settings.values()}
    tasks = [
        Task(
            file=file,
            size=sizes.get(file.name, 0) if sizes else _size(file.path),
            conventions=settled(found.settings[file.folder].conventions, wanted.settings),
            practice=own[id(found.settings[file.folder])],
            decisions=found.decisions[file.folder],
            source=found.given.get(file.name),
        )
        for file in found.files
    ]
    jobs = 1 if _is_little(found) else min(run.jobs, len(tasks))
    with progress(len(tasks), "files") as done, pool(jobs) as workers:
        orders = Orders(
            machines=found.machines,
            as_of=day(wanted.as_of),
            cache=run.cache if making is None else None,
            making=making,
            jobs=jobs,
            workers=workers,
            done=done,
            bill=found.bill,
        )
        swept = sweep(tasks, found.said, orders)
    outcome = swept.outcome
    return _delivery(wanted, found, outcome.verdict, outcome), swept.records


def _delivery(
    wanted: Wanted, found: Found, verdict: "Verdict", outcome: "Outcome | None" = None
) -> Delivery:
    from translator.batch.outcome import Outcome

    under = {file.name: file.folder for file in found.files}
    conventions = {
        folder: settled(own.conventions, wanted.settings) for folder, own in found.settings.items()
    }
    return Delivery(
        outcome=outcome or Outcome(parts=(), judged=(), refused=(), verdict=verdict),
        configurations=found.configurations,
        settings={name: found.settings[folder] for name, folder in under.items()},
        conventions={name: conventions[folder] for name, folder in under.items()},
        sources=Sources({**found.sources, **_bytes(found)}, found.files),
    )


def _bytes(found: Found) -> dict[str, bytes]:
    return {name: source.data for name, source in found.given.items()}


def _weighed(wanted: Wanted, found: Found) -> tuple[Mapping[str, int] | None, str]:
    """Return the size of each file, and what the verdict of a delivery is kept by.

    The key is "" where a file can't be read; nor are there sizes then.
    """
    if found.given:
        return None, ""
    from hashlib import blake2b

    from translator.batch.cache import key_of
    from translator.batch.discover import load

    sizes: dict[str, int] = {}
    told = [repr((wanted, found.said)).encode("utf-8", "surrogatepass")]
    for path, data in sorted(found.sources.items()):
        told += [path.encode("utf-8", "surrogatepass"), data]
    try:
        for file in found.files:
            source = load(file)
            sizes[file.name] = len(source.data)
            told += [file.name.encode("utf-8", "surrogatepass"), blake2b(source.data).digest()]
            if source.library or source.unread:
                told.append(repr((source.library, source.unread)).encode("utf-8", "surrogatepass"))
    except WorkError:
        return None, ""
    return sizes, key_of(told)


def _is_sound(records: "tuple[FileRecord, ...]") -> bool:
    """Tell whether all files could be read and judged; only that is worth keeping."""
    from translator.findings import PROGRAM_FAULT
    from translator.sweep import UNREADABLE

    return not any(
        f.rule in (PROGRAM_FAULT, UNREADABLE) for record in records for f in record.findings
    )


def _is_little(found: Found) -> bool:
    """Tell whether more processes, or looking for what was found before, would cost more."""
    if len(found.files) >= FEW_FILES:
        return False
    return sum(_size(file.path) for file in found.files) < FEW_BYTES


def _size(path: str) -> int:
    try:
        return Path(path).stat().st_size
    except (OSError, ValueError):
        return 0
