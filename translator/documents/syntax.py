"""What is wrong with a text that is not JSON, in words."""

import json
import re
from typing import Final

from translator.documents.locate import Lines
from translator.findings import Finding, Severity

_BLANKS: Final = " \t\n\r"
_COMMAS: Final = re.compile(r"[, \t\n\r]*")
_WORD: Final = re.compile(r"[A-Za-z0-9_.+-]{1,20}|.", re.DOTALL)
_EXPECTED: Final = (
    ("Expecting value", "a value is expected here"),
    ("Expecting property name", "a field name in double quotes is expected here"),
    ("Expecting ':'", "a colon is expected here, between a field name and its value"),
    ("Expecting ','", "a comma or a closing bracket is expected here"),
)
_PLAIN: Final = (
    ("Unterminated string", "the text that begins here has no closing double quote"),
    ("Invalid control character", "a text holds a control character or a line end here"),
    ("Invalid \\u", "\\u needs four hexadecimal digits behind it"),
    ("Invalid \\escape", "a backslash in a text stands before something it has no meaning for"),
    ("Extra data", "the document has ended, yet more stands behind it"),
)


def syntax_fault(lines: Lines, text: str, error: json.JSONDecodeError, what: str) -> Finding:
    """Turn the decoder's complaint into a finding at its place; ``what`` the file is to be."""
    start = _trailing_comma(text, error.pos)
    if start is not None:
        message = "a comma stands before a closing bracket; JSON has none there"
    else:
        start = min(error.pos, len(text.rstrip(_BLANKS)))
        message = _message(text, start, error.msg, what)
    span = lines.span(start, min(start + 1, len(text)))
    return Finding(rule="json-syntax", severity=Severity.ERROR, message=message, span=span, unit="")


def _message(text: str, at: int, complaint: str, what: str) -> str:
    if not text.strip(_BLANKS):
        return f"the file is empty; a {what} is one JSON object"
    for beginning, words in _PLAIN:
        if complaint.startswith(beginning):
            return words
    expected = next((w for b, w in _EXPECTED if complaint.startswith(b)), "this is not JSON")
    match = _WORD.match(text, at)
    if match is None or match[0] in _BLANKS:
        return "the file ends before the document does: " + expected
    hints = {"/": "; JSON has no comments", "#": "; JSON has no comments"}
    hints["'"] = "; texts and field names stand in double quotes"
    return f"{expected}, not {json.dumps(match[0])}{hints.get(match[0], '')}"


def _trailing_comma(text: str, at: int) -> int | None:
    """Return the offset of a comma that a closing bracket follows, if that is the fault.

    Decoders differ in whether they point at the comma or at the bracket.
    """
    match = _COMMAS.match(text, at)
    bracket = match.end() if match else at
    before = text[:bracket].rstrip(_BLANKS)
    if text[bracket : bracket + 1] in ("]", "}") and before.endswith(","):
        return len(before) - 1
    return None
