"""The finding on a TOML file that can't be understood at all."""

import re
import tomllib

from translator.findings import Finding, Severity
from translator.source import Span


def unreadable(path: str, what: str, error: Exception) -> Finding:
    """Say what keeps a file from being TOML, at the place the parser names.

    Args:
        path: of the file.
        what: it holds, in a word ("settings").
        error: of decoding or parsing its bytes.
    """
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
