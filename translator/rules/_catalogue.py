"""The rule catalogue, generated from the rules themselves."""

import inspect
import sys
from collections.abc import Iterable

from translator.rules._practice import allowed
from translator.rules._rule import NO_PRACTICE, Example, Rule

_HEAD = """\
# Rules

Generated from the rule modules; do not edit. Each entry says what is checked, why, what to do and
whose figure it is, with an example that breaks the rule and one that keeps it. `<--` marks the
lines that are reported. These checks are an aid: they do not replace the engineer of record, the
governing code and its edition, local rules, licensed practice, machine guarding and lock-out, or
first-piece inspection before an unattended run.

| rule | weighs | fault |
|---|---|---|
"""


def catalogue(rules: Iterable[Rule]) -> str:
    """Return the catalogue of some rules as Markdown text."""
    listed = tuple(rules)
    rows = "".join(f"| [{r.name}](#{r.name}) | {r.severity} | {r.title} |\n" for r in listed)
    return _HEAD + rows + "".join(f"\n## {r.name}\n\n{_body(r)}" for r in listed)


def entry(rule: Rule) -> str:
    """Return the text of one rule, as ``backmark rules NAME`` prints it."""
    return f"{rule.name} ({rule.severity}, of a {rule.scope})\n\n{_body(rule)}"


def documentation(rule: Rule) -> str:
    """Return the docstring of a rule's module, without its indentation."""
    return inspect.cleandoc(sys.modules[rule.check.__module__].__doc__ or "")


def _body(rule: Rule) -> str:
    shown = [("Breaks the rule:", rule.failing[0]), ("Keeps it:", rule.passing[0])]
    examples = "".join(f"\n{title}\n\n{_example(example)}" for title, example in shown)
    said = documentation(rule)
    if rule.limit:
        said += f"\n\nIn [limits] {allowed(rule.limit)}."
    return f"{said}\n{examples}"


def _example(example: Example) -> str:
    files = ((example.name, example.text), *example.files)
    if example.settings != NO_PRACTICE:
        files = (("backmark.toml", example.settings), *files)
    if example.machine:
        files = (("line.machine.json", example.machine), *files)
    if example.bill:
        files = (*files, ("bill.csv", example.bill))
    fences = []
    for name, text in files:
        title = f"`{name}`\n\n" if len(files) > 1 else ""
        fences.append(f"{title}```\n{text.strip()}\n```\n")
    lines = ", ".join(map(str, example.lines))
    return "\n".join(fences) + (f"\nReported: line {lines}.\n" if lines else "")
