"""The list of what is in a zip archive, measured before anything is made of it.

It is read here rather than by the standard library, which makes an object of half a kilobyte
of each entry before it can be asked how many there are, cuts a name at a byte 0, and gives no
word on names that were guessed.

Format: PKWARE's APPNOTE.TXT 6.3; numbers behind the records are its sections.
"""

import os
import stat
import struct
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO, Final, NamedTuple

from msgspec import Struct

from translator.batch.archives import (
    LARGEST_ARCHIVE_BYTES,
    LARGEST_LIST_BYTES,
    MOST_ENTRIES,
    ArchiveError,
    Entry,
)
from translator.batch.paths import reason

_LONGEST_COMMENT: Final = 0xFFFF
_END: Final = struct.Struct("<4s4H2LH")  # 4.3.16
_END_SIGN: Final = b"PK\x05\x06"
_WIDE_LOCATOR: Final = struct.Struct("<4sLQL")  # 4.3.15
_WIDE_LOCATOR_SIGN: Final = b"PK\x06\x07"
_WIDE_END: Final = struct.Struct("<4sQ2H2L4Q")  # 4.3.14
_WIDE_END_SIGN: Final = b"PK\x06\x06"
_LISTED: Final = struct.Struct("<4s6H3L5H2L")  # 4.3.12
_LISTED_SIGN: Final = b"PK\x01\x02"
_LENGTHS: Final = struct.Struct("<3H")
_LENGTHS_AT: Final = 28
"""Offset of the lengths of name, extra fields and comment in an entry of the list."""
_FIELD: Final = struct.Struct("<2H")  # 4.5.1
_WIDE_FIELD: Final = 0x0001  # 4.5.3
_FULL_SHORT: Final = 0xFFFF
_FULL: Final = 0xFFFFFFFF
_ENCRYPTED: Final = 0x0041 | 0x2000  # 4.4.4: bits 0, 6 and 13
_UTF8: Final = 0x0800  # 4.4.4: bit 11
_UNIX: Final = 3  # 4.4.2


class Listed(Struct, frozen=True, kw_only=True):
    """One entry as the list of an archive tells it, whether or not it may be read.

    Attributes:
        entry: where it lies; its name has forward slashes.
        is_encrypted: whether a password would be needed.
        is_ordinary: False for a link or a device.
        is_guessed: whether its name is neither ASCII nor said to be UTF-8.
        has_backslash: whether its name was written with backslashes.
    """

    entry: Entry
    is_encrypted: bool
    is_ordinary: bool
    is_guessed: bool
    has_backslash: bool

    @property
    def is_folder(self) -> bool:
        """Whether it only names a folder."""
        return self.entry.name.endswith("/")


def listed(path: Path) -> tuple[Listed, ...]:
    """Return what is in an archive, in the order of its list.

    Raises:
        ArchiveError: when it is no zip archive, cut short, damaged or over a limit.
    """
    try:
        with path.open("rb") as stream:
            size = stream.seek(0, os.SEEK_END)
            if size > LARGEST_ARCHIVE_BYTES:
                raise _over(size, "bytes", LARGEST_ARCHIVE_BYTES)
            end = _end_of(stream, size)
            stream.seek(end.at)
            data = stream.read(end.length)
    except ArchiveError:
        raise
    except OSError as error:
        raise ArchiveError(f"it can't be read: {reason(error)}") from error
    _measure(data)
    return tuple(_entries(data, end.shift))


class _End(NamedTuple):
    """Where the list stands, its length, and how many bytes stand before the archive."""

    at: int
    length: int
    shift: int


def _over(value: int, what: str, limit: int) -> ArchiveError:
    text = f"it has {value} {what}, more than the {limit} that an archive may have"
    return ArchiveError(text, value, limit)


def _end_of(stream: BinaryIO, size: int) -> _End:
    """Read the record at the end of an archive, which tells where its list stands."""
    back = min(size, _END.size + _LONGEST_COMMENT)
    stream.seek(size - back)
    tail = stream.read(back)
    at = tail.rfind(_END_SIGN, 0, max(0, len(tail) - _END.size + len(_END_SIGN)))
    if at < 0:
        raise ArchiveError("it is no zip archive, or its end with the list of files is missing")
    _, disk, first, _, count, length, offset, _ = _END.unpack_from(tail, at)
    end = size - back + at
    if _FULL in (length, offset) or count == _FULL_SHORT:
        disk, first, length, offset, end = _wide_end(stream, end) or (
            *(disk, first, length, offset, end),
        )
    if disk or first:
        raise ArchiveError("it is one of several volumes; an archive must be whole")
    if length > LARGEST_LIST_BYTES:
        raise _over(length, "bytes of a list of files", LARGEST_LIST_BYTES)
    shift = end - length - offset
    if shift < 0:
        raise ArchiveError("it is cut short or damaged: its list of files is not where it says")
    return _End(at=offset + shift, length=length, shift=shift)


def _wide_end(stream: BinaryIO, end: int) -> tuple[int, int, int, int, int] | None:
    """Read the end of a large archive (Zip64), which stands before the plain one."""
    at = end - _WIDE_LOCATOR.size
    if at < _WIDE_END.size:
        return None
    stream.seek(at)
    sign, disk, _, _ = _WIDE_LOCATOR.unpack(stream.read(_WIDE_LOCATOR.size))
    if sign != _WIDE_LOCATOR_SIGN:
        return None
    at -= _WIDE_END.size
    stream.seek(at)
    sign, _, _, _, own, first, _, _, length, offset = _WIDE_END.unpack(stream.read(_WIDE_END.size))
    if sign != _WIDE_END_SIGN:
        raise ArchiveError("it is damaged: the end of its list of files can't be read")
    return (disk or own), first, length, offset, at


def _measure(data: bytes) -> None:
    """Walk the list from entry to entry, and count them.

    Raises:
        ArchiveError: when it is damaged, or holds more entries than an archive may.
    """
    at = count = 0
    while at < len(data):
        count += 1
        whole = at + _LISTED.size
        if whole <= len(data) and data.startswith(_LISTED_SIGN, at):
            at = whole + sum(_LENGTHS.unpack_from(data, at + _LENGTHS_AT))
        else:
            at = len(data) + 1
    if at > len(data):
        raise ArchiveError(f"it is damaged: entry {count} of its list can't be read")
    if count > MOST_ENTRIES:
        raise _over(count, "files and folders", MOST_ENTRIES)


def _entries(data: bytes, shift: int) -> Iterator[Listed]:
    at = 0
    while at < len(data):
        fields = _LISTED.unpack_from(data, at)
        made, flags, method, check, packed, size = (fields[n] for n in (1, 3, 4, 7, 8, 9))
        begin = at + _LISTED.size
        behind = begin + fields[10]
        at = begin + sum(fields[10:13])
        extra = data[behind : behind + fields[11]]
        size, packed, offset = _widened(extra, size, packed, fields[16])
        name, is_guessed = _name(data[begin:behind], is_utf8=bool(flags & _UTF8))
        mode = stat.S_IFMT(fields[15] >> 16) if made >> 8 == _UNIX else 0
        plain = name.replace("\\", "/")
        yield Listed(
            entry=Entry(plain, offset + shift, packed, size, check, method),
            is_encrypted=bool(flags & _ENCRYPTED),
            is_ordinary=mode in (0, stat.S_IFREG, stat.S_IFDIR),
            is_guessed=is_guessed,
            has_backslash=plain != name,
        )


def _widened(extra: bytes, *narrow: int) -> tuple[int, int, int]:
    """Return size, packed size and offset; where the list is too narrow, those of Zip64."""
    values: Iterator[int] = iter(())
    while _FULL in narrow and len(extra) >= _FIELD.size:
        kind, length = _FIELD.unpack_from(extra)
        body, extra = extra[_FIELD.size :][:length], extra[_FIELD.size + length :]
        if kind == _WIDE_FIELD:
            values = iter(struct.unpack_from(f"<{len(body) // 8}Q", body))
            break
    size, packed, offset = (next(values, one) if one == _FULL else one for one in narrow)
    return size, packed, offset


def _name(raw: bytes, *, is_utf8: bool) -> tuple[str, bool]:
    """Return a name, and whether its letters are a guess.

    Without the sign for UTF-8 a name is in code page 437 (appendix D); many programs write
    UTF-8 all the same, which other letters hardly ever happen to be.
    """
    if raw.isascii():
        return raw.decode("ascii"), False
    try:
        return raw.decode("utf-8"), not is_utf8
    except UnicodeDecodeError:
        return raw.decode("cp437"), True
