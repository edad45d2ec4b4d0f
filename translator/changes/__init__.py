"""What changed between two states of a part, a folder or a release, in shop words.

``compare_parts`` tells one part from another, ``applied`` does what was told, and ``compare``
puts two whole sides beside each other.
"""

from translator.changes.applying import applied
from translator.changes.comparing import compare
from translator.changes.model import Change, Item, Told, Weight, heaviest
from translator.changes.parts import compare_parts
from translator.changes.sides import Comparison, Entry, Side, Unread

__all__ = [
    "Change",
    "Comparison",
    "Entry",
    "Item",
    "Side",
    "Told",
    "Unread",
    "Weight",
    "applied",
    "compare",
    "compare_parts",
    "heaviest",
]
