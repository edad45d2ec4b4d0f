"""The frame of a page: one file that loads nothing, and texts that stay texts."""

import base64
import hashlib
import json
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import Any, Final

from translator.source import printable

_DATA: Final = Path(__file__).with_name("data")

_JSON_ESCAPES: Final = {ord("<"): "\\u003c", ord(">"): "\\u003e", ord("&"): "\\u0026"}
"""No closing tag and no comment can begin in a block of data."""


@cache
def asset(name: str) -> str:
    """Return a script or style sheet that ships with this room."""
    return (_DATA / name).read_text(encoding="utf-8")


def escaped(text: str) -> str:
    """Return a text as it may stand in markup and in a quoted attribute.

    Control characters and what would turn the reading direction are shown by their numbers.
    """
    import html  # its table of names would be read at every start

    return html.escape(printable(text), quote=True)


def data_block(name: str, value: object) -> str:
    """Return a block of data for the page's script, under an id."""
    text = json.dumps(shown(value), separators=(",", ":"), allow_nan=False)
    return f'<script type="application/json" id="{name}">{text.translate(_JSON_ESCAPES)}</script>\n'


def shown(value: Any) -> Any:  # noqa: ANN401 - any value that JSON can hold
    """Return a value of dictionaries, lists and texts with every text made printable."""
    if isinstance(value, str):
        return printable(value)
    if isinstance(value, dict):
        return {printable(key): shown(member) for key, member in value.items()}
    if isinstance(value, list | tuple):
        return [shown(member) for member in value]
    return value


def page(
    *,
    title: str,
    body: Iterable[str],
    styles: Iterable[str],
    scripts: Iterable[str] = (),
    rules: str = "",
) -> str:
    """Return a whole page.

    Its policy lets nothing be loaded and nothing run but the styles and scripts given, which
    are named by their hashes.

    Args:
        title: of the window.
        body: markup of the body.
        styles: names of the style sheets in ``data``.
        scripts: names of the scripts there.
        rules: further style rules, for sizes that only the page knows.
    """
    sheet = "\n".join((*(asset(name) for name in styles), *([rules] if rules else ())))
    script = "\n".join(asset(name) for name in scripts)
    allowed = f"'{_hash(script)}'" if script else "'none'"
    policy = (
        f"default-src 'none'; style-src '{_hash(sheet)}'; script-src {allowed};"
        " base-uri 'none'; form-action 'none'"
    )
    run = f"<script>{script}</script>\n" if script else ""
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="referrer" content="no-referrer">\n'
        f"<title>{escaped(title)}</title>\n<style>{sheet}</style>\n</head>\n<body>\n"
        f"{''.join(body)}{run}</body>\n</html>\n"
    )


def _hash(text: str) -> str:
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"sha256-{base64.b64encode(digest).decode('ascii')}"
