"""Marks that a person puts on hold: on the command line, or in a file of holds."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from msgspec import Struct

from translator.batch.toml_fault import unreadable
from translator.documents.toml_places import Places, places
from translator.documents.toml_text import toml_values
from translator.documents.words import shown
from translator.findings import Finding, Severity
from translator.source import Span

LARGEST_BYTES: Final = 256_000
TABLE: Final = "hold"
_KEYS: Final = frozenset({"mark", "order", "reason"})
_LONGEST: Final = 1000


class Hold(Struct, frozen=True, kw_only=True):
    """One mark on hold.

    Attributes:
        mark: piece mark.
        order: order it belongs to; None holds the mark in every order.
        reason: why.
        span: where it stands; None on the command line.
    """

    mark: str
    order: str | None
    reason: str
    span: Span | None = None


def read_holds(path: str, data: bytes) -> tuple[tuple[Hold, ...], tuple[Finding, ...]]:
    """Read a file of holds; any bytes give findings, never an exception."""
    try:
        text = data.decode("utf-8-sig")
        table = toml_values(text)
    except (ValueError, RecursionError) as error:
        return (), (unreadable(path, "holds", error),)
    where = places(path, text)
    findings: list[Finding] = [
        _fault(f"there is no table {shown(name)} here; there is [[{TABLE}]]", where.of(name))
        for name in table
        if name != TABLE
    ]
    entries = table.get(TABLE, [])
    if not isinstance(entries, list) or not all(isinstance(e, dict) for e in entries):
        return (), (*findings, _fault(f"{TABLE} is written [[{TABLE}]]", where.of(TABLE)))
    holds: list[Hold] = []
    for number, entry in enumerate(entries):
        faults = list(_faults(entry, number, where))
        findings += faults
        if not faults:
            span = where.of(TABLE, number)
            order = entry.get("order")
            hold = Hold(mark=entry["mark"], order=order, reason=entry["reason"], span=span)
            holds.append(hold)
    return tuple(holds), tuple(findings)


def settle_holds(
    holds: Iterable[Hold], keys: Sequence[tuple[str, str]]
) -> tuple[Mapping[tuple[str, str], str], tuple[Hold, ...]]:
    """Return the reason for each (order, mark) on hold, and the holds that no mark bears.

    Where two hold one mark both reasons are told.
    """
    reasons: dict[tuple[str, str], str] = {}
    unknown: list[Hold] = []
    for hold in holds:
        held = [k for k in keys if k[1] == hold.mark and hold.order in (None, k[0])]
        if not held:
            unknown.append(hold)
        for key in held:
            before = reasons.get(key)
            if before is None or hold.reason not in before.split("; "):
                reasons[key] = hold.reason if before is None else f"{before}; {hold.reason}"
    return reasons, tuple(unknown)


def unknown_hold(hold: Hold, span: Span) -> Finding:
    """Say that a hold names a mark that is not in the delivery."""
    order = "" if hold.order is None else f" of order {hold.order}"
    message = f"the mark {hold.mark}{order} is put on hold and is not in the delivery"
    return _fault(message, hold.span or span, rule="hold-unknown")


def is_reason(text: object) -> bool:
    """Tell whether something can stand as the reason of a hold, or as its mark."""
    return isinstance(text, str) and bool(text.strip()) and _is_plain(text)


def _faults(entry: Mapping[str, object], number: int, where: Places) -> Iterator[Finding]:
    for key in entry:
        if key not in _KEYS:
            message = f"a hold has no key {shown(key)}; it has mark, order and reason"
            yield _fault(message, where.of(TABLE, number, key))
    for key in ("mark", "reason"):
        if key not in entry:
            yield _fault(f"the hold says no {key}", where.of(TABLE, number))
    for key in ("mark", "order", "reason"):
        if key in entry and not is_reason(entry[key]):
            message = f"{key} is {shown(entry[key])}, it must be a text with something in it"
            yield _fault(message, where.of(TABLE, number, key))


def _is_plain(text: str) -> bool:
    return len(text) <= _LONGEST and text.isprintable()


def _fault(message: str, span: Span, rule: str = "hold-bad") -> Finding:
    return Finding(rule=rule, severity=Severity.ERROR, message=message, span=span, unit="")
