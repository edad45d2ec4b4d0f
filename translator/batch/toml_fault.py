"""Faults of a TOML file: that it can't be understood at all, and those of its settings."""

import re
from typing import Final

from translator.documents.toml_places import Places
from translator.findings import Finding, Severity
from translator.source import Span

MOST_FAULTS: Final = 100
"""Faults of one settings file that are worded one by one."""


class Faults:
    """The faults of one settings file, each on the line of its key; of very many the first."""

    def __init__(self, where: Places) -> None:
        """Begin with none; ``where`` is where the keys of the file stand."""
        self._where = where
        self._found: list[Finding] = []

    def __call__(self, rule: str, message: str, within: str, key: str) -> None:
        """Add a fault of a key, in a table or ("") outside of any."""
        if len(self._found) > MOST_FAULTS:
            return
        if len(self._found) == MOST_FAULTS:
            message = f"more than {MOST_FAULTS} faults in this file: from here on none is listed"
        place = self._where.of(*((within, key) if within else (key,)))
        span = Span(place.path, place.line, 1, place.line, 1)
        fault = Finding(rule=rule, severity=Severity.ERROR, message=message, span=span)
        self._found.append(fault)

    @property
    def found(self) -> tuple[Finding, ...]:
        """Those added so far."""
        return tuple(self._found)


def unreadable(path: str, what: str, error: Exception) -> Finding:
    """Say what keeps a file from being TOML, at the place the parser names.

    Args:
        path: of the file.
        what: it holds, in a word ("settings").
        error: of decoding or parsing its bytes.
    """
    import tomllib

    place = re.search(r"\(at line (\d+), column (\d+)\)", str(error))
    line, column = (int(place[1]), int(place[2])) if place else (1, 1)
    said = re.sub(r"\s*\(at [^)]*\)", "", str(error))
    if isinstance(error, UnicodeDecodeError):
        said = "it is not UTF-8 text"
    elif isinstance(error, RecursionError):
        said = "it is nested too deeply"
    elif not isinstance(error, tomllib.TOMLDecodeError):
        said = "a number in it has too many digits"
    return Finding(
        rule=f"{what}-unreadable",
        severity=Severity.ERROR,
        message=f"the {what} file can't be understood: {said[:1].lower()}{said[1:]}",
        span=Span(path, line, column, line, column),
    )
