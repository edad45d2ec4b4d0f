"""Sums of an estimate: time by activity, and hours for each tonne."""

from collections.abc import Iterable, Mapping

from translator.bars.clock import ACTIVITIES, Activity, Spell
from translator.bars.estimate_model import (
    KG_PER_SHORT_TON,
    KG_PER_TONNE,
    SECONDS_PER_HOUR,
    ActivityTime,
    EstimatedPiece,
    Totals,
)

_DECIMALS = 6


def by_activity(spells: Iterable[Spell]) -> dict[Activity, float]:
    """Return the seconds of each activity that took any."""
    sums: dict[Activity, float] = {}
    for spell in spells:
        sums[spell.activity] = sums.get(spell.activity, 0.0) + spell.seconds
    return {name: sums[name] for name in ACTIVITIES if sums.get(name)}


def added(*many: Mapping[Activity, float]) -> dict[Activity, float]:
    """Return the sums of several sums."""
    names = {name for sums in many for name in sums}
    return {name: sum(sums.get(name, 0.0) for sums in many) for name in ACTIVITIES if name in names}


def times(sums: Mapping[Activity, float], factor: float) -> dict[Activity, float]:
    """Return sums of so many of a thing."""
    return {name: seconds * factor for name, seconds in sums.items()}


def shares(sums: Mapping[Activity, float]) -> tuple[ActivityTime, ...]:
    """Return the time of each activity with its share of all of them."""
    whole = sum(sums.values())
    return tuple(
        ActivityTime(
            activity=name,
            seconds=rounded(seconds),
            percent=rounded(100.0 * seconds / whole) if whole else 0.0,
        )
        for name, seconds in sums.items()
    )


def totals(
    pieces: Iterable[EstimatedPiece], bars: int, machine_seconds: float, man_seconds: float
) -> Totals:
    """Return the whole of what a machine makes; pieces it can't make count nothing."""
    made = [piece for piece in pieces if piece.verdict != "not"]
    count = sum(piece.quantity for piece in made)
    net = sum(piece.quantity * piece.net_mass_kg for piece in made)
    billed = sum(piece.quantity * piece.billed_mass_kg for piece in made)
    return Totals(
        marks=len(made),
        pieces=count,
        bars=bars,
        machine_seconds=rounded(machine_seconds),
        man_seconds=rounded(man_seconds),
        net_tonnes=rounded(net / KG_PER_TONNE),
        billed_tonnes=rounded(billed / KG_PER_TONNE),
        pieces_per_hour=per_hour(machine_seconds, count),
        man_hours_per_billed_tonne=hours_for(man_seconds, billed, KG_PER_TONNE),
        man_hours_per_billed_short_ton=hours_for(man_seconds, billed, KG_PER_SHORT_TON),
        man_hours_per_net_tonne=hours_for(man_seconds, net, KG_PER_TONNE),
        man_hours_per_net_short_ton=hours_for(man_seconds, net, KG_PER_SHORT_TON),
        machine_hours_per_billed_tonne=hours_for(machine_seconds, billed, KG_PER_TONNE),
        machine_hours_per_billed_short_ton=hours_for(machine_seconds, billed, KG_PER_SHORT_TON),
    )


def hours_for(seconds: float, kilograms: float, unit_kg: float) -> float | None:
    """Return the hours that a time makes for each tonne or short ton; None for no mass."""
    if kilograms <= 0.0:
        return None
    return rounded(seconds / SECONDS_PER_HOUR / (kilograms / unit_kg))


def per_hour(seconds: float, count: int = 1) -> float | None:
    """Return how many of a thing an hour gives; None where they take no time."""
    return rounded(count * SECONDS_PER_HOUR / seconds) if seconds > 0.0 else None


def rounded(value: float) -> float:
    """Return a figure to six decimals, so that a sum's last bits reach no document."""
    return round(value, _DECIMALS)
