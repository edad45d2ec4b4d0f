"""The section of a part: a name as the trade types it, or sizes one by one."""

from typing import Final

from pydantic import ValidationError

from translator.findings import Severity
from translator.lengths.parse import Unit
from translator.model import Angle, Flat, Section
from translator.readers.part_text._amounts import grid, length
from translator.readers.part_text._scope import Scope
from translator.readers.part_text._sentences import sentences
from translator.syntax.quoting import unquoted
from translator.syntax.tree import Node, Word
from translator.tables.designations import SectionReading, parse_section

_UNITS: Final[tuple[Unit, Unit]] = ("mm", "inch")


def read_section(statement: Node, scope: Scope) -> Section | None:
    """Return the section; None when there was a fault, which is noted."""
    typed = statement.word("SECTION_TEXT", "STRING")
    if typed is not None:
        return _named(typed, scope)
    sizes = [scope.size(value, "size") for value in statement.values()]
    root, toe = (_radius(statement.node(name), scope) for name in ("root", "toe_radius"))
    called = statement.node("called")
    name = None if called is None else called.word("STRING")
    designation = None if name is None else unquoted(name.text)
    if root is None or toe is None or None in sizes:
        return None
    try:
        if statement.has("FLAT"):
            width, thickness = sizes
            return Flat.model_validate(
                {"designation": designation, "width_mm": width, "thickness_mm": thickness}
            )
        leg_a, leg_b, thickness = sizes
        return Angle.model_validate(
            {
                "designation": designation,
                "leg_a_mm": leg_a,
                "leg_b_mm": leg_b,
                "thickness_mm": thickness,
                "root_radius_mm": root,
                "toe_radius_mm": toe,
            }
        )
    except ValidationError as error:
        for _, sentence in sentences(error):
            scope.book.say("value-out-of-range", sentence, statement.extent)
        return None


def _named(typed: Word, scope: Scope) -> Section | None:
    text = unquoted(typed.text)
    found = _under(text, scope.units)
    if found is None:
        scope.book.say(
            "units-missing",
            f"The sizes of {text} take the file's unit, and none is given before it: write"
            " `units mm` or `units inch` at the top.",
            typed.extent,
        )
        return None
    if found.fault is not None:
        scope.book.say("section-unknown", found.fault, typed.extent)
    for note in found.notes:
        scope.book.say("section-assumed", note, typed.extent, Severity.NOTE)
    return found.section


def _under(text: str, units: Unit | None) -> SectionReading | None:
    """Return what a name says; None if that depends on the unit and there is none."""
    if units is not None:
        return parse_section(text, units)
    in_mm, in_inches = (parse_section(text, unit) for unit in _UNITS)
    if in_mm.section != in_inches.section:
        return None
    return min(in_mm, in_inches, key=lambda reading: len(reading.notes))


def _radius(node: Node | None, scope: Scope) -> float | None:
    """Return a radius, 0 where none is given; None when there was a fault."""
    value = None if node is None else node.value()
    if value is None:
        return 0.0
    mm = scope.read(length, value)
    return None if mm is None else grid(mm)
