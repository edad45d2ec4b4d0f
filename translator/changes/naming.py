"""Marks in the order a person counts them: C2 before C10."""

import re
from typing import Final

_RUNS: Final = re.compile(r"([0-9]+)")


def in_order(text: str) -> tuple[object, ...]:
    """Return a key that sorts texts with the numbers in them as numbers."""
    runs = _RUNS.split(text)
    # Every second run is a number; they are compared with each other only.
    keys = [
        (run.lower(), 0, "") if n % 2 == 0 else ("", int(run), run) for n, run in enumerate(runs)
    ]
    return (*keys, text)
