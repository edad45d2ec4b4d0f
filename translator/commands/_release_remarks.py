"""What the search for files passed over, told by the names that a release gives its inputs."""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Final

from translator.commands._delivery import Delivery
from translator.source import printable

if TYPE_CHECKING:
    from translator.release.manifest import Remark

_LONGEST: Final = 4000


def remarks(
    delivery: Delivery, named: Sequence[str], names: Mapping[str, str]
) -> "tuple[Remark, ...]":
    """Return the notes and warnings of the search; no folder of this disk shows in them.

    Args:
        delivery: what was found.
        named: paths of the command line.
        names: path of each file -> its name in the release.
    """
    from translator.findings import Severity, in_order
    from translator.release.manifest import Remark

    ways = dict(_ways(named, names))
    return tuple(
        Remark.model_validate(
            {
                "rule": finding.rule,
                "severity": str(finding.severity),
                "message": printable(_told(finding.message, ways))[:_LONGEST],
                "path": printable(_whole(finding.span.path, names, ways)) or ".",
            }
        )
        for finding in in_order(delivery.searched)
        if finding.severity is not Severity.ERROR
    )


def _ways(named: Sequence[str], names: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Yield how a path of the command line begins the paths below it, and how their names begin."""
    for path in sorted(named, key=len, reverse=True):
        for way in (f"{path.rstrip('/')}/", f"{path}!/"):
            below = next((one for one in names if one.startswith(way)), None)
            if below is not None and names[below].endswith(below.removeprefix(way)):
                yield way, names[below].removesuffix(below.removeprefix(way))
            else:
                yield way, f"{path.rstrip('/').rpartition('/')[2]}{way.removeprefix(path)}"


def _told(message: str, ways: Mapping[str, str]) -> str:
    for way, name in ways.items():
        literal = name.replace("\\", "\\\\")
        message = re.sub(rf"(?<![^\s(\"']){re.escape(way)}", literal, message)
    return message


def _whole(path: str, names: Mapping[str, str], ways: Mapping[str, str]) -> str:
    if path in names:
        return names[path]
    own = next((name for way, name in ways.items() if f"{path.rstrip('/')}/" == way), None)
    return _told(path, ways) if own is None else own.rstrip("/")
