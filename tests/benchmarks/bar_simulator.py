"""Programs of random orders on the three sample machines, replayed on a blank bar.

    python tests/benchmarks/bar_simulator.py [ORDERS] [MACHINE...] [planned]

Prints for each machine how many bars and pieces were replayed, and every difference. With the
machine "odd" the odd machines of tests/bar_machines.py are taken instead of the samples. The bars
are laid out by the tests' own layout; with "planned" by the planner, every other order with
shared mitre cuts.
"""

import collections
import json
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))
from bar_machines import ODD, odd
from bar_orders import NAMES, order, shop
from bar_plans import planned_order
from bar_simulator import differences

from translator.bars.program import program_of
from translator.bars.program_document import program_json


def replay(own, orders, bars_of=order):
    """Replay random orders on a machine; return counts, and what differs."""
    counts, wrong = collections.Counter(), []
    seed = 0
    while counts["orders"] < orders:
        bars, parts = bars_of(seed, own)
        counts["orders"] += bool(bars)
        for bar in bars:
            program = program_of(bar, parts, own.model)
            counts["bars"] += 1
            counts["pieces"] += len(bar.pieces)
            counts["refused"] += bool(program.refused)
            wrong += [f"seed {seed}: {fault.message}" for fault in program.refused]
            if program.refused:
                continue
            count(counts, program)
            document = json.loads(program_json(program))
            found = differences(document, own.raw, {p.part.mark: p.part for p in parts})
            wrong += [f"seed {seed}, bar {bar.number}: {words}" for words in found]
        seed += 1
    return counts, wrong


def count(counts, program):
    """Count what a program does, to show that the replay had something to replay."""
    counts["second work"] += sum(len(piece.second_work) for piece in program.pieces)
    for step in program.steps:
        counts["regrips"] += step.kind == "grip" and step.is_regrip
        if step.kind == "stop":
            counts["stops"] += 1
            counts.update(op.kind for op in step.operations)


def main(arguments):
    orders = int(arguments[0]) if arguments else 500
    bars_of = planned_order if "planned" in arguments else order
    names = [name for name in arguments[1:] if name != "planned"] or NAMES
    names = tuple(ODD) if names == ["odd"] else names
    failed = False
    for name in names:
        own = odd(name) if name in ODD else shop(name)
        begun = time.process_time()
        counts, wrong = replay(own, orders, bars_of)
        spent = time.process_time() - begun
        said = ", ".join(f"{number} {what}" for what, number in counts.items())
        sys.stdout.write(f"{name}: {said}; {len(wrong)} differences; {spent:.0f} s of CPU\n")
        sys.stdout.writelines(f"  {words}\n" for words in wrong[:20])
        sys.stdout.flush()
        failed = failed or bool(wrong)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
