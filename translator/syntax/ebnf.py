"""The grammar of part text as a summary in EBNF (ISO/IEC 14977), from ``grammar/part.lark``."""

import re
from typing import Final

from translator.syntax.building import grammar_text

_WIDTH: Final = 96
_LEFT_OUT: Final = ("broken", "_corner")
"""Text that could not be read, and a rule that only renames another."""
_NAMES: Final = {
    "SECTION_TEXT": "section-as-typed",
    "BARE": "text-without-quotes",
    "IDENT": "feature-id",
}
_TOKEN: Final = re.compile(r'"[^"]*"|->\s*\w+|[A-Za-z_]\w*|[()|*?+]|,')


def summary() -> str:
    """Return the rules, one a paragraph, with the first spelling of each word."""
    text = re.sub(r"(?m)^//.*$|\s//.*$", "", grammar_text())
    words = dict(re.findall(r'(?m)^([A-Z_]+): "([^"]*)"', text))
    rules = re.findall(r"(?m)^\??(_?[a-z]\w*):(.*\n(?:[ \t]+\|.*\n)*)", text)
    return "\n".join(_rule(name, body, words) for name, body in rules if name not in _LEFT_OUT)


def _rule(name: str, body: str, words: dict[str, str]) -> str:
    pieces = [_piece(token, words) for token in _TOKEN.findall(body) if not token.startswith("->")]
    spelled = _joined(_grouped(_without_faults(pieces)))
    return _wrapped(f"{_plain(name)} = ", f"{spelled} ;")


def _piece(token: str, words: dict[str, str]) -> str:
    if token.startswith('"'):
        return token
    if token in words:
        return f'"{words[token]}"'
    return _plain(token)


def _plain(name: str) -> str:
    return _NAMES.get(name, name).strip("_").replace("_", "-").lower()


def _without_faults(pieces: list[str]) -> list[str]:
    """Leave out the alternative that stands for text that could not be read."""
    out: list[str] = []
    for piece in pieces:
        if piece == "broken":
            if out and out[-1] == "|":
                out.pop()
            continue
        if piece == "|" and not out:
            continue
        out.append(piece)
    return out


def _grouped(pieces: list[str]) -> list[str]:
    """Write ``x*`` as ``{ x }`` and ``x?`` as ``[ x ]``."""
    out: list[str] = []
    for piece in pieces:
        if piece not in ("*", "?", "+"):
            out.append(piece)
            continue
        start = _start_of_last(out)
        inner = out[start:]
        if inner[0] == "(" and inner[-1] == ")":
            inner = inner[1:-1]
        opened, closed = ("[", "]") if piece == "?" else ("{", "}")
        out[start:] = [opened, *inner, closed]
    return out


def _start_of_last(out: list[str]) -> int:
    depth = 0
    for index in range(len(out) - 1, -1, -1):
        depth += (out[index] in (")", "]", "}")) - (out[index] in ("(", "[", "{"))
        if depth == 0:
            return index
    return 0


def _joined(pieces: list[str]) -> str:
    text = ""
    for before, piece in zip(["|", *pieces], pieces, strict=False):
        glue = " " if piece in ("|", ")", "]", "}") or before in ("|", "(", "[", "{") else ", "
        text += glue + piece
    return text.strip()


def _wrapped(head: str, body: str) -> str:
    lines, line = [], head
    for word in re.findall(r'"[^"]*",?|\S+', body):
        if len(line) + len(word) + 1 > _WIDTH:
            lines.append(line.rstrip())
            line = "    "
        line += f"{word} "
    return "\n".join([*lines, line.rstrip()])
