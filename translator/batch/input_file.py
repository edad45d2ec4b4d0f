"""One file of a delivery, before it is read."""

import re
from functools import lru_cache
from pathlib import Path

from msgspec import Struct

from translator.batch.archives import INSIDE, Entry
from translator.batch.paths import folder_of
from translator.readers import Reader
from translator.source import printable


class InputFile(Struct, frozen=True, kw_only=True):
    """One file to read: small, and cheap to hand to another process.

    Attributes:
        path: what is opened, the file or the archive it lies in; forward slashes, as the
            caller spelt the folder.
        reader: name of the reader that claims it.
        entry: where it lies in the archive; None for a file of its own.
    """

    path: str
    reader: str
    entry: Entry | None = None

    @property
    def name(self) -> str:
        """What findings call it."""
        return self.path if self.entry is None else f"{self.path}{INSIDE}{self.entry.name}"

    @property
    def folder(self) -> Path:
        """The folder whose settings it comes under; of a file in an archive, the archive's."""
        return folder_of(self.path)


def claimed_by(name: str, known: tuple[Reader, ...]) -> str | None:
    """Return the name of the reader that claims a file name without folders, None for none.

    Unseen signs in it don't keep a file from being claimed: else it would be passed over
    without a word.
    """
    plain = printable(name).lower()
    for reader in known:
        if _pattern(reader.pattern).fullmatch(plain):
            return reader.name
    return None


@lru_cache(maxsize=64)
def _pattern(text: str) -> re.Pattern[str]:
    return re.compile(text)


def endings(known: tuple[Reader, ...]) -> str:
    """Return the usual ends of the names that readers claim, in a list."""
    return ", ".join(sorted(reader.ending for reader in known))
