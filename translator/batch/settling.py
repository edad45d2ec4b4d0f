"""Settle the open conventions of a delivery whose files come under several settings."""

from collections.abc import Sequence

from translator.conventions import Conventions, Evidence, settle
from translator.findings import Finding


def settle_each(
    given: Sequence[Conventions], evidence: Sequence[Evidence | None]
) -> tuple[tuple[Conventions, ...], tuple[Finding, ...]]:
    """Return the settled conventions of each file, and what is to be said about them.

    Files that come under the same settings are pooled, by writer; a file whose format leaves
    nothing open (no evidence) keeps the settings given.
    """
    pools: dict[Conventions, list[Evidence]] = {}
    for own, said in zip(given, evidence, strict=True):
        if said is not None:
            pools.setdefault(own, []).append(said)
    settled = {own: settle(own, pool) for own, pool in pools.items()}
    chosen = tuple(
        own if said is None else settled[own].by_writer[said.writer]
        for own, said in zip(given, evidence, strict=True)
    )
    return chosen, tuple(finding for case in settled.values() for finding in case.findings)
