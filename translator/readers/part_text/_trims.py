"""Trims of a leg: copes, clips, rounded corners, notches."""

from translator.model import Clip, Cope, Notch, Rounding, Trim
from translator.readers.part_text._amounts import grid, length
from translator.readers.part_text._book import SYNTAX
from translator.readers.part_text._contours import outline, wrong_side
from translator.readers.part_text._scope import Scope
from translator.syntax.tree import Node

__all__ = ["clip", "cope", "notch", "outline", "rounding"]


def cope(statement: Node, scope: Scope) -> Trim | None:
    """Return a cope; None when there was a fault, which is noted.

    Raises:
        pydantic.ValidationError: for figures that the model does not take.
    """
    corner, side = _corner(statement, scope), _side(statement, scope)
    radius = _radius(statement, scope)
    if corner is None or side is None or radius is None:
        return None
    return Cope.model_validate({"end": _end(statement), "side": side, "radius_mm": radius} | corner)


def clip(statement: Node, scope: Scope) -> Trim | None:
    """Return a clip; None when there was a fault, which is noted."""
    corner, side = _corner(statement, scope), _side(statement, scope)
    if corner is None or side is None:
        return None
    return Clip.model_validate({"end": _end(statement), "side": side} | corner)


def rounding(statement: Node, scope: Scope) -> Trim | None:
    """Return a rounded corner; None when there was a fault, which is noted."""
    side, radius = _side(statement, scope), _radius(statement, scope)
    if side is None or radius is None:
        return None
    return Rounding.model_validate({"end": _end(statement), "side": side, "radius_mm": radius})


def notch(statement: Node, scope: Scope) -> Trim | None:
    """Return a notch; None when there was a fault, which is noted.

    Raises:
        pydantic.ValidationError: for figures that the model does not take.
    """
    side, radius = _side(statement, scope), _radius(statement, scope)
    begin, end = (scope.read(length, value) for value in statement.values()[:2])
    deep = statement.node("deep")
    value = None if deep is None else deep.value()
    across = None if value is None else scope.size(value, "depth")
    if side is None or radius is None or begin is None or end is None or across is None:
        return None
    return Notch.model_validate(
        {
            "side": side,
            "x_from_mm": grid(begin),
            "x_to_mm": grid(end),
            "across_mm": across,
            "radius_mm": radius,
        }
    )


def _end(statement: Node) -> str:
    return "start" if statement.has("START") else "far"


def _side(statement: Node, scope: Scope) -> str | None:
    word = statement.its("HEEL", "TOE", "LOWER", "UPPER")
    is_of_flat = word.type in ("LOWER", "UPPER")
    if scope.is_flat is None or scope.is_flat == is_of_flat:
        return word.type.lower()
    scope.book.say(SYNTAX, wrong_side(word, is_flat=scope.is_flat), word.extent)
    return None


def _corner(statement: Node, scope: Scope) -> dict[str, float] | None:
    """Return how far a cut runs along the piece and across the leg."""
    node = next(statement.nodes("corner", "corner_deep_first", "across_corner"))
    first, second = (scope.size(value, "cut") for value in node.values())
    if first is None or second is None:
        return None
    if node.name == "corner_deep_first":
        first, second = second, first
    return {"along_mm": first, "across_mm": second}


def _radius(statement: Node, scope: Scope) -> float | None:
    """Return the radius, 0 where none is given; None when there was a fault."""
    node = statement.node("radius")
    value = None if node is None else node.value()
    return 0.0 if value is None else scope.size(value, "radius")
