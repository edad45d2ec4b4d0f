"""The work on one file of a sweep, here or in another process."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from msgspec.structs import replace

from translator.batch.cache import fetch, keep, key_of
from translator.batch.record import FileRecord
from translator.batch.record_json import read, spelt
from translator.batch.staging import WaitingRoom, waiting_room
from translator.errors import WorkError
from translator.findings import PROGRAM_FAULT, Finding, Severity
from translator.pipeline import finish
from translator.rules._judged import Bench, Judged
from translator.source import Source, whole_file
from translator.sweep.begun import Begun, begin_file
from translator.sweep.making import with_files
from translator.sweep.task import Piece, Task, benches_of

UNREADABLE: Final = "file-unreadable"

_NONE: Final[Mapping[int, Begun]] = MappingProxyType({})


def worked(
    piece: Piece, begun: Mapping[int, Begun] = _NONE, *, is_alone: bool = False
) -> tuple[FileRecord, ...]:
    """Do one piece of work.

    A file that can't be read, or at which this program fails, is a finding on that file; alone
    it raises.

    Args:
        piece: the files.
        begun: those that are begun already, by number.
        is_alone: whether there is no other file in the delivery.

    Raises:
        WorkError: when the disk refuses what is written.
    """
    if piece.making is None:
        return tuple(_records(piece, begun, None, is_alone=is_alone))
    with waiting_room(piece.making) as room:
        return tuple(_records(piece, begun, room, is_alone=is_alone))


def _records(
    piece: Piece, begun: Mapping[int, Begun], room: WaitingRoom | None, *, is_alone: bool
) -> Iterator[FileRecord]:
    benches = benches_of(piece.tasks, piece.machines)
    for at, task in enumerate(piece.tasks):
        try:
            own = begun.get(piece.numbers[at])
            source = task.load() if own is None else own.item.source
        except WorkError as error:
            if is_alone:
                raise
            yield _failed(task, UNREADABLE, str(error))
            continue
        try:
            yield _one(piece, at, benches[id(task.practice)], own, source, room)
        except WorkError:
            raise
        except Exception as error:
            if is_alone:
                raise
            yield _failed(task, PROGRAM_FAULT, _fault(error))


def _one(  # noqa: PLR0913, PLR0917 - all that one file is worked on with
    piece: Piece,
    at: int,
    bench: Bench,
    begun: Begun | None,
    source: Source,
    room: WaitingRoom | None,
) -> FileRecord:
    """Return the record of one file, from the cache or from the road."""
    task, number = piece.tasks[at], piece.numbers[at]
    key = ""
    if piece.cache is not None:
        key = _key(piece, at, source)
        kept = read(FileRecord, fetch(piece.cache, key))
        if kept is not None:
            return kept
    own = begun or begin_file(task, source)
    guess = piece.guesses[at]
    writer = "" if own.evidence is None else own.evidence.writer
    record = finish(
        own.item,
        own.tree,
        own.evidence,
        guess.get(writer, task.conventions),
        bench,
        keep=lambda placed: piece.making is not None or placed.part.mark in piece.named[at],
    )
    if room is not None:
        record = with_files(record, room, task.conventions, f"{number}")
    record = replace(record, parts=tuple(_light(part, piece.named[at]) for part in record.parts))
    if piece.cache is not None:
        keep(piece.cache, key, spelt(record))
    return record


def _light(part: Judged, named: frozenset[str]) -> Judged:
    """Return a part as it travels: by itself only where something is still to be decided on it."""
    placed = part.placed
    if placed is None or not (placed.part.waivers or part.mark in named):
        return replace(part, placed=None)
    plain = replace(placed, places=dict(placed.places), beyond=dict(placed.beyond))
    return replace(part, placed=plain)


def _key(piece: Piece, at: int, source: Source) -> str:
    task = piece.tasks[at]
    guess = sorted((writer, repr(own)) for writer, own in piece.guesses[at].items())
    told = (task.file, task.conventions, task.practice, guess, sorted(piece.named[at]))
    parts = [repr(told).encode("utf-8", "surrogatepass"), source.data]
    parts += [machine.model_dump_json().encode() for machine in piece.machines]
    for name, data in sorted(source.library.items()):
        parts += [name.encode("utf-8", "surrogatepass"), data]
    parts.append(repr(sorted(source.unread.items())).encode("utf-8", "surrogatepass"))
    return key_of(parts)


def _fault(error: Exception) -> str:
    where = ", ".join(reversed(getattr(error, "__notes__", [])))
    return f"a fault of this program {where}: {type(error).__name__}: {str(error)[:300]}"


def _failed(task: Task, rule: str, message: str) -> FileRecord:
    """Return the record of a file that could not be read, or at which this program failed."""
    finding = Finding(
        rule=rule,
        severity=Severity.ERROR,
        message=message,
        span=whole_file(task.file.name),
    )
    return FileRecord(
        path=task.file.name,
        conventions=task.conventions,
        evidence=None,
        not_ours="",
        findings=(finding,),
        parts=(),
    )
