"""What follows from a part is kept at hand while the part is worked on.

A part is read, checked and written one step after another, and each step asks for the same
outlines and figures. It is known again as the same object: to compare or hash all of its values
takes longer than many of the answers.
"""

from collections.abc import Callable
from functools import lru_cache, update_wrapper
from typing import TypeVar, TypeVarTuple

from translator.model import Part

Rest = TypeVarTuple("Rest")
Value = TypeVar("Value")


class _Same:
    """A part that equals nothing but itself. It holds the part, so that no other takes its id."""

    __slots__ = ("part",)

    def __init__(self, part: Part) -> None:
        self.part = part

    def __hash__(self) -> int:
        return id(self.part)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.part is other.part


def at_hand(
    most: int,
) -> Callable[[Callable[[Part, *Rest], Value]], Callable[[Part, *Rest], Value]]:
    """Keep the last results of a pure function of a part (and of small further arguments).

    Args:
        most: how many are kept; parts are large, so a few.
    """

    def kept_at_hand(function: Callable[[Part, *Rest], Value]) -> Callable[[Part, *Rest], Value]:
        @lru_cache(maxsize=most)
        def known(same: _Same, *rest: *Rest) -> Value:
            return function(same.part, *rest)

        def asked(part: Part, *rest: *Rest) -> Value:
            return known(_Same(part), *rest)

        update_wrapper(asked, function)
        return asked

    return kept_at_hand
