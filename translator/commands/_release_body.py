"""What a manifest says of a delivery, apart from who released it and when."""

import hashlib
from typing import TYPE_CHECKING, Any, Final

from translator.commands._derive import Derived, Holds, Written, key_of
from translator.commands._made import LOSS
from translator.source import printable

if TYPE_CHECKING:
    from translator.release.manifest import Judged, LeftOut, Mark, Writer

_MASS_DECIMALS: Final = 6
"""A milligram: no machine's last digit shows."""


def body(derived: Derived, holds: Holds, written: Written) -> dict[str, Any]:
    """Return the fields of a release that follow from its inputs."""
    kept = derived.kept
    return {
        "options": kept.options,
        "judged": judged(derived),
        "writers": writers(derived),
        "marks": marks(derived, holds, written),
        "left_out": left_out(derived),
        "remarks": kept.remarks,
        "inputs": kept.files,
        "outputs": tuple(sorted(written.files, key=lambda file: file.path)),
    }


def marks(derived: Derived, holds: Holds, written: Written) -> "tuple[Mark, ...]":
    """Return what the manifest says of each mark, in order."""
    from translator.geometry.identity import piece_key
    from translator.geometry.mass import gross_mass_kg, net_mass_kg
    from translator.release.manifest import Mark
    from translator.tables.designations import designation_of

    found: list[Mark] = []
    for placed in sorted(derived.ready, key=key_of):
        part, key = placed.part, key_of(placed)
        found.append(
            Mark(
                mark=part.mark,
                order=part.order,
                status="on hold" if key in holds else "released",
                reason=holds.get(key),
                revision=part.revision,
                quantity=part.quantity,
                section=designation_of(part.section),
                length_mm=part.length_mm,
                grade=part.grade,
                units=part.units,
                mass_kg=round(gross_mass_kg(part), _MASS_DECIMALS),
                net_mass_kg=round(net_mass_kg(part), _MASS_DECIMALS),
                piece=hashlib.sha256(piece_key(part).encode()).hexdigest(),
                source=placed.places[""].path,
                files=tuple(written.of_mark.get(key, ())),
            )
        )
    return tuple(found)


def left_out(derived: Derived) -> "tuple[LeftOut, ...]":
    """Return what of the delivery is no part of the release, and why."""
    from translator.release.manifest import LeftOut

    outcome = derived.outcome
    found = [
        LeftOut(
            source=placed.places[""].path,
            mark=placed.part.mark,
            order=placed.part.order,
            revision=placed.part.revision,
            why=printable(why),
        )
        for placed, why in zip(outcome.parts, outcome.refused, strict=True)
        if why
    ]
    found += [
        LeftOut(source=path, why=printable(f"not for this tool: {why}"))
        for path, why in outcome.verdict.not_ours
    ]
    return tuple(found)


def judged(derived: Derived) -> "Judged":
    """Return what the parts were judged by, and what stands open."""
    from translator.findings import Severity, count
    from translator.release.manifest import Judged, Skipped

    verdict = derived.outcome.verdict
    return Judged(
        practice=verdict.practice,
        rules=verdict.rules_run,
        not_applied=tuple(Skipped(rule=r, why=why) for r, why in verdict.rules_not_applicable),
        warnings=count(verdict.findings, Severity.WARNING),
        notes=count(verdict.findings, Severity.NOTE),
        waived=sum(1 for finding in verdict.findings if finding.waived is not None),
    )


def writers(derived: Derived) -> "tuple[Writer, ...]":
    """Return how the files of each program that writes NC data were read."""
    from msgspec.structs import asdict

    from translator.batch.settling import settle_each
    from translator.pipeline import begin
    from translator.release.manifest import Writer

    evidence = [begin(item)[1] for item in derived.inputs]
    chosen, _ = settle_each([item.conventions for item in derived.inputs], evidence)
    files: dict[tuple[str, tuple[tuple[str, str], ...]], list[str]] = {}
    for item, said, own in zip(derived.inputs, evidence, chosen, strict=True):
        if said is not None:
            key = (said.writer, tuple(asdict(own).items()))
            files.setdefault(key, []).append(item.source.path)
    return tuple(
        Writer(writer=printable(writer), settings=dict(own), files=tuple(names))
        for (writer, own), names in sorted(files.items())
    )


def losses(written: Written) -> list[str]:
    """Return what formats had no words for, each once with its number of parts."""
    from collections import Counter

    found = Counter(finding.message for finding in written.findings if finding.rule == LOSS)
    return [f"{what} ({n} {'part' if n == 1 else 'parts'})" for what, n in sorted(found.items())]
