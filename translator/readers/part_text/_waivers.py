"""Waivers: findings accepted beforehand, at one place and up to one value."""

import datetime as dt
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final

from pydantic import ValidationError

from translator.findings import Severity
from translator.model import Feature, LegName, Waiver
from translator.readers.part_text._amounts import grid, length
from translator.readers.part_text._book import SYNTAX, RefusalError
from translator.readers.part_text._features import written_id
from translator.readers.part_text._figures import decimal
from translator.readers.part_text._legs import LegRead
from translator.readers.part_text._scope import Scope
from translator.readers.part_text._sentences import sentences
from translator.syntax.quoting import unquoted
from translator.syntax.tree import Node, Word

_KINDS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "HOLE": "hole",
        "SLOT": "slot",
        "OPENING": "opening",
        "MARK": "centre_mark",
        "SCRIBE": "scribe",
        "STAMP": "stamp",
    }
)
_PHRASES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "leg": "The place",
        "feature": "The place",
        "value": "The value",
        "reason": "The reason",
        "by": "Who accepts",
        "until_revision": "The last revision",
        "until_date": "The last day",
    }
)
_MOST_COUNTED: Final = 6
"""Digits of a feature's number; no leg has more features."""


def read_waiver(statement: Node, legs: Mapping[LegName, LegRead], scope: Scope) -> Waiver | None:
    """Return the waiver; None when there was a fault, which is noted.

    Args:
        statement: the statement's node.
        legs: the legs as read, whose features it may name by kind and number.
        scope: of the part.
    """
    fields: dict[str, Any] = {}
    errors = scope.book.errors
    for node in statement.nodes():
        for key, value in _said(node, legs, scope).items():
            if key in fields:
                scope.book.say("given-twice", f"{_PHRASES[key]} is given twice.", node.extent)
            fields[key] = value
    rule = statement.its("RULE_NAME", "STRING")
    if "reason" not in fields:
        message = "A waiver gives its reason in quotes."
        scope.book.say(SYNTAX, message, statement.extent)
    if scope.book.errors > errors:
        return None
    try:
        return Waiver(rule=unquoted(rule.text), **fields)
    except ValidationError as error:
        for _, sentence in sentences(error):
            scope.book.say("value-out-of-range", sentence, statement.extent)
        return None


def _said(node: Node, legs: Mapping[LegName, LegRead], scope: Scope) -> dict[str, Any]:
    """Return the fields that one clause of a waiver gives; a fault is noted."""
    match node.name:
        case "on":
            return _place(node, legs, scope)
        case "waived_value":
            value = _value(node, scope)
            return {} if value is None else {"value": value}
        case "reason" | "by":
            return {node.name: unquoted(node.last_word.text)}
        case _:
            return _until(node, scope)


def _value(node: Node, scope: Scope) -> float | None:
    """Return the accepted figure: millimetres of a length, else the bare figure of its unit."""
    angle, value = node.node("angle"), node.value()
    if angle is not None:
        return scope.degrees(angle)
    if value is not None:
        mm = scope.read(length, value)
        return None if mm is None else grid(mm)
    try:
        return decimal(node.its("MEASURE"))
    except RefusalError as refusal:
        scope.refuse(refusal)
        return None


def _until(node: Node, scope: Scope) -> dict[str, Any]:
    word = node.last_word
    if word.type != "DATE":
        return {"until_revision": unquoted(word.text)}
    try:
        dt.date.fromisoformat(word.text)
    except ValueError:
        message = f"{word.text} is no day of the calendar."
        scope.book.say("date-unreal", message, word.extent, Severity.WARNING)
    return {"until_date": word.text}


def _place(node: Node, legs: Mapping[LegName, LegRead], scope: Scope) -> dict[str, Any]:
    word = node.word("A", "B", "FACE")
    leg: LegName | None = None
    if word is not None:
        leg = "face" if word.type == "FACE" else "a" if word.type == "A" else "b"
        _ask_for_leg(leg, word, scope)
    nth, ident = node.node("nth"), node.node("ident")
    fields: dict[str, Any] = {} if leg is None else {"leg": leg}
    if nth is not None:
        return fields | _numbered(nth, leg, legs, scope)
    if ident is None:
        return fields
    name = written_id(ident) or ""
    looked_at = [legs[leg]] if leg is not None and leg in legs else list(legs.values())
    known = {feature.id for read in looked_at for feature in read.leg.features}
    if name not in known and all(read.is_whole for read in looked_at):
        message = f"No feature here has the id {name}: the waiver accepts nothing."
        scope.book.say("waiver-without-place", message, ident.extent, Severity.WARNING)
    return fields | {"feature": name}


def _ask_for_leg(leg: LegName, word: Word, scope: Scope) -> None:
    if scope.is_flat is None or scope.is_flat == (leg == "face"):
        return
    has = "a flat has the one leg `face`" if scope.is_flat else "an angle has the legs a and b"
    message = f"The waiver accepts nothing, since {has}."
    scope.book.say("waiver-without-place", message, word.extent, Severity.WARNING)


def _numbered(
    nth: Node, leg: LegName | None, legs: Mapping[LegName, LegRead], scope: Scope
) -> dict[str, Any]:
    """Return the id of the feature that is told by its kind and number on a leg."""
    kind, number = nth.first_word, nth.last_word
    if leg is None and scope.is_flat:
        leg = "face"
    if leg is None:
        message = f"Say on which leg: `on leg a {kind.text} {number.text}`."
        scope.book.say(SYNTAX, message, nth.extent)
        return {}
    if not number.text.isdecimal() or len(number.text) > _MOST_COUNTED:
        message = f"`{number.text[:_MOST_COUNTED]}` is no number of a {kind.text}."
        scope.book.say(SYNTAX, message, number.extent)
        return {}
    read = legs.get(leg)
    if read is not None and not read.is_whole:
        return {"leg": leg}
    features: tuple[Feature, ...] = () if read is None else read.leg.features
    fits = [feature.id for feature in features if feature.kind == _KINDS[kind.type]]
    place = int(number.text)
    if not 1 <= place <= len(fits):
        on_leg = "the face" if leg == "face" else f"leg {leg}"
        word = _KINDS[kind.type].replace("_", " ")
        held = f"no {word}" if not fits else f"{len(fits)} {word}{'s' if len(fits) > 1 else ''}"
        message = f"There is no {word} {place}: {on_leg} has {held}."
        scope.book.say("waiver-without-place", message, nth.extent)
        return {}
    return {"leg": leg, "feature": fits[place - 1]}
