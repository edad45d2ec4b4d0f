"""What a run of ``translate`` made, in the words of its summary."""

from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, Final

from msgspec import Struct, field

from translator.commands._delivery import Delivery
from translator.findings import CAUTION, Severity
from translator.source import printable

if TYPE_CHECKING:
    from translator.findings import Finding

LOSS: Final = "cannot-carry"

MOST_LISTED: Final = 20
"""Lines of a list in the summary; the report above it names the rest."""

DRAWINGS: Final = (".dxf", ".svg", ".pdf")


class Made(Struct, frozen=True, kw_only=True):
    """What a run made; filled while the files stream to the disk.

    ``names`` are the files that stand in the folder at last, ``older`` those that stood there
    before and were not written again; ``left`` are those of them that the folder's index knows,
    and ``removed`` what was pruned.
    """

    marks: list[str] = field(default_factory=list)
    kinds: Counter[str] = field(default_factory=Counter)
    findings: "list[Finding]" = field(default_factory=list)
    names: list[str] = field(default_factory=list)
    older: list[str] = field(default_factory=list)
    left: list[str] = field(default_factory=list)
    removed: list[str] = field(default_factory=list)


def summary(delivery: Delivery, made: Made, folder: Path) -> str:
    """Return what was made, what was not and why, and where to look first."""
    verdict = delivery.outcome.verdict
    read = f"{_count(len(verdict.files), 'input file')}, {_count(verdict.parts, 'part')}"
    lines = [f"{read}; {_files_made(made, folder)}"]
    lines += [f"  {kind}: {number}" for kind, number in made.kinds.items()]
    lines += _listed("not written", _not_written(delivery))
    lines += _listed("older files still there", made.older)
    if made.left:
        lines.append("  --prune removes those that an earlier run made")
    lines += _listed("older files removed", made.removed)
    losses = Counter(f.message for f in made.findings if f.rule == LOSS)
    lines += _listed("left out", [f"{m} ({_count(n, 'part')})" for m, n in sorted(losses.items())])
    if verdict.not_ours:
        lines.append(f"not for this tool: {_count(len(verdict.not_ours), 'file')}")
        whys = Counter(why for _, why in verdict.not_ours)
        lines += [f"  {why}: {number}" for why, number in sorted(whys.items())]
    first = _look_first(delivery, made, folder)
    if first:
        lines.append(f"Look first at {first}.")
    return "\n".join([printable(line) for line in lines] + ["", CAUTION])


def _listed(title: str, items: list[str]) -> list[str]:
    if not items:
        return []
    lines = [f"{title}: {len(items)}", *(f"  {item}" for item in items[:MOST_LISTED])]
    if len(items) > MOST_LISTED:
        lines.append(f"  and {len(items) - MOST_LISTED} more")
    return lines


def _files_made(made: Made, folder: Path) -> str:
    files = sum(made.kinds.values())
    if not files:
        return "no file made"
    parts = _count(len(made.marks), "part")
    return f"{_count(files, 'file')} of {parts} made in {folder.as_posix()}"


def _not_written(delivery: Delivery) -> list[str]:
    from translator.batch.older import unread

    if delivery.has_bad_settings:
        return ["everything: the settings file has errors"]
    pairs = zip(delivery.outcome.judged, delivery.outcome.refused, strict=True)
    refused = [f"{part.mark} ({part.digest.path}): {why}" for part, why in pairs if why]
    marks: dict[str, list[str]] = {}
    for fault in unread(delivery.outcome.verdict):
        marks.setdefault(fault.span.path, []).append(fault.mark)
    return refused + [f"{path}: {_unreadable(names)}" for path, names in marks.items()]


def _unreadable(marks: list[str]) -> str:
    known = [mark for mark in marks if mark]
    if not known:
        return "no part could be read"
    return f"{_count(len(known), 'part')} could not be read ({', '.join(known)})"


def _look_first(delivery: Delivery, made: Made, folder: Path) -> str:
    open_ones = [f for f in delivery.outcome.verdict.findings if f.waived is None]
    worst = min(open_ones, key=lambda f: f.severity.rank, default=None)
    if worst is not None and worst.severity is not Severity.NOTE:
        what = f"{worst.severity.value} {worst.rule}"
        path = worst.span.path
        return f"{worst.mark}: {what} ({path})" if worst.mark else f"{path}: {what}"
    if not made.names:
        return ""
    drawing = next((name for name in made.names if name.endswith(DRAWINGS)), None)
    if drawing is None:
        return f"{(folder / made.names[0]).as_posix()}: hold it against the detailer's drawing"
    return f"{(folder / drawing).as_posix()}: hold this drawing against the detailer's"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
