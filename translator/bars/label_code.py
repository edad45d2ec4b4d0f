"""A code that a machine reads, drawn by a library (segno, BSD; the extra "labels")."""

from typing import Final

from translator.errors import WorkError

MOST_LETTERS: Final = 300
"""A longer text would make a code too fine for a label."""


def qr_code(text: str) -> tuple[int, str] | None:
    """Return the modules of a QR code's side (ISO/IEC 18004) and a path that draws it.

    The quiet zone of four modules is part of both. None for a text too long for a label.

    Raises:
        WorkError: when the library is not installed.
    """
    try:
        import segno
    except ImportError:
        raise WorkError(
            "codes need the package segno; install it with: pip install 'backmark[labels]'"
        ) from None
    if len(text) > MOST_LETTERS:
        return None
    code = segno.make_qr(text, error="m", boost_error=False)
    quiet = 4
    rows = [[bool(module) for module in row] for row in code.matrix]
    path = "".join(
        f"M{start + quiet} {y + quiet}h{length}v1h-{length}z"
        for y, row in enumerate(rows)
        for start, length in _runs(row)
    )
    return len(rows) + 2 * quiet, path


def _runs(row: list[bool]) -> list[tuple[int, int]]:
    """Return where dark modules begin in a row, and how many follow each other."""
    runs: list[tuple[int, int]] = []
    for x, dark in enumerate(row):
        if dark and runs and sum(runs[-1]) == x:
            runs[-1] = (runs[-1][0], runs[-1][1] + 1)
        elif dark:
            runs.append((x, 1))
    return runs
