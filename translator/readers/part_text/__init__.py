"""Part text (.bmk): typed by hand in a minute, printed from any part; see grammar/README.md."""

from functools import lru_cache
from typing import Final

from msgspec.structs import replace

from translator.conventions import Conventions
from translator.readers._reader import Reader, Reading
from translator.source import Source
from translator.syntax.tree import PartText


def _parse(source: Source) -> PartText:
    """Read bytes into a tree; the parser is loaded once there is something to parse."""
    from translator.syntax.parser import parse_text

    tree = parse_text(source)
    if not source.library and not source.unread:
        return tree
    library = {path: _library(path, data) for path, data in source.library.items()}
    return replace(tree, library=library, unread=source.unread)


@lru_cache(maxsize=32)
def _library(path: str, data: bytes) -> PartText:
    """Read a file that others use; it is parsed once for all of them."""
    from translator.syntax.parser import parse_text

    return parse_text(Source(path=path, data=data))


def _uses(source: Source) -> tuple[str, ...]:
    """Return the paths of the files that a text may use."""
    from translator.syntax.uses import used_paths

    return used_paths(source)


def _lower(tree: PartText, _conventions: Conventions) -> Reading:
    """Lower a tree; the model's room is only loaded once there is something to lower."""
    from translator.readers.part_text._files import lower

    return lower(tree)


def _evidence(_tree: PartText) -> None:
    """Return None: this format leaves nothing open."""


READER: Final = Reader(
    name="bmk",
    title="part text",
    pattern=r".*\.bmk",
    ending=".bmk",
    parse=_parse,
    evidence=_evidence,
    lower=_lower,
    uses=_uses,
)
