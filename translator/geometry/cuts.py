"""What a trim does to a leg's outline: the corners it puts in place of those it takes.

A cut is told as nodes; a node with a radius is rounded afterwards, once its neighbours are
known, by an arc tangent to both lines that meet in it.
"""

import math
from typing import Final

from msgspec import Struct

from translator.geometry.ends import EndLine
from translator.model import Clip, Notch, Rounding, on_grid
from translator.model.trims import End

TOUCH_MM: Final = 1e-6
"""Cuts that overlap by no more than the grid's pitch only touch."""


class OutlineFault(Struct, frozen=True, kw_only=True):
    """Why an outline can't be made as the part says.

    Attributes:
        element: path of the trim, end or leg in the part.
        message: a whole sentence, the offending value first, then the limit.
        value: the offending figure in millimetres, None where a figure makes no sense.
        limit: what it is held against, millimetres.
    """

    element: str
    message: str
    value: float | None = None
    limit: float | None = None


class Node(Struct, frozen=True, kw_only=True):
    """A corner of an outline before its radius is laid in."""

    x: float
    y: float
    radius: float = 0.0
    element: str = ""


class Cut(Struct, frozen=True, kw_only=True):
    """What stands in place of a stretch of the outline.

    Attributes:
        nodes: the new corners; at a corner of the leg from the edge to the end line, in an
            edge from the start to the far end.
        edge_from: least x that it takes from the edge, or the corner's own x.
        edge_to: greatest x that it takes from the edge.
        end_y: y up to which it takes the end line (a notch: the edge's y).
        name: the trim's name in a sentence.
        is_cope: the end line is left in a step, square to it.
    """

    nodes: tuple[Node, ...]
    edge_from: float
    edge_to: float
    end_y: float
    name: str
    element: str = ""
    is_cope: bool = False


class Corner(Struct, frozen=True, kw_only=True):
    """A corner of a leg before trims: where an end line meets a long edge."""

    end: End
    line: EndLine
    edge_y: float
    width: float
    outermost_x: float

    @property
    def into(self) -> float:
        """1.0 where the leg lies towards +x of this corner, -1.0 at the far end."""
        return 1.0 if self.end == "start" else -1.0

    @property
    def up(self) -> float:
        """1.0 where the leg lies towards +y of this corner, -1.0 at the toe."""
        return 1.0 if self.edge_y == 0.0 else -1.0

    @property
    def x(self) -> float:
        """Where the corner lies."""
        return self.line.at(self.edge_y)


def mm(value: float) -> str:
    """Return a length for a sentence, to 0.001 mm."""
    return f"{on_grid(value):.3f}".rstrip("0").rstrip(".") + " mm"


def plain_corner(corner: Corner) -> Cut:
    """Return the corner as it is without a trim."""
    node = Node(x=corner.x, y=corner.edge_y)
    return Cut(
        nodes=(node,),
        edge_from=corner.x,
        edge_to=corner.x,
        end_y=corner.edge_y,
        name=f"{corner.end} end",
    )


def cope(  # noqa: PLR0913 - a cope is these sizes
    corner: Corner,
    *,
    plane_x: float,
    across: float,
    radius: float,
    element: str,
    name: str,
) -> Cut | OutlineFault:
    """Return a rectangle cut out of a corner, its square side at ``plane_x``.

    Returns:
        The cut, or the fault when it passes the leg's width, or its inside corner lies off the leg.
    """
    if across >= corner.width:
        return _too_deep(name, across, corner.width, element)
    inside_y = corner.edge_y + corner.up * across
    along = (plane_x - corner.outermost_x) * corner.into
    least = max(
        (corner.x - corner.outermost_x) * corner.into,
        (corner.line.at(inside_y) - corner.outermost_x) * corner.into,
    )
    if along <= least:
        return OutlineFault(
            element=element,
            message=f"the {name} is {mm(along)} long, not more than the {mm(least)} that the"
            " end cut itself takes there",
            value=on_grid(along),
            limit=on_grid(least),
        )
    nodes = (
        Node(x=plane_x, y=corner.edge_y, element=element),
        Node(x=plane_x, y=inside_y, radius=radius, element=element),
        Node(x=corner.line.at(inside_y), y=inside_y, element=element),
    )
    return _corner_cut(corner, nodes, edge_x=plane_x, end_y=inside_y, name=name, is_cope=True)


def clip(corner: Corner, trim: Clip, element: str) -> Cut | OutlineFault:
    """Return a corner cut straight across, both lengths measured from the corner itself.

    ``along_mm`` lies on the long edge, ``across_mm`` on the end line, which a mitre slopes.

    Returns:
        The cut, or the fault when it is longer than the end line.
    """
    name = f"clip at the {trim.end} end's {trim.side} corner"
    stretch = math.hypot(1.0, corner.line.slope)
    if trim.across_mm > corner.width * stretch + TOUCH_MM:
        return OutlineFault(
            element=element,
            message=f"the {name} takes {mm(trim.across_mm)} of the end, which is"
            f" {mm(corner.width * stretch)} long",
            value=trim.across_mm,
            limit=on_grid(corner.width * stretch),
        )
    edge_x = corner.x + corner.into * trim.along_mm
    end_y = corner.edge_y + corner.up * trim.across_mm / stretch
    nodes = (
        Node(x=edge_x, y=corner.edge_y, element=element),
        Node(x=corner.line.at(end_y), y=end_y, element=element),
    )
    return _corner_cut(corner, nodes, edge_x=edge_x, end_y=end_y, name=name)


def rounding(corner: Corner, trim: Rounding, element: str) -> Cut | OutlineFault:
    """Return a corner rounded by an arc tangent to the edge and to the end line.

    Returns:
        The cut, or the fault when the arc is longer than the end line.
    """
    name = f"rounding at the {trim.end} end's {trim.side} corner"
    stretch = math.hypot(1.0, corner.line.slope)
    cosine = corner.into * corner.up * corner.line.slope / stretch
    tangent = trim.radius_mm * math.sqrt((1.0 + cosine) / (1.0 - cosine))
    if tangent > corner.width * stretch + TOUCH_MM:
        limit = trim.radius_mm * corner.width * stretch / tangent
        return OutlineFault(
            element=element,
            message=f"the {name} has a radius of {mm(trim.radius_mm)}, more than the"
            f" {mm(limit)} that fits the end",
            value=trim.radius_mm,
            limit=on_grid(limit),
        )
    edge_x = corner.x + corner.into * tangent
    end_y = corner.edge_y + corner.up * tangent / stretch
    node = Node(x=corner.x, y=corner.edge_y, radius=trim.radius_mm, element=element)
    return _corner_cut(corner, (node,), edge_x=edge_x, end_y=end_y, name=name)


def notch(trim: Notch, edge_y: float, width: float, element: str) -> Cut | OutlineFault:
    """Return a rectangle cut into a long edge.

    Returns:
        The cut, or the fault when it passes the leg's width.
    """
    name = f"notch from {mm(trim.x_from_mm)} to {mm(trim.x_to_mm)}"
    if trim.across_mm >= width:
        return _too_deep(name, trim.across_mm, width, element)
    bottom = edge_y + (trim.across_mm if edge_y == 0.0 else -trim.across_mm)
    r = trim.radius_mm
    nodes = (
        Node(x=trim.x_from_mm, y=edge_y, element=element),
        Node(x=trim.x_from_mm, y=bottom, radius=r, element=element),
        Node(x=trim.x_to_mm, y=bottom, radius=r, element=element),
        Node(x=trim.x_to_mm, y=edge_y, element=element),
    )
    return Cut(
        nodes=nodes,
        edge_from=trim.x_from_mm,
        edge_to=trim.x_to_mm,
        end_y=edge_y,
        name=name,
        element=element,
    )


def _too_deep(name: str, across: float, width: float, element: str) -> OutlineFault:
    return OutlineFault(
        element=element,
        message=f"the {name} is {mm(across)} deep, not less than the leg's width of {mm(width)}",
        value=on_grid(across),
        limit=on_grid(width),
    )


def _corner_cut(  # noqa: PLR0913 - as many as a cut has
    corner: Corner,
    nodes: tuple[Node, ...],
    *,
    edge_x: float,
    end_y: float,
    name: str,
    is_cope: bool = False,
) -> Cut:
    return Cut(
        nodes=nodes,
        edge_from=min(corner.x, edge_x),
        edge_to=max(corner.x, edge_x),
        end_y=end_y,
        name=name,
        element=nodes[0].element,
        is_cope=is_cope,
    )
