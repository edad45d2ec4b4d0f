"""Read back what was written, and name every difference from the part.

A drawing is read with the independent library, by what its layers and entities say; an NC
file, a document or a part text with this tool's own readers. Nothing of an emitter takes part.
"""

from collections.abc import Iterable, Iterator
from typing import Final

from translator.batch import loop_dxf, loop_nc
from translator.conventions import Conventions
from translator.findings import Severity
from translator.model import Part, leg_names
from translator.readers import readers
from translator.source import Source

RULE: Final = "written-differs"
"""Id of the finding; no waiver or setting accepts it."""

_LONGEST: Final = 80
"""Characters of a value in a message."""


def differences(
    part: Part, name: str, files: Iterable[tuple[str, bytes]], settings: Conventions
) -> Iterator[str]:
    """Yield a sentence for each difference between a part and the files made of it.

    Args:
        part: what was to be written.
        name: of the format; one that cannot be read back has no differences.
        files: name and bytes of each file, one for each leg where the format is by leg.
        settings: what the files were written with.
    """
    made = tuple(files)
    if name == "dxf":
        for leg, (file, data) in zip(leg_names(part), made, strict=True):
            yield from _told(file, loop_dxf.differences(part, leg, data))
    elif name in ("json", "bmk", "nc"):
        for file, data in made:
            yield from _told(file, _reread(part, name, Source(path=file, data=data), settings))


def can_read_back(name: str) -> bool:
    """Tell whether files of a format are read back."""
    return name in ("dxf", "json", "bmk", "nc")


def _told(file: str, found: Iterable[str]) -> Iterator[str]:
    return (f"{file}, read back, differs from the part: {text}" for text in found)


def _reread(part: Part, name: str, source: Source, settings: Conventions) -> Iterator[str]:
    from translator.batch.settling import settle_each

    reader = next(reader for reader in readers() if reader.name == name)
    tree = reader.parse(source)
    (chosen,), _ = settle_each([settings], [reader.evidence(tree)])
    reading = reader.lower(tree, chosen)
    errors = [f.message for f in reading.findings if f.severity is Severity.ERROR]
    if errors or len(reading.parts) != 1:
        yield errors[0] if errors else f"{len(reading.parts)} parts are in it"
        return
    read = reading.parts[0].part
    if name == "nc":
        yield from loop_nc.differences(part, read)
    else:
        yield from _fields(part, read)


def _fields(part: Part, read: Part) -> Iterator[str]:
    for field in Part.model_fields:
        if getattr(part, field) != getattr(read, field):
            yield f"{field} is {_short(getattr(read, field))}, not {_short(getattr(part, field))}"


def _short(value: object) -> str:
    text = repr(value)
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}..."
