"""Features of one leg: holes, slots, openings, marks, scribed lines and stamps."""

from typing import Annotated, Final, Literal

from pydantic import AfterValidator, Field, model_validator

from translator.lengths.grid import angle_on_grid, slot_direction, text_direction
from translator.model.numbers import Degrees, Frozen, Mm, SizeMm, Text

Identifier = Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9_.-]{0,63}$")]
"""Id of a feature, one of a kind within its part: the leg's letter and a number by order."""

MOST_POINTS: Final = 5_000
"""Corners of all contours and lines of a part; a plate cut by hand has some dozens."""

_INCHES = r"[1-9][0-9]?(-[1-9][0-9]?/[1-9][0-9]?)?|[1-9][0-9]?/[1-9][0-9]?"
Bolt = Annotated[str, Field(pattern=rf"^(M[1-9][0-9]{{0,2}}|{_INCHES})$")]
"""The bolt meant: ``M20``, or inches as ``3/4``, ``1``, ``1-1/8``."""

Process = Literal["drill", "punch", "sub-punch-and-ream", "mark-only"]
"""A wish of the designer on how a hole is made; None leaves it to the shop."""

Purpose = Literal["rod", "vent"]
"""A hole that no bolt goes through; None says nothing."""

SlotDegrees = Annotated[Degrees, AfterValidator(slot_direction)]
TextDegrees = Annotated[Degrees, AfterValidator(text_direction)]
Bulge = Annotated[float, Field(ge=-1, le=1, allow_inf_nan=False), AfterValidator(angle_on_grid)]


class Vertex(Frozen):
    """A corner of a contour and the edge that leaves it.

    ``bulge`` is the tangent of a quarter of the arc's angle, positive where the edge turns
    from +x towards the toe; 0 for a straight edge. No edge turns more than 180 degrees.
    """

    x_mm: Mm
    y_mm: Mm
    bulge: Bulge = 0.0


class _Bolted(Frozen):
    bolt: Bolt | None = None
    purpose: Purpose | None = None
    process: Process | None = None

    @model_validator(mode="after")
    def _bolt_or_purpose(self) -> "_Bolted":
        if self.bolt is not None and self.purpose is not None:
            raise ValueError(f"a {self.purpose} hole takes no bolt, yet bolt {self.bolt} is named")
        return self


class Hole(_Bolted):
    """A round hole; x and y are its centre.

    ``depth_mm`` None means through. A countersink opens on the outer face. For a tapped hole
    the diameter is the thread's size as the source wrote it.
    """

    id: Identifier
    kind: Literal["hole"] = "hole"
    x_mm: Mm
    y_mm: Mm
    diameter_mm: SizeMm
    depth_mm: SizeMm | None = None
    thread: Annotated[Literal["right", "left"], "hand"] | None = None
    countersink_diameter_mm: SizeMm | None = None
    countersink_angle_deg: Degrees | None = None


class Slot(_Bolted):
    """A slot with round ends; x and y are its middle, ``length_mm`` is overall.

    ``angle_deg`` is the direction of the long axis from +x towards the toe, in (-90, 90].
    """

    id: Identifier
    kind: Literal["slot"] = "slot"
    x_mm: Mm
    y_mm: Mm
    width_mm: SizeMm
    length_mm: SizeMm
    angle_deg: SlotDegrees = 0.0
    depth_mm: SizeMm | None = None

    @model_validator(mode="after")
    def _longer_than_wide(self) -> "Slot":
        if self.length_mm <= self.width_mm:
            raise ValueError(
                f"slot length {self.length_mm:g} mm is not more than its width of"
                f" {self.width_mm:g} mm"
            )
        return self


class Opening(Frozen):
    """A cut-out of any shape inside a leg, closed from its last corner to its first."""

    id: Identifier
    kind: Literal["opening"] = "opening"
    contour: Annotated[tuple[Vertex, ...], Field(min_length=2, max_length=MOST_POINTS)]


class CentreMark(Frozen):
    """A centre punch mark; no hole."""

    id: Identifier
    kind: Literal["centre_mark"] = "centre_mark"
    x_mm: Mm
    y_mm: Mm


class Scribe(Frozen):
    """A layout line on the outer face that removes no material."""

    id: Identifier
    kind: Literal["scribe"] = "scribe"
    method: Literal["scribe", "powder", "punch"] = "scribe"
    closed: bool = False
    line: Annotated[tuple[Vertex, ...], Field(min_length=2, max_length=MOST_POINTS)]


class Stamp(Frozen):
    """Letters on the outer face, read from outside.

    ``x_mm`` is the left end of the text as read, ``from_heel_mm`` the edge of the letters
    nearest the heel, whichever way the leg lies. ``angle_deg`` 0 reads along the piece from
    the start end; it is positive from +x towards the toe, about the point (x, from heel).
    ``text`` None stamps the piece mark.
    """

    id: Identifier
    kind: Literal["stamp"] = "stamp"
    text: Annotated[Text, Field(min_length=1)] | None = None
    x_mm: Mm
    from_heel_mm: Mm
    height_mm: SizeMm
    angle_deg: TextDegrees = 0.0
    may_move: bool = False


Feature = Annotated[
    Hole | Slot | Opening | CentreMark | Scribe | Stamp, Field(discriminator="kind")
]
