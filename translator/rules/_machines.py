"""What rules of a machine stand on: what the machine can make of the part, worked out once."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct

from translator.findings import Fit, Severity
from translator.model import Placed, place_of
from translator.rules._facts import Facts
from translator.rules._rule import Violation

if TYPE_CHECKING:
    from translator.machines import Capability, Machine


class MachineFacts(Struct, frozen=True, kw_only=True):
    """One part on one machine.

    Attributes:
        facts: of the part.
        machine: the profile.
        capability: what the machine can make of the part, in its best placement.
    """

    facts: Facts
    machine: "Machine"
    capability: "Capability"


def reasons(facts: MachineFacts, name: str) -> Iterator[Violation]:
    """Yield the reasons of one fault, each led by the name of the machine."""
    for reason in facts.capability.reasons:
        if reason.rule == name:
            yield Violation(
                message=f"{facts.machine.name}: {reason.message}",
                element=reason.element,
                value=reason.value,
                limit=reason.limit,
                unit=reason.unit,
                severity=reason.severity,
            )


def each_capability(machines: "Sequence[Machine]", placed: Placed) -> "tuple[Capability, ...]":
    """Return what each machine can make of a part; the room is only loaded when there is one."""
    if not machines:
        return ()
    from translator.machines import capable

    return tuple(capable(machine, placed.part) for machine in machines)


def fits(placed: Placed, capabilities: "Sequence[Capability]") -> tuple[Fit, ...]:
    """Return what a report says of one part on each machine."""
    return tuple(
        Fit(
            path=place_of(placed, "").path,
            mark=placed.part.mark,
            machine=one.machine,
            verdict=one.verdict,
            why=one.why,
        )
        for one in capabilities
    )


def best(capabilities: "Sequence[Capability]") -> int:
    """Return the number of the machine that serves a part best; of equals the first.

    A part that one machine can make is not at fault because another can't; only this one's
    findings are told.
    """
    return min(range(len(capabilities)), key=lambda number: _rank(capabilities[number]))


def _rank(capability: "Capability") -> tuple[int, int]:
    faults = sum(1 for reason in capability.reasons if reason.severity is Severity.ERROR)
    return faults, len(capability.second_work)
