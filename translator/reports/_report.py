"""What a report is: a pure function from a verdict to text."""

from collections.abc import Callable

from msgspec import Struct

from translator.findings import Severity, Verdict


def _no_source(_path: str) -> bytes | None:
    return None


class RuleInfo(Struct, frozen=True, kw_only=True):
    """What a report may say of a rule beside its findings.

    Attributes:
        name: id of the rule.
        title: the fault in a few words.
        severity: what it weighs by itself.
        reference: the published source, or that there is none.
        text: what is checked, why and what to do; paragraphs of plain words (Markdown).
    """

    name: str
    title: str
    severity: Severity
    reference: str
    text: str


class ReportOptions(Struct, frozen=True, kw_only=True):
    """What the caller wishes of a report, and what only the caller can look up.

    Attributes:
        colour: whether the place it goes to is a terminal that shows colours.
        width: columns of that place; longer source lines are cut.
        source: path of an input -> its bytes, to show the line a finding speaks of; None
            where they are no longer at hand.
        rules: all rules there are, for a format that describes them.
    """

    colour: bool = False
    width: int = 100
    source: Callable[[str], bytes | None] = _no_source
    rules: tuple[RuleInfo, ...] = ()


class Report(Struct, frozen=True, kw_only=True):
    """One way to say what was found.

    Attributes:
        name: short name, as ``--format`` takes it.
        title: name in words.
        media_type: for web use.
        render: verdict and options to text that ends in a line end; pure. The text may hold
            any character of Unicode but half a surrogate pair.
    """

    name: str
    title: str
    media_type: str
    render: Callable[[Verdict, ReportOptions], str]
