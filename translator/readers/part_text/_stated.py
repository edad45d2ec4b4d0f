"""Figures that a part states about itself, for geometry to check."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from pydantic import ValidationError

from translator.model import Stated
from translator.readers.part_text._book import SYNTAX, RefusalError
from translator.readers.part_text._figures import decimal
from translator.readers.part_text._frames import Spot
from translator.readers.part_text._scope import Scope
from translator.readers.part_text._sentences import sentences
from translator.syntax.tree import Node

_FIELDS: Final[Mapping[str, tuple[str, str]]] = MappingProxyType(
    {
        "mass": ("mass_per_metre_kg", "kg/m"),
        "paint": ("paint_area_per_metre_m2", "m2/m"),
        "saw": ("saw_length_mm", ""),
    }
)
"""Clause -> field of the model, and its unit."""


def read_stated(statements: Sequence[Node], scope: Scope) -> tuple[Stated, Mapping[str, Spot]]:
    """Return the stated figures of a part and their places; faults are noted."""
    figures: dict[str, float] = {}
    places = {"stated": scope.spot(statements[0].extent)}
    for clause in (clause for statement in statements for clause in statement.nodes()):
        field, unit = _FIELDS[clause.name]
        path = f"stated.{field}"
        if path in places:
            scope.book.say("given-twice", "This figure is stated twice.", clause.extent)
            continue
        places[path] = scope.spot(clause.extent)
        figure = _figure(clause, unit, scope)
        if figure is not None:
            figures[field] = figure
    try:
        return Stated(**figures), places
    except ValidationError as error:
        for loc, sentence in sentences(error):
            place = places.get(f"stated.{loc[0]}", places["stated"])
            scope.book.say_at("value-out-of-range", sentence, place)
        return Stated(), places


def _figure(clause: Node, unit: str, scope: Scope) -> float | None:
    value = clause.value()
    if value is not None:
        return scope.size(value, "saw length")
    measure = clause.its("MEASURE")
    given = measure.text.lower().replace("\u00b2", "2").lstrip("0123456789. \t\u00a0")
    if given != unit:
        message = f"`{measure.text}` has another unit than {unit}."
        scope.book.say(SYNTAX, message, measure.extent)
        return None
    try:
        return decimal(measure)
    except RefusalError as refusal:
        scope.refuse(refusal)
        return None
