"""The command line: one file a command; the only room that prints or exits."""

import gc
import importlib
import os
import pkgutil
import sys
from typing import Any

import click

from translator import __version__
from translator.__main__ import VERSION_TEXT
from translator.commands._console import broken_pipe, prepare_streams, say_error, say_fault
from translator.errors import TranslatorError

_HELP = {"help_option_names": ["-h", "--help"], "max_content_width": 100}


def _names() -> list[str]:
    """Return the names of all commands: one module each, found by walking this room."""
    modules = sorted(info.name for info in pkgutil.iter_modules(__path__))
    return [name.replace("_", "-") for name in modules if not name.startswith("_")]


class _Backmark(click.Group):
    """Loads a command's module when it is asked for, so that start-up stays short."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        return _names()

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        if cmd_name not in _names():
            return None
        module = importlib.import_module(f"translator.commands.{cmd_name.replace('-', '_')}")
        command = module.COMMAND
        return command if isinstance(command, click.Command) else None

    def invoke(self, ctx: click.Context) -> Any:  # noqa: ANN401 - click's signature
        """Run a command; a reader that closes the pipe ends it without a word."""
        try:
            code = super().invoke(ctx)
            sys.stdout.flush()
        except BrokenPipeError:
            # Left to click, this would exit with 1, which here means findings.
            broken_pipe()
            code = 2
        return code

    def main(self, *args: Any, **kwargs: Any) -> Any:  # noqa: ANN401 - click's signature
        """Run the command line and exit: 0 clean, 1 findings, 2 the work could not be done."""
        kwargs["standalone_mode"] = False
        # What is made here has hardly a cycle, so looking for them is seldom worth it.
        gc.set_threshold(100_000, 20, 100)
        # No plugin that another package brings has a say in what a part may be, and to look for
        # one would take longer than to read a part.
        os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
        prepare_streams()
        try:
            code = super().main(*args, **kwargs)
        except click.ClickException as error:
            error.show()
            code = 2
        except TranslatorError as error:
            say_error(str(error))
            code = 2
        except (click.Abort, KeyboardInterrupt):
            say_error("stopped")
            code = 2
        except Exception as error:  # noqa: BLE001 - a user never sees a traceback
            say_fault(error)
            code = 2
        sys.exit(code if isinstance(code, int) else 0)


@click.group(cls=_Backmark, context_settings=_HELP, no_args_is_help=True)
@click.version_option(__version__, message=VERSION_TEXT.rstrip())
def main() -> None:
    """Read part files of angle and flat-bar pieces, check them, and hand them on.

    Exit codes: 0 clean, 1 findings at or above --fail-on, 2 the work could not be done.
    """
