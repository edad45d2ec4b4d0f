"""Find the members of a room by walking its package."""

import importlib
import pkgutil
from types import ModuleType
from typing import TypeVar

from translator.errors import RoomError

Record = TypeVar("Record")


def members(room: ModuleType, constant: str, kind: type[Record]) -> tuple[Record, ...]:
    """Return the record that each module (or sub-package) of a room ends in, by file name.

    A name that begins with an underscore is a helper of the room and is skipped. Any other
    module must hold the record under the name given, so that a misspelt constant cannot
    switch a rule off without a word.

    Args:
        room: the imported package.
        constant: name of the record in each module, for instance "RULE".
        kind: class of the record; it has a ``name``.

    Raises:
        RoomError: for an empty room, a missing record, or a name claimed twice.
    """
    found: list[Record] = []
    names: dict[str, str] = {}
    for info in sorted(pkgutil.iter_modules(room.__path__), key=lambda m: m.name):
        if info.name.startswith("_"):
            continue
        module = importlib.import_module(f"{room.__name__}.{info.name}")
        record = getattr(module, constant, None)
        if not isinstance(record, kind):
            raise RoomError(f"{module.__name__} holds no {constant}")
        name = str(getattr(record, "name", ""))
        if name in names:
            raise RoomError(f"{module.__name__} and {names[name]} are both called {name!r}")
        names[name] = module.__name__
        found.append(record)
    if not found:
        raise RoomError(f"{room.__name__} is empty")
    return tuple(found)
