"""The frame of printed lists: the caution at the foot of every sheet of paper, and facts."""

from collections.abc import Iterable, Iterator

from translator.findings import CAUTION
from translator.pages._html import escaped, page


def framed(title: str, body: Iterable[str]) -> str:
    """Return a page whose foot a browser prints on every sheet.

    A table's foot is what browsers repeat; the table is only a frame and says so to programs
    that read pages aloud.
    """
    return page(
        title=title,
        body=(
            '<main><table class="frame" role="presentation"><tfoot><tr><td>',
            f'<p class="caution">{escaped(CAUTION)}</p></td></tr></tfoot>\n',
            "<tbody><tr><td>\n",
            *body,
            "</td></tr></tbody></table></main>\n",
        ),
        styles=("bars.css",),
    )


def said(facts: Iterable[tuple[str, str]], blanks: Iterable[str] = ()) -> Iterator[str]:
    """Yield facts, each a word and its value, and blanks to write in.

    Facts that say nothing are left out.
    """
    yield "<dl>"
    for word, value in facts:
        if value:
            yield f"<div><dt>{escaped(word)}</dt><dd><bdi>{escaped(value)}</bdi></dd></div>"
    for word in blanks:
        yield f'<div class="fill"><dt>{word}</dt><dd></dd></div>'
    yield "</dl>\n"
