"""What a document says was computed, held against what follows from its part."""

import math
from collections.abc import Iterator
from typing import Final

from translator.documents.fault import Fault
from translator.documents.locate import Json, Path
from translator.documents.words import figure, shown, shown_path
from translator.geometry.document import computed_document
from translator.model import Part

RELATIVE: Final = 1e-6
"""A figure may differ by this share of itself, or by as much of one unit."""

_TOP: Final = ("computed",)


def stale_faults(part: Part, computed: Json) -> tuple[tuple[Fault, ...], tuple[Path, ...]]:
    """Compare a document's computed block with one derived afresh.

    Returns:
        The differences, the first one of each list, and the paths of fields that nothing
        computed has. A figure that is left out is no difference: nothing reads it.
    """
    if not isinstance(computed, dict):
        message = f"computed is {shown(computed)}, it must be an object"
        return (Fault(rule="field-wrong", message=message, path=_TOP),), ()
    fresh = dict(computed_document(part))
    if computed == fresh:
        return (), ()
    unknown: list[Path] = []
    return tuple(_differences(computed, fresh, _TOP, unknown)), tuple(unknown)


def _differences(said: Json, fresh: Json, path: Path, unknown: list[Path]) -> Iterator[Fault]:
    if isinstance(fresh, dict) and isinstance(said, dict):
        for name, member in said.items():
            if name in fresh:
                yield from _differences(member, fresh[name], (*path, name), unknown)
            else:
                unknown.append((*path, name))
    elif isinstance(fresh, tuple) and isinstance(said, tuple):
        yield from _in_list(said, fresh, path, unknown)
    elif isinstance(fresh, float) and _is_number(said):
        if not math.isclose(said, fresh, rel_tol=RELATIVE, abs_tol=RELATIVE):
            yield _stale(path, figure(said), figure(fresh), float(said), fresh)
    elif said != fresh:
        yield _stale(path, shown(said), shown(fresh), None, None)


def _in_list(
    said: tuple[Json, ...], fresh: tuple[Json, ...], path: Path, unknown: list[Path]
) -> Iterator[Fault]:
    """Compare entry by entry and stop at the first that differs: the rest will be shifted."""
    for index, (one, other) in enumerate(zip(said, fresh, strict=False)):
        found = tuple(_differences(one, other, (*path, index), unknown))
        if found:
            yield from found
            return
    if len(said) != len(fresh):
        count, right = f"{len(said)} entries", f"{len(fresh)} entries"
        yield _stale(path, count, right, float(len(said)), float(len(fresh)))


def _is_number(value: Json) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _stale(path: Path, said: str, fresh: str, value: float | None, limit: float | None) -> Fault:
    name = str(path[-1])
    unit = next((u for u in ("mm", "mm2", "m2", "kg") if name.endswith(f"_{u}")), "")
    return Fault(
        rule="computed-stale",
        message=f"{shown_path(path)} is {said}, but {fresh} follows from the part; the document"
        " was changed without computing it again",
        path=path,
        value=value,
        limit=limit,
        unit=unit,
    )
