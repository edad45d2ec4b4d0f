"""Fuzz the reader of part documents (.part.json)."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from running import SAMPLES, held, run


def names(value: Any) -> Iterator[str]:
    """Yield all field names and words of a document."""
    if isinstance(value, dict):
        for name, member in value.items():
            yield name
            yield from names(member)
    elif isinstance(value, list):
        for member in value:
            yield from names(member)
    elif isinstance(value, str) and len(value) < 40:
        yield value


def words_of(files: list[Path]) -> list[str]:
    """Return the words of some documents, each in quotes, and JSON's own."""
    found: set[str] = set()
    for path in files:
        try:
            found.update(names(json.loads(path.read_bytes())))
        except ValueError:
            continue
    own = (
        "true",
        "false",
        "null",
        "1e308",
        "-0.0",
        "NaN",
        "[[[[[[[[",
        '{"a":',
        "\ufeff",
        "\\u0000",
    )
    return [*(f'"{word}"' for word in sorted(found)), *own]


def prepare() -> Callable[[bytes], None]:
    """Return the function that takes one input down the whole reading road."""
    from translator.conventions import Conventions
    from translator.readers.part_json import READER
    from translator.source import Source

    def one(data: bytes) -> None:
        tree = READER.parse(Source(path="x.part.json", data=data))
        reading = READER.lower(tree, Conventions())
        held(said=reading.findings, parts=reading.parts)

    return one


if __name__ == "__main__":
    documents = sorted(SAMPLES.rglob("*.part.json"))
    run(prepare, [path.read_bytes() for path in documents], words_of(documents))
