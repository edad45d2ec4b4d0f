"""Lay the radii into the corners of a walk."""

import math
from collections.abc import Sequence

from translator.geometry.contours import Contour, vertex
from translator.geometry.cuts import TOUCH_MM, Node, OutlineFault, mm
from translator.model import Vertex, on_grid


def rounded(nodes: Sequence[Node]) -> tuple[Contour, tuple[OutlineFault, ...]]:
    """Join nodes to a closed contour; a node with a radius becomes an arc tangent to its lines.

    Returns:
        The contour on the grid, not yet cleaned, and a fault for each radius that does not
        fit the lines it rounds.
    """
    ring = [
        n for n, after in zip(nodes, [*nodes[1:], *nodes[:1]], strict=True) if not _same(n, after)
    ]
    reaches = [_reach(ring, index) for index in range(len(ring))]
    contour: list[Vertex] = []
    faults: list[OutlineFault] = []
    for index, node in enumerate(ring):
        if node.radius == 0.0:
            contour.append(vertex(node.x, node.y))
            continue
        room = min(
            _room(ring, reaches, index - 1, index),
            _room(ring, reaches, index, (index + 1) % len(ring)),
        )
        if reaches[index] > 0.0 and room < 1.0 - TOUCH_MM / reaches[index]:
            faults.append(_misfit(node, node.radius * room))
        contour.extend(_arc(ring, index, reaches[index]))
    return tuple(contour), tuple(faults)


def _same(p: Node, q: Node) -> bool:
    return p.radius == q.radius == 0.0 and math.hypot(p.x - q.x, p.y - q.y) < TOUCH_MM / 2.0


def _directions(ring: Sequence[Node], index: int) -> tuple[float, float, float, float, float]:
    """Return the directions into and out of a node, and the turn between them."""
    before, here, after = ring[index - 1], ring[index], ring[(index + 1) % len(ring)]
    ax, ay = here.x - before.x, here.y - before.y
    bx, by = after.x - here.x, after.y - here.y
    a, b = math.hypot(ax, ay), math.hypot(bx, by)
    ax, ay, bx, by = ax / a, ay / a, bx / b, by / b
    return ax, ay, bx, by, math.atan2(ax * by - ay * bx, ax * bx + ay * by)


def _reach(ring: Sequence[Node], index: int) -> float:
    """Return how far from its node an arc touches the lines."""
    if ring[index].radius == 0.0:
        return 0.0
    return ring[index].radius * math.tan(abs(_directions(ring, index)[4]) / 2.0)


def _room(ring: Sequence[Node], reaches: Sequence[float], first: int, second: int) -> float:
    """Return how much of the arcs' reaches the line between two nodes can hold; 1 = all."""
    wanted = reaches[first] + reaches[second]
    line = math.hypot(ring[second].x - ring[first].x, ring[second].y - ring[first].y)
    return line / wanted if wanted > line else 1.0


def _arc(ring: Sequence[Node], index: int, reach: float) -> tuple[Vertex, Vertex]:
    node = ring[index]
    ax, ay, bx, by, turn = _directions(ring, index)
    return (
        vertex(node.x - ax * reach, node.y - ay * reach, math.tan(turn / 4.0)),
        vertex(node.x + bx * reach, node.y + by * reach),
    )


def _misfit(node: Node, limit: float) -> OutlineFault:
    return OutlineFault(
        element=node.element,
        message=f"a radius of {mm(node.radius)} is more than the {mm(limit)} that fits between its"
        " neighbours",
        value=on_grid(node.radius),
        limit=on_grid(limit),
    )
