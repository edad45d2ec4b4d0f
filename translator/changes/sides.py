"""Two sides that are compared, and what is told of them mark by mark."""

from collections import Counter
from collections.abc import Iterable
from typing import Final, Literal

from msgspec import Struct, field

from translator.changes.model import Told, Weight, heaviest
from translator.geometry.mass import gross_mass_kg
from translator.model import Placed

Status = Literal["changed", "added", "removed", "renamed", "merged", "split", "unread"]

STATUSES: Final[tuple[Status, ...]] = (
    "unread",
    "changed",
    "renamed",
    "merged",
    "split",
    "added",
    "removed",
)


class Unread(Struct, frozen=True, kw_only=True):
    """A part, or a file, that could not be read, or a mark that a release holds back.

    Attributes:
        path, line: where.
        mark: of the part; "" where it is not known, or for a file as a whole.
        why: the first error, as a sentence; the reason of a hold.
        is_held: whether it is a mark on hold, which a release lists and does not hand out.
    """

    path: str
    line: int
    mark: str
    why: str
    is_held: bool = False

    @property
    def what(self) -> str:
        """What is the matter with it."""
        return "is on hold" if self.is_held else "could not be read"


class Side(Struct, frozen=True, kw_only=True):
    """One of the two states that are compared.

    Attributes:
        name: as the person spelt it.
        parts: all parts that could be read.
        unread: parts and files that could not.
        not_ours: path of a file that is not for this tool, and why.
        nc_files: paths of the files of the detailer format.
        doubtful: paths of files that were read but for something of an unknown mark.
        remarks: what else is to be said of it, in sentences without a full stop.
    """

    name: str
    parts: tuple[Placed, ...]
    unread: tuple[Unread, ...] = ()
    not_ours: tuple[tuple[str, str], ...] = ()
    nc_files: frozenset[str] = frozenset()
    doubtful: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()

    def relative(self, path: str) -> str:
        """Return a path of this side without the name of the side."""
        return path.removeprefix(self.name).lstrip("/") or path.rpartition("/")[2]


class Entry(Struct, frozen=True, kw_only=True):
    """What became of one mark.

    Attributes:
        status: what became of it.
        old, new: the part on either side, None where there is none.
        told: what changed, for a part that is on both sides.
        remarks: what else is to be said, in sentences without a full stop.
        unread: for status "unread", what could not be read on the old side, on the new side.
    """

    status: Status
    old: Placed | None = None
    new: Placed | None = None
    told: Told = field(default_factory=Told)
    remarks: tuple[str, ...] = ()
    unread: tuple[Unread | None, Unread | None] = (None, None)

    @property
    def mark(self) -> str:
        """The mark, of the new side where it has one; "" for a file as a whole."""
        placed = self.new or self.old
        if placed is not None:
            return placed.part.mark
        return next((u.mark for u in self.unread if u is not None), "")

    @property
    def path(self) -> str:
        """The file, of the new side where it has one."""
        placed = self.new or self.old
        if placed is not None:
            return placed.places[""].path
        return next((u.path for u in self.unread if u is not None), "")

    @property
    def weight(self) -> Weight:
        """The heaviest thing that changed; whatever could not be read may be any."""
        if self.status in ("added", "removed", "unread"):
            return "metal"
        own: list[Weight] = ["work"] if self.status in ("merged", "split") else []
        own += ["metal"] if self.told.hand else []
        told = self.told.weight
        return heaviest([*own, *([told] if told else [])]) or "paper"


class Comparison(Struct, frozen=True, kw_only=True):
    """All that changed between two sides.

    Attributes:
        old, new: the sides.
        entries: of every mark that changed or could not be read, in order of the marks.
        unchanged: marks of which nothing changed.
        rounded: marks of which nothing changed but roundings.
        largest_rounding_mm: the largest difference that was taken for rounding.
        not_issued: parts of the old side that a partial new side does not issue again; they are
            no change.
        in_nc_terms: marks of which one side is a file of the detailer format, the other not.
        remarks: what is to be said of marks that stand on one side more than once.
    """

    old: Side
    new: Side
    entries: tuple[Entry, ...]
    unchanged: tuple[str, ...]
    rounded: tuple[str, ...]
    largest_rounding_mm: float
    not_issued: tuple[Placed, ...]
    in_nc_terms: tuple[str, ...]
    remarks: tuple[str, ...]

    @property
    def worst(self) -> Weight | None:
        """The heaviest change, None when nothing changed."""
        return heaviest(entry.weight for entry in self.entries)

    def counts(self) -> Counter[str]:
        """Count the entries by status, and those of parts on both sides by weight."""
        found: Counter[str] = Counter(entry.status for entry in self.entries)
        found.update(f"changed: {e.weight}" for e in self.entries if e.status == "changed")
        return found


def mass_kg(parts: Iterable[Placed]) -> float:
    """Return the mass of all pieces of some parts, in kg as billed."""
    return sum(gross_mass_kg(p.part) * p.part.quantity for p in parts)


def pieces(parts: Iterable[Placed]) -> int:
    """Return the number of pieces of some parts."""
    return sum(p.part.quantity for p in parts)
