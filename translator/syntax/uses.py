"""Which other files a text names with ``use``, by spelling alone: nothing is opened here."""

import re
from posixpath import dirname, join, normpath
from typing import Final

from translator.errors import TranslatorError
from translator.lengths.characters import BLANKS
from translator.source import Source, decode
from translator.syntax.quoting import STRING_PATTERN, unquoted

ENDING: Final = ".bmk"
_LONGEST: Final = 200
_USE: Final = re.compile(
    rf"(?<!\w)use(?!\w)[{BLANKS}\r\n]*(?P<named>{STRING_PATTERN})|{STRING_PATTERN}|#[^\r\n]*",
    re.IGNORECASE,
)


class UseError(TranslatorError, ValueError):
    """A file can't be named so; the text is the reason, as a sentence."""


def used_paths(source: Source) -> tuple[str, ...]:
    """Return the paths of the files that a text may use, in order, each once.

    A few that the parser will not take for a ``use`` may be among them; names that are no
    good are left out, since the reader tells them.
    """
    if b"use" not in source.data.lower() or b"\0" in source.data:
        return ()
    text, _ = decode(source.data)
    paths: dict[str, None] = {}
    for found in _USE.finditer(text):
        if found["named"] is not None:
            try:
                paths[used_path(source.path, unquoted(found["named"]))] = None
            except UseError:
                continue
    return tuple(paths)


def used_path(user: str, name: str) -> str:
    """Return the path of a file that another one uses, by the rules of the language.

    Args:
        user: path of the file that says ``use``, with forward slashes.
        name: the other file, as it says.

    Raises:
        UseError: for a name that is no way to a part-text file from here.
    """
    if "\\" in name:
        raise UseError("The way to a file is written with forward slashes: `parts/clips.bmk`.")
    if name.startswith("/") or re.match(r"[A-Za-z]:", name):
        raise UseError("The way to a file begins at this one, not at the top of a disk.")
    if not name.lower().endswith(ENDING) or name.lower().endswith(f"/{ENDING}"):
        raise UseError(f"Only a file of part text can be used, and its name ends in {ENDING}.")
    if len(name) > _LONGEST or not name.isprintable():
        raise UseError(f"A file's name is at most {_LONGEST} signs long, all of them visible.")
    return normpath(join(dirname(user), name))
