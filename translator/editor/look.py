"""One file of part text as it stands in an editor: its tree, its parts and what is wrong."""

from collections.abc import Mapping
from pathlib import Path

from msgspec import Struct

from translator.batch.configuration import Configurations
from translator.batch.library import with_library
from translator.batch.waivers_file import SideFiles
from translator.errors import WorkError
from translator.findings import Finding, Severity, in_order
from translator.model import Placed
from translator.pipeline import Input, examine
from translator.readers.part_text import READER
from translator.source import Source, decode, whole_file
from translator.syntax.tree import PartText


class Look(Struct, frozen=True, kw_only=True):
    """What there is to say about one text.

    Attributes:
        text: the text itself.
        tree: its tree.
        parts: the parts that could be read whole.
        findings: what `backmark check` would say about the file by itself, in order.
        used: path of each file that it uses -> the text of that.
    """

    text: str
    tree: PartText
    parts: tuple[Placed, ...]
    findings: tuple[Finding, ...]
    used: Mapping[str, str]


def source_of(path: str, text: str) -> Source:
    """Return a text that is being typed as a source; the files that it uses are read.

    Args:
        path: where it is or will be saved; it need not exist.
        text: what the editor holds.
    """
    # A mark of the byte order is no text, but an editor counts its column.
    kept = f" {text[1:]}" if text.startswith("\ufeff") else text
    source = Source(path=path, data=kept.encode("utf-8", "replace"))
    return with_library(source, path, READER.uses)


def look_at(path: str, text: str) -> Look:
    """Read and check one text under the settings that its folder comes under.

    Set rules see this file alone. A settings file that can't be read is a finding.
    """
    source = source_of(path, text)
    try:
        outcome = examine([_input(source)])
    except WorkError as error:
        parts: tuple[Placed, ...] = ()
        findings: tuple[Finding, ...] = (_unreadable(path, error),)
    else:
        parts, findings = outcome.parts, outcome.verdict.findings
    own = in_order(finding for finding in findings if finding.span.path == path)
    used = {name: decode(data)[0] for name, data in source.library.items()}
    tree = READER.parse(source)
    return Look(text=text, tree=tree, parts=parts, findings=own, used=used)


def _input(source: Source) -> Input:
    folder = Path(source.path).parent
    own = Configurations().of(folder)
    return Input(
        source=source,
        reader=READER,
        conventions=own.conventions,
        practice=own.practice,
        decisions=SideFiles([Path(source.path)]).of(folder, own),
    )


def _unreadable(path: str, error: WorkError) -> Finding:
    return Finding(
        rule="settings-unreadable",
        severity=Severity.ERROR,
        message=f"Nothing is checked here: {error}.",
        span=whole_file(path),
    )
