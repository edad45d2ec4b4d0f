"""Where the elements of a part stand in its source; kept beside the part, not in it."""

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct, field

from translator.findings import Related
from translator.model.part import Part
from translator.source import Span


class Placed(Struct, frozen=True, kw_only=True):
    """A part and the places of its elements.

    Attributes:
        part: the part itself.
        places: element path -> place. "" is the part as a whole and is always there; other
            paths are fields ("length", "section", "quantity", "grade", "mark"), ends
            ("ends.far"), features ("legs.a.a3") and trims ("legs.a.trims.0").
        beyond: element path -> further lines it is written at, for an element that its place
            only calls for: the line in a family, or in the part that this is the opposite of.
    """

    part: Part
    places: Mapping[str, Span]
    beyond: Mapping[str, tuple[Related, ...]] = field(default_factory=lambda: _NOTHING)


_NOTHING: Mapping[str, tuple[Related, ...]] = MappingProxyType({})


def place_of(placed: Placed, element: str) -> Span:
    """Return the place of an element, or of the nearest element around it that has one."""
    return _placed(placed, element)[1]


def lines_beyond(placed: Placed, element: str) -> tuple[Related, ...]:
    """Return the further lines of an element that has its place from a call, else nothing."""
    return placed.beyond.get(_placed(placed, element)[0], ()) if placed.beyond else ()


def _placed(placed: Placed, element: str) -> tuple[str, Span]:
    """Return the path that an element has its place from, and that place."""
    places, path = placed.places, element
    while path:
        # Asked for at once: to ask whether it is there first costs a second look-up.
        try:
            return path, places[path]
        except KeyError:
            path = path.rpartition(".")[0]
    return path, places[path]
