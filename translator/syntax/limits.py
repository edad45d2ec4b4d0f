"""How many features a text may make, so that a few signs can't fill the memory.

A repeat makes thousands of holes of a dozen signs. The reader refuses more than these; the
printer, which must be read back, writes each place out where a part has more than are free.
"""

from typing import Final

FREE_FEATURES: Final = 10_000
"""As many may any file have, however short."""

_SIGNS_A_FEATURE: Final = 4
"""Fewer than anybody needs who writes the place of each."""


def most_features(signs: int) -> int:
    """Return how many features a text of so many signs may make."""
    return FREE_FEATURES + signs // _SIGNS_A_FEATURE
