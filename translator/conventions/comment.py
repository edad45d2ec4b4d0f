"""The comment line in which a written file says a setting it was written under."""

import re
from typing import Final

from translator.conventions.settings import AUTO, CHOICES

_COMMENT: Final = re.compile(r"\*\* setting ([a-z_]+) = ([a-z-]+)\s*")


def setting_comment(name: str, value: str) -> str:
    """Return the comment line that states a setting."""
    return f"** setting {name} = {value}"


def stated_setting(line: str) -> tuple[str, str] | None:
    """Return the setting and the value that a comment line states, None when it is another."""
    match = _COMMENT.fullmatch(line)
    if match is None or match[2] == AUTO or match[2] not in CHOICES.get(match[1], ()):
        return None
    return match[1], match[2]
