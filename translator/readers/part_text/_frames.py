"""Under what a statement is read: the unit of its file, named numbers, and who called for it.

A statement of a family is told at two places: the call that asked for it, in the part's own
file, and its line in the family, which may stand in another file.
"""

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal, NamedTuple

from msgspec import Struct, field
from msgspec.structs import replace

from translator.findings import Related
from translator.lengths.parse import Unit
from translator.source import Span
from translator.syntax.tree import Extent

Bare = Literal["mm", "inch", "unsaid", "both"]
"""What a bare number takes as a length: the unit of its file, which may not say any; "both" for
one that came about from bare numbers of files in different units."""

NO_NAMES: Final[Mapping[str, "Amount"]] = MappingProxyType({})


class Amount(NamedTuple):
    """A value: a length in millimetres, or a bare number that may be a length or a count.

    Attributes:
        value: millimetres, or the bare number.
        is_length: which of them.
        units: what it takes as a length; None for a length, and for a length over a length.
    """

    value: Fraction
    is_length: bool
    units: Bare | None = None


class Spot(NamedTuple):
    """Where something is written: its place in the part's own file, and lines of families."""

    span: Span
    related: tuple[Related, ...] = ()


class Frame(Struct, frozen=True, kw_only=True):
    """What statements are read under.

    Attributes:
        path: the file they stand in.
        units: what a bare number takes there; None when the file does not say.
        names: numbers that have a name there.
        owner: the family they belong to, or the part that another is the opposite of, in
            words ("the family clip"); "" for a part's own.
        call: where they are called for, in the caller's file; None for a part's own.
        caller: what the call is read under; None for a part's own.
    """

    path: str
    units: Unit | None = None
    names: Mapping[str, Amount] = field(default_factory=lambda: NO_NAMES)
    owner: str = ""
    call: Extent | None = None
    caller: "Frame | None" = None

    def spot(self, extent: Extent) -> Spot:
        """Return the place of a stretch of this frame's file, as findings give it."""
        if self.caller is None or self.call is None:
            return Spot(extent.span(self.path))
        at_call = self.caller.spot(self.call)
        line = Related(span=extent.span(self.path), message=f"the line in {self.owner}")
        further = tuple(
            replace(each, message=each.message.replace("the line in", "called in", 1))
            for each in at_call.related
        )
        return Spot(at_call.span, (line, *further))
