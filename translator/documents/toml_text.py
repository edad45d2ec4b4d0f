"""TOML text to values, with a bound that the standard library's parser does not set itself."""

import re
from typing import Any, Final

MOST_NAMES: Final = 32
"""Names of a dotted key; the parser's work grows with their square."""

_NAME: Final = r"(?:[A-Za-z0-9_-]++|\"[^\"\n]{0,100}\"|'[^'\n]{0,100}')"
_LONG_KEY: Final = re.compile(rf"(?<![\w\"'.-])(?:{_NAME}[ \t]*\.[ \t]*){{{MOST_NAMES}}}")


def toml_values(text: str) -> dict[str, Any]:
    """Return the values of a TOML text.

    Raises:
        TOMLDecodeError: when it is none, or a key in it has more than 32 names.
        ValueError: for a number of too many digits.
        RecursionError: when it is nested too deeply.
    """
    import tomllib  # most folders have no settings to read

    found = _LONG_KEY.search(text)
    if found is not None:
        line = text.count("\n", 0, found.start()) + 1
        column = found.start() - text.rfind("\n", 0, found.start())
        raise tomllib.TOMLDecodeError(
            f"A key has more than the {MOST_NAMES} names that it may have"
            f" (at line {line}, column {column})"
        )
    return tomllib.loads(text)
