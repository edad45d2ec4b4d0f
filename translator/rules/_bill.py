"""The shop's bill of pieces, and what a rule of scope "bill" sees of it and of the parts."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING, Final

from msgspec import Struct
from msgspec.structs import replace

from translator.findings import Finding, Related
from translator.lengths.parse import INCH, Length, Unit
from translator.lengths.spell import inch_text
from translator.rules._digest import Digest, superseded
from translator.rules._facts import decimal
from translator.rules._judged import OF_SET, Bench, checked
from translator.rules._practice import Practice
from translator.rules._rule import Rule, Violation
from translator.source import Span

if TYPE_CHECKING:
    from translator.documents.csv_table import Row

MOST_COMPARED: Final = 8
"""Rows or parts of one mark up to which each is held against each; parts of one mark that are
not the same, and rows that contradict each other, are found by rules of their own."""

KILOGRAM: Final = Fraction(1)
POUND: Final = Fraction("0.45359237")
"""Kilograms in a pound, exact by definition since 1959."""


class BillLine(Struct, frozen=True, kw_only=True):
    """One row of the bill.

    Attributes:
        number: which of the bill's lines it is, from 0.
        mark: the piece mark.
        order: the order it is for, "" when not said.
        quantity: how many; None when empty or unreadable, which is said elsewhere.
        section: as the bill spells it, "" when not said or unreadable.
        length: None when not said or unreadable.
        grade: as the bill spells it, "" when not said.
        revision: None when not said.
        mass: figure of the bill, None when not said.
        is_ours: whether it is made here: no beam, channel or tube, and no mark of others.
    """

    number: int
    mark: str
    order: str = ""
    quantity: int | None = None
    section: str = ""
    length: Length | None = None
    grade: str = ""
    revision: str | None = None
    mass: Fraction | None = None
    is_ours: bool = True

    def length_mm(self, units: Unit) -> float | None:
        """Return the length; a number without a unit is taken in ``units``."""
        if self.length is None:
            return None
        bare = self.length.bare
        mm = self.length.mm if bare is None else bare * (INCH if units == "inch" else 1)
        return float(mm)


class Bill(Struct, frozen=True, kw_only=True):
    """The bill as it was read.

    Attributes:
        path: of the file.
        lines: those with a mark, in the file's order.
        rows: the row of each of them.
        fields: the fields that have a column.
        units: what bare lengths and sizes are in; None takes each part's own.
        mass_unit: kilograms in the unit of its masses; None when not said.
    """

    path: str
    lines: tuple[BillLine, ...]
    rows: "tuple[Row, ...]"
    fields: frozenset[str]
    units: Unit | None = None
    mass_unit: Fraction | None = None

    def span(self, number: int, field: str) -> Span:
        """Return the place of a line's cell."""
        return self.rows[number].span(field)


class BillViolation(Violation, frozen=True, kw_only=True):
    """A contradiction of bill and parts.

    Attributes:
        cell: number of the bill's line and field that the finding stands at; None puts it at
            the mark of its part.
        part: ``Digest.number`` of the part it is about, so that a waiver in the part can
            accept it; None where there is no part.
        mark: the piece mark.
        cells: further cells of the bill, each with a word on why.
    """

    cell: tuple[int, str] | None
    part: int | None
    mark: str
    cells: tuple[tuple[int, str, str], ...] = ()


class Billed(Struct, frozen=True, kw_only=True):
    """One mark of the bill (of one order where it names orders) with its rows and its parts."""

    mark: str
    order: str
    lines: tuple[BillLine, ...]
    parts: tuple[Digest, ...]

    @property
    def pairs(self) -> Iterator[tuple[BillLine, Digest]]:
        """Each row with each part of the mark; where there are very many, with the first."""
        are_few = max(len(self.lines), len(self.parts)) <= MOST_COMPARED
        some = self.parts if are_few else self.parts[:1]
        return ((line, part) for line in self.lines for part in some)


class BillFacts:
    """The bill beside the parts of a delivery.

    Attributes:
        bill: the bill.
        digests: all parts, by their numbers.
        practice: limits of the shop.
    """

    def __init__(
        self, bill: Bill, digests: Sequence[Digest], practice: Practice | None = None
    ) -> None:
        self.bill = bill
        self.digests = tuple(digests)
        self.practice = Practice() if practice is None else practice

    @cached_property
    def parts(self) -> tuple[Digest, ...]:
        """The parts that count: those that no newer revision replaces."""
        replaced = superseded(self.digests)
        return tuple(d for d in self.digests if d.number not in replaced)

    @cached_property
    def billed(self) -> tuple[Billed, ...]:
        """The marks of the bill, in its order."""
        groups: dict[tuple[str, str], list[BillLine]] = {}
        for line in self.bill.lines:
            groups.setdefault((line.mark, line.order), []).append(line)
        return tuple(
            Billed(
                mark=mark,
                order=order,
                lines=tuple(lines),
                parts=tuple(p for p in self._by_mark.get(mark, ()) if _is_of(order, p)),
            )
            for (mark, order), lines in groups.items()
        )

    @cached_property
    def not_billed(self) -> tuple[Digest, ...]:
        """The parts that count and that no row of the bill names."""
        named = {part.number for mark in self.billed for part in mark.parts}
        return tuple(part for part in self.parts if part.number not in named)

    @cached_property
    def compared(self) -> tuple[Billed, ...]:
        """The marks that have both rows and parts."""
        return tuple(mark for mark in self.billed if mark.parts)

    @cached_property
    def _by_mark(self) -> Mapping[str, list[Digest]]:
        by_mark: dict[str, list[Digest]] = {}
        for part in self.parts:
            by_mark.setdefault(part.mark, []).append(part)
        return by_mark

    def units(self, part: Digest) -> Unit:
        """Return what bare figures of the bill are in beside a part."""
        return self.bill.units or ("inch" if part.units == "inch" else "mm")


def differs(  # noqa: PLR0913 - what a finding needs
    line: BillLine,
    part: Digest,
    field: str,
    message: str,
    *,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "",
) -> BillViolation:
    """Return the violation of one row that says another thing than a part."""
    return BillViolation(
        message=message,
        element=field,
        value=value,
        limit=limit,
        unit=unit,
        cell=(line.number, field),
        part=part.number,
        mark=line.mark,
    )


def length_words(mm: float, units: str) -> str:
    """Return a length with its unit as the author of a part writes it."""
    if units == "inch":
        return f"{inch_text(mm) or decimal(mm / float(INCH), 4)} in."
    return f"{decimal(mm, 3)} mm"


def of_bill(facts: BillFacts, rules: Iterable[Rule]) -> Iterator[tuple[Rule, BillViolation]]:
    """Run the rules of scope "bill" and yield what they find, in the rules' order."""
    for rule in rules:
        if rule.scope == "bill":
            for violation in checked(rule, facts):
                if isinstance(violation, BillViolation):
                    yield rule, violation


def bill_finding(
    rule: Rule, violation: BillViolation, bill: Bill, places: Sequence[Span]
) -> Finding:
    """Return the finding of a violation.

    Args:
        rule: the rule.
        violation: what it found.
        bill: the bill.
        places: of the mark of each part, by ``Digest.number``.
    """
    cells = [
        Related(span=bill.span(number, field), message=word)
        for number, field, word in violation.cells
    ]
    others = [Related(span=places[n], message=word) for n, word in violation.others]
    part = None if violation.part is None else places[violation.part]
    if violation.cell is not None:
        span = bill.span(*violation.cell)
        related = [] if part is None else [Related(span=part, message="the part")]
    else:
        span = part or Span(bill.path, 1, 1, 1, 1)
        related = []
    return Finding(
        rule=rule.name,
        severity=violation.severity or rule.severity,
        message=violation.message,
        span=span,
        mark=violation.mark,
        element=violation.element if violation.part is None else violation.element or OF_SET,
        value=violation.value,
        limit=violation.limit,
        unit=violation.unit,
        related=(*related, *cells, *others),
    )


def bill_findings(
    facts: BillFacts, rules: Iterable[Rule], places: Sequence[Span]
) -> Iterator[tuple[int | None, Finding]]:
    """Yield what the bill's rules find: number of the part or None, and the finding.

    Args:
        facts: bill and parts.
        rules: those of another scope are left alone.
        places: of the mark of each part, by ``Digest.number``.
    """
    for rule, violation in of_bill(facts, rules):
        yield violation.part, bill_finding(rule, violation, facts.bill, places)


def without_bill(benches: Sequence[Bench], rules: Iterable[Rule]) -> list[Bench]:
    """Return benches on which the rules of a bill do not apply, since none is given."""
    off = {rule.name: "no bill is given" for rule in rules if rule.scope == "bill"}
    distinct = {id(bench): bench for bench in benches}
    changed = {key: replace(b, off={**off, **b.off}) for key, b in distinct.items()}
    return [changed[id(bench)] for bench in benches]


def _is_of(order: str, part: Digest) -> bool:
    return not order or not part.order or order.casefold() == part.order.casefold()
