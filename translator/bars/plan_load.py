"""A plan document to its plan: strict, every fault at its place."""

from typing import Final

from pydantic import ValidationError

from translator.bars.plan_model import FORMAT, MAJOR, VERSION, Plan
from translator.documents.fault import Fault, resolve
from translator.documents.head import Head, head_faults
from translator.documents.strict import parse
from translator.findings import Finding, Severity
from translator.source import Source

LARGEST_BYTES: Final = 64_000_000
"""A plan of 100,000 pieces stays below."""

MOST_FAULTS: Final = 20
"""Faults that are told one by one; a plan is written by a program, and rarely typed."""

_HEAD: Final = Head(format=FORMAT, major=MAJOR, version=VERSION, holds="plan")


def load_plan(source: Source) -> tuple[Plan | None, tuple[Finding, ...]]:
    """Read one cutting plan (JSON, UTF-8).

    Returns:
        The plan, None when a fault keeps it from being one; and all findings.
    """
    tree = parse(source, "cutting plan", LARGEST_BYTES)
    if not tree.is_sound:
        return None, tree.findings
    faults = list(head_faults(tree.value, _HEAD))
    plan = None
    if not any(fault.severity is Severity.ERROR for fault in faults):
        try:
            plan = Plan.model_validate(tree.value["plan"])
        except ValidationError as error:
            faults += _faults(error)
    return plan, (*tree.findings, *resolve(tree, faults))


def _faults(error: ValidationError) -> list[Fault]:
    count = error.error_count()
    faults = [
        Fault(
            rule="field-wrong",
            message=f"{_spelt(each['loc'])} of the plan: {_lowered(each['msg'])}",
            path=("plan", *each["loc"]),
        )
        for each in error.errors(include_url=False)[:MOST_FAULTS]
    ]
    if count > MOST_FAULTS:
        message = f"the plan has {count} faults, more than are listed"
        faults.append(Fault(rule="field-wrong", message=message, path=("plan",)))
    return faults


def _spelt(path: tuple[int | str, ...]) -> str:
    return ".".join(str(step) for step in path)


def _lowered(message: str) -> str:
    return message[:1].lower() + message[1:]
