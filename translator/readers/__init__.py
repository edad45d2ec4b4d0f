"""Readers: one format one module (or sub-package), each ending in a READER record."""

from functools import cache

from translator.readers._reader import Reader, Reading

__all__ = ["Reader", "Reading", "readers"]


@cache
def readers() -> tuple[Reader, ...]:
    """Return all readers, found by walking this room."""
    from translator import readers as room
    from translator.rooms import members

    return members(room, "READER", Reader)
