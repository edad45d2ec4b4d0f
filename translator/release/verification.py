"""The answer of a verification, for a program: JSON after ``schemas/verification.schema.json``."""

from types import MappingProxyType
from typing import Annotated, Final, Literal

from pydantic import Field

from translator.documents.schema import DIALECT, Schema, describe, plain
from translator.model.numbers import Frozen
from translator.release.manifest import Sha256, Tool

FORMAT: Final = "backmark/verification"
VERSION: Final = "1.0"

Signature = Literal["none", "not checked", "good", "bad"]
Rederived = Literal["not asked", "not possible", "the same", "different"]


class Difference(Frozen):
    """One thing that is not as it was released."""

    rule: str
    message: str
    path: str
    line: Annotated[int, Field(ge=1)]
    column: Annotated[int, Field(ge=1)]


class Who(Frozen):
    """What the manifest says of the release."""

    name: str
    number: int
    by: str
    at: str
    tool: Tool
    manifest_sha256: Sha256


class Verification(Frozen):
    """Whether a release is what it was, and why not."""

    format: Literal["backmark/verification"] = FORMAT
    version: Annotated[str, Field(pattern=r"^1\.[0-9]{1,4}$")] = VERSION
    caution: str
    untouched: bool
    says: str
    release: Who | None = None
    files: Annotated[int, Field(ge=0)] = 0
    signature: Signature
    rederived: Rederived
    differences: tuple[Difference, ...] = ()


_WORDS: Final = MappingProxyType(
    {
        "format": "Name of this format.",
        "Verification.version": "Version of this format.",
        "caution": "What the checks do not replace; show it where a person reads results.",
        "untouched": "Whether every file is as it was released, and all that was asked holds.",
        "says": "The answer in a sentence.",
        "release": "What the manifest says; absent when it can't be read.",
        "files": "How many files the release holds.",
        "signature": "Whether there is one, and whether the key given made it.",
        "rederived": "Whether the outputs made again from the kept inputs are the same bytes.",
        "differences": "Everything that is not as it was released.",
        "rule": "Name of the fault.",
        "message": "A whole sentence.",
        "path": "Path of the file.",
        "line": "Line, counted from 1.",
        "column": "Column in characters, counted from 1.",
        "name": "Name of the release.",
        "Tool.name": "Name of the program.",
        "number": "Its number.",
        "by": "Who released it.",
        "at": "When, in UTC.",
        "tool": "The program that made it.",
        "Tool.version": "Its version.",
        "manifest_sha256": "SHA-256 of its manifest.",
    }
)


def verification_schema() -> Schema:
    """Return the schema that every answer validates against."""
    model = plain(Verification.model_json_schema())
    definitions: dict[str, Schema] = model.pop("$defs")
    for name, definition in (*definitions.items(), ("Verification", model)):
        describe(name, definition, _WORDS, said=("format", "version"))
    return {
        "$schema": DIALECT,
        "$id": f"urn:backmark:verification:{VERSION}",
        "title": "Verification of a release",
        **model,
        "$defs": dict(sorted(definitions.items())),
    }
