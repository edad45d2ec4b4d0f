"""Records and verdicts as bytes and back, checked on the way in."""

from collections.abc import Hashable
from functools import cache
from typing import Any, TypeVar, cast

from pydantic import TypeAdapter, ValidationError

Value = TypeVar("Value")


def spelt(value: object) -> bytes:
    """Return a frozen value of plain fields as JSON."""
    return _adapter(cast("Hashable", type(value))).dump_json(value)


def read(kind: type[Value], data: bytes | None) -> Value | None:
    """Return the value that some JSON spells; None when it spells none."""
    if data is None:
        return None
    try:
        value: Value = _adapter(cast("Hashable", kind)).validate_json(data)
    except ValidationError:
        return None
    return value


@cache
def _adapter(kind: Any) -> TypeAdapter[Any]:  # noqa: ANN401 - any class
    return TypeAdapter(kind)
