"""A part file that comes through standard input."""

import sys
from typing import TYPE_CHECKING

from translator.commands._options import STDIN

if TYPE_CHECKING:
    from translator.readers import Reader
    from translator.source import Source


def standard_input(kind: str | None) -> "tuple[Source, Reader]":
    from translator.batch.discover import LARGEST_BYTES
    from translator.errors import WorkError
    from translator.source import Source

    data = sys.stdin.buffer.read(LARGEST_BYTES + 1)
    if len(data) > LARGEST_BYTES:
        raise WorkError("standard input is larger than 64 MB; a part file is not")
    return Source(path=STDIN, data=data), _reader(kind or _sniff(data))


def _reader(kind: str) -> "Reader":
    from translator.errors import UnknownNameError
    from translator.readers import readers

    for reader in readers():
        if reader.name == kind:
            return reader
    known = ", ".join(reader.name for reader in readers())
    raise UnknownNameError(f"standard input can't be read as {kind!r}; there are {known}")


def _sniff(data: bytes) -> str:
    """Tell the format of some bytes: JSON opens with a brace, NC data with the line ST."""
    text = data[:65536].removeprefix(b"\xef\xbb\xbf").lstrip()
    if text.startswith(b"{"):
        return "json"
    for line in text.splitlines():
        word = line.strip()
        if word and not word.startswith(b"**"):
            return "nc" if word.upper() == b"ST" else "bmk"
    return "bmk"
