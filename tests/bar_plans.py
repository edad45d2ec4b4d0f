"""Random orders planned by the planner itself, and the samples: bars for programs to be made of."""

from pathlib import Path

from bar_orders import order

from translator.bars.demand import Demand
from translator.bars.plan import plan_bars
from translator.bars.plan_terms import Terms
from translator.bars.stock import grade_key, section_key, standard_lines
from translator.commands._delivery import Wanted, take

TERN_QUAY = Path(__file__).parent.parent / "samples" / "tern-quay"
LENGTHS = (6000.0, 6096.0, 12000.0)


def planned(own, parts, *, shared_mitres=False):
    """Plan parts on a machine, from lengths that can be bought."""
    keys = {(section_key(p.part.section), grade_key(p.part.grade)) for p in parts}
    stock = list(standard_lines(LENGTHS, sorted(keys)))
    terms = Terms(shared_mitres=shared_mitres)
    return plan_bars([Demand(placed=placed) for placed in parts], stock, own.model, terms)


def planned_order(seed, own):
    """Plan a random order; return its bars and its parts, as ``order`` does."""
    _, parts = order(seed, own)
    if not parts:
        return (), ()
    return planned(own, parts, shared_mitres=bool(seed % 2)).bars, parts


def tern_quay():
    """The parts of the sample delivery that are ready to be made."""
    wanted = Wanted(
        paths=(str(TERN_QUAY),), settings=(), config=None, kind=None, as_of=None, practice=None
    )
    delivery = take(wanted)
    pairs = zip(delivery.outcome.parts, delivery.outcome.refused, strict=True)
    return [placed for placed, why in pairs if not why]
