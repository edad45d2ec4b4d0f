"""When two features are the same apart from their spelling, and when only rounding parts them.

A feature is told by an anchor and a body: the body is all that it is wherever it lies. Ids
name a feature and are no part of it.
"""

from collections.abc import Sequence
from functools import lru_cache
from typing import Any, Final, NamedTuple

from translator.geometry.contours import arranged
from translator.model import Feature, Opening, Scribe, Stamp, Vertex, on_grid

ROUNDING_MM: Final = 0.011
"""Two roundings to 0.01 mm, as files of the detailer format make, move a figure by up to this."""

ROUNDING_DEG: Final = 0.006
"""Likewise for angles, in degrees."""

ROUNDING_BULGE: Final = 0.002
"""Likewise for the bulge of an arc, whose radius and ends are rounded."""

_PLACE: Final = {"hole": ("x_mm", "y_mm"), "stamp": ("x_mm", "from_heel_mm")}
_LINES: Final = (Opening, Scribe)


class Traits(NamedTuple):
    """What a feature is, with nothing that only names it.

    Attributes:
        kind: of the feature.
        x, y: anchor, mm: the place it is given by; of a line the least x and y of its corners.
        body: everything else, alike for features that differ only in place.
        figures: its lengths in mm, without the anchor.
        angles: its angles in degrees.
        bulges: of its arcs.
        words: what must be equal for two features to differ by rounding only.
    """

    kind: str
    x: float
    y: float
    body: tuple[Any, ...]
    figures: tuple[float, ...]
    angles: tuple[float, ...]
    bulges: tuple[float, ...]
    words: tuple[Any, ...]

    @property
    def key(self) -> tuple[Any, ...]:
        """The same for two features that are one apart from their spelling."""
        return (self.x, self.y, self.body)


def traits(feature: Feature, mark: str) -> Traits:
    """Return the traits of a feature of the part of a mark."""
    if isinstance(feature, _LINES):
        return _line_traits(feature)
    return _point_traits(feature, mark)


@lru_cache(maxsize=8192)
def _point_traits(feature: Feature, mark: str) -> Traits:
    fields = dict(feature)
    fields.pop("id")
    if isinstance(feature, Stamp) and feature.text == mark:
        # The mark, written out: what is stamped is the same.
        fields["text"] = None
    x_name, y_name = _PLACE.get(feature.kind, _PLACE["hole"])
    x, y = fields.pop(x_name), fields.pop(y_name)
    lengths = [n for n, v in fields.items() if n.endswith("_mm") and v is not None]
    angles = [n for n, v in fields.items() if n.endswith("_deg") and v is not None]
    rest = [(n, v) for n, v in fields.items() if n not in lengths and n not in angles]
    return Traits(
        kind=feature.kind,
        x=x,
        y=y,
        body=tuple(fields.items()),
        figures=tuple(fields[n] for n in lengths),
        angles=tuple(fields[n] for n in angles),
        bulges=(),
        words=(*rest, *lengths, *angles),
    )


def _line_traits(feature: Opening | Scribe) -> Traits:
    line = ring(feature.contour) if isinstance(feature, Opening) else _scribed(feature)
    x = min(v.x_mm for v in line)
    y = min(v.y_mm for v in line)
    figures = tuple(on_grid(f) for v in line for f in (v.x_mm - x, v.y_mm - y))
    bulges = tuple(v.bulge for v in line)
    said: tuple[Any, ...] = (feature.kind, len(line))
    if isinstance(feature, Scribe):
        said = (*said, feature.method, feature.closed)
    return Traits(
        kind=feature.kind,
        x=x,
        y=y,
        body=(*said, figures, bulges),
        figures=figures,
        angles=(),
        bulges=bulges,
        words=said,
    )


def ring(contour: Sequence[Vertex]) -> tuple[Vertex, ...]:
    """Return a closed contour in one order, wherever and whichever way its spelling begins."""
    # A contour without area, or one that runs back over itself, has no order of its own.
    return arranged(contour) or tuple(contour)


def _scribed(scribe: Scribe) -> tuple[Vertex, ...]:
    if scribe.closed:
        return ring(scribe.line)
    line = scribe.line
    *edges, last = line
    forwards = (*edges, _corner(last, 0.0))
    bulges = [-v.bulge + 0.0 for v in edges]
    backwards = tuple(
        _corner(v, bulge) for v, bulge in zip(line[::-1], [*bulges[::-1], 0.0], strict=True)
    )
    return min(forwards, backwards, key=lambda way: [(v.x_mm, v.y_mm, v.bulge) for v in way])


def _corner(vertex: Vertex, bulge: float) -> Vertex:
    return Vertex.model_construct(x_mm=vertex.x_mm, y_mm=vertex.y_mm, bulge=bulge)


def rounding_between(one: Traits, two: Traits) -> float | None:
    """Return by how many mm two features differ where that is rounding, None where it is more."""
    if one.words != two.words:
        return None
    pairs = [(one.x, two.x), (one.y, two.y), *zip(one.figures, two.figures, strict=True)]
    most = max(abs(a - b) for a, b in pairs)
    turns = max((abs(a - b) for a, b in zip(one.angles, two.angles, strict=True)), default=0.0)
    bends = max((abs(a - b) for a, b in zip(one.bulges, two.bulges, strict=True)), default=0.0)
    is_same = most <= ROUNDING_MM and turns <= ROUNDING_DEG and bends <= ROUNDING_BULGE
    return most if is_same else None
