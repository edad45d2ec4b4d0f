"""When two features are the same apart from their spelling, and when only rounding parts them.

A feature is told by an anchor and a body: the body is all that it is wherever it lies. Ids
name a feature and are no part of it.
"""

from collections.abc import Mapping, Sequence
from typing import Any, Final, NamedTuple

from translator.geometry.contours import arranged
from translator.model import (
    CentreMark,
    Feature,
    Hole,
    Opening,
    Scribe,
    Slot,
    Stamp,
    Vertex,
    on_grid,
)

ROUNDING_MM: Final = 0.011
"""Two roundings to 0.01 mm, as files of the detailer format make, move a figure by up to this."""

ROUNDING_DEG: Final = 0.006
"""Likewise for angles, in degrees."""

ROUNDING_BULGE: Final = 0.002
"""Likewise for the bulge of an arc, whose radius and ends are rounded."""

_POINTS: Final = (Hole, Slot, CentreMark, Stamp)
_NOT_BODY: Final = frozenset({"id", "kind", "x_mm", "y_mm", "from_heel_mm"})
BODY: Final[Mapping[str, tuple[str, ...]]] = {
    kind.model_fields["kind"].default: tuple(n for n in kind.model_fields if n not in _NOT_BODY)
    for kind in _POINTS
}
"""Kind of a feature at one point -> names of the fields of its body, in order."""


class Traits(NamedTuple):
    """What a feature is, with nothing that only names it.

    Attributes:
        kind: of the feature.
        x, y: anchor, mm: the place it is given by; of a line the least x and y of its corners.
        body: everything else, alike for features that differ only in place.
    """

    kind: str
    x: float
    y: float
    body: tuple[Any, ...]

    @property
    def key(self) -> tuple[Any, ...]:
        """The same for two features that are one apart from their spelling."""
        return self

    @property
    def is_line(self) -> bool:
        """Whether it is a line or an opening, told corner by corner."""
        return self.kind not in BODY


def traits(feature: Feature, mark: str) -> Traits:
    """Return the traits of a feature of the part of a mark."""
    if isinstance(feature, Opening | Scribe):
        return _line_traits(feature)
    fields = feature.__dict__
    body = tuple(fields[name] for name in BODY[feature.kind])
    if isinstance(feature, Stamp):
        if feature.text == mark:
            # The mark, written out: what is stamped is the same.
            body = (None, *body[1:])
        return Traits(feature.kind, feature.x_mm, feature.from_heel_mm, body)
    return Traits(feature.kind, feature.x_mm, feature.y_mm, body)


def _line_traits(feature: Opening | Scribe) -> Traits:
    line = ring(feature.contour) if isinstance(feature, Opening) else _scribed(feature)
    x = min(v.x_mm for v in line)
    y = min(v.y_mm for v in line)
    figures = tuple(on_grid(f) for v in line for f in (v.x_mm - x, v.y_mm - y))
    bulges = tuple(v.bulge for v in line)
    said: tuple[Any, ...] = (len(line),)
    if isinstance(feature, Scribe):
        said = (*said, feature.method, feature.closed)
    return Traits(feature.kind, x, y, (said, figures, bulges))


class Figures(NamedTuple):
    """The numbers of a body apart from its words.

    Attributes:
        lengths: in mm.
        angles: in degrees.
        bulges: of arcs.
        words: what must be equal for two features to differ by rounding only.
    """

    lengths: tuple[float, ...]
    angles: tuple[float, ...]
    bulges: tuple[float, ...]
    words: tuple[Any, ...]


def figures_of(one: Traits) -> Figures:
    """Return the numbers of a feature, without its place."""
    if one.is_line:
        said, lengths, bulges = one.body
        return Figures(lengths, (), bulges, (one.kind, *said))
    named = [(n, v) for n, v in zip(BODY[one.kind], one.body, strict=True) if v is not None]
    return Figures(
        tuple(v for n, v in named if n.endswith("_mm")),
        tuple(v for n, v in named if n.endswith("_deg")),
        (),
        (one.kind, *((n, None if n.endswith(("_mm", "_deg")) else v) for n, v in named)),
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
    if one.kind != two.kind or _off(one, two) > ROUNDING_MM:
        return None
    ours, theirs = figures_of(one), figures_of(two)
    if ours.words != theirs.words:
        return None
    pairs = [(one.x, two.x), (one.y, two.y), *zip(ours.lengths, theirs.lengths, strict=True)]
    # On the grid: the difference of two places carries the noise of its last bits.
    most = on_grid(max(abs(a - b) for a, b in pairs))
    turns = _most(ours.angles, theirs.angles)
    bends = _most(ours.bulges, theirs.bulges)
    is_same = most <= ROUNDING_MM and turns <= ROUNDING_DEG and bends <= ROUNDING_BULGE
    return most if is_same else None


def _off(one: Traits, two: Traits) -> float:
    return on_grid(max(abs(one.x - two.x), abs(one.y - two.y)))


def _most(ours: Sequence[float], theirs: Sequence[float]) -> float:
    return max((abs(a - b) for a, b in zip(ours, theirs, strict=True)), default=0.0)
