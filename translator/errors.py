"""Exceptions for the caller's mistakes and for our own.

A fault of the *user* (in a part file, a setting, a table of his) is a finding, never an
exception; see ``findings.py``.
"""

from collections.abc import Iterator
from contextlib import contextmanager


class TranslatorError(Exception):
    """Anything this package raises on purpose."""


class CannotRepresentError(TranslatorError, ValueError):
    """An emitter was asked to write something its format has no words for."""


class UnknownNameError(TranslatorError, LookupError):
    """A rule, reader, emitter, report or setting of that name does not exist."""


class RoomError(TranslatorError, RuntimeError):
    """A room is empty, or two of its modules claim one name: a fault of this package."""


class WorkError(TranslatorError, OSError):
    """The work could not be done: a path is missing, unreadable or not writable."""


@contextmanager
def stage(doing: str, path: str) -> Iterator[None]:
    """Name the stage and the file in an exception that should never have come."""
    try:
        yield
    except Exception as error:
        error.add_note(f"while {doing} {path}")
        raise
