"""Waivers and substitutions as a TOML file writes them: ``[[waiver]]``, ``[[substitution]]``."""

import datetime as dt
import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any, Final

from translator.batch.decision_words import SUBSTITUTION, WAIVER
from translator.documents.toml_places import Places
from translator.documents.words import shown
from translator.findings import Finding, Severity
from translator.lengths.grid import LARGEST_MM, on_grid
from translator.lengths.parse import LengthError
from translator.rules._decisions import (
    Decisions,
    SideWaiver,
    SubstitutedField,
    Substitution,
)
from translator.rules._practice import read_own_length
from translator.source import Span

KEYS: Final = ("waiver", "substitution")
LEGS: Final = ("a", "b", "face")
FIELDS: Final[tuple[SubstitutedField, ...]] = ("section", "grade")

_FIELDS: Final = MappingProxyType({"waiver": WAIVER, "substitution": SUBSTITUTION})
_COUNTED: Final = re.compile(r"(hole|slot|opening|mark|scribe|stamp) +([1-9][0-9]{0,5})")
_RULE: Final = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_ID: Final = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,63}")


def read_decisions(
    table: Mapping[str, object], places: Places
) -> tuple[Decisions, tuple[Finding, ...]]:
    """Read the decisions of a file; what can't be used is a finding at its line.

    Args:
        table: the whole file; other keys than ``KEYS`` are not looked at.
        places: where things stand in it.
    """
    findings: list[Finding] = []
    waivers: list[SideWaiver] = []
    substitutions: list[Substitution] = []
    for entry in _entries("waiver", table, places, findings):
        waiver = _waiver(entry)
        waivers += [] if waiver is None else [waiver]
    for entry in _entries("substitution", table, places, findings):
        substitution = _substitution(entry)
        substitutions += [] if substitution is None else [substitution]
    decisions = Decisions(
        path=places.path, waivers=tuple(waivers), substitutions=tuple(substitutions)
    )
    return decisions, tuple(findings)


class _Entry:
    """One table of a list, its place, and the faults found in it."""

    def __init__(
        self, kind: str, table: Mapping[str, Any], places: Places, findings: list[Finding]
    ) -> None:
        self.kind = kind
        self.table = table
        self.span = places.of()
        self.is_sound = True
        self._places = places
        self._path: tuple[str | int, ...] = ()
        self._findings = findings

    def at(self, *path: str | int) -> "_Entry":
        """Put the entry at its path in the file."""
        self._path = path
        self.span = self._places.of(*path)
        return self

    def fault(self, message: str, field: str | None = None) -> None:
        """Note a fault of the entry, or of one of its fields."""
        self.is_sound = False
        span = self.span if field is None else self._places.of(*self._path, field)
        self._findings.append(_bad(self.kind, message, span))

    def text(self, field: str, *, is_needed: bool = False) -> str | None:
        """Return a field that holds text; None when it is not there."""
        value = self.table.get(field)
        if value is None:
            if is_needed:
                self.fault(f"the {self.kind} has no {field}: {_meaning(self.kind, field)}")
            return None
        if not isinstance(value, str) or not value.strip():
            self.fault(f"{field} is {_said(value)}; it takes text in quotes", field)
            return None
        return value

    def choice(self, field: str, known: tuple[str, ...]) -> str | None:
        """Return a field that holds one of some words."""
        value = self.table.get(field)
        if value is None or value in known:
            return value
        words = ", ".join(f'"{word}"' for word in known)
        self.fault(f"{field} is {_said(value)}; it takes {words}", field)
        return None


def _entries(
    kind: str, table: Mapping[str, object], places: Places, findings: list[Finding]
) -> Iterator[_Entry]:
    value = table.get(kind, [])
    listed = value if isinstance(value, list) else [value]
    known = _FIELDS[kind]
    for number, item in enumerate(listed):
        if not isinstance(value, list) or not isinstance(item, Mapping):
            message = f"{kind} is {_said(item)}; each one is a table of its own, [[{kind}]]"
            findings.append(_bad(kind, message, places.of(kind, number)))
            continue
        entry = _Entry(kind, item, places, findings).at(kind, number)
        for name in item:
            if name not in known:
                words = f"a {kind} has no field {shown(name)}; there are {', '.join(known)}"
                entry.fault(words, name)
        yield entry


def _waiver(entry: _Entry) -> SideWaiver | None:
    rule = entry.text("rule", is_needed=True)
    mark = entry.text("mark", is_needed=True)
    reason = entry.text("reason", is_needed=True)
    if rule is not None and not _RULE.fullmatch(rule):
        entry.fault(f"rule is {shown(rule)}, which is no name of a rule", "rule")
    feature, counted = _feature(entry)
    fields = {
        "rule": rule,
        "leg": entry.choice("leg", LEGS),
        "feature": feature,
        "value": _value(entry),
        "reason": reason,
        "by": entry.text("by"),
        "until_revision": entry.text("until_revision"),
        "until_date": _date(entry),
    }
    order = entry.text("order")
    if not entry.is_sound or mark is None:
        return None
    from pydantic import ValidationError

    from translator.model import Waiver

    try:
        waiver = Waiver.model_validate(fields)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        name = str(first["loc"][0]) if first["loc"] else ""
        why = first["msg"].removeprefix("Value error, ")
        entry.fault(f"{name} is {_said(fields.get(name))}: {why[:1].lower()}{why[1:]}", name)
        return None
    return SideWaiver(mark=mark, order=order, waiver=waiver, counted=counted, span=entry.span)


def _substitution(entry: _Entry) -> Substitution | None:
    mark = entry.text("mark", is_needed=True)
    if "field" not in entry.table:
        entry.text("field", is_needed=True)
    field = entry.choice("field", FIELDS)
    old = entry.text("from", is_needed=True)
    new = entry.text("to", is_needed=True)
    reason = entry.text("reason", is_needed=True)
    by, order = entry.text("by"), entry.text("order")
    if not entry.is_sound or mark is None or old is None or new is None or reason is None:
        return None
    return Substitution(
        mark=mark,
        order=order,
        field=next(name for name in FIELDS if name == field),
        old=old,
        new=new,
        reason=reason,
        by=by,
        span=entry.span,
    )


def _feature(entry: _Entry) -> tuple[str | None, tuple[str, int] | None]:
    """Return a feature's id, or its kind and number on its leg."""
    text = entry.text("feature")
    if text is None:
        return None, None
    counted = _COUNTED.fullmatch(text.strip().lower())
    if counted is not None:
        kind = "centre_mark" if counted[1] == "mark" else counted[1]
        return None, (kind, int(counted[2]))
    if not _ID.fullmatch(text):
        takes = 'it takes an id like "a3", or kind and number like "hole 3"'
        entry.fault(f"feature is {shown(text)}; {takes}", "feature")
    return text, None


def _value(entry: _Entry) -> float | None:
    """Return the accepted figure: a number in the rule's own unit, or a length with its unit."""
    value = entry.table.get("value")
    if value is None:
        return None
    if isinstance(value, int | float) and not isinstance(value, bool) and abs(value) <= LARGEST_MM:
        return float(value)
    takes = 'it takes a number in millimetres or a length in quotes, like 23.8 or "15/16in"'
    message = f"value is {_said(value)}; {takes}"
    if isinstance(value, str):
        try:
            return on_grid(read_own_length(value)[0])
        except LengthError as error:
            message = f"the value {error}"
    entry.fault(message, "value")
    return None


def _date(entry: _Entry) -> str | None:
    value = entry.table.get("until_date")
    if value is None:
        return None
    if isinstance(value, dt.date) and not isinstance(value, dt.datetime):
        return value.isoformat()
    try:
        return dt.date.fromisoformat(value).isoformat()
    except (TypeError, ValueError):
        takes = "it takes a day of the calendar, like 2027-01-31"
        entry.fault(f"until_date is {_said(value)}; {takes}", "until_date")
        return None


def _bad(kind: str, message: str, span: Span) -> Finding:
    return Finding(rule=f"{kind}-bad", severity=Severity.ERROR, message=message, span=span)


def _said(value: object) -> str:
    """Show a value of a TOML file."""
    if isinstance(value, dt.date | dt.time):
        return value.isoformat()
    return "a table" if isinstance(value, Mapping) else shown(value)


def _meaning(kind: str, field: str) -> str:
    words = _FIELDS[kind][field]
    return words[:1].lower() + words[1:].rstrip(".")
