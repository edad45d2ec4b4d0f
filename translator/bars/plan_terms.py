"""What a plan is made under: the machine's cut, trim and tail, and what the shop asked for."""

from typing import Final, Literal

from msgspec import Struct, field

from translator.bars.plan_model import PlanOptions
from translator.bars.solve import Effort
from translator.errors import WorkError
from translator.machines.cutting_off import Saw, lost_mm
from translator.machines.profile import Machine

Remnants = Literal["first", "equal", "keep"]

USUAL_LEAST_REMNANT_MM: Final = 1000.0
"""Shorter drops are scrap where neither the shop nor the machine says a length; common
practice, no source."""


class Terms(Struct, frozen=True, kw_only=True):
    """What the shop asked for.

    Attributes:
        remnants: used first (a remnant costs a tenth of new steel), as any bar, or kept.
        least_remnant_mm: shortest drop that goes back into stock; None = the shortest bar that
            the machine takes, else 1 m.
        shared_mitres: whether one cut may make the ends of two mitred pieces.
        phases: those that were asked for; empty = all.
        effort: how much work may go into a group.
    """

    remnants: Remnants = "first"
    least_remnant_mm: float | None = None
    shared_mitres: bool = False
    phases: tuple[str, ...] = ()
    effort: Effort = field(default_factory=Effort)


def options_of(machine: Machine, terms: Terms) -> PlanOptions:
    """Return what a plan for a machine is made under.

    Raises:
        WorkError: for a machine that cuts nothing off: its pieces come cut to length.
    """
    cut = machine.cut_off
    if cut is None:
        raise WorkError(
            f"{machine.name} cuts no pieces off (its profile has no cut_off): there are no bars"
            " to plan"
        )
    tail = machine.grip.tail_mm if machine.grip is not None else 0.0
    least = terms.least_remnant_mm
    if least is None:
        least = machine.stock_length.least_mm or USUAL_LEAST_REMNANT_MM
    return PlanOptions(
        cut="saw" if isinstance(cut, Saw) else cut.cut,
        loss_mm=lost_mm(cut),
        front_trim_mm=cut.front_trim_mm,
        tail_mm=tail,
        least_remnant_mm=least,
        remnants=terms.remnants,
        shared_mitres=terms.shared_mitres,
        phases=terms.phases,
    )
