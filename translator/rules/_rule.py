"""What a rule is, and what it yields."""

from collections.abc import Callable, Iterable
from typing import Any, Final, Literal

from msgspec import Struct

from translator.findings import Severity
from translator.rules._practice import Practice, Symbol

NO_PRACTICE: Final = 'practice = "none"'
"""Settings of an example that rests on no code."""


class Violation(Struct, frozen=True, kw_only=True):
    """One place where a part breaks a rule; the runner adds id, severity and place.

    Attributes:
        message: a whole sentence; the offending value first, then the limit, with units.
        element: path of the element ("legs.a.a3"); "" for the part.
        value: the offending figure, None where a figure makes no sense.
        limit: the figure it is held against; ``value < limit`` means lower is worse.
        unit: unit of both.
        related: further elements, each with a word on why.
        severity: set where this case weighs other than the rule does.
        number: for rules of a set, the ``Digest.number`` it is about.
        others: for rules of a set, numbers of further parts, each with a word on why.
    """

    message: str
    element: str = ""
    value: float | None = None
    limit: float | None = None
    unit: str = "mm"
    related: tuple[tuple[str, str], ...] = ()
    severity: Severity | None = None
    number: int = 0
    others: tuple[tuple[int, str], ...] = ()


class Example(Struct, frozen=True, kw_only=True):
    """Input text that passes or breaks a rule; test and documentation at once.

    In a failing example the offending lines end in a comment that holds ``<--``; the rule
    must report exactly those lines, and no other rule may report anything above a note.
    Where a format has no comments at a line's end, ``lines`` names them instead.
    ``files`` holds further files (name, text) for rules of a set; their lines are marked
    in the same way. ``machine`` holds the profile (a machine document) for a machine's rule.
    ``settings`` is the settings file that the example is judged under; no connection practice
    unless it names one. ``bill`` holds the bill (CSV, read as ``bill.csv``) for a bill's rule;
    its lines are marked in the same way, in a column of their own.
    """

    text: str
    name: str = "example.bmk"
    files: tuple[tuple[str, str], ...] = ()
    lines: tuple[int, ...] = ()
    machine: str = ""
    settings: str = NO_PRACTICE
    bill: str = ""


def always(_: Practice) -> str:
    """Apply a rule under every practice."""
    return ""


class Rule(Struct, frozen=True, kw_only=True):
    """One fault that a part, a set of parts, or a part on a machine can have.

    Attributes:
        name: id in words; never renamed or reused.
        title: the fault in a few words.
        severity: what a violation weighs unless the settings or the case say otherwise.
        scope: "part" gets ``Facts`` of one part; "set" gets the digests of all parts;
            "machine" gets ``MachineFacts`` of one part on one machine; "bill" gets
            ``BillFacts``, the digests beside the shop's bill.
        reference: the published source with edition, or "common practice, no source".
        check: pure generator of violations.
        passing, failing: examples, at least one of each.
        applies: why the rule does not apply under a practice, "" where it does.
        limit: what a shop may write in place of the rule's limit, see ``read_limit``; empty
            for a rule without one.
    """

    name: str
    title: str
    severity: Severity
    scope: Literal["part", "set", "machine", "bill"]
    reference: str
    check: Callable[[Any], Iterable[Violation]]
    passing: tuple[Example, ...]
    failing: tuple[Example, ...]
    applies: Callable[[Practice], str] = always
    limit: tuple[Symbol, ...] = ()
