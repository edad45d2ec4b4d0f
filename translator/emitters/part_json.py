"""The interchange document: a part as JSON, with what follows from it computed.

The form is in ``schemas/part.schema.json``, its reference in ``schemas/README.md``.
"""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Final

from translator.emitters._emitter import EmitOptions, Emitter
from translator.errors import CannotRepresentError
from translator.findings import CAUTION
from translator.geometry.computed import compute
from translator.geometry.document import computed_document
from translator.json_text import json_text
from translator.model import Part
from translator.model.document import FORMAT, VERSION

_ALWAYS: Final = frozenset({"features", "trims"})
"""Lists that are written even when they hold nothing."""

_FIRST: Final = ("id", "kind")
_LAST: Final = ("bolt", "purpose", "process")
"""Where a feature has them: what it is, then its geometry, then what it is for."""


def emit(part: Part, _options: EmitOptions) -> bytes:
    """Return the document as UTF-8 bytes; the same part gives the same bytes.

    Raises:
        CannotRepresentError: for a part whose outline can't be made as it says: a document
            without the right outline must not reach a machine.
    """
    computed = compute(part)
    if computed.faults:
        raise CannotRepresentError(computed.faults[0].message)
    document = {
        "format": FORMAT,
        "version": VERSION,
        "caution": CAUTION,
        "part": _part(part),
        "computed": dict(computed_document(part)),
    }
    return json_text(document).encode()


def _part(part: Part) -> dict[str, Any]:
    """Return what was designed: fields in the model's order, without those that say nothing."""
    said = _spoken(part.model_dump())
    square = type(part.ends.start)().model_dump()
    ends = {name: end for name, end in said.pop("ends").items() if end != square}
    out: dict[str, Any] = {}
    for name in Part.model_fields:
        if name == "ends" and ends:
            out[name] = ends
        elif name in said:
            out[name] = said[name]
    return out


def _spoken(fields: Mapping[str, Any]) -> dict[str, Any]:
    """Leave out what is None, and lists that are empty unless they are always written."""
    return {
        name: _spoken_value(value) if isinstance(value, dict | tuple) else value
        for name in _in_order(tuple(fields))
        if (value := fields[name]) is not None and (value != () or name in _ALWAYS)
    }


@lru_cache(maxsize=64)
def _in_order(names: tuple[str, ...]) -> tuple[str, ...]:
    """Return the fields of one kind of value in the order they are written."""
    return tuple(sorted(names, key=lambda name: (name in _LAST) - (name in _FIRST)))


def _spoken_value(value: object) -> object:
    if isinstance(value, Mapping):
        return _spoken(value)
    if isinstance(value, tuple):
        return [_spoken_value(member) for member in value]
    return value


def _losses(_part: Part) -> tuple[str, ...]:
    """Return nothing: this format has words for everything a part says."""
    return ()


EMITTER: Final = Emitter(
    name="json",
    title="part document (JSON)",
    suffix=".part.json",
    per_leg=False,
    media_type="application/json",
    emit=emit,
    losses=_losses,
)
