"""Run the command line with ``python -m translator``."""

from translator.commands import main

main()
