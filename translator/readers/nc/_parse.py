"""Lines to a tree: where each ST..EN begins and ends."""

from collections.abc import Sequence
from typing import Final

from translator.readers.nc._anchor import WINDOW, Anchored, anchor
from translator.readers.nc._blocks import Tail, code_of, is_start, say_odd_code
from translator.readers.nc._book import Book
from translator.readers.nc._lines import read_lines
from translator.readers.nc._tree import Block, Line, Sheet, Tree
from translator.source import Source

MOST_SHEETS: Final = 100
"""Parts in one file; the standard allows one."""


def parse(source: Source) -> Tree:
    """Turn the bytes of a file into its tree; never raises on any bytes."""
    lines, remarks, newline = read_lines(source.data)
    book = Book(remarks)
    sheets: tuple[Sheet, ...] = ()
    if any(line.text.strip() for line in lines):
        sheets = _sheets(lines, book)
    elif not any(remark.is_fatal for remark in remarks):
        book.refuse("nc-empty", "the file is empty", 1)
    return Tree(
        path=source.path,
        lines=lines,
        sheets=sheets,
        remarks=tuple(book.remarks),
        newline=newline,
    )


def _sheets(lines: tuple[Line, ...], book: Book) -> tuple[Sheet, ...]:
    """Cut the file at its ST lines; the lines of a header are counted before codes are seen."""
    starts = [index for index, line in enumerate(lines) if is_start(line)]
    if not starts:
        first = next(index for index, line in enumerate(lines) if line.text.strip())
        text = "the file has no ST line; the header was looked for from its first line"
        book.warn("nc-start-missing", text, lines[first].number)
        return (_sheet(lines[first:], None, _header(lines[first:]), (), book),)
    cuts: list[tuple[int, Anchored]] = []
    behind = 0
    for index in starts:
        if index >= behind:
            found = _header(lines[index + 1 :])
            cuts.append((index, found))
            behind = index + 1 + _used(lines[index + 1 :], found)
    if len(cuts) > MOST_SHEETS:
        text = f"the file holds {len(cuts)} parts, more than the {MOST_SHEETS} allowed"
        book.refuse("nc-too-big", text, 1)
        return ()
    for index, _ in cuts[1:]:
        text = f"the file holds {len(cuts)} parts and the standard allows one; each was read"
        book.warn("nc-several-parts", text, lines[index].number)
    ends = [*(index for index, _ in cuts[1:]), len(lines)]
    before = [line for line in lines[: cuts[0][0]] if line.text.strip()]
    return tuple(
        _sheet(lines[index + 1 : end], lines[index], found, before if number == 0 else (), book)
        for number, ((index, found), end) in enumerate(zip(cuts, ends, strict=True))
    )


def _is_comment(line: Line) -> bool:
    return line.text.startswith("**")


def _header(body: Sequence[Line]) -> Anchored:
    at = body[0] if body else Line(number=1, text="")
    window: list[Line] = []
    for line in body:
        if not _is_comment(line):
            window.append(line)
        if len(window) == WINDOW:
            break
    return anchor(window, at)


def _used(body: Sequence[Line], found: Anchored) -> int:
    """Return how many lines, comments among them, the header's fixed lines take up."""
    count = found.rest
    for index, line in enumerate(body):
        if count == 0:
            return index
        count -= 0 if _is_comment(line) else 1
    return len(body)


def _sheet(
    body: Sequence[Line], at: Line | None, found: Anchored, before: Sequence[Line], book: Book
) -> Sheet:
    """Read one sheet from the lines behind its ST; ``at`` is None when ST is missing."""
    comments = [line for line in before if _is_comment(line)]
    strays = [line for line in before if not _is_comment(line)]
    for line in strays:
        text = "lines before ST have no meaning; they were kept as they stand"
        book.warn("nc-text-before-start", text, line.number)
    code = code_of(at) if at is not None else None
    if at is not None and code is not None:
        say_odd_code(at, code, strays, book)
    book.remarks.extend(found.remarks)
    strays.extend(found.extra)
    start = before[0] if before else at or body[0]
    last = (body[-1] if body else at or start).number
    first = _used(body, found)
    comments += [line for line in body[:first] if _is_comment(line)]
    is_left = any(line is not None and line.text[:1].strip() for line in found.fields)
    tail = Tail(book=book, comments=comments, strays=strays, is_left_aligned=is_left)
    if found.fields:
        first += tail.header_texts(body[first:])
        tail.read(body[first:], last)
    return Sheet(
        start=start.number,
        end=last,
        frame=tuple(line for line in (at, tail.end) if line is not None),
        fields=found.fields,
        profile=found.profile,
        texts=tuple(tail.texts),
        blocks=tuple(Block(code=c, at=a, rows=tuple(rows)) for c, a, rows in tail.blocks),
        comments=tuple(comments),
        strays=tuple(strays),
    )
