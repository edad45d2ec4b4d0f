"""Faults of a part document, as findings about a piece and its elements."""

from collections.abc import Iterable, Iterator

from translator.documents import fault
from translator.documents.fault import Fault
from translator.documents.locate import Json, Path
from translator.documents.strict import Tree
from translator.findings import Finding
from translator.readers.part_json._words import element


def resolve(tree: Tree, faults: Iterable[Fault]) -> Iterator[Finding]:
    """Turn faults into findings with their places, the mark and the element of the part."""
    document = tree.value
    return fault.resolve(
        tree, faults, mark=mark_of(document), element=lambda path: _element(document, path)
    )


def mark_of(document: Json) -> str:
    """Return the piece mark as far as the document has one, else ""."""
    part = document.get("part") if isinstance(document, dict) else None
    mark = part.get("mark") if isinstance(part, dict) else None
    return mark if isinstance(mark, str) else ""


def _element(document: Json, path: Path) -> str:
    if path[:1] != ("part",) or not isinstance(document["part"], dict):
        return ""
    return element(path[1:], document["part"])
