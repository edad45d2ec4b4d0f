"""End cuts: one plane through the piece at each end."""

from translator.model.numbers import CutDegrees, Frozen


class AngleEnd(Frozen):
    """A through cut of an angle, by its trace on each outer face.

    Each angle is that of the trace from the square, positive = long at that leg's toe.
    Both traces meet at the heel, so any pair is one plane.
    """

    leg_a_deg: CutDegrees = 0.0
    leg_b_deg: CutDegrees = 0.0


class AngleEnds(Frozen):
    """Both ends of an angle; square unless said."""

    start: AngleEnd = AngleEnd()
    far: AngleEnd = AngleEnd()


class FlatEnd(Frozen):
    """A cut of a flat, square through the thickness, positive = long at the upper edge."""

    face_deg: CutDegrees = 0.0


class FlatEnds(Frozen):
    """Both ends of a flat; square unless said."""

    start: FlatEnd = FlatEnd()
    far: FlatEnd = FlatEnd()
