"""Find the header's lines, also when some are missing or too many.

The profile code, alone on its line and followed by twelve numbers, is the anchor: it is line
8, whatever stands before it.
"""

import re
from collections.abc import Sequence
from typing import Final

from msgspec import Struct

from translator.findings import Severity
from translator.readers.nc._tree import FIELDS, PROFILES, Line, Remark

_PLACE: Final = 7
"""Index of the profile code among the header's lines, counted from 0."""

_NUMBERS: Final = 12
_FEWEST_WRITTEN: Final = 9
WINDOW: Final = 60
"""The anchor is looked for among this many lines."""

_NUMERIC: Final = re.compile(r"\s*|(?=.*[0-9*])[\s0-9.,;+*eE-]*(mm)?[\s,;]*")


class Anchored(Struct, frozen=True, kw_only=True):
    """The header as found: its 20 lines, what was too many, and where the text begins.

    ``profile`` is "" and ``fields`` empty when no header could be found; ``rest`` then is 0.
    """

    fields: tuple[Line | None, ...]
    profile: str
    extra: tuple[Line, ...]
    rest: int
    remarks: tuple[Remark, ...]


def anchor(lines: Sequence[Line], at: Line) -> Anchored:
    """Find the header among the lines behind ST, comments taken out.

    Args:
        lines: the lines behind ST.
        at: the line of ST, for findings on the header as a whole.
    """
    window = lines[:WINDOW]
    place = _find(window)
    if place is None:
        return _without_anchor(window, at)
    fields: list[Line | None] = list(window[max(0, place - _PLACE) : place + 1 + _NUMBERS])
    missing = max(0, _PLACE - place)
    extra = tuple(window[: max(0, place - _PLACE)])
    remarks = _repairs(missing, extra, window[place])
    return Anchored(
        fields=tuple([None] * missing + fields),
        profile=window[place].text.strip().upper(),
        extra=extra,
        rest=place + 1 + _NUMBERS,
        remarks=remarks,
    )


def _find(window: Sequence[Line]) -> int | None:
    places = [i for i in range(len(window)) if _is_anchor(window, i)]
    if _PLACE in places:
        return _PLACE
    return places[0] if places else None


def _is_anchor(window: Sequence[Line], index: int) -> bool:
    if window[index].text.strip().upper() not in PROFILES:
        return False
    numbers = window[index + 1 : index + 1 + _NUMBERS]
    written = sum(1 for line in numbers if line.text.strip())
    return (
        len(numbers) == _NUMBERS
        and written >= _FEWEST_WRITTEN
        and all(_NUMERIC.fullmatch(line.text) for line in numbers)
    )


def _repairs(missing: int, extra: Sequence[Line], code: Line) -> tuple[Remark, ...]:
    due = "7 header lines stand before the profile code"
    if missing:
        lost = f"{missing} line is" if missing == 1 else f"{missing} lines are"
        text = (
            f"{lost} missing from the header: {due}, here {_PLACE - missing}; they were counted"
            " upwards from the profile code, so the order, drawing and phase may be displaced"
        )
        return (_repair(text, code.number),)
    if extra:
        many = f"{len(extra)} line is" if len(extra) == 1 else f"{len(extra)} lines are"
        text = (
            f"{many} too many at the head of the header: {due}, here {_PLACE + len(extra)};"
            f" the first of them were kept as they stand"
        )
        return tuple(_repair(text, line.number) for line in extra)
    return ()


def _repair(text: str, line: int) -> Remark:
    return Remark(
        rule="nc-header-repaired",
        severity=Severity.WARNING,
        text=text,
        line=line,
        is_deviation=True,
    )


def _without_anchor(window: Sequence[Line], at: Line) -> Anchored:
    """Say as much as can be said about a header that has no anchor."""
    codes = [i for i, line in enumerate(window[:FIELDS]) if line.text.strip().upper() in PROFILES]
    best = max(codes, key=lambda i: (_run(window, i), -i), default=None)
    if best is not None and _run(window, best):
        profile = window[best].text.strip().upper()
        count = _run(window, best)
        text = (
            f"{count} line{'s' if count > 1 else ''} of numbers follow the profile code {profile},"
            " and 12 are due; which one is wrong cannot be told, so nothing was read"
        )
        line = window[best].number
    else:
        profile = ""
        shown = window[_PLACE].text.strip()[:20] if len(window) > _PLACE else ""
        text = (
            f"no header was found: line 8 behind ST must be a profile code ({', '.join(PROFILES)})"
            f" followed by 12 lines of numbers, here it is {shown!r}"
        )
        line = at.number
    remark = Remark(
        rule="nc-header-broken", severity=Severity.ERROR, text=text, line=line, is_fatal=True
    )
    return Anchored(fields=(), profile=profile, extra=(), rest=0, remarks=(remark,))


def _run(window: Sequence[Line], index: int) -> int:
    """Count the lines of numbers that follow a line without a gap."""
    count = 0
    for line in window[index + 1 :]:
        if not line.text.strip() or not _NUMERIC.fullmatch(line.text):
            break
        count += 1
    return count
