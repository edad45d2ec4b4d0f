"""Make the files of a part, which wait hidden until the whole delivery is judged."""

import sys

from msgspec.structs import replace

from translator.batch.choose import failing
from translator.batch.record import FileRecord, Ready
from translator.batch.staging import WaitingRoom
from translator.conventions import Conventions
from translator.emitters import EmitOptions, emitters
from translator.findings import Finding
from translator.model import Placed
from translator.pipeline import emit


def made_of(
    placed: Placed, number: int, room: WaitingRoom, conventions: Conventions, prefix: str
) -> tuple[tuple[Ready, ...], tuple[Finding, ...]]:
    """Make the files of one part and leave them waiting; return them, and what is to be said.

    Args:
        placed: the part.
        number: of the part in its file.
        room: what to make, and where it waits.
        conventions: settings for formats whose standard leaves something open.
        prefix: of the hidden names.

    Raises:
        WorkError: when the disk refuses.
    """
    making = room.making
    options = EmitOptions(conventions=conventions, paper=making.paper)
    formats = [emitter for emitter in emitters() if emitter.name in making.formats]
    formats.sort(key=lambda emitter: making.formats.index(emitter.name))
    emitted = emit(placed, "", formats, options, verify=making.verify)
    ready = []
    for count, ((suffix, data), title) in enumerate(zip(emitted.files, emitted.made, strict=True)):
        hidden = f"{prefix}-{number}-{count}"
        digest = room.put(hidden, data)
        ready.append(
            Ready(
                number=number,
                suffix=sys.intern(suffix),
                title=title,
                hidden=hidden,
                size=len(data),
                sha256=digest,
            )
        )
    return tuple(ready), emitted.findings


def with_files(
    record: FileRecord, room: WaitingRoom, conventions: Conventions, prefix: str
) -> FileRecord:
    """Make the files of the parts that have no error by themselves."""
    errors = failing((*record.findings, *(f for part in record.parts for f in part.findings)))
    if (record.path, "") in errors:
        return record
    ready: list[Ready] = []
    told: list[Finding] = []
    for number, part in enumerate(record.parts):
        if part.placed is not None and (record.path, part.mark) not in errors:
            new, said = made_of(part.placed, number, room, conventions, prefix)
            ready += new
            told += said
    return replace(record, ready=tuple(ready), told=tuple(told))
