"""The comparison as a document, for programs: every change with its old and new values."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final

from translator.changes.model import WEIGHTS, Change, Item, Told
from translator.changes.sides import STATUSES, Comparison, Entry, Side, Unread, mass_kg, pieces
from translator.findings import CAUTION
from translator.geometry.mass import gross_mass_kg
from translator.model import Placed

FORMAT: Final = "backmark/changes"
"""Stands in the field ``format`` of every such document."""

VERSION: Final = "1.0"
"""Stands in the field ``version``; the number behind the point counts added fields."""

_DECIMALS: Final = 3


def changes_document(comparison: Comparison) -> dict[str, Any]:
    """Return a comparison as dictionaries and lists, for JSON."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "caution": CAUTION,
        "old": _side(comparison.old),
        "new": _side(comparison.new),
        "summary": _summary(comparison),
        "parts": [_entry(entry) for entry in comparison.entries],
        "unchanged": list(comparison.unchanged),
        "rounded": list(comparison.rounded),
        "not_issued": [placed.part.mark for placed in comparison.not_issued],
        "compared_in_nc_terms": list(comparison.in_nc_terms),
        "remarks": list(comparison.remarks),
    }


def _side(side: Side) -> dict[str, Any]:
    return {
        "path": side.name,
        "parts": len(side.parts),
        "pieces": pieces(side.parts),
        "mass_kg": round(mass_kg(side.parts), _DECIMALS),
        "missing": [_fault(unread) for unread in side.unread],
        "not_ours": [{"path": path, "why": why} for path, why in side.not_ours],
    }


def _fault(unread: Unread) -> dict[str, Any]:
    return {
        "path": unread.path,
        "line": unread.line,
        "mark": unread.mark,
        "on_hold": unread.is_held,
        "message": unread.why,
    }


def _summary(comparison: Comparison) -> dict[str, Any]:
    counts = comparison.counts()
    return {
        **{status: counts[status] for status in STATUSES},
        "unchanged": len(comparison.unchanged) + len(comparison.rounded),
        "weights": {
            weight: sum(1 for e in comparison.entries if e.weight == weight)
            for weight in WEIGHTS[:-1]
        },
        "largest_rounding_mm": comparison.largest_rounding_mm,
    }


def _entry(entry: Entry) -> dict[str, Any]:
    out: dict[str, Any] = {"mark": entry.mark, "status": entry.status, "weight": entry.weight}
    for name, placed in (("old", entry.old), ("new", entry.new)):
        if placed is not None:
            out[name] = _place(placed)
    if entry.remarks:
        out["remarks"] = list(entry.remarks)
    for name, fault in zip(("old", "new"), entry.unread, strict=True):
        if fault is not None:
            out[f"{name}_missing"] = _fault(fault)
    if entry.old is not None and entry.new is not None:
        out |= told_document(entry.told)
    return out


def _place(placed: Placed) -> dict[str, Any]:
    span, part = placed.places[""], placed.part
    return {
        "path": span.path,
        "line": span.line,
        "mark": part.mark,
        "order": part.order or "",
        "revision": part.revision or "",
        "quantity": part.quantity,
        "mass_kg": round(gross_mass_kg(part), _DECIMALS),
    }


def told_document(told: Told) -> dict[str, Any]:
    """Return what was told of one part."""
    return {
        "lie": told.lie,
        **({"warning": told.hand} if told.hand else {}),
        "ids": dict(told.ids),
        "changes": [
            {
                "kind": change.kind,
                "weight": change.weight,
                **({"leg": change.leg} if change.leg else {}),
                "text": change.text,
                "items": [
                    {"path": item.path, "old": item.old, "new": item.new} for item in change.items
                ],
            }
            for change in told.changes
        ],
    }


def told_of(document: Mapping[str, Any]) -> Told:
    """Return what ``told_document`` wrote; the largest rounding is not written.

    Raises:
        KeyError: for a document without the fields of the schema.
    """
    return Told(
        lie=document["lie"],
        hand=document.get("warning", ""),
        ids=MappingProxyType(dict(document["ids"])),
        changes=tuple(
            Change(
                kind=change["kind"],
                weight=change["weight"],
                leg=change.get("leg", ""),
                text=change["text"],
                items=tuple(Item(**item) for item in change["items"]),
            )
            for change in document["changes"]
        ),
    )
