"""Cut part text into words, asking the parser's state what may stand where.

A keyword is one only where the grammar takes it; elsewhere the same letters may be a mark, a
grade or a name. Every character of the text ends up in a word, a blank or a comment: whatever
has no meaning becomes a word of a type that no grammar rule takes, and so a fault.
"""

import re
from bisect import bisect_right
from typing import Final

from translator.lengths.characters import BLANKS, FRACTIONS, HYPHENS, SLASHES, TIMES
from translator.lengths.parse import LENGTH_PATTERN
from translator.syntax.language import Language
from translator.syntax.quoting import BARE_PATTERN, MARK_PATTERN, STRING_PATTERN
from translator.syntax.table import END
from translator.syntax.tree import Comment, Extent, Fault, Word

UNKNOWN: Final = "UNKNOWN"
"""Type of letters that are no keyword."""

BAD_NUMBER: Final = "BAD_NUMBER"
"""Type of a number with something glued to it."""

STRAY: Final = "STRAY"
"""Type of a character without meaning."""

_GLUED_MINUS: Final = "A minus that subtracts has a blank on each side: write 5 - 1, not 5-1."

_BLANK: Final = f"[{BLANKS}\ufeff]"
_NUMBER: Final = r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
_MIXED: Final = rf"[0-9]+(?:{_BLANK}+|[{HYPHENS}])[0-9]+[{SLASHES}][0-9]+"
_GAP: Final = re.compile(rf"(?:{_BLANK}|[\r\n])*(?:#[^\r\n]*(?:{_BLANK}|[\r\n])*)*")
_GAP_SIGNS: Final = frozenset(f"{BLANKS}\ufeff\r\n#")
_PASSED: Final = re.compile(
    rf"(?P<line>\r\n|\r|\n)|(?P<comment>#[^\r\n]*)|(?P<text>{STRING_PATTERN})"
)
_MASTER: Final = re.compile(
    rf"(?P<DEGREES>(?:{_MIXED}|{_NUMBER}){_BLANK}*(?:degrees|degree|deg|\u00b0)(?!\w))"
    rf"|(?P<MEASURE>{_NUMBER}{_BLANK}*(?:kg/m|kg|m[2\u00b2]/m|%)(?!\w))"
    rf"|(?P<NUMBER>{LENGTH_PATTERN})"
    rf"|(?P<DIAMETER>[\u00d8\u00f8](?={_BLANK}*[0-9.]))"
    r"|(?P<WORD>sub-punch(?!\w)|(?![\d_])\w+)"
    rf"|(?P<STRING>{STRING_PATTERN})"
    r'|(?P<UNCLOSED>["\u201c\u201d\u201e][^\r\n]*)'
    r"|(?P<SIGN>.)",
    re.DOTALL | re.IGNORECASE,
)
_GLUED: Final = re.compile(r"(?:[\w.]|/[0-9])+")
_WHOLE_WORD: Final = re.compile(r"[\w.-]+")
_SIZE_SIGN: Final = re.compile(rf"[xX](?=[0-9.{''.join(FRACTIONS)}])")
_RAW_SHAPES: Final = {
    "MARK_TEXT": re.compile(MARK_PATTERN),
    "BARE": re.compile(BARE_PATTERN),
    "RULE_NAME": re.compile(BARE_PATTERN),
    "BOLT_SIZE": re.compile(rf"[Mm]{_BLANK}?[0-9][\w.]*|{LENGTH_PATTERN}(?!\w)|{BARE_PATTERN}"),
    "DATE": re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}(?![\w-])"),
}
_AFTER_RULE: Final = frozenset({"on", "at", "by", "until"})
"""Words that show, where a rule should stand, that it was forgotten."""

_IDENT: Final = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.-]*")
_SECTION_STOP: Final = re.compile(
    rf"(?P<stop>[\r\n{{}}#]|(?<![0-9{''.join(FRACTIONS)}])[\"\u201c\u201d])"
    rf"|(?<={_BLANK})(?P<word>[^\W\d]{{2,}})(?!\w)"
)
_LONGEST_SECTION: Final = 200
"""Signs behind which a section's text is not looked through; it is refused as too long."""

_EXPLICIT_SECTION: Final = re.compile(
    rf"(?:angle{_BLANK}+leg|flat{_BLANK}+width)(?!\w)", re.IGNORECASE
)


class Cutter:
    """Cuts one text from its beginning to its end, one word at a time.

    Attributes:
        text: the whole text.
        position: where the next word is looked for.
        begin: where the last word began.
        is_fresh: the last word is the first on its line.
        comments: those passed so far.
        faults: those of the spelling seen so far; a parser adds its own.
    """

    def __init__(self, text: str, language: Language) -> None:
        self.text = text
        self.position = 0
        self.begin = 0
        self.is_fresh = True
        self.comments: list[Comment] = []
        self.faults: list[Fault] = []
        self._language = language
        self._begins_line = True
        self._line_starts = [0]
        self._names: set[str] = set()

    def cut(self, state: int) -> Word:
        """Return the next word as it reads in a state of the parser; at the end, END."""
        self._pass_gap()
        if self.position >= len(self.text):
            return self._word(END, "")
        raw = self._language.raw.get(state)
        if raw is not None and not self.is_fresh:
            text = self._raw(raw)
            if text:
                return self._word(raw, text)
        found = _MASTER.match(self.text, self.position)
        if found is None or found.lastgroup is None:
            return self._word(STRAY, self.text[self.position])
        return self._told(found.lastgroup, found[0], state)

    def _told(self, kind: str, text: str, state: int) -> Word:
        match kind:
            case "WORD":
                return self._letters(text, state)
            case "SIGN":
                return self._sign(text, state)
            case "NUMBER":
                return self._number(text)
            case "UNCLOSED":
                return self._unclosed(text)
            case _:
                return self._word(kind, text)

    def extent(self, begin: int, end: int) -> Extent:
        """Return the place of a stretch of text that has been passed."""
        return Extent(*self._place(begin), *self._place(end))

    def offset(self, line: int, column: int) -> int:
        """Return the offset of a place that has been passed."""
        return self._line_starts[line - 1] + column - 1

    def cut_again(self) -> None:
        """Go back to before the last word, which another state of the parser may read otherwise."""
        self.position = self.begin
        self._begins_line = self.is_fresh

    def pass_to(self, end: int) -> None:
        """Pass text without cutting it; line ends and comments are still noted."""
        lines = len(self._line_starts)
        self._note(self.begin, end)
        self._begins_line = len(self._line_starts) > lines
        self.position = end

    def _place(self, offset: int) -> tuple[int, int]:
        line = bisect_right(self._line_starts, offset)
        return line, offset - self._line_starts[line - 1] + 1

    def _word(self, kind: str, text: str) -> Word:
        self.begin = self.position
        self.position += len(text)
        return Word(kind, text, len(self._line_starts), self.begin - self._line_starts[-1] + 1)

    def _pass_gap(self) -> None:
        text, begin = self.text, self.position
        if text[begin : begin + 1] == " ":
            begin += 1
        self.is_fresh = self._begins_line
        self._begins_line = False
        if text[begin : begin + 1] in _GAP_SIGNS:
            found = _GAP.match(text, begin)
            end = begin if found is None else found.end()
            lines = len(self._line_starts)
            self._note(begin, end)
            self.is_fresh |= len(self._line_starts) > lines
            begin = end
        self.position = begin

    def _note(self, begin: int, end: int) -> None:
        for part in _PASSED.finditer(self.text, begin, end):
            if part.lastgroup == "line":
                self._line_starts.append(part.end())
            elif part.lastgroup == "comment":
                start = self._line_starts[-1]
                self.comments.append(
                    Comment(
                        text=part[0],
                        line=len(self._line_starts),
                        column=part.start() - start + 1,
                        alone=not self.text[start : part.start()].strip(),
                    )
                )

    def _raw(self, kind: str) -> str:
        if kind == "SECTION_TEXT":
            return self._section()
        found = _RAW_SHAPES[kind].match(self.text, self.position)
        text = "" if found is None else found[0]
        if kind == "BOLT_SIZE" and text.lower() in self._language.words:
            return ""
        return "" if kind == "RULE_NAME" and text.lower() in _AFTER_RULE else text

    def _section(self) -> str:
        """Return a section's text: all up to the next statement or the line's end."""
        text, begin = self.text, self.position
        if text[begin] in '"\u201c\u201d' or _EXPLICIT_SECTION.match(text, begin):
            return ""
        end = len(text)
        for found in _SECTION_STOP.finditer(text, begin):
            if found["stop"] or self._begins_statement(found["word"], begin, found.start()):
                end = found.start()
                break
        return text[begin:end].rstrip(BLANKS)

    def _begins_statement(self, word: str, begin: int, end: int) -> bool:
        """Tell whether a word ends the section's text before it, misspelt or not."""
        if end - begin > _LONGEST_SECTION:
            return False
        starters = self._language.starters["part"]
        if self._language.words.get(word.lower()) in starters:
            return True
        has_sizes = any(character.isdigit() for character in self.text[begin:end])
        return has_sizes and self._language.near(word, starters) is not None

    def _letters(self, text: str, state: int) -> Word:
        row = self._language.table.rows[state]
        kind = self._language.words.get(text.lower())
        if kind is not None and kind in row:
            return self._word(kind, text)
        if "X" in row and _SIZE_SIGN.match(text):
            return self._word("X", text[0])
        if "IDENT" in row:
            found = _IDENT.match(self.text, self.position)
            if found is not None:
                return self._word("IDENT", found[0])
        if "NAME" in row:
            if "NUMBER" not in row:
                self._names.add(text)
            if kind is None or text in self._names:
                return self._word("NAME", text)
        if kind is not None:
            return self._word(kind, text)
        whole = _WHOLE_WORD.match(self.text, self.position)
        return self._word(UNKNOWN, text if whole is None else whole[0])

    def _sign(self, text: str, state: int) -> Word:
        if text in HYPHENS:
            begin = self.position
            around = self.text[max(begin - 1, 0) : begin] + self.text[begin + 1 : begin + 2]
            word = self._word("MINUS", text)
            if state in self._language.subtracting and around.strip(f"{BLANKS}\r\n"):
                self.faults.append(Fault(message=_GLUED_MINUS, extent=word.extent))
            return word
        if text in TIMES and text != "*":
            return self._word("X", text)
        return self._word(self._language.symbols.get(text, STRAY), text)

    def _number(self, text: str) -> Word:
        end = self.position + len(text)
        glued = _GLUED.match(self.text, end)
        if glued is not None and not _SIZE_SIGN.match(self.text, end):
            return self._word(BAD_NUMBER, text + glued[0])
        return self._word("NUMBER", text)

    def _unclosed(self, text: str) -> Word:
        kept = text.rstrip(BLANKS)
        if kept[-1:] in ("{", "}") and kept[-2:-1] in (*BLANKS,):
            text = kept[:-1].rstrip(BLANKS)
        word = self._word("STRING", text)
        self.faults.append(
            Fault(
                message="The quote that opens here is not closed on its line.", extent=word.extent
            )
        )
        return word
