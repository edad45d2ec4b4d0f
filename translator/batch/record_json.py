"""Records and verdicts as bytes and back, checked on the way in."""

import json
from collections.abc import Hashable
from functools import cache
from typing import Any, TypeVar, cast

import msgspec

Value = TypeVar("Value")


def spelt(value: object) -> bytes:
    """Return a frozen value of plain fields as JSON."""
    return msgspec.json.encode(value, enc_hook=_plain)


def read(kind: type[Value], data: bytes | None) -> Value | None:
    """Return the value that some JSON spells; None when it spells none."""
    if data is None:
        return None
    try:
        value: Value = _decoder(cast("Hashable", kind)).decode(data)
    except ValueError:  # of either library: not JSON, not of that shape, or no part
        return None
    return value


@cache
def _decoder(kind: Any) -> msgspec.json.Decoder[Any]:  # noqa: ANN401 - any class
    return msgspec.json.Decoder(kind, dec_hook=_model)


def _plain(value: object) -> object:
    """Return a value of the part model as plain values."""
    from pydantic import BaseModel  # most records hold no part

    if isinstance(value, BaseModel):
        return value.model_dump(mode="json")
    raise NotImplementedError(type(value).__name__)


def _model(kind: type[Any], plain: object) -> object:
    """Return the value of the part model that plain values stand for, validated."""
    from pydantic import BaseModel

    if issubclass(kind, BaseModel):
        return kind.model_validate_json(json.dumps(plain))
    raise NotImplementedError(kind.__name__)
