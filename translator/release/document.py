"""Names of a release: its format, its own files, and how the files it keeps are called."""

from typing import Final

FORMAT: Final = "backmark/release"
"""Stands in the field ``format`` of every manifest."""

MAJOR: Final = 1
"""Changes when a reader written for the old form would misread the new one."""

VERSION: Final = f"{MAJOR}.0"
"""Stands in the field ``version``; the number behind the point counts added fields."""

MANIFEST: Final = "release.json"
SUMS: Final = "SHA256SUMS"
SIGNATURE: Final = "release.json.sig"

REVIEW: Final = "review.html"
FINDINGS_TEXT: Final = "findings.txt"
FINDINGS_JSON: Final = "findings.json"

FILES: Final = "files"
"""Folder of the emitted files; each format has a folder of its own in it."""

INPUTS: Final = "inputs"
"""Folder of the inputs as they were read."""

BESIDE: Final = "beside"
"""Folder of settings and machine profiles that lie outside the folders of the inputs."""

KEPT: Final = ".kept"
"""Stands behind the name of every kept input.

So no machine, and no command that looks for part files, takes one for a released file: least
of all the input of a mark that is on hold.
"""
