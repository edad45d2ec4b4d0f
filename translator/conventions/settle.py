"""Settle the conventions of a delivery once, before any part is lowered."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from translator.conventions.evidence import Evidence
from translator.conventions.settings import Conventions
from translator.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """Conventions of each writer in a delivery, and what is to be said about them."""

    by_writer: Mapping[str, Conventions]
    findings: tuple[Finding, ...]


def settle(conventions: Conventions, evidence: Iterable[Evidence]) -> Settled:
    """Settle each writer's conventions from the settings given and the pooled evidence."""
    raise NotImplementedError
