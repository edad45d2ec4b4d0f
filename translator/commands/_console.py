"""What goes to the terminal, and how."""

import os
import sys
from typing import TextIO

import click


def prepare_streams() -> None:
    """Make both streams take any character: UTF-8 in pipes, escapes where a terminal can't."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            if not stream.isatty():
                reconfigure(encoding="utf-8")
            reconfigure(errors="backslashreplace")


def has_colour(stream: TextIO) -> bool:
    """Tell whether a stream is a terminal that shows colours, and nobody asked for none."""
    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
    return stream.isatty() and not plain


def say(text: str) -> None:
    """Print a result; ``text`` may hold colours, which only reach a terminal.

    Raises:
        WorkError: when the stream can't take it, like a full disk.
    """
    try:
        click.echo(text, nl=not text.endswith("\n"), color=has_colour(sys.stdout))
    except BrokenPipeError:
        raise
    except OSError as error:
        from translator.batch.discover import reason
        from translator.errors import WorkError

        broken_pipe()  # what waits in the buffer would fail once more at the end
        raise WorkError(f"can't write the report: {reason(error)}") from error


def remark(text: str) -> None:
    """Print a word to the person, beside the result."""
    click.echo(text, err=True)


def say_error(message: str) -> None:
    """Say in a sentence why the work could not be done."""
    from translator.source import printable

    click.echo(f"backmark: {printable(message)}", err=True)


def say_fault(error: Exception) -> None:
    """Say that this program failed, at which stage, and on which file; no traceback."""
    notes = getattr(error, "__notes__", [])
    where = ", ".join(reversed(notes)) or "before any file was read"
    said = str(error) or "no more is known"
    say_error(
        f"the work could not be done; a fault of this program {where}:"
        f" {type(error).__name__}: {said[:300]}"
    )


def broken_pipe() -> None:
    """Let the rest of the output go nowhere, so that closing the stream is silent too."""
    null = os.open(os.devnull, os.O_WRONLY)
    os.dup2(null, sys.stdout.fileno())
