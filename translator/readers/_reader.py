"""What a reader is: three steps from bytes to placed parts."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from translator.conventions import Conventions, Evidence
from translator.findings import Finding
from translator.source import Source

if TYPE_CHECKING:
    from translator.model import Placed


class Reading(Struct, frozen=True, kw_only=True):
    """What one file says.

    Attributes:
        parts: the parts that could be read whole, in the file's order.
        findings: everything the reader has to say, in any order.
        not_ours: why the whole file is not for this tool (a profile it does not treat);
            "" when it is. Such a file has no parts and is no fault of the delivery.
    """

    parts: "tuple[Placed, ...]" = ()
    findings: tuple[Finding, ...] = ()
    not_ours: str = ""


def _uses_none(_source: Source) -> tuple[str, ...]:
    """Return no paths: most formats know no other files."""
    return ()


class Reader(Struct, frozen=True, kw_only=True):
    """One input format.

    Attributes:
        name: short name ("bmk", "nc", "json").
        title: name in words.
        pattern: regular expression that the lower-case file name must match to its end.
        ending: the usual end of such a name, as a person is told it.
        parse: bytes to a frozen tree; never raises on any bytes. Faults live in the tree.
        evidence: what the tree says about open conventions; None when the format has none.
        lower: tree and settled conventions to placed parts and all findings, those of
            ``parse`` included.
        uses: the paths of the other files that a source may use; whoever loads the source puts
            their bytes into ``Source.library``.
        leaves_open: whether the format leaves something to conventions at all.
    """

    name: str
    title: str
    pattern: str
    ending: str
    parse: Callable[[Source], Any]
    evidence: Callable[[Any], Evidence | None]
    lower: Callable[[Any, Conventions], Reading]
    uses: Callable[[Source], tuple[str, ...]] = _uses_none
    leaves_open: bool = False
