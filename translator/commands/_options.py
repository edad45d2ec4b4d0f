"""The options that commands on part files share."""

import functools
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import click
from msgspec import Struct

STDIN: Final = "-"
SEVERITIES: Final = ("error", "warning", "note")
PRACTICES: Final = ("auto", "us", "eu", "none")


class Wanted(Struct, frozen=True, kw_only=True):
    """What a command line names: paths and the options that all commands share."""

    paths: tuple[str, ...]
    settings: tuple[str, ...]
    config: Path | None
    kind: str | None
    as_of: str | None
    practice: str | None
    exclude: tuple[str, ...] = ()


def shared_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the paths and shared options, given to the command as its first argument."""

    @functools.wraps(command)
    def gathered(**given: Any) -> Any:  # noqa: ANN401 - click's signature
        names = Wanted.__struct_fields__
        return command(Wanted(**{name: given.pop(name) for name in names}), **given)

    options = (
        click.option(
            "--nc",
            "settings",
            multiple=True,
            metavar="NAME=VALUE",
            help="Settle what the detailer format leaves open, e.g. y_datum=named-edge.",
        ),
        click.option(
            "--exclude",
            multiple=True,
            metavar="PATTERN",
            help="Leave out files and folders of that name in the folders and archives named,"
            " like 'old' or '*-void.nc1'; with a slash, a way from there ('stair/old').",
        ),
        click.option(
            "--config",
            type=click.Path(path_type=Path),
            help="Settings file; else backmark.toml is looked for upward from the input.",
        ),
        click.option(
            "--practice",
            type=click.Choice(PRACTICES),
            help="Code to judge by; else that of the settings file, else by each part's units.",
        ),
        click.option("--as", "kind", metavar="FORMAT", help="Format of standard input (path '-')."),
        click.option(
            "--as-of",
            metavar="DATE",
            help="Judge dated waivers by this day (YYYY-MM-DD); else dates do not count.",
        ),
    )
    wrapped: Callable[..., Any] = gathered
    for option in reversed(options):
        wrapped = option(wrapped)
    return wrapped


def path_option(
    name: str, metavar: str, told: str, *, into: str | None = None, required: bool = False
) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Return an option that takes one path.

    Args:
        name: of the option ("--out").
        metavar: what its value is called in the help.
        told: what the help says of it.
        into: argument of the command that it is given as; the option's own name when None.
        required: whether it must be there.
    """
    names = (name,) if into is None else (name, into)
    return click.option(
        *names, type=click.Path(path_type=Path), metavar=metavar, required=required, help=told
    )


def machines_option(told: str) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Return the option that names profiles of machines, given as the argument ``machines``."""
    return click.option(
        "--machine",
        "machines",
        multiple=True,
        type=click.Path(path_type=Path),
        metavar="FILE",
        help=told,
    )


class Run(Struct, frozen=True, kw_only=True):
    """How a command goes through many files.

    Attributes:
        jobs: processes at most.
        cache: folder of what earlier runs found; None keeps and takes nothing.
    """

    jobs: int = 1
    cache: Path | None = None


def run_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the options of commands that go through many files, given as the argument ``run``."""

    @functools.wraps(command)
    def gathered(*given: Any, jobs: int | None, cached: bool, **more: Any) -> Any:  # noqa: ANN401
        from translator.batch.cache import folder_of
        from translator.batch.pool import usable_processors

        run = Run(
            jobs=usable_processors() if jobs is None else jobs,
            cache=folder_of() if cached else None,
        )
        return command(*given, run=run, **more)

    wrapped = click.option(
        "--cache/--no-cache",
        "cached",
        default=True,
        help="Take what an earlier run found of the same bytes under the same settings.",
    )(gathered)
    return click.option(
        "--jobs",
        type=click.IntRange(1, 256),
        metavar="N",
        help="Processes to work in; default one for each processor.",
    )(wrapped)
