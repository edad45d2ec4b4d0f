"""What a release tells a person: the findings as text and as JSON, and the review page."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from translator.commands._derive import Derived, Holds, Written, key_of
from translator.commands._release_body import left_out, losses, writers
from translator.commands.check import rule_infos
from translator.conventions import CHOICES
from translator.findings import CAUTION
from translator.source import printable

if TYPE_CHECKING:
    from translator.release.manifest import LeftOut, OutputRole


def reports(
    derived: Derived, holds: Holds, written: Written
) -> "Iterator[tuple[str, bytes, OutputRole, str]]":
    """Yield path, bytes, role and format of each; the same bytes for the same inputs."""
    from translator.release.document import FINDINGS_JSON, FINDINGS_TEXT, REVIEW

    text = _rendered(derived, "text").removesuffix(f"{CAUTION}\n")
    more = "\n".join(printable(line) for line in _more(derived, holds, written))
    whole = f"{text}{more}\n{CAUTION}\n"
    yield FINDINGS_TEXT, _bytes(whole), "findings report", "text"
    yield FINDINGS_JSON, _bytes(_rendered(derived, "json")), "findings report", "json"
    yield REVIEW, _bytes(_page(derived, holds)), "review page", "html"


def _bytes(text: str) -> bytes:
    return text.encode("utf-8", "backslashreplace")


def _rendered(derived: Derived, form: str) -> str:
    from translator.reports import ReportOptions, reports

    sources = derived.kept.data
    options = ReportOptions(source=sources.get, rules=rule_infos())
    report = next(report for report in reports() if report.name == form)
    return report.render(derived.outcome.verdict, options)


def _page(derived: Derived, holds: Holds) -> str:
    from translator.pages.review import Review, render

    outcome = derived.outcome
    pairs = zip(outcome.parts, outcome.refused, strict=True)
    return render(
        Review(
            verdict=outcome.verdict,
            parts=outcome.parts,
            refused=tuple(why or _hold(holds.get(key_of(placed))) for placed, why in pairs),
            sources=derived.kept.data,
            conventions={item.source.path: item.conventions for item in derived.inputs},
            rules=rule_infos(),
        )
    )


def _hold(reason: str | None) -> str:
    return "" if reason is None else f"it is on hold: {reason}"


def _more(derived: Derived, holds: Holds, written: Written) -> Iterator[str]:
    """Yield what the report of a release says beside that of a check."""
    for writer in writers(derived):
        count = f"{len(writer.files)} {'file' if len(writer.files) == 1 else 'files'}"
        said = {n: v for n, v in writer.settings.items() if v != CHOICES[n][0]}
        settled = ", ".join(f"{name} = {value}" for name, value in said.items())
        yield f"Read with (the writer {writer.writer}, {count}): {settled or 'nothing settled'}."
    for (order, mark), reason in sorted(holds.items()):
        yield f"On hold: {mark}{f' of order {order}' if order else ''}: {reason}."
    yield from (f"Left out: {_left_out(item)}." for item in left_out(derived))
    yield from (f"Not told by a format: {loss}." for loss in losses(written))


def _left_out(item: "LeftOut") -> str:
    mark = "" if item.mark is None else f"{item.mark}, "
    revision = "" if item.revision is None else f"revision {item.revision}, "
    return f"{mark}{revision}{item.source}: {item.why}"
