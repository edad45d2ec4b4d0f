"""What the statements of one part are read under."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from fractions import Fraction
from typing import TypeVar

from msgspec import Struct
from msgspec.structs import replace

from translator.lengths.parse import Unit
from translator.readers.part_text._amounts import grid, size
from translator.readers.part_text._book import Book, RefusalError
from translator.readers.part_text._figures import degrees
from translator.readers.part_text._frames import Frame, Spot
from translator.syntax.tree import Child, Extent, Node

Read = TypeVar("Read")


class Scope(Struct, frozen=True, kw_only=True):
    """What the statements of one part are read under.

    Attributes:
        book: takes the findings.
        frame: the unit of the file, and what names stand for.
        length_mm: exact length of the piece; None while it is not known, which hides whatever
            depends on it.
        is_flat: whether the section is a flat; None when the section could not be read.
    """

    book: Book
    frame: Frame
    length_mm: Fraction | None = None
    is_flat: bool | None = None

    @property
    def units(self) -> Unit | None:
        """What a bare number takes; None when the file does not say."""
        return self.frame.units

    def spot(self, extent: Extent) -> Spot:
        """Return a place as findings give it."""
        return self.frame.spot(extent)

    @contextmanager
    def under(self, frame: Frame) -> Iterator["Scope"]:
        """Read under another frame; findings are told there."""
        before = self.book.frame
        self.book.frame = frame
        yield replace(self, frame=frame)
        self.book.frame = before

    def read(self, reader: Callable[[Child, Frame], Read], value: Child) -> Read | None:
        """Return what a reader makes of a number; None, with the fault noted, if nothing."""
        try:
            return reader(value, self.frame)
        except RefusalError as refusal:
            self.refuse(refusal)
            return None

    def size(self, value: Child, what: str) -> float | None:
        """Return a size on the model's grid; None, with the fault noted, if it is none."""
        mm = self.read(lambda child, frame: size(child, frame, what), value)
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
