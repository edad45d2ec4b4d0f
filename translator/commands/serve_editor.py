"""``backmark serve-editor``: a language server for part text."""

import os
import sys

import click


@click.command("serve-editor", short_help="Serve an editor: faults while typing, and more.")
def serve_editor() -> int:
    """Serve an editor over standard input and output (Language Server Protocol).

    The editor starts it by itself for files named *.bmk. It is told faults while a part is
    typed, what a number is in both units, what may stand next, the parts of the file, and the
    layout of `backmark format`.
    """
    from translator.editor.server import server

    made = server()
    # The server closes its output at the end; the output of this process stays open.
    with os.fdopen(os.dup(sys.stdout.fileno()), "wb") as output:
        made.start_io(stdout=output)
    return 0


COMMAND = serve_editor
