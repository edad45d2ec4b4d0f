"""Emitters: one format one module (or sub-package), each ending in an EMITTER record."""

from functools import cache

from translator.emitters._emitter import EmitOptions, Emitter

__all__ = ["EmitOptions", "Emitter", "emitters"]


@cache
def emitters() -> tuple[Emitter, ...]:
    """Return all emitters, found by walking this room."""
    from translator import emitters as room
    from translator.rooms import members

    return members(room, "EMITTER", Emitter)
