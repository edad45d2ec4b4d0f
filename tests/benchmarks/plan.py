"""Time and gap of a large cutting plan: 200 marks, 5,000 pieces, 6 stock lengths, 2 sections.

Run it by hand: ``python tests/benchmarks/plan.py``. It prints CPU seconds, bars and the gap,
and ends with 1 when the gap is 1 % or more, or a plan takes 60 s or more.
"""

import random
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from bar_orders import placed, shop
from program_bars import L90, L100X75, SAWING, part

from translator.bars.demand import Demand
from translator.bars.plan import plan_bars
from translator.bars.plan_model import StockLine
from translator.bars.stock import section_key

LENGTHS_MM = (6000.0, 7500.0, 9000.0, 10500.0, 12000.0, 12500.0)
MOST_SECONDS = 60.0
MOST_GAP_PERCENT = 1.0


def order(seed, sections, pitch_mm):
    """200 marks of 25 pieces on the average, and stock: two lengths bought, four on hand."""
    rng = random.Random(seed)
    demands = []
    for number in range(200):
        length = pitch_mm * rng.randint(round(300 / pitch_mm), round(5000 / pitch_mm))
        one = part(
            mark=f"M{number}",
            section=sections[number % len(sections)],
            length_mm=length,
            quantity=rng.randint(10, 40),
        )
        demands.append(Demand(placed=placed(one, "order.bmk", 10 * number + 10)))
    lines = [
        StockLine(
            id=f"{section_key(section)} {mm:g}",
            section=section_key(section),
            grade="S275JR",
            length_mm=mm,
            count=None if mm in (6000.0, 12000.0) else 40,
        )
        for section in sections
        for mm in LENGTHS_MM
    ]
    return demands, lines


def main():
    """Plan three orders; print a line for each."""
    own = shop(SAWING).model
    is_good = True
    for name, sections, pitch in (
        ("one section, mm", (L90,), 1.0),
        ("one section, 1/16 in.", (L90,), 25.4 / 16),
        ("two sections, mm", (L90, L100X75), 1.0),
    ):
        demands, lines = order(1, sections, pitch)
        begin = time.process_time()
        made = plan_bars(demands, lines, own)
        spent = time.process_time() - begin
        pieces = sum(len(bar.pieces) for bar in made.bars)
        gap = max(group.gap_percent for group in made.groups)
        sys.stdout.write(
            f"{name}: {len(demands)} marks, {pieces} pieces on {len(made.bars)} bars, gap"
            f" {gap:.3f} %, {spent:.1f} s of CPU\n"
        )
        is_good = is_good and gap < MOST_GAP_PERCENT and spent < MOST_SECONDS
        is_good = is_good and not made.unplaced
    return 0 if is_good else 1


if __name__ == "__main__":
    sys.exit(main())
