"""How values and names of a document are shown in a sentence."""

import json
import re
from collections.abc import Callable
from typing import Final

from translator.documents.locate import Json, Path

LONGEST: Final = 60
"""Characters of a value that are shown."""


def shown(value: Json) -> str:
    """Show a value as JSON, cut short; an object or a list by its kind."""
    if isinstance(value, dict):
        return "an object" if value else "an empty object"
    if isinstance(value, tuple | list):
        return "a list" if value else "an empty list"
    text = json.dumps(value)
    return text if len(text) <= LONGEST else f"{text[:LONGEST]}..."


def shown_name(name: str) -> str:
    """Show a field's name: as it is when it is one word, else as JSON."""
    if name.isidentifier() and name.isascii() and len(name) <= LONGEST:
        return name
    return shown(name)


def shown_path(path: Path, name: Callable[[str], str] = shown_name) -> str:
    """Show a path from the document down: ``part.legs.a.features[0].note``."""
    steps = (f"[{step}]" if isinstance(step, int) else f".{name(step)}" for step in path)
    return "".join(steps).removeprefix(".")


def whole_name(name: str) -> str:
    """Spell a field's name however long it is: as it is when it is one word, else as JSON."""
    return name if name.isidentifier() and name.isascii() else json.dumps(name)


def figure(value: float) -> str:
    """Print a number without an exponent or a needless point."""
    return str(int(value)) if float(value).is_integer() else repr(value)


def choices(listed: str) -> str:
    """Turn a list of names in single quotes into one in double quotes: "a", "b" or "c"."""
    names = [f'"{name}"' for name in re.findall(r"'([^']*)'", listed)]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"
