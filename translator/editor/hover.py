"""What an editor tells about the word under the pointer."""

from collections.abc import Iterator
from typing import Final

from translator.editor.look import Look
from translator.findings import Finding
from translator.lengths.parse import INCH, Unit
from translator.lengths.spell import feet_inch_text, inch_text, mm_text
from translator.model import CentreMark, Hole, Placed, Slot, Stamp
from translator.model.features import Feature
from translator.readers.part_text._amounts import amount_of, grid
from translator.readers.part_text._book import RefusalError
from translator.readers.part_text._frames import Amount, Frame
from translator.rules import rules
from translator.rules._catalogue import documentation
from translator.source import Span, printable
from translator.syntax.quoting import unquoted
from translator.syntax.tree import Child, Node, Word

_MM_PER_INCH: Final = 25.4
_SUMS: Final = frozenset({"sum", "group", "negative"})
_MOST_FEATURES: Final = 6
_COUNTED: Final = frozenset({"quantity", "nth"})


def hover_text(look: Look, line: int, column: int) -> tuple[str, Span | None]:
    """Return what there is to say about a place, as Markdown, and the stretch it is about.

    Args:
        look: the text.
        line: counted from 1.
        column: counted from 1, in characters.

    Returns:
        "" where there is nothing to say.
    """
    way = _way_to(look.tree.root, line, column)
    said: list[str] = []
    about: Span | None = None
    if way:
        word = way[-1]
        about = word.extent.span(look.tree.path)
        if isinstance(word, Word):
            said += _of_number(look, way)
            said += _of_rule_name(word)
    said += _of_features(look.parts, line, column)
    for finding in look.findings:
        if _holds(finding.span, line, column):
            said += _of_finding(finding)
    return "\n\n---\n\n".join(dict.fromkeys(said)), about


def both_units(mm: float) -> str:
    """Return a length in both units: ``292.1 mm = 11-1/2 in.``."""
    inches = inch_text(mm)
    if inches is None:
        return f"{mm_text(mm)} mm \u2248 {mm / _MM_PER_INCH:.4f} in."
    feet = feet_inch_text(mm)
    longer = f" = {feet}" if feet is not None and "'" in feet else ""
    return f"{mm_text(mm)} mm = {inches} in.{longer}"


def rule_text(name: str) -> str:
    """Return name, weight and text of a rule as Markdown, "" if there is none."""
    for rule in rules():
        if rule.name == name:
            head = f"**{rule.name}** ({rule.severity}): {rule.title}"
            return f"{head}\n\n{documentation(rule)}"
    return ""


def _way_to(root: Node, line: int, column: int) -> list[Child]:
    """Return the nodes around a place, outermost first, and the word that stands there."""
    way: list[Child] = [root]
    here: Child = root
    while isinstance(here, Node):
        inner = next((c for c in here.children if _covers(c, line, column)), None)
        if inner is None:
            return []
        way.append(inner)
        here = inner
    return way


def _covers(child: Child, line: int, column: int) -> bool:
    extent = child.extent
    return extent[:2] <= (line, column) < extent[2:]


def _holds(span: Span, line: int, column: int) -> bool:
    begin, end = (span.line, span.column), (span.end_line, span.end_column)
    return begin <= (line, column) < end or begin == end == (line, column)


def _of_number(look: Look, way: list[Child]) -> Iterator[str]:
    """Yield what a number comes to, and the sum that it stands in."""
    above = [child for child in way if isinstance(child, Node)]
    if not isinstance(way[-1], Word) or way[-1].type not in ("NUMBER", "NAME"):
        return
    if above[-1].name in _COUNTED or any(node.name == "family" for node in above):
        return
    outermost = next((node for node in above if node.name in _SUMS), None)
    frame = Frame(path=look.tree.path, units=_units_before(look.tree.root, way[-1]))
    asked: list[Child] = [way[-1]]
    if outermost is not None:
        asked.append(outermost)
    for child in asked:
        told = _told(child, frame)
        if told:
            yield told


def _units_before(root: Node, word: Word) -> Unit | None:
    units: Unit | None = None
    for node in root.nodes("units"):
        if (node.first_word.line, node.first_word.column) < (word.line, word.column):
            units = "inch" if node.last_word.type == "INCH" else "mm"
    return units


def _told(child: Child, frame: Frame) -> str:
    try:
        amount: Amount = amount_of(child, frame)
    except RefusalError:
        return ""
    text = " ".join(_texts(child))
    if amount.is_length:
        return f"`{text}`: {both_units(grid(amount.value))}"
    if frame.units is None:
        return ""
    mm = amount.value * (1 if frame.units == "mm" else INCH)
    return f"`{text}`: as a length {both_units(grid(mm))}"


def _texts(child: Child) -> Iterator[str]:
    if isinstance(child, Word):
        yield printable(child.text)
    else:
        for each in child.children:
            yield from _texts(each)


def _of_rule_name(word: Word) -> Iterator[str]:
    if word.type in ("RULE_NAME", "STRING"):
        told = rule_text(unquoted(word.text))
        if told:
            yield told


def _of_finding(finding: Finding) -> Iterator[str]:
    told = rule_text(finding.rule)
    if told:
        yield told


def _of_features(parts: tuple[Placed, ...], line: int, column: int) -> Iterator[str]:
    """Yield the features that stand at a place, in both units."""
    for placed in parts:
        told: list[str] = []
        for leg in ("a", "b", "face"):
            features: tuple[Feature, ...] = getattr(
                getattr(placed.part.legs, leg, None), "features", ()
            )
            told += [
                f"- **{printable(each.id)}**: {_feature(each)}"
                for each in features
                if (span := placed.places.get(f"legs.{leg}.{each.id}")) is not None
                and _holds(span, line, column)
            ]
        if told:
            more = len(told) - _MOST_FEATURES
            further = [f"- and {more} more"] if more > 0 else []
            yield "\n".join([*told[:_MOST_FEATURES], *further])


def _feature(feature: Feature) -> str:
    if isinstance(feature, Hole):
        size = f"hole {both_units(feature.diameter_mm)}"
    elif isinstance(feature, Slot):
        size = f"slot {both_units(feature.width_mm)} by {both_units(feature.length_mm)}"
    elif isinstance(feature, CentreMark):
        size = "centre mark"
    elif isinstance(feature, Stamp):
        at = f"x {both_units(feature.x_mm)}, from heel {both_units(feature.from_heel_mm)}"
        return f"stamp, {at}"
    else:
        return feature.kind
    return f"{size}, x {both_units(feature.x_mm)}, y {both_units(feature.y_mm)}"
