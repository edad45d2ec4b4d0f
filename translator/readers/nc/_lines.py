"""Bytes to numbered lines: encodings, line ends and the dirt of old programs."""

import re
from typing import Final

from translator.findings import Severity
from translator.readers.nc._tree import Line, Remark
from translator.source import decode

LARGEST_BYTES: Final = 512 * 1024
"""A part file of 10 kB is a large one; beyond this size the file is refused unread."""

MOST_LINES: Final = 10_000

LONGEST_LINE: Final = 80
"""Characters in a line, after the standard."""

_NEWLINE: Final = re.compile(r"\r\r\n|\r\n|\r|\n")
_CONTROL: Final = re.compile("[\x00-\x08\x0a-\x1f\x7f-\x9f]")
_DOUBLED: Final = 20
"""A file of this many lines whose every second line is blank is double-spaced."""


def read_lines(data: bytes) -> tuple[tuple[Line, ...], tuple[Remark, ...], str]:
    """Turn bytes into lines.

    Returns:
        The lines, remarks on what was put right, and the line end found first. A file over
        the limits gives no lines and one fatal remark.
    """
    if len(data) > LARGEST_BYTES:
        return (), (_too_big(f"{len(data)} bytes", f"{LARGEST_BYTES} bytes"),), ""
    text, encoding = decode(data)
    remarks: list[Remark] = []
    if data.startswith(b"\xef\xbb\xbf"):
        remarks.append(_file_note("nc-byte-order-mark", "the file begins with a byte-order mark"))
    if not text.isascii():
        remarks.append(
            _file_note("nc-not-ascii", f"the file is not plain ASCII; it was read as {encoding}")
        )
    text = _without_end_byte(text, remarks)
    newline = _NEWLINE.search(text)
    texts = _NEWLINE.split(text)
    if texts and not texts[-1]:
        texts.pop()
    if "\r\r\n" in text:
        remarks.append(_file_note("nc-line-ends", "lines end in CR CR LF; read as one line end"))
    if len(texts) > MOST_LINES:
        return (), (_too_big(f"{len(texts)} lines", f"{MOST_LINES} lines"),), ""
    lines = [Line(number=n, text=t) for n, t in enumerate(texts, start=1)]
    lines = _without_doubles(lines, remarks)
    lines = [_without_controls(line, remarks) for line in lines]
    return tuple(lines), tuple(remarks), newline.group() if newline else ""


def _file_note(rule: str, text: str) -> Remark:
    return Remark(rule=rule, severity=Severity.NOTE, text=text, line=1, is_deviation=True)


def _too_big(found: str, limit: str) -> Remark:
    return Remark(
        rule="nc-too-big",
        severity=Severity.ERROR,
        text=f"the file has {found}, more than the {limit} that a part file may have; not read",
        line=1,
        is_fatal=True,
    )


def _without_end_byte(text: str, remarks: list[Remark]) -> str:
    stripped = text.rstrip("\x1a\x00")
    if stripped != text:
        text = "the file ends in old end-of-file bytes (1A or 00), which were passed over"
        remarks.append(_file_note("nc-end-byte", text))
    return stripped


def _without_doubles(lines: list[Line], remarks: list[Remark]) -> list[Line]:
    """Drop every second line of a file whose line ends were doubled by a transfer."""
    if len(lines) < _DOUBLED or any(line.text.strip() for line in lines[1::2]):
        return lines
    if not all(line.text.strip() for line in lines[0:4:2]):
        return lines
    remarks.append(
        _file_note("nc-line-ends", "every second line is blank; those lines were not counted")
    )
    return lines[::2]


def _without_controls(line: Line, remarks: list[Remark]) -> Line:
    """Replace control characters other than tabs by blanks, and say so."""
    if len(line.text) > LONGEST_LINE and not line.text.startswith("**"):
        text = f"lines are longer than the standard's {LONGEST_LINE} characters"
        remarks.append(_warning("nc-long-line", text, line.number))
    clean = _CONTROL.sub(" ", line.text)
    if clean == line.text:
        return line
    remarks.append(
        _warning("nc-control-character", "control characters read as blanks", line.number)
    )
    return Line(number=line.number, text=clean)


def _warning(rule: str, text: str, line: int) -> Remark:
    return Remark(rule=rule, severity=Severity.WARNING, text=text, line=line, is_deviation=True)
