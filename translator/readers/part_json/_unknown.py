"""Fields the model does not know: carried along as text, or refused where they move metal."""

import json
from collections.abc import Iterable, Iterator
from functools import cache
from typing import Final

from translator.documents.fault import Fault
from translator.documents.locate import Json, Path
from translator.documents.words import shown_path, whole_name
from translator.findings import Severity
from translator.model import ends, features, part, sections, trims
from translator.model.numbers import Frozen

MOST_UNKNOWN: Final = 200
"""Unknown fields of one document that are carried; more are no notes, but another format."""

_LINE: Final = 3900
_ALIKE: Final = 0.8
_LONGEST_NAME: Final = 40
_SHAPE: Final = frozenset({"section", "legs", "ends"})
_UNITS: Final = ("_mm", "_deg")
_NAMED: Final = 3
"""Steps to a leg or an end by its name: part, legs or ends, the name."""


def unknown_faults(
    document: Json, paths: Iterable[Path], *, is_strict: bool
) -> tuple[tuple[Fault, ...], tuple[str, ...]]:
    """Say which fields are unknown, and return the lines that carry them in the part.

    A field that may be a misspelt one, or that stands among the sizes of the piece and looks
    like one, is an error even where strictness is off: a part without it is another part.
    """
    paths = tuple(paths)
    faults: list[Fault] = []
    carried: list[str] = []
    for path in paths[:MOST_UNKNOWN]:
        value = _at(document, path)
        faults.append(_fault(path, value, is_strict=is_strict))
        carried += _lines(path, value)
    if len(paths) > MOST_UNKNOWN:
        message = (
            f"the document has {len(paths)} fields that are not known, more than the"
            f" {MOST_UNKNOWN} that are carried along"
        )
        faults.append(Fault(rule="field-unknown", message=message, path=()))
    return tuple(faults), tuple(carried)


def _fault(path: Path, value: Json, *, is_strict: bool) -> Fault:
    name = str(path[-1])
    near = _near(name) if path[0] == "part" else ""
    message = f"there is no field {shown_path(path)}"
    if near:
        message += f"; {near} stands elsewhere" if near == name else f"; did you mean {near}?"
    is_error = is_strict or near != "" or _is_shape(path, value)
    if not is_error:
        message += "; it is carried along as text"
    return Fault(
        rule="field-unknown",
        message=message,
        path=path,
        is_name=True,
        severity=Severity.ERROR if is_error else Severity.WARNING,
    )


def _is_shape(path: Path, value: Json) -> bool:
    """Tell whether an unknown field may be meant to change the shape of the piece."""
    if path[0] != "part" or path[1] not in _SHAPE:
        return False
    is_place = path[1] != "section" and len(path) <= _NAMED
    return is_place or isinstance(value, dict | tuple) or str(path[-1]).endswith(_UNITS)


def _near(name: str) -> str:
    if len(name) > _LONGEST_NAME:
        return ""
    from difflib import get_close_matches

    return next(iter(get_close_matches(name.lower(), _names(), 1, _ALIKE)), "")


@cache
def _names() -> tuple[str, ...]:
    """Return the names of all fields of a part and of what it holds."""
    rooms = (part, sections, ends, features, trims)
    models = (m for room in rooms for m in vars(room).values() if isinstance(m, type))
    found = {n for m in models if issubclass(m, Frozen) for n in m.model_fields}
    return tuple(sorted(found))


def _lines(path: Path, value: Json) -> Iterator[str]:
    """Spell a field, name and value whole, as lines that ``carried`` can hold."""
    text = f"{shown_path(path, whole_name)}: {json.dumps(value)}".replace("\x7f", "\\u007f")
    for start in range(0, len(text), _LINE):
        head = "unknown field, continued: " if start else "unknown field "
        yield head + text[start : start + _LINE]


def _at(document: Json, path: Path) -> Json:
    for step in path:
        document = document[step]
    return document
