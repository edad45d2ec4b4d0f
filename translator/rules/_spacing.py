"""How close two bolts of one leg may stand, by each code."""

from collections.abc import Iterator
from typing import Final

from msgspec import Struct

from translator.findings import Severity
from translator.model import Angle, Hole, Slot, leg_width
from translator.rules._bolts import MeantBolt, least_width
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts
from translator.rules._limits import is_less, shop_limit, weight
from translator.rules._pairs import Pair, centre
from translator.tables.eurocode_distances import eurocode_minimum, staggered_minimum
from translator.tables.figures import Limit
from translator.tables.gauges import GAUGE_NEARNESS_MM, UsualGauge, usual_gauges
from translator.tables.spacing import clear_distance_min, spacing_min

SPACING: Final = "spacing-short"
CLEAR: Final = "clear-distance-short"


class BoltPair(Struct, frozen=True, kw_only=True):
    """Two bolts of one leg under one code.

    Attributes:
        pair: their holes.
        bolts: in the same order.
        larger: the one of the larger diameter.
        hole_mm: diameter of the larger hole.
    """

    pair: Pair
    bolts: tuple[MeantBolt, MeantBolt]
    larger: MeantBolt
    hole_mm: float


class Tight(Struct, frozen=True, kw_only=True):
    """What two bolts that stand too close are held against.

    Attributes:
        limit: the least distance, with its source.
        severity: what it weighs.
        is_across: whether it is the distance between rows along the piece.
        customary: the usual lines of holes that they stand on, None if on none.
    """

    limit: Limit
    severity: Severity
    is_across: bool = False
    customary: UsualGauge | None = None


def bolt_pairs(facts: Facts) -> Iterator[BoltPair]:
    """Yield pairs of holes and slots for bolts of one code that do not run into each other."""
    for pair in facts.pairs:
        it = bolts_of(facts, pair)
        if it is not None and pair.clear_mm >= HALF_LAST_DECIMAL_MM:
            yield it


def bolts_of(facts: Facts, pair: Pair) -> BoltPair | None:
    """Return the bolts of two holes or slots, None unless both have one of the same code."""
    first, second = pair.first, pair.second
    if not (isinstance(first, Hole | Slot) and isinstance(second, Hole | Slot)):
        return None
    one, two = facts.bolts.get(first.id), facts.bolts.get(second.id)
    if one is None or two is None or one.code != two.code:
        return None
    width = max(least_width(first), least_width(second))
    larger = two if one.name != two.name and two.diameter > one.diameter else one
    return BoltPair(pair=pair, bolts=(one, two), larger=larger, hole_mm=width)


def too_tight(facts: Facts, it: BoltPair) -> Tight | None:
    """Return what two bolts fall short of from centre to centre, None if they do not."""
    own = shop_limit(facts, SPACING, bolts=it.bolts, hole_mm=it.hole_mm)
    if own is not None:
        return _tight(own, it)
    if it.larger.code == "us":
        least = spacing_min(it.larger.name, "us", it.larger.edition)
        return None if least is None else _tight(least, it)
    return _tight(eurocode_minimum("p1", it.hole_mm), it) or _tight_across(facts, it)


def too_little_between(facts: Facts, it: BoltPair) -> Limit | None:
    """Return the steel that must be left between two bolts' holes, None if there is enough."""
    least = shop_limit(facts, CLEAR, bolts=it.bolts, hole_mm=it.hole_mm)
    if least is None:
        least = clear_distance_min(it.larger.name, it.larger.code, it.larger.edition)
    return least if least is not None and is_less(it.pair.clear_mm, least) else None


def is_said_of_bolts(facts: Facts, pair: Pair) -> bool:
    """Tell whether a rule on bolts says already that two holes are too close."""
    it = bolts_of(facts, pair)
    if it is None:
        return False
    return too_tight(facts, it) is not None or too_little_between(facts, it) is not None


def _tight(least: Limit, it: BoltPair) -> Tight | None:
    if not is_less(it.pair.apart_mm, least):
        return None
    return Tight(limit=least, severity=weight(least.source, *it.bolts))


def _tight_across(facts: Facts, it: BoltPair) -> Tight | None:
    """Return p2 where two rows along the piece are nearer than it and not staggered enough.

    The load is taken to run along the piece, so this is a warning at most; a note where a
    bolt is not stated or the rows are usual back marks of the leg.
    """
    pair = it.pair
    across, staggered = eurocode_minimum("p2", it.hole_mm), staggered_minimum(it.hole_mm)
    if not is_less(pair.across_mm, across) or is_less(pair.across_mm, staggered.across):
        return None
    if not is_less(pair.apart_mm, staggered.diagonal):
        return None
    is_aligned = pair.along_mm <= HALF_LAST_DECIMAL_MM
    customary = _customary(facts, pair)
    is_sure = customary is None and all(bolt.is_stated for bolt in it.bolts)
    return Tight(
        limit=across if is_aligned else staggered.diagonal,
        severity=Severity.WARNING if is_sure else Severity.NOTE,
        is_across=True,
        customary=customary,
    )


def _customary(facts: Facts, pair: Pair) -> UsualGauge | None:
    section = facts.part.section
    if not isinstance(section, Angle):
        return None
    rows = [centre(pair.first)[1], centre(pair.second)[1]]
    for gauge in usual_gauges(leg_width(section, pair.leg), "eu"):
        if all(
            any(abs(line.mm - row) <= GAUGE_NEARNESS_MM for line in gauge.lines) for row in rows
        ):
            return gauge
    return None
