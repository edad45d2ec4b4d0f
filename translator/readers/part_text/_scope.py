"""What the statements of one part are read under."""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeVar

from translator.lengths.parse import Unit
from translator.readers.part_text._amounts import degrees, grid, size
from translator.readers.part_text._book import Book, RefusalError
from translator.syntax.tree import Child, Extent, Node

Read = TypeVar("Read")


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """What the statements of one part are read under.

    Attributes:
        book: takes the findings.
        units: what a bare number takes; None when the file does not say.
        length_mm: exact length of the piece; None while it is not known, which hides whatever
            depends on it.
        is_flat: whether the section is a flat; None when the section could not be read.
    """

    book: Book
    units: Unit | None
    length_mm: Fraction | None = None
    is_flat: bool | None = None

    def read(self, reader: Callable[[Child, Unit | None], Read], value: Child) -> Read | None:
        """Return what a reader makes of a number; None, with the fault noted, if nothing."""
        try:
            return reader(value, self.units)
        except RefusalError as refusal:
            self.refuse(refusal)
            return None

    def size(self, value: Child, what: str) -> float | None:
        """Return a size on the model's grid; None, with the fault noted, if it is none."""
        mm = self.read(lambda child, units: size(child, units, what), value)
        return None if mm is None else grid(mm)

    def degrees(self, angle: Node) -> float | None:
        """Return an angle in degrees; None, with the fault noted, if it has too many digits."""
        try:
            return degrees(angle)
        except RefusalError as refusal:
            self.refuse(refusal)
            return None

    def has_room(self, features: int, extent: Extent) -> bool:
        """Count features against what one file may hold; False, with a finding, beyond it."""
        book = self.book
        book.features += features
        if book.features > book.most_features:
            message = (
                f"With these the file has {book.features} features, more than the"
                f" {book.most_features} that a file of its size may have: split it."
            )
            book.say("too-many-features", message, extent)
        return book.features <= book.most_features

    def refuse(self, refusal: RefusalError) -> None:
        """Note a refusal; that the units are missing is said once a part."""
        self.book.refuse(refusal, once=refusal.rule == "units-missing")
