"""From the files that wait after a sweep to an output folder with their names."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

from translator.commands._delivery import Delivery
from translator.commands._made import Made

if TYPE_CHECKING:
    from translator.batch.index import Index, IndexedFile
    from translator.batch.record import FileRecord, Ready
    from translator.batch.staging import Making
    from translator.rules._judged import Judged

Key = tuple[str, str]


class Written(Struct, frozen=True, kw_only=True):
    """A part that may be written, and its files that wait."""

    judged: "Judged"
    stem: str
    ready: "tuple[Ready, ...]"


def written_parts(
    delivery: Delivery, records: "tuple[FileRecord, ...]", making: "Making", made: Made
) -> list[Written]:
    """Return the parts that may be written, with all their files waiting.

    Files of parts that may not are left where they are: nobody will call them by name. Parts
    whose errors a waiver accepts are made now. What making has to say goes into ``made``.

    Raises:
        WorkError: when the disk refuses.
    """
    from translator.batch.names import stems

    refused = iter(delivery.outcome.refused)
    kept = [
        (at, number, part)
        for at, record in enumerate(records)
        for number, part in enumerate(record.parts)
        if not next(refused)
    ]
    names = stems(part.digest.key for _, _, part in kept)
    waiting = {at: _by_part(record.ready) for at, record in enumerate(records) if record.ready}
    whole: list[Written] = []
    marks: dict[int, set[str]] = {}
    for at, number, part in kept:
        ready = waiting.get(at, {}).get(number)
        if ready is None:
            ready = _late(delivery, records[at], number, making, made, f"{at}w")
        marks.setdefault(at, set()).add(part.mark)
        whole.append(Written(judged=part, stem=names[part.digest.key], ready=ready))
    for at, own in marks.items():
        made.findings.extend(f for f in records[at].told if f.mark in own)
    return whole


def _by_part(ready: "tuple[Ready, ...]") -> "dict[int, tuple[Ready, ...]]":
    files: dict[int, tuple[Ready, ...]] = {}
    for one in ready:
        files[one.number] = (*files.get(one.number, ()), one)
    return files


def _late(  # noqa: PLR0913, PLR0917 - as made_of
    delivery: Delivery,
    record: "FileRecord",
    number: int,
    making: "Making",
    made: Made,
    prefix: str,
) -> "tuple[Ready, ...]":
    """Make the files of a part with errors that a waiver accepts; it was not made before."""
    from translator.batch.choose import failing
    from translator.batch.staging import waiting_room
    from translator.sweep.making import made_of

    part = record.parts[number]
    if part.placed is None or not failing(part.findings):
        return ()  # it was made, and no format could take it
    given = delivery.conventions[record.path]
    with waiting_room(making) as room:
        ready, told = made_of(part.placed, number, room, given, prefix)
    made.findings.extend(told)
    return ready


def names_of(whole: list[Written]) -> Iterator[tuple[str, str]]:
    """Yield hidden name and name of each file, part by part."""
    for part in whole:
        for one in part.ready:
            yield one.hidden, f"{part.stem}{one.suffix}"


def indexed(whole: list[Written]) -> "Iterator[IndexedFile]":
    """Yield the line of each file in the index, part by part."""
    from translator.batch.index import IndexedFile

    for part in whole:
        for one in part.ready:
            yield IndexedFile(
                name=f"{part.stem}{one.suffix}",
                sha256=one.sha256.hex(),
                mark=part.judged.mark,
                order=part.judged.digest.order or None,
                title=one.title,
            )


def finish_folder(
    folder: Path, waiting: Path, whole: list[Written], before: "Index | None", *, prune: bool
) -> "tuple[tuple[IndexedFile, ...], tuple[IndexedFile, ...]]":
    """Give the files their names, and write the index last.

    Args:
        folder: the output folder.
        waiting: where the files are.
        whole: the parts that are written.
        before: the index of the folder before this run.
        prune: remove what earlier runs made and this one did not.

    Returns:
        The files of earlier runs that were removed, and those that still stand there.

    Raises:
        WorkError: when the disk refuses.
    """
    from translator.batch.flushing import flushing
    from translator.batch.index import NAME, index_bytes, still_there
    from translator.batch.staging import call_by_name, put, remove

    names = [name for _, name in names_of(whole)]
    call_by_name(waiting, names_of(whole))
    earlier = still_there(folder, before, names)
    gone = earlier if prune else ()
    remove(folder, (one.name for one in gone))
    left = () if prune else earlier
    if names or before is not None:
        with flushing(folder) as flush:
            put(waiting, "index", index_bytes(indexed(whole), left), flush)
        call_by_name(waiting, [("index", NAME)])
    return gone, left
