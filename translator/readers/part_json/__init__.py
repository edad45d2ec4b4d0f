"""Part documents: JSON of the format "backmark/part", one part a file.

The document is read strictly, its part validated, and what it says was computed is derived
again: a stale outline would reach a machine.
"""

from typing import Final

from translator.conventions import Conventions
from translator.documents.strict import Tree, parse
from translator.readers._reader import Reader, Reading
from translator.source import Source


def _parse(source: Source) -> Tree:
    return parse(source, "part document")


def _lower(tree: Tree, conventions: Conventions) -> Reading:
    """Lower a tree; geometry is only loaded once there is something to lower."""
    from translator.readers.part_json._lower import lower

    return lower(tree, conventions)


def _evidence(_tree: Tree) -> None:
    """Return None: this format leaves nothing open."""


READER: Final = Reader(
    name="json",
    title="part document (JSON)",
    pattern=r".*\.part\.json",
    ending=".part.json",
    parse=_parse,
    evidence=_evidence,
    lower=_lower,
)
