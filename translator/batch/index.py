"""The index of an output folder: which files the last run made there, and of what."""

import hashlib
import json
import os
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Annotated, Final, Literal

from pydantic import Field, ValidationError

from translator.batch.discover import shown
from translator.documents.schema import DIALECT, Schema, describe, plain
from translator.errors import WorkError
from translator.findings import CAUTION
from translator.model.numbers import Frozen

NAME: Final = "index.json"
FORMAT: Final = "backmark/index"
VERSION: Final = "1.0"
LARGEST_BYTES: Final = 200_000_000

FileName = Annotated[str, Field(pattern=r"^[A-Za-z0-9_~][A-Za-z0-9._+~-]{0,199}$")]
Sha256 = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]


class IndexedFile(Frozen):
    """One file that a run made."""

    name: FileName
    sha256: Sha256
    mark: str
    order: str | None = None
    title: str


class Index(Frozen):
    """What an output folder holds.

    ``files`` are those that the last run made; ``earlier`` those that runs before it made, which
    it did not make again and which still stand there.
    """

    format: Literal["backmark/index"] = FORMAT
    version: Annotated[str, Field(pattern=r"^1\.[0-9]{1,4}$")] = VERSION
    caution: str = CAUTION
    files: tuple[IndexedFile, ...] = ()
    earlier: tuple[IndexedFile, ...] = ()


def index_bytes(files: Iterable[IndexedFile], earlier: Iterable[IndexedFile] = ()) -> bytes:
    """Return the bytes of an index; ``files`` may be a generator, of which none is held."""
    head = json.dumps({"format": FORMAT, "version": VERSION, "caution": CAUTION}, indent=2)
    lists = {"files": _lines(files), "earlier": _lines(earlier)}
    told = ",\n".join(f'  "{name}": [{lines}]' for name, lines in lists.items())
    return f"{head[:-2]},\n{told}\n}}\n".encode()


def _lines(files: Iterable[IndexedFile]) -> str:
    lines = [json.dumps(one.model_dump(mode="json", exclude_none=True)) for one in files]
    return "\n    " + ",\n    ".join(lines) + "\n  " if lines else ""


def read_index(folder: Path) -> Index | None:
    """Return the index of an output folder; None where there is none, or none to be understood."""
    try:
        with (folder / NAME).open("rb") as stream:
            data = stream.read(LARGEST_BYTES + 1)
        return None if len(data) > LARGEST_BYTES else Index.model_validate_json(data)
    except (OSError, ValidationError):
        return None


def check_index(folder: Path) -> None:
    """Refuse an output folder with an index that no run of this program wrote.

    Raises:
        WorkError: when there is one; it is somebody's file and would be lost.
    """
    path = folder / NAME
    if os.path.lexists(path) and read_index(folder) is None:
        raise WorkError(
            f"{shown(path)} is no index that an earlier run wrote; move it away, or name another"
            " folder"
        )


def still_there(folder: Path, before: Index | None, made: Iterable[str]) -> tuple[IndexedFile, ...]:
    """Return the files of earlier runs that this one did not make and that are as they were left.

    A file that somebody changed since is no longer ours to speak of.

    Args:
        folder: the output folder.
        before: its index before this run.
        made: the names of the files that this run made.
    """
    if before is None:
        return ()
    new = set(made)
    known: Mapping[str, IndexedFile] = {
        one.name: one for one in (*before.earlier, *before.files) if one.name not in new
    }
    return tuple(one for name, one in sorted(known.items()) if _is_as_left(folder / name, one))


def _is_as_left(path: Path, one: IndexedFile) -> bool:
    try:
        if path.is_symlink() or not path.is_file():
            return False
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest() == one.sha256
    except OSError:
        return False


_WORDS: Final = {
    "format": "Name of the format.",
    "version": "Version of the format.",
    "caution": "What the reader of a result must not forget.",
    "files": "The files that the last run made, by name.",
    "earlier": "Files of earlier runs that the last one did not make and that still stand there.",
    "name": "Name of the file, in the folder of this index.",
    "sha256": "SHA-256 of its bytes, in hexadecimal digits.",
    "mark": "Piece mark of the part that it was made of.",
    "order": "Order of that part; absent where the part names none.",
    "title": "Title of its format.",
}


def index_schema() -> Schema:
    """Return the schema that every index validates against."""
    schema: Schema = plain(Index.model_json_schema())
    definitions: dict[str, Schema] = schema.pop("$defs")
    for name, definition in {"Index": schema, **definitions}.items():
        describe(name, definition, _WORDS, said=("format", "version", "caution", "files"))
    return {
        "$schema": DIALECT,
        "$id": f"urn:backmark:index:{VERSION}",
        "title": "Index of an output folder",
        **schema,
        "$defs": definitions,
    }
