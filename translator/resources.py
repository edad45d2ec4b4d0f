"""Find the files that ship beside the code: the grammar and the schemas."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def resource(folder: str, name: str) -> Path:
    """Return the path of a shipped file, in a wheel or in a checkout.

    A wheel carries the folders inside the package; an editable install does not, so the
    checkout around the package is looked at second.

    Raises:
        FileNotFoundError: when neither place has it (a broken installation).
    """
    for base in (_PACKAGE / "_data", _PACKAGE.parent):
        path = base / folder / name
        if path.is_file():
            return path
    raise FileNotFoundError(f"{folder}/{name} is missing from this installation")
