"""Where the keys and tables of a TOML text stand; its own parser does not tell."""

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from msgspec import Struct

from translator.source import Span

Path = tuple[str | int, ...]
"""Names of tables and keys, and the number of a table in a list of them, from 0."""

_BLANK: Final = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_NAME: Final = re.compile(
    r"[ \t]*(?:(?P<bare>[A-Za-z0-9_-]+)"
    r"|(?P<basic>\"(?:[^\"\\\n]|\\.)*\")"
    r"|'(?P<plain>[^'\n]*)')[ \t]*"
)
_STRING: Final = re.compile(
    r'"""(?:[^\\]|\\.)*?"""(?:"{0,2})'
    r"|'''.*?'''(?:'{0,2})"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'",
    re.DOTALL,
)
_REST: Final = re.compile(r"[^\"'#\[\]{}\n]+")


class Places(Struct, frozen=True, kw_only=True):
    """Where things stand in one TOML file.

    Attributes:
        path: of the file, for spans.
        known: place of each table header and of each key with its value.
    """

    path: str
    known: Mapping[Path, Span]

    def of(self, *path: str | int) -> Span:
        """Return the place of a table or key, or of the nearest thing around it."""
        while path:
            if path in self.known:
                return self.known[path]
            path = path[:-1]
        return Span(self.path, 1, 1, 1, 1)


def places(path: str, text: str) -> Places:
    """Find all tables and keys of a text that is known to be good TOML.

    Members of an inline table or list are not told apart; they stand where it does.
    """
    scan = _Scan(path, text)
    while scan.go_on():
        pass
    return Places(path=path, known=MappingProxyType(scan.known))


class _Scan:
    """One pass over a text, statement by statement."""

    def __init__(self, path: str, text: str) -> None:
        self._path = path
        self._text = text
        self._at = 0
        self._line = 1
        self._line_start = 0
        self._counted = 0
        self._table: Path = ()
        self._numbers: dict[Path, int] = {}
        self.known: dict[Path, Span] = {}

    def go_on(self) -> bool:
        """Take the next statement; False at the end of the text."""
        blank = _BLANK.match(self._text, self._at)
        start = self._at if blank is None else blank.end()
        if start >= len(self._text):
            return False
        if self._text.startswith("[", start):
            self._header(start)
        else:
            self._pair(start)
        return True

    def _header(self, start: int) -> None:
        is_list = self._text.startswith("[[", start)
        names, end = self._names(start + (2 if is_list else 1))
        self._table = self._resolved(names[:-1])
        if is_list:
            own = (*self._table, names[-1])
            self._numbers[own] = self._numbers.get(own, -1) + 1
        self._table = self._resolved(names)
        self._at = end + (2 if is_list else 1)
        self._note(self._table, start, self._at)

    def _pair(self, start: int) -> None:
        names, equals = self._names(start)
        end = self._value_end(equals + 1)
        self._at = end
        self._note((*self._table, *names), start, end)

    def _names(self, start: int) -> tuple[tuple[str, ...], int]:
        """Return the dotted name that begins at a place, and where what follows it stands."""
        names: list[str] = []
        while found := _NAME.match(self._text, start):
            names.append(_spoken(found))
            start = found.end()
            if not self._text.startswith(".", start):
                break
            start += 1
        if not names:
            raise ValueError(f"no name at {start}: the text is no TOML")
        return tuple(names), start

    def _resolved(self, names: Path) -> Path:
        """Return a table's path with the number of each list of tables it lies in."""
        path: Path = ()
        for name in names:
            path = (*path, name)
            if path in self._numbers:
                path = (*path, self._numbers[path])
        return path

    def _value_end(self, at: int) -> int:
        """Return the end of the value that begins at a place, without trailing blanks."""
        text, depth, end = self._text, 0, at
        while at < len(text) and (depth or text[at] != "\n"):
            character = text[at]
            if character == "#":
                line_end = text.find("\n", at)
                at = len(text) if line_end < 0 else line_end
                continue
            depth += (character in "[{") - (character in "]}")
            found = _STRING.match(text, at) or _REST.match(text, at)
            at = at + 1 if found is None else found.end()
            if not text[at - 1].isspace():
                end = at
        return end if end > 0 else at

    def _note(self, path: Path, start: int, end: int) -> None:
        line, column = self._place(start)
        end_line, end_column = self._place(end)
        self.known[path] = Span(self._path, line, column, end_line, end_column)

    def _place(self, offset: int) -> tuple[int, int]:
        """Return line and column of an offset; offsets are asked for in rising order."""
        breaks = self._text.count("\n", self._counted, offset)
        if breaks:
            self._line += breaks
            self._line_start = self._text.rfind("\n", self._counted, offset) + 1
        self._counted = offset
        return self._line, offset - self._line_start + 1


def _spoken(found: re.Match[str]) -> str:
    """Return one name of a key as it is meant: an escape in quotes is what it stands for."""
    if found["basic"] is None:
        return found["bare"] or found["plain"] or ""
    import tomllib  # only where there is a text to read

    return str(tomllib.loads(f"k = {found['basic']}")["k"])
