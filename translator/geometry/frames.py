"""The model's frame and the outside view of each leg."""

from translator.model import LegName


def outside_sign(leg: LegName) -> float:
    """Return the sign that angles and bulges take when a leg is drawn from outside.

    1.0 for leg a and for the face of a flat, -1.0 for leg b: seen from outside its heel is at
    the top, so what turns from +x towards the toe turns clockwise there.
    """
    return -1.0 if leg == "b" else 1.0


def outside_point(leg: LegName, x: float, y: float) -> tuple[float, float]:
    """Turn a place on a leg into the outside view (u to the right, v up, millimetres).

    The start end lies left in either view. Leg a and the face of a flat have the heel at the
    bottom, leg b has it at the top, so its v runs from 0 at the heel down to minus its width.
    """
    return (x, y * outside_sign(leg) + 0.0)


def solid_point(leg: LegName, x: float, y: float, depth: float = 0.0) -> tuple[float, float, float]:
    """Turn a place on a leg's outer face, or under it, into the solid's X, Y and Z.

    X runs along the piece, leg a's y is +Y with its outer face looking to +Z, leg b's y is -Z
    with its outer face looking to -Y. The axes are right-handed, the heel line is Y = Z = 0.
    ``depth`` goes from the outer face into the steel. A flat lies as leg a does.
    """
    if leg == "b":
        return (x, depth, -y + 0.0)
    return (x, y, -depth + 0.0)
