"""File names as references that a URI may hold."""

import re
from typing import Final
from urllib.parse import quote

_SAFE: Final = "/!$&'()*+,;=@~"
"""What a path may hold as it is (RFC 3986 3.3); a colon would make its first step a scheme."""

_DRIVE: Final = re.compile(r"[A-Za-z]:/")


def uri_of(path: str) -> str:
    """Return the URI reference of a path with forward slashes.

    A path from the root becomes a ``file`` URI, any other a relative reference. Bytes of a
    name that is no text are kept.
    """
    try:
        data = path.encode("utf-8", "surrogateescape")
    except UnicodeEncodeError:
        data = path.encode("utf-8", "surrogatepass")
    if _DRIVE.match(path):
        return f"file:///{path[0]}:{quote(data[2:], safe=_SAFE)}"
    if path.startswith("//"):
        return f"file:{quote(data, safe=_SAFE)}"
    prefix = "file://" if path.startswith("/") else ""
    return prefix + quote(data, safe=_SAFE)
