"""The side file ``waivers.toml``: decisions on parts whose own files can't hold them."""

import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Final

from msgspec.structs import replace

from translator.batch.configuration import Configuration
from translator.batch.decisions import KEYS, read_decisions
from translator.batch.discover import reason, shown
from translator.batch.toml_fault import unreadable
from translator.documents.toml_places import Places, places
from translator.documents.toml_text import toml_values
from translator.documents.words import shown as shown_value
from translator.errors import WorkError
from translator.findings import Finding, Severity
from translator.rules._decisions import Decisions

FILE_NAME: Final = "waivers.toml"
LARGEST_BYTES: Final = 256_000
"""Some thousands of waivers; more is read in no second."""


class SideFiles:
    """The decisions that each folder comes under, every file read once.

    A part comes under the ``waivers.toml`` beside its file and under those in the folders
    above, up to the folder of its settings file, and under the settings file's own tables.
    """

    def __init__(self, named: Iterable[Path]) -> None:
        """Look files up for a run on some paths; folders among them are looked at whole."""
        self._whole = tuple(path.resolve() for path in named if path.is_dir())
        self._read: dict[Path, Decisions] = {}
        self._sources: dict[str, bytes] = {}
        self._findings: list[Finding] = []

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Faults of the files read so far."""
        return tuple(self._findings)

    @property
    def sources(self) -> Mapping[str, bytes]:
        """Path of each file read so far -> its bytes."""
        return MappingProxyType(self._sources)

    def of(self, folder: Path, settings: Configuration) -> tuple[Decisions, ...]:
        """Return the decisions that the parts of a folder come under, nearest first.

        Args:
            folder: of a part file.
            settings: those that the folder comes under.

        Raises:
            WorkError: when a file can't be read.
        """
        found = [
            self._of_file(near / FILE_NAME)
            for near in _upward(folder, settings.path)
            if (near / FILE_NAME).is_file()
        ]
        if settings.path is not None and settings.decisions is not None:
            found.append(self._of_settings(settings.path, settings.decisions))
        return tuple(found)

    def _of_settings(self, path: Path, decisions: Decisions) -> Decisions:
        key = path.resolve()
        if key not in self._read:
            self._read[key] = replace(decisions, is_whole=self._is_whole(key.parent))
        return self._read[key]

    def _of_file(self, path: Path) -> Decisions:
        key = path.resolve()
        if key not in self._read:
            data = _bytes(path)
            decisions, said = understand(shown(path), data)
            self._sources[shown(path)] = data
            self._findings += said
            self._read[key] = replace(decisions, is_whole=self._is_whole(key.parent))
        return self._read[key]

    def _is_whole(self, folder: Path) -> bool:
        return any(folder.is_relative_to(whole) for whole in self._whole)


def understand(path: str, data: bytes) -> tuple[Decisions, tuple[Finding, ...]]:
    """Read the bytes of a side file; any bytes give findings, never an exception."""
    try:
        text = data.decode("utf-8-sig")
        table = toml_values(text)
    except (ValueError, RecursionError) as error:
        fault = unreadable(path, "waivers", error)
        return Decisions(path=path), (fault,)
    where = places(path, text)
    decisions, findings = read_decisions(table, where)
    return decisions, (*_unknown(table, where), *findings)


def _unknown(table: Mapping[str, object], where: Places) -> Iterator[Finding]:
    for name in table:
        if name not in KEYS:
            message = f"there is no table {shown_value(name)} here; there are [[waiver]] and"
            yield Finding(
                rule="waiver-bad",
                severity=Severity.ERROR,
                message=f"{message} [[substitution]]",
                span=where.of(name),
            )


def _upward(folder: Path, settings: Path | None) -> Iterator[Path]:
    """Yield a folder and those above it up to the one of the settings, as the caller spelt it.

    Without settings, or with settings that are not above it, the folder is all.
    """
    yield folder
    top = None if settings is None else settings.resolve().parent
    here = folder.resolve()
    if top is None or not here.is_relative_to(top):
        return
    while here != top:
        here = here.parent
        above = folder / os.pardir if folder.name in ("", os.pardir) else folder.parent
        folder = above if above.resolve() == here else here
        yield folder


def _bytes(path: Path) -> bytes:
    try:
        with path.open("rb") as stream:
            data = stream.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise WorkError(f"can't read {shown(path)}: {reason(error)}") from error
    if len(data) > LARGEST_BYTES:
        raise WorkError(f"{shown(path)} is larger than 256 kB; a file of waivers is not")
    return data
