"""What an emitter is: a pure function from a part to the bytes of one file."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from msgspec import Struct, field

from translator.conventions import Conventions

if TYPE_CHECKING:
    from translator.model import LegName, Part


class EmitOptions(Struct, frozen=True, kw_only=True):
    """What the caller wishes of an output.

    Attributes:
        leg: the leg to draw, for emitters that write one file per leg.
        conventions: settings for formats whose standard leaves something open.
        paper: name of the paper of a sheet ("A4", "A3", "letter", "tabloid"); None takes the
            smallest usual one on which the drawing reads well.
    """

    leg: "LegName | None" = None
    conventions: Conventions = field(default_factory=Conventions)
    paper: str | None = None


class Emitter(Struct, frozen=True, kw_only=True):
    """One output format.

    Attributes:
        name: short name, as ``--to`` takes it.
        title: name in words.
        suffix: what follows the mark in the file name (".part.json"); with ``per_leg`` the
            leg comes between ("C12.leg-a.dxf", "F1.face.dxf").
        per_leg: one file for each leg.
        media_type: for web use.
        emit: part to bytes; pure, same part same bytes. Raises CannotRepresentError with a
            sentence when writing would change the part.
        losses: one sentence for each thing the part says and the format has no words for;
            the output is written without it.
    """

    name: str
    title: str
    suffix: str
    per_leg: bool
    media_type: str
    emit: "Callable[[Part, EmitOptions], bytes]"
    losses: "Callable[[Part], tuple[str, ...]]"
