"""Where reading goes on behind a fault, so that one fault never hides the next."""

import re
from bisect import bisect_left, bisect_right
from typing import Final

from msgspec import Struct

from translator.lengths.characters import BLANKS
from translator.syntax.language import Language
from translator.syntax.quoting import STRING_PATTERN

_PIECE: Final = re.compile(
    rf"(?P<string>{STRING_PATTERN})|(?P<comment>#[^\r\n]*)|(?P<line>\r\n|\r|\n)"
    r"|(?P<open>\{)|(?P<close>\})|(?P<word>sub-punch(?!\w)|(?![\d_])\w+)|(?P<other>[^\s])"
)
_LEG_HEAD: Final = re.compile(
    rf"(?:leg[{BLANKS}]+\w+|both[{BLANKS}]+legs|face)[{BLANKS}]*\{{", re.IGNORECASE
)
_CLOSING: Final = re.compile(rf"\}}(?:[{BLANKS}]*\}})*")
_GAP: Final = re.compile(r"(?:\s|#[^\r\n]*)*")
_NEW_PART: Final = re.compile(r"(?:part|family|use)(?!\w)", re.IGNORECASE)

_STRONG: Final = frozenset(
    {
        *("PART", "SECTION", "LENGTH", "QUANTITY", "MITRE", "WAIVE", "REMARK"),
        *("HOLE", "SLOT", "COPE", "CLIP", "NOTCH", "SCRIBE", "STAMP", "OPENING", "OUTLINE"),
    }
)
"""Words that begin a statement wherever they stand: even on the line of a fault."""

_NAMED_BEHIND: Final = frozenset({"a", "b", "face", "on"})
"""Words behind which `hole 3` names a feature, in a waiver."""


def is_strong(language: Language, text: str, begin: int, word: str) -> bool:
    """Tell whether a word begins a statement so surely that reading can go on at it."""
    kind = language.words.get(word.lower())
    if kind in ("LEG", "BOTH", "FACE"):
        return _LEG_HEAD.match(text, begin) is not None
    return kind in _STRONG


def end_of_fault(language: Language, text: str, begin: int) -> int:
    """Return where reading goes on behind a fault.

    It is the end of the line, or of the line where a brace opened on it closes, or a word
    on the line that surely begins another statement, or the brace that closes the block
    around. A following line that can't begin a statement belongs to the fault as well.
    """
    depth = 0
    before = ""
    for piece in _PIECE.finditer(text, begin):
        kind = piece.lastgroup
        if kind == "open":
            depth += 1
        elif kind == "close":
            if depth == 0:
                return piece.start()
            depth -= 1
        elif depth:
            continue
        elif kind == "line" and may_begin(language, text, piece.end()):
            return piece.end()
        elif (
            kind == "word"
            and piece.start() > begin
            and before not in _NAMED_BEHIND
            and is_strong(language, text, piece.start(), piece[0])
        ):
            return piece.start()
        before = piece[0].lower()
    return len(text)


def behind_braces(text: str, begin: int, word: str) -> int:
    """Return where a word ends, or the run of closing braces that it begins."""
    found = _CLOSING.match(text, begin)
    return begin + len(word) if found is None else found.end()


def brace_ahead(text: str, begin: int) -> int | None:
    """Return where the next ``{`` stands on this line, or first on the next; None if nowhere."""
    for piece in _PIECE.finditer(text, begin):
        if piece.lastgroup == "open":
            return piece.start()
        if piece.lastgroup == "close":
            return None
        if piece.lastgroup == "line":
            found = _GAP.match(text, piece.end())
            end = piece.end() if found is None else found.end()
            return end if text[end : end + 1] == "{" else None
    return None


class Braces(Struct, frozen=True, kw_only=True):
    """The braces of a text.

    Attributes:
        places: where they stand, in order.
        depths: how deep the text is behind each, if none is missing.
        parts: where the parts begin that are first on their line.
    """

    places: tuple[int, ...]
    depths: tuple[int, ...]
    parts: tuple[int, ...]

    def left_open(self, begin: int) -> int:
        """Count the braces that stay open from a part's beginning to the next part's."""
        after = bisect_right(self.parts, begin)
        end = self.parts[after] if after < len(self.parts) else self._end
        return self._depth(end) - self._depth(begin)

    @property
    def _end(self) -> int:
        return self.places[-1] + 1 if self.places else 0

    def _depth(self, place: int) -> int:
        before = bisect_left(self.places, place)
        return self.depths[before - 1] if before else 0


def braces_of(text: str) -> Braces:
    """Return the braces of a text, those in quotes and comments left out."""
    places: list[int] = []
    depths: list[int] = []
    parts: list[int] = []
    depth, is_fresh = 0, True
    for piece in _PIECE.finditer(text):
        kind = piece.lastgroup
        if kind in ("open", "close"):
            depth += 1 if kind == "open" else -1
            places.append(piece.start())
            depths.append(depth)
        elif kind == "word" and is_fresh and _NEW_PART.match(text, piece.start()):
            parts.append(piece.start())
        is_fresh = kind == "line" or (is_fresh and kind == "comment")
    return Braces(places=tuple(places), depths=tuple(depths), parts=tuple(parts))


def may_begin(language: Language, text: str, begin: int) -> bool:
    """Tell whether what follows may begin a statement, or end the block or the file."""
    found = _GAP.match(text, begin)
    end = begin if found is None else found.end()
    piece = _PIECE.match(text, end)
    if piece is None or piece.lastgroup == "close":
        return True
    if piece.lastgroup != "word":
        return False
    kind = language.words.get(piece[0].lower())
    return kind is None or kind in language.all_starters
