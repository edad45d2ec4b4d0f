"""Start the command line, as ``backmark`` or ``python -m translator``."""

import sys

from translator import __version__

VERSION_TEXT = f"backmark, version {__version__}\n"
"""What the command line says of itself."""


def start() -> None:
    """Run the command line.

    Its version alone is told without loading it: scripts ask before each run.
    """
    if sys.argv[1:] == ["--version"]:
        try:
            sys.stdout.write(VERSION_TEXT)
            sys.stdout.flush()
        except OSError:  # a closed pipe or a full disk is met by the command line
            pass
        else:
            return
    from translator.commands import main

    main()


if __name__ == "__main__":
    start()
