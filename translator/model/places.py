"""Where the elements of a part stand in its source; kept beside the part, not in it."""

from collections.abc import Mapping
from dataclasses import dataclass

from translator.model.part import Part
from translator.source import Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A part and the places of its elements.

    Attributes:
        part: the part itself.
        places: element path -> place. "" is the part as a whole and is always there; other
            paths are fields ("length", "section", "quantity", "grade", "mark"), ends
            ("ends.far"), features ("legs.a.a3") and trims ("legs.a.trims.0").
    """

    part: Part
    places: Mapping[str, Span]


def place_of(placed: Placed, element: str) -> Span:
    """Return the place of an element, or of the nearest element around it that has one."""
    path = element
    while path and path not in placed.places:
        path = path.rpartition(".")[0]
    return placed.places[path]
