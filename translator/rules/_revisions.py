"""The order of revisions, as a drawing office counts them."""

import re


def revision_key(revision: str | None) -> tuple[str, tuple[tuple[int, str], ...]]:
    """Return a key that sorts revisions: 2 before 10, A before B, Z before AA, A before A1.

    The first item is the kind: "none" for a revision that is not stated, "number", "letter"
    or "sign". Keys of two kinds say nothing about each other; see ``is_newer``.
    """
    if revision is None or not revision.strip():
        return "none", ()
    text = revision.strip().upper()
    runs = re.findall(r"[0-9]+|[A-Z]+", text)
    if not runs:
        return "sign", ((0, text),)
    kind = "number" if runs[0][0] in "0123456789" else "letter"
    plain = (run.lstrip("0") or "0" for run in runs)
    return kind, tuple((len(run), run) for run in plain)


def comparable(one: str | None, other: str | None) -> bool:
    """Tell whether two revisions can be put in order: both stated, in the same style."""
    kind = revision_key(one)[0]
    return kind in ("number", "letter") and kind == revision_key(other)[0]


def is_newer(one: str | None, other: str | None) -> bool:
    """Tell whether ``one`` is a later revision than ``other``."""
    return comparable(one, other) and revision_key(one) > revision_key(other)
