"""What a machine can make of a part: complete, with second work, or not, and why."""

from collections.abc import Iterator, Mapping
from typing import Final, Literal

from msgspec import Struct

from translator.findings import Severity
from translator.geometry.stops import feature_x
from translator.lengths.characters import shown
from translator.machines.cutting_off import Shear
from translator.machines.hand_work import hand_reason, shape_tasks
from translator.machines.handling import Placement
from translator.machines.lay import Lay, lay
from translator.machines.making import Made, Way, crib_reasons, make_features
from translator.machines.marking import stamp_reasons
from translator.machines.parting import parting_reasons
from translator.machines.profile import Machine
from translator.machines.ranges import SLACK_MM
from translator.machines.reasons import Reason, length_words, named
from translator.machines.sizes import length_reasons, section_reasons, takes_section
from translator.machines.steel import for_grade
from translator.machines.webs import near_cuts, thin_webs
from translator.model import LegName, Part, feature_path, leg_of

Answer = Literal["complete", "with second work", "not"]

UNCHECKED: Final = frozenset({"load-not-checked", "grade-assumed"})
"""Rules that say what was not checked, or only under an assumption."""


class Capability(Struct, frozen=True, kw_only=True):
    """What one machine can make of one part.

    Attributes:
        machine: name of the machine.
        verdict: complete, with second work, or not.
        feed: the placement that serves best, the first of those that serve alike.
        reasons: what is to be said about it: faults first, then notes.
        ways: the tool that makes each hole, slot and mark that the machine makes.
    """

    machine: str
    verdict: Answer
    feed: Placement
    reasons: tuple[Reason, ...]
    ways: tuple[Way, ...]

    @property
    def second_work(self) -> tuple[str, ...]:
        """What is left to do after the machine, each a few words."""
        return tuple(dict.fromkeys(r.hand_work for r in self.reasons if r.hand_work))

    @property
    def unchecked(self) -> tuple[str, ...]:
        """What was not checked, or only under an assumption, each a sentence."""
        return tuple(r.message for r in self.reasons if r.rule in UNCHECKED)

    @property
    def why(self) -> str:
        """The first reason why not, else the second work in a list; "" when complete."""
        if self.verdict == "not":
            return self.reasons[0].message
        return ", ".join(self.second_work)


def capable(machine: Machine, part: Part) -> Capability:
    """Say what a machine can make of a part, trying every placement that the profile allows.

    The best placement counts: the one with the fewest faults, then with the least second work,
    then with the fewest tools out of the crib; of equals the first in the profile.
    """
    return min((capable_as(machine, part, each) for each in machine.placements), key=_rank)


def capable_as(machine: Machine, part: Part, placement: Placement) -> Capability:
    """Say what a machine can make of a part that lies in one given way."""
    return _tried(lay(machine, part, placement))


def _rank(capability: Capability) -> tuple[int, ...]:
    faults = sum(1 for r in capability.reasons if r.severity is Severity.ERROR)
    crib = sum(1 for r in capability.reasons if r.rule == "tool-in-crib")
    return faults, len(capability.second_work), crib


def _tried(laid: Lay) -> Capability:
    made = make_features(laid) if takes_section(laid) else {}
    reasons = sorted(_reasons(laid, made), key=lambda r: r.severity.rank)
    verdict: Answer = "complete"
    if any(reason.severity is Severity.ERROR for reason in reasons):
        verdict = "not"
    elif any(reason.hand_work for reason in reasons):
        verdict = "with second work"
    return Capability(
        machine=laid.machine.name,
        verdict=verdict,
        feed=laid.placement,
        reasons=tuple(reasons),
        ways=tuple(one.way for one in made.values() if one.way is not None),
    )


def _reasons(laid: Lay, made: Mapping[tuple[LegName, str], Made]) -> Iterator[Reason]:
    yield from section_reasons(laid)
    if not takes_section(laid):
        return
    yield from length_reasons(laid)
    for one in made.values():
        yield from one.reasons
    yield from thin_webs(laid, made)
    yield from near_cuts(laid, made)
    yield from _dead_end(laid, made)
    yield from parting_reasons(laid)
    yield from stamp_reasons(laid)
    yield from (hand_reason(laid, task) for task in shape_tasks(laid))
    yield from crib_reasons(laid, made)
    yield from _unchecked(laid, made)


def _dead_end(laid: Lay, made: Mapping[tuple[LegName, str], Made]) -> Iterator[Reason]:
    """Yield what lies where the grip can't feed; only pieces that come cut to length end there.

    Of a bar only the last piece could, and a bar is planned with its tail.
    """
    grip = laid.machine.grip
    if laid.machine.cut_off is not None or grip is None or not grip.tail_mm:
        return
    for leg in laid.legs:
        for feature in leg_of(laid.part, leg).features:
            if made[leg, feature.id].way is None:
                continue
            x = feature_x(feature)
            value = x if laid.leads("far") else laid.part.length_mm - x
            if value < grip.tail_mm - SLACK_MM:
                yield Reason(
                    rule="hole-in-dead-end",
                    message=f"{named(feature)} is {length_words(laid.part, value)} from the"
                    f" trailing end, less than the {length_words(laid.part, grip.tail_mm)} that"
                    " can't be brought under the tools",
                    element=feature_path(leg, feature.id),
                    value=value,
                    limit=grip.tail_mm,
                )


def _unchecked(laid: Lay, made: Mapping[tuple[LegName, str], Made]) -> Iterator[Reason]:
    """Yield what the grade was needed for and could not tell, or was only assumed."""
    steel, cut = laid.steel, laid.machine.cut_off
    used = [one.candidate for one in made.values() if one.candidate is not None]
    presses = [c for c in used if c.station.process == "punch" and c.station.force_kn is not None]
    if presses and steel.tensile_most_mpa is None:
        yield _note(
            "load-not-checked", f"the load on the press is not checked: {steel.why_unknown}"
        )
    grade = shown(steel.name) if steel.name else "a part without a grade"
    tools = {c.tool.number: c.tool.thickness_limits for c in used if c.tool.thickness_limits}
    for number, entries in tools.items():
        if for_grade(entries, steel.name) is None:
            words = f"tool {number} has no limit of thickness for {grade}: it is not checked"
            yield _note("load-not-checked", words)
    is_shear = isinstance(cut, Shear) and bool(cut.capacities)
    if isinstance(cut, Shear) and is_shear and for_grade(cut.capacities, steel.name) is None:
        words = f"the shear has no capacity for {grade}: it is not checked"
        yield _note("load-not-checked", words)
    if steel.is_assumed and (presses or tools or is_shear):
        yield _note("grade-assumed", f"no grade is stated; {shown(steel.name)} is assumed")


def _note(rule: str, message: str) -> Reason:
    return Reason(rule=rule, message=message, element="grade", unit="", severity=Severity.NOTE)
