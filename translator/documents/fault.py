"""A fault at a path of the document, before its place is looked up."""

from collections.abc import Callable, Iterable, Iterator

from msgspec import Struct

from translator.documents.locate import Extent, Json, Lines, Path, locate, ordinals
from translator.documents.strict import Tree
from translator.findings import Finding, Related, Severity
from translator.source import Span


class Fault(Struct, frozen=True, kw_only=True):
    """What a finding says, and the path from the document's top to what it is about.

    ``is_name`` puts the finding on the field's name instead of its value. ``related`` holds
    a further path and a word on why.
    """

    rule: str
    message: str
    path: Path
    severity: Severity = Severity.ERROR
    is_name: bool = False
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    related: tuple[Path, str] | None = None


def _no_element(_path: Path) -> str:
    return ""


def resolve(
    tree: Tree,
    faults: Iterable[Fault],
    *,
    mark: str = "",
    element: Callable[[Path], str] = _no_element,
) -> Iterator[Finding]:
    """Turn faults into findings with their places; all are looked up in one pass.

    Args:
        tree: the document.
        faults: what is wrong with it.
        mark: of the piece the document is about, "" when it is about none.
        element: path of the document -> path of the part's element.
    """
    faults = tuple(faults)
    if not faults:
        return
    wanted = [fault.path for fault in faults] + [f.related[0] for f in faults if f.related]
    known = {path: _known(tree.value, path) for path in wanted}
    numbers = ordinals(tree.value, known.values())
    extents = locate(tree.text, numbers.values())
    lines = Lines(tree.path, tree.text)
    for fault in faults:
        extent = extents[numbers[known[fault.path]]]
        related: tuple[Related, ...] = ()
        if fault.related is not None:
            other = extents[numbers[known[fault.related[0]]]]
            related = (Related(span=_span(tree, lines, other), message=fault.related[1]),)
        yield Finding(
            rule=fault.rule,
            severity=fault.severity,
            message=fault.message,
            span=_span(tree, lines, extent, is_name=fault.is_name),
            mark=mark,
            element=element(fault.path),
            value=fault.value,
            limit=fault.limit,
            unit=fault.unit,
            related=related,
        )


def _known(value: Json, path: Path) -> Path:
    """Return as much of a path as leads to something."""
    for index, step in enumerate(path):
        try:
            value = value[step]
        except (KeyError, IndexError, TypeError):
            return path[:index]
    return path


def _span(tree: Tree, lines: Lines, extent: Extent, *, is_name: bool = False) -> Span:
    """Return the place of a name or a value; of a list or an object only its bracket."""
    if is_name:
        return lines.span(extent.name_start, extent.name_end)
    if tree.text[extent.start] in "{[":
        return lines.span(extent.start, extent.start + 1)
    return lines.span(extent.start, extent.end)
