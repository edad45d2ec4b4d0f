"""Zip archives read where they lie: one entry at a time, and how much of it may be unpacked.

Nothing is unpacked on disk and nothing is believed: the list is measured before it is taken,
each size is held against a limit before a byte is unpacked, and unpacking stops at the size
that the list states. An ``Entry`` knows where its bytes lie, so any process reads it without
reading the list again.

Format: PKWARE's APPNOTE.TXT 6.3; numbers behind the records are its sections.
"""

import os
import struct
import zlib
from pathlib import Path
from typing import Final, NamedTuple

from translator.batch.paths import reason
from translator.errors import WorkError

ENDING: Final = ".zip"
INSIDE: Final = "!/"
"""Stands between the path of an archive and a name in it."""

LARGEST_ARCHIVE_BYTES: Final = 2_000_000_000
"""Bytes of an archive on disk."""

MOST_ENTRIES: Final = 100_000
"""Files and folders in one archive; a delivery of 20,000 parts stays far below."""

LARGEST_LIST_BYTES: Final = 16_000_000
"""Bytes of the list at an archive's end."""

LARGEST_ENTRY_BYTES: Final = 64 * 1024 * 1024
"""Bytes of one part file in an archive, unpacked; the same as a file on disk may have."""

LARGEST_UNPACKED_BYTES: Final = 1_000_000_000
"""Bytes of all part files of an archive together, unpacked."""

HIGHEST_RATIO: Final = 200
"""Bytes that one packed byte may become, in files of more than ``SMALL_BYTES``."""

SMALL_BYTES: Final = 100_000
"""A smaller file does no harm whatever its ratio is; blanks pack very small."""

_LOCAL: Final = struct.Struct("<4s5H3L2H")  # 4.3.7
_LOCAL_SIGN: Final = b"PK\x03\x04"
STORED: Final = 0  # 4.4.5
DEFLATED: Final = 8


class ArchiveError(WorkError):
    """An archive, or a file in one, that can't be read; the text is the reason.

    Attributes:
        value: the figure at fault, None where a figure makes no sense.
        limit: what it is held against.
    """

    def __init__(self, text: str, value: float | None = None, limit: float | None = None) -> None:
        """Keep the reason and the figures it speaks of."""
        super().__init__(text)
        self.value = value
        self.limit = limit


class Entry(NamedTuple):
    """Where a file lies in its archive: small, for there are many and processes exchange them.

    ``offset`` is that of its local header, ``packed`` and ``size`` are bytes before and after
    unpacking, ``check`` is the CRC-32 that its bytes must have.
    """

    name: str
    offset: int
    packed: int
    size: int
    check: int
    method: int


def read_entry(path: Path, entry: Entry) -> bytes:
    """Return the bytes of a file in an archive.

    Raises:
        ArchiveError: when they are cut short, damaged, or not those that the list tells of.
    """
    try:
        with path.open("rb") as stream:
            stream.seek(entry.offset)
            head = stream.read(_LOCAL.size)
            if len(head) < _LOCAL.size or not head.startswith(_LOCAL_SIGN):
                raise ArchiveError("nothing of it stands where the archive's list says")
            *_, name, extra = _LOCAL.unpack(head)
            stream.seek(name + extra, os.SEEK_CUR)
            packed = stream.read(entry.packed)
    except OSError as error:
        if isinstance(error, ArchiveError):
            raise
        raise ArchiveError(f"it can't be read: {reason(error)}") from error
    if len(packed) < entry.packed:
        raise ArchiveError(
            f"it is cut short: {len(packed)} bytes of the {entry.packed} that the archive's list"
            " states",
            len(packed),
            entry.packed,
        )
    data = packed if entry.method == STORED else _inflated(packed, entry.size)
    if len(data) != entry.size:
        raise ArchiveError(
            f"it unpacks to {'more' if len(data) > entry.size else 'fewer'} than the {entry.size}"
            " bytes that the archive's list states",
            len(data),
            entry.size,
        )
    check = zlib.crc32(data)
    if check != entry.check:
        raise ArchiveError(
            f"it is damaged: its bytes have the checksum {check:08x}, the archive's list"
            f" states {entry.check:08x}"
        )
    return data


def _inflated(packed: bytes, size: int) -> bytes:
    """Unpack to one byte more than stated at most: a list that lies costs no memory."""
    machine = zlib.decompressobj(-zlib.MAX_WBITS)
    try:
        return machine.decompress(packed, size + 1)
    except zlib.error as error:
        raise ArchiveError("it is damaged: its bytes can't be unpacked") from error
