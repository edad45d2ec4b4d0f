"""What a release tells the person who makes it."""

from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from translator.commands._delivery import Delivery
from translator.commands.check import render
from translator.findings import CAUTION
from translator.source import printable

if TYPE_CHECKING:
    from translator.findings import Finding
    from translator.release.manifest import MarkName, Release, Superseded

NOT_RELEASED: Final = "Nothing is released and nothing was written."

MOST_LISTED: Final = 20
"""Lines of a list; the manifest has all."""


def refused(delivery: Delivery, faults: "Sequence[Finding]", earlier: "Sequence[Finding]") -> str:
    """Return the report of a check, and what keeps the set from being released.

    Args:
        delivery: what was to be released.
        faults: of the file of holds.
        earlier: what of the superseded release does not hold.
    """
    from translator.findings import Severity

    found = delivery.outcome.verdict.findings
    open_ones = [f for f in found if f.severity is Severity.ERROR and f.waived is None]
    lines = []
    if open_ones:
        lines.append(render(delivery, "text").removesuffix(f"{CAUTION}\n").rstrip("\n"))
        lines += ["", f"{NOT_RELEASED} {_stands(len(open_ones))} open:"]
        marks = Counter((f.mark or f.span.path, f.rule) for f in open_ones)
        lines += _items([f"{what}: {rule}{_times(n)}" for (what, rule), n in marks.items()])
        lines.append("Put the part right or waive the finding with a reason, and release again.")
    elif faults:
        lines.append(f"{NOT_RELEASED} The file of holds is at fault:")
    else:
        lines.append(f"{NOT_RELEASED} The release that it is to supersede does not verify:")
    lines += [f"  {place(fault)}: {fault.message}" for fault in (*faults, *earlier)]
    return "\n".join((*map(_safe, lines), "", CAUTION))


def not_written(errors: "Sequence[Finding]") -> str:
    """Return why a part can't be written in a format, which keeps the set from release."""
    lines = [f"  {error.mark} ({place(error)}): {error.message}" for error in errors]
    head = (
        f"{NOT_RELEASED} A format can't say what a part is; name others with --formats, or hold it:"
    )
    return "\n".join((head, *map(printable, lines), "", CAUTION))


def told(release: "Release", digest: str, out: Path) -> str:
    """Return what was released, what not, and how it is proved later."""
    lines = list(_contents(release, out))
    if release.supersedes is not None:
        lines += _superseded(release.supersedes)
    lines.append(f"SHA-256 of the manifest: {digest}")
    lines.append(f"Prove it at any time: backmark verify {out.as_posix()}")
    return "\n".join((*map(printable, lines), "", CAUTION))


def _contents(release: "Release", out: Path) -> Iterator[str]:
    held = [mark for mark in release.marks if mark.status == "on hold"]
    marks = [mark for mark in release.marks if mark.status == "released"]
    pieces = sum(mark.quantity for mark in marks)
    mass = sum(mark.quantity * mark.mass_kg for mark in marks)
    yield (
        f'Release {release.number} "{release.name}" by {release.by}, {release.at},'
        f" in {out.as_posix()}"
    )
    yield f"released: {many(len(marks), 'mark')}, {many(pieces, 'piece')}, {mass:.1f} kg as billed"
    kinds = Counter(file.format for file in release.outputs if file.role == "part")
    yield from (f"  {kind}: {many(number, 'file')}" for kind, number in kinds.items())
    yield from listed("on hold", [f"{_name(mark)}: {mark.reason}" for mark in held])
    yield from listed(
        "left out", [f"{item.mark or item.source}: {item.why}" for item in release.left_out]
    )
    judged = release.judged
    weighed = f"{many(judged.warnings, 'warning')}, {many(judged.notes, 'note')}"
    yield f"findings: no error open, {weighed}, {judged.waived} waived"


def _superseded(earlier: "Superseded") -> Iterator[str]:
    yield f'supersedes release {earlier.number} "{earlier.name}" by {earlier.by}, {earlier.at}'
    yield f"  its manifest: SHA-256 {earlier.manifest_sha256}"
    yield f"taken over: {many(len(earlier.taken_over), 'mark')}"
    yield from listed(
        "changed", [f"{_name(mark)}: {'; '.join(mark.what)}" for mark in earlier.changed]
    )
    yield from listed("new", [_name(mark) for mark in earlier.new])
    yield from listed("dropped", [_name(mark) for mark in earlier.dropped])


def place(finding: "Finding") -> str:
    """Return where a finding stands: its file, and the line where that says something."""
    span = finding.span
    return span.path if span.line == 1 else f"{span.path}:{span.line}"


def many(number: int, thing: str) -> str:
    """Return a number of things in words."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def listed(title: str, items: list[str]) -> list[str]:
    """Return a list in lines, cut short; nothing for an empty one."""
    if not items:
        return []
    return [f"{title}: {len(items)}", *_items(items)]


def _items(items: list[str]) -> list[str]:
    lines = [f"  {item}" for item in items[:MOST_LISTED]]
    more = len(items) - MOST_LISTED
    return [*lines, f"  and {more} more"] if more > 0 else lines


def _name(mark: "MarkName") -> str:
    return mark.mark if mark.order is None else f"{mark.mark} ({mark.order})"


def _times(number: int) -> str:
    return "" if number == 1 else f" ({number} times)"


def _stands(number: int) -> str:
    return f"{many(number, 'error')} {'stands' if number == 1 else 'stand'}"


def _safe(line: str) -> str:
    # What the report rendered is safe already, and may hold colours and several lines.
    return line if "\n" in line else printable(line)
