"""The list of digests that ``sha256sum -c`` reads."""

from collections.abc import Mapping


def sums_text(digests: Mapping[str, str]) -> str:
    """Return one line for each file: its SHA-256, two blanks, its path; sorted by path.

    The paths hold nothing that the format would have to escape.
    """
    return "".join(f"{digests[path]}  {path}\n" for path in sorted(digests))
