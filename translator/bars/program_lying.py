"""How a planned piece lies in the machine: bar places, gauges and where things are written."""

from msgspec import Struct

from translator.bars.plan_model import PlannedPiece
from translator.bars.program_model import Refused, SourcePlace
from translator.machines.lay import Lay, LegLay, lay
from translator.machines.profile import Machine
from translator.model import LegName, Part, Placed, on_grid, place_of
from translator.source import printable


class Lying(Struct, frozen=True, kw_only=True):
    """A planned piece, its part, and the way it lies in the machine.

    Attributes:
        planned: the piece as the plan has it.
        placed: its part, with the places of its elements.
        lay: the same part laid into the machine.
    """

    planned: PlannedPiece
    placed: Placed
    lay: Lay

    @property
    def part(self) -> Part:
        """The part."""
        return self.placed.part

    @property
    def machine(self) -> Machine:
        """The machine."""
        return self.lay.machine

    def leg(self, name: LegName) -> LegLay:
        """Return how one leg lies."""
        return self.lay.legs[name]

    def bar_mm(self, x: float) -> float:
        """Return the bar coordinate of x on the piece, on the grid."""
        return self.planned.bar_mm(x)

    def source(self, element: str) -> SourcePlace:
        """Return the file and line of an element, or of the nearest around it."""
        span = place_of(self.placed, element)
        return SourcePlace(file=printable(span.path), line=span.line)

    def refused(self, rule: str, message: str, remedy: str, element: str = "") -> Refused:
        """Return a refusal of this piece."""
        return Refused(
            rule=rule,
            message=message,
            remedy=remedy,
            piece=self.planned.number,
            mark=self.part.mark,
            element=element,
            source=self.source(element),
        )


def lying(planned: PlannedPiece, placed: Placed, machine: Machine) -> Lying:
    """Lay a planned piece into the machine the way the plan has it."""
    return Lying(planned=planned, placed=placed, lay=lay(machine, placed.part, planned.placement))


def from_heel(leg: LegLay, y: float) -> float:
    """Return the gauge of y from the edge at the heel's place, millimetres on the grid."""
    return on_grid(leg.from_heel(y))


def gauge(machine: Machine, leg: LegLay, y: float) -> float:
    """Return the gauge of y that the machine shows, from its own datum, on the grid."""
    edge = leg.from_heel(y) if machine.datum.across == "heel" else leg.from_toe(y)
    return on_grid(machine.datum.gauge_at_datum_mm + edge)
