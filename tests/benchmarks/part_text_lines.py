"""What 1,000, 10,000 and 100,000 lines of part text cost to read: CPU seconds and ratios.

By hand: ``python tests/benchmarks/part_text_lines.py``. The cost is linear when ten times the
lines take about ten times as long.
"""

import sys
import time

from translator.conventions import Conventions
from translator.readers import readers
from translator.source import Source

PART = """\
part P{n} "clip" {{
  section  L4x3-1/2x3/8
  length   11-1/2
  quantity 24
  leg a {{
    holes 13/16  gauge 2-1/2  at 1-1/4, 3 @ 3
  }}
  leg b {{ slots 13/16 x 1 across leg  gauge 2  spaces 1-1/4, 3 @ 3 = 9, 1-1/4 to end }}
}}

"""
LINES_EACH = PART.count("\n")


def seconds(lines: int) -> float:
    """Return the CPU time of reading that many lines."""
    text = "units inch\n" + "".join(PART.format(n=n) for n in range(lines // LINES_EACH))
    reader = next(reader for reader in readers() if reader.name == "bmk")
    begun = time.process_time()
    reading = reader.lower(reader.parse(Source(path="big.bmk", data=text.encode())), Conventions())
    taken = time.process_time() - begun
    if len(reading.parts) != lines // LINES_EACH:
        raise SystemExit(f"{len(reading.parts)} parts came of {lines} lines")
    return taken


def main() -> None:
    """Print the cost of three lengths, each against the one before."""
    seconds(100)
    before = 0.0
    for lines in (1_000, 10_000, 100_000):
        taken = seconds(lines)
        ratio = f", {taken / before:.1f} times the line above" if before else ""
        sys.stdout.write(f"{lines:7d} lines: {taken:.2f} s of CPU{ratio}\n")
        before = taken


if __name__ == "__main__":
    main()
