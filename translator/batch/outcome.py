"""A delivery after the road; a module of its own, so that what only reports it loads little."""

from typing import TYPE_CHECKING

from msgspec import Struct

from translator.findings import Verdict

if TYPE_CHECKING:
    from translator.model import Placed
    from translator.rules._judged import Judged


class Outcome(Struct, frozen=True, kw_only=True):
    """A delivery after the road.

    Attributes:
        parts: all parts that could be read whole, sorted by file, then in the file's order.
            Empty when the delivery was not to be held in memory.
        judged: the same parts in the same order, as the rules left them.
        refused: for each part, why it may not be written; "" when it may.
        verdict: what was looked at, and all findings in order.
    """

    parts: "tuple[Placed, ...]"
    judged: "tuple[Judged, ...]"
    refused: tuple[str, ...]
    verdict: Verdict
