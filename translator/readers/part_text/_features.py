"""Features that lie at places along a leg: holes, slots, centre marks, stamps."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from types import MappingProxyType
from typing import Any, Final, NamedTuple

from translator.model import CentreMark, Feature, Hole, Slot, Stamp
from translator.readers.part_text._amounts import grid, length
from translator.readers.part_text._bolts import bolt_name, standard_hole
from translator.readers.part_text._book import SYNTAX, RefusalError, told
from translator.readers.part_text._clauses import clauses, only_one
from translator.readers.part_text._positions import (
    PLACING,
    Position,
    has_clear_commas,
    positions,
)
from translator.readers.part_text._scope import Scope
from translator.syntax.quoting import unquoted
from translator.syntax.tree import Extent, Node

_PROCESSES: Final = MappingProxyType(
    {
        "drill": "drill",
        "punch": "punch",
        "sub_punch": "sub-punch-and-ream",
        "mark_only": "mark-only",
    }
)
_PURPOSES: Final = ("rod", "vent")
_WISHES: Final = frozenset({*_PROCESSES, *_PURPOSES, "bolt", "depth"})
_PLACED: Final = PLACING | {"gauge", "staggered", "id"}
_OF_HOLES: Final = _PLACED | _WISHES | {"tapped", "countersunk", "inclined"}
_OF_SLOTS: Final = _PLACED | _WISHES | {"along", "across", "turned", "direction"}
_OF_STAMPS: Final = frozenset(
    {"at", "from_end", "from_edge", "height", "inclined", "may_move", "id"}
)
_DIRECTIONS: Final = ("along", "across", "turned", "direction")
_ACROSS_DEG: Final = 90.0


class Made(NamedTuple):
    """A feature but for its id, and where it is written.

    Attributes:
        kind: class of the model.
        fields: its fields.
        id: the id written, None to derive one.
        extent: its place.
    """

    kind: type[Feature]
    fields: Mapping[str, Any]
    id: str | None
    extent: Extent


def holes(statement: Node, scope: Scope) -> list[Made] | None:
    """Return the holes of a statement; None when there was a fault, which is noted."""
    found = clauses(statement, _OF_HOLES, "holes", scope.book)
    places = _grid(found, statement, "holes", scope)
    bolt, fields = _bolt(found, scope), _wishes(found, scope)
    diameter = _diameter(statement, found, bolt, scope)
    sink = _countersink(found, scope)
    if places is None or diameter is None:
        return None
    tapped = found.get("tapped")
    thread = None if tapped is None else "left" if tapped.has("LEFT") else "right"
    fields |= {"diameter_mm": diameter, "bolt": bolt, "thread": thread, **sink}
    return _at_each(Hole, fields, places, found, scope)


def slots(statement: Node, scope: Scope) -> list[Made] | None:
    """Return the slots of a statement; None when there was a fault, which is noted."""
    found = clauses(statement, _OF_SLOTS, "slots", scope.book)
    places = _grid(found, statement, "slots", scope)
    fields = _wishes(found, scope) | {"bolt": _bolt(found, scope)}
    angle = _direction(statement, found, scope)
    width, overall = (scope.size(value, "size") for value in statement.values()[:2])
    if places is None or angle is None or width is None or overall is None:
        return None
    if overall <= width:
        longer, wider = (told(Fraction(mm), scope.units) for mm in (overall, width))
        message = f"Slot length {longer} is not more than its width of {wider}."
        scope.book.say("value-out-of-range", message, statement.extent)
        return None
    fields |= {"width_mm": width, "length_mm": overall, "angle_deg": angle}
    return _at_each(Slot, fields, places, found, scope)


def centre_marks(statement: Node, scope: Scope) -> list[Made] | None:
    """Return the centre marks of a statement; None when there was a fault, which is noted."""
    found = clauses(statement, _PLACED, "centre marks", scope.book)
    places = _grid(found, statement, "centre marks", scope)
    return None if places is None else _at_each(CentreMark, {}, places, found, scope)


def stamps(statement: Node, scope: Scope) -> list[Made] | None:
    """Return the stamp of a statement; None when there was a fault, which is noted."""
    found = clauses(statement, _OF_STAMPS, "stamps", scope.book)
    places = positions(found, statement, "letters", scope)
    if places is not None and len(places) > 1:
        scope.book.say(SYNTAX, "A stamp has one position.", found["at"].extent)
        return None
    height = _needed(found, "height", "height: say `height 10`", statement, scope)
    edge = _needed(found, "from_edge", f"place across: say `{_edge(scope)} 40`", statement, scope)
    angle = _angle(found.get("inclined"), scope)
    if not places or height is None or edge is None or not _is_from_heel(found["from_edge"], scope):
        return None
    text = statement.word("STRING")
    fields = {
        "text": None if text is None else unquoted(text.text),
        "x_mm": grid(places[0].mm),
        "from_heel_mm": grid(edge),
        "height_mm": grid(height),
        "angle_deg": angle or 0.0,
        "may_move": "may_move" in found,
    }
    return [Made(Stamp, fields, written_id(found.get("id")), statement.extent)]


def written_id(clause: Node | None) -> str | None:
    """Return the id that a clause gives, None without one."""
    return None if clause is None else unquoted(clause.last_word.text)


def _at_each(
    kind: type[Feature],
    fields: Mapping[str, Any],
    places: Sequence[tuple[Position, Fraction]],
    found: Mapping[str, Node],
    scope: Scope,
) -> list[Made] | None:
    name = written_id(found.get("id"))
    if name is not None and len(places) != 1:
        message = f"An id names one feature, and this statement makes {len(places)}."
        scope.book.say("id-of-several", message, found["id"].extent)
        return None
    return [
        Made(kind, {"x_mm": grid(x.mm), "y_mm": grid(y), **fields}, name, x.extent)
        for x, y in places
    ]


def _grid(
    found: Mapping[str, Node], statement: Node, what: str, scope: Scope
) -> list[tuple[Position, Fraction]] | None:
    """Return the place along and the gauge of each feature, line by line."""
    along = positions(found, statement, what, scope)
    gauge = found.get("gauge")
    if gauge is None:
        message = f"These {what} have no gauge: say how far from {_the_edge(scope)}, as `gauge 50`."
        scope.book.say(SYNTAX, message, statement.extent)
        return None
    lines = _gauges(gauge, scope)
    if along is None or lines is None:
        return None
    if "staggered" not in found:
        return [(x, y) for y in lines for x in along]
    if len(lines) == 1:
        message = f"These {what} can't be staggered: give two gauges or more to change between."
        scope.book.say("meaningless", message, found["staggered"].extent)
        return None
    return [(x, y) for line, y in enumerate(lines) for x in along if x.number % len(lines) == line]


def _gauges(gauge: Node, scope: Scope) -> list[Fraction] | None:
    if not has_clear_commas(gauge, scope.book):
        return None
    lines: list[Fraction] = []
    for value in gauge.values():
        mm = scope.read(length, value)
        if mm is None:
            return None
        if lines and mm <= lines[-1]:
            units = scope.units
            scope.book.say(
                "gauges-not-increasing",
                f"{told(mm, units)} is not more than {told(lines[-1], units)}, the gauge before it:"
                f" each is measured from {_the_edge(scope)}.",
                value.extent,
            )
            return None
        lines.append(mm)
    return lines


def _bolt(found: Mapping[str, Node], scope: Scope) -> str | None:
    if "bolt" not in found:
        return None
    try:
        return bolt_name(found["bolt"])
    except RefusalError as refusal:
        scope.refuse(refusal)
        return None


def _diameter(
    statement: Node, found: Mapping[str, Node], bolt: str | None, scope: Scope
) -> float | None:
    value = statement.value()
    if value is not None:
        return scope.size(value, "diameter")
    if "bolt" not in found:
        message = "These holes have no size: write a diameter, or `bolt` and its size."
        scope.book.say(SYNTAX, message, statement.extent)
        return None
    if bolt is None:
        return None
    try:
        return standard_hole(bolt, found["bolt"])
    except RefusalError as refusal:
        scope.refuse(refusal)
        return None


def _wishes(found: Mapping[str, Node], scope: Scope) -> dict[str, Any]:
    """Return purpose, process and depth; a fault is noted."""
    process = only_one(found, tuple(_PROCESSES), scope.book)
    depth = found["depth"].value() if "depth" in found else None
    return {
        "purpose": only_one(found, _PURPOSES, scope.book),
        "process": None if process is None else _PROCESSES[process],
        "depth_mm": None if depth is None else scope.size(depth, "depth"),
    }


def _countersink(found: Mapping[str, Node], scope: Scope) -> dict[str, float | None]:
    """Return diameter and angle of a countersink; a fault is noted."""
    clause, inclined = found.get("countersunk"), found.get("inclined")
    value = None if clause is None else clause.value()
    if clause is None and inclined is not None:
        message = "An angle means something for holes only after `countersunk`."
        scope.book.say("meaningless", message, inclined.extent)
    if clause is not None and value is None and inclined is None:
        scope.book.say(SYNTAX, "Say how wide the countersink is: `countersunk 25`.", clause.extent)
    return {
        "countersink_diameter_mm": None if value is None else scope.size(value, "countersink"),
        "countersink_angle_deg": _angle(inclined, scope),
    }


def _direction(statement: Node, found: Mapping[str, Node], scope: Scope) -> float | None:
    """Return the direction of slots in degrees from +x towards the toe."""
    name = only_one(found, _DIRECTIONS, scope.book)
    if name is None:
        scope.book.say(
            SYNTAX,
            "These slots have no direction: say `along leg`, `across leg` or `turned 45deg`.",
            statement.extent,
        )
        return None
    if name in ("along", "across"):
        return 0.0 if name == "along" else _ACROSS_DEG
    return _angle(found[name], scope)


def _angle(clause: Node | None, scope: Scope) -> float | None:
    angle = None if clause is None else clause.node("angle")
    return None if angle is None else scope.degrees(angle)


def _needed(
    found: Mapping[str, Node], name: str, lacking: str, statement: Node, scope: Scope
) -> Fraction | None:
    value = found[name].value() if name in found else None
    if value is None:
        scope.book.say(SYNTAX, f"This stamp has no {lacking}.", statement.extent)
        return None
    return scope.read(length, value)


def _the_edge(scope: Scope) -> str:
    return "the lower edge" if scope.is_flat else "the heel"


def _edge(scope: Scope) -> str:
    return "from lower edge" if scope.is_flat else "from heel"


def _is_from_heel(clause: Node, scope: Scope) -> bool:
    wanted = {True: ("LOWER",), False: ("HEEL",), None: ("HEEL", "LOWER")}[scope.is_flat]
    if clause.has(*wanted):
        return True
    message = f"A stamp is placed `{_edge(scope)}`, and from no other edge."
    scope.book.say("side-unknown", message, clause.extent)
    return False
