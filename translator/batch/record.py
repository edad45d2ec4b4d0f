"""What is kept of one file of a delivery once it has been read and judged."""

from msgspec import Struct

from translator.conventions import Conventions, Evidence
from translator.findings import Finding
from translator.rules._judged import Judged


class Ready(Struct, frozen=True, kw_only=True):
    """A file that is made and not yet called by its name.

    Attributes:
        number: of the part in its file, from 0.
        suffix: what its name has behind the part's stem.
        title: title of its format.
        hidden: its name for now, in the folder of files that wait.
        size: in bytes.
        sha256: of its bytes, 32 of them.
    """

    number: int
    suffix: str
    title: str
    hidden: str
    size: int
    sha256: bytes


class FileRecord(Struct, frozen=True, kw_only=True):
    """One file after the stages that look at one file alone.

    Attributes:
        path: what findings call it.
        conventions: what it was read with.
        evidence: what it says of open conventions, None when its format leaves none open.
        not_ours: why the whole file is not for this tool; "" when it is.
        findings: what its reader says.
        parts: its parts after the rules that look at one part alone.
        ready: the files that were made of its parts.
        told: what making them has to say.
    """

    path: str
    conventions: Conventions
    evidence: Evidence | None
    not_ours: str
    findings: tuple[Finding, ...]
    parts: tuple[Judged, ...]
    ready: tuple[Ready, ...] = ()
    told: tuple[Finding, ...] = ()
