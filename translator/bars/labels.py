"""Labels of pieces and bundles: what each says, and the trail from bar to piece to release."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final, Literal
from urllib.parse import urlencode

from msgspec import Struct

from translator.bars.plan_model import PlannedBar, PlannedPiece
from translator.bars.program import bar_id, part_key
from translator.bars.wording import length_words
from translator.documents.csv_text import csv_bytes
from translator.model import Part, Placed

Each = Literal["piece", "bundle"]
"""What gets a label: every piece, or the pieces of a mark that lie together."""

_COLUMNS: Final = (
    *("mark", "order", "drawing", "revision", "title", "from", "to", "of", "pieces"),
    *("section", "length", "length_mm", "grade", "finish", "phase", "lot"),
    *("heat", "bars", "bar_piece", "release", "second_work", "code"),
)


class Label(Struct, frozen=True, kw_only=True):
    """One label.

    ``first`` to ``last`` of ``count`` are the pieces that it is on, counted over all pieces of
    the mark. ``bars`` are the ids of the bars they come from and ``bar_piece`` the number of the
    piece on its bar, 0 for a bundle and where there is no plan.
    """

    part: Part
    first: int
    last: int
    count: int
    section: str
    heat: str = ""
    bars: tuple[str, ...] = ()
    bar_piece: int = 0
    release: str = ""

    @property
    def pieces(self) -> int:
        """How many pieces the label is on."""
        return self.last - self.first + 1

    @property
    def length(self) -> str:
        """The piece's length in the author's units."""
        return length_words(self.part.length_mm, self.part.units)

    @property
    def quantity_words(self) -> str:
        """Which of how many pieces: "piece 3 of 24", "24 pieces, 1-24 of 48"."""
        if self.pieces == 1:
            return f"piece {self.first} of {self.count}"
        if self.pieces == self.count:
            return f"{self.pieces} pieces, all"
        return f"{self.pieces} pieces, {self.first}-{self.last} of {self.count}"

    @property
    def code(self) -> str:
        """What a machine reads: the trail of the piece as name=value pairs joined by ``&``.

        Values are percent-encoded as in a query of a web address (RFC 3986), so that no text
        can be taken for another field.
        """
        last = self.last if self.pieces > 1 else ""
        fields = (
            *(("order", self.part.order), ("mark", self.part.mark)),
            *(("rev", self.part.revision), ("piece", self.first), ("to", last)),
            *(("of", self.count), ("heat", self.heat), ("bar", ",".join(self.bars))),
            *(("release", self.release),),
        )
        return urlencode([(name, value) for name, value in fields if value], safe=",")


def part_labels(
    parts: Iterable[Placed], each: Each, release: str = "", most: int | None = None
) -> Iterator[Label]:
    """Yield labels of parts that have not been planned: no heat, no bar.

    Args:
        parts: the parts with their quantities.
        each: what gets a label.
        release: id of the release that they belong to, "" for none.
        most: pieces of a bundle; None = all of a mark together.
    """
    for placed in parts:
        part = placed.part
        size = 1 if each == "piece" else (most or part.quantity)
        for first in range(1, part.quantity + 1, size):
            yield Label(
                part=part,
                first=first,
                last=min(first + size - 1, part.quantity),
                count=part.quantity,
                section=_section(part),
                release=release,
            )


def planned_labels(
    bars: Sequence[PlannedBar],
    parts: Iterable[Placed],
    each: Each,
    release: str = "",
    most: int | None = None,
) -> Iterator[Label]:
    """Yield labels in the order in which pieces come off the bars.

    A bundle holds pieces of one mark, of one heat, that follow each other in their count.

    Raises:
        KeyError: when a piece of the plan is not among the parts.
    """
    known: Mapping[object, Part] = {part_key(placed): placed.part for placed in parts}
    for lot in _lots(bars, 1 if each == "piece" else most):
        bar, piece = lot[0]
        part = known[piece.order, piece.mark, piece.revision]
        yield Label(
            part=part,
            first=piece.index,
            last=lot[-1][1].index,
            count=piece.count,
            section=_section(part),
            heat=bar.heat or "",
            bars=tuple(dict.fromkeys(bar_id(own) for own, _ in lot)),
            bar_piece=piece.number if len(lot) == 1 else 0,
            release=release,
        )


_Lot = list[tuple[PlannedBar, PlannedPiece]]


def _lots(bars: Sequence[PlannedBar], most: int | None) -> list[_Lot]:
    """Return pieces of one mark and heat that follow each other in their count, together.

    Of bars whose heat is not known each counts as a heat of its own.
    """
    lots: list[_Lot] = []
    latest: dict[object, _Lot] = {}
    for bar in sorted(bars, key=lambda bar: bar.number):
        for piece in bar.pieces:
            key = piece.order, piece.mark, piece.revision, bar.heat or bar.number
            lot = latest.get(key)
            has_room = lot is not None and (most is None or len(lot) < most)
            if lot is not None and has_room and lot[-1][1].index + 1 == piece.index:
                lot.append((bar, piece))
            else:
                latest[key] = [(bar, piece)]
                lots.append(latest[key])
    return lots


def _section(part: Part) -> str:
    from translator.bars.estimate import section_name

    return section_name(part)


def labels_csv(labels: Iterable[Label]) -> bytes:
    """Return labels as a table, a line for each, for a printer that lays them out itself."""
    return csv_bytes(
        _COLUMNS,
        (
            (
                *(one.part.mark, one.part.order, one.part.drawing, one.part.revision),
                *(one.part.title, one.first, one.last, one.count, one.pieces),
                *(one.section, one.length, one.part.length_mm, one.part.grade),
                *(one.part.finish, one.part.phase, one.part.lot),
                *(one.heat, " ".join(one.bars), one.bar_piece or None, one.release),
                *("; ".join(one.part.second_work), one.code),
            )
            for one in labels
        ),
    )
