"""From a delivery to what a release keeps of it: every file read, and what was said of each."""

import hashlib
import os
from collections.abc import Iterator, Mapping
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING

import click
from msgspec import Struct

from translator.commands._delivery import STDIN, Delivery, Wanted
from translator.commands._found import day
from translator.commands._release_remarks import remarks

if TYPE_CHECKING:
    from translator.pipeline import Input
    from translator.release.layout import Place
    from translator.release.manifest import InputRole, KeptFile, Options, Remark


class Kept(Struct, frozen=True, kw_only=True):
    """What a release is made of, and all that it takes to make it again.

    Attributes:
        files: each file, by path in the release.
        data: name -> bytes.
        options: what the command line settled.
        remarks: what the search for them passed over.
    """

    files: "tuple[KeptFile, ...]"
    data: Mapping[str, bytes]
    options: "Options"
    remarks: "tuple[Remark, ...]" = ()


def keep(delivery: Delivery, wanted: Wanted, formats: tuple[str, ...], paper: str | None) -> Kept:
    """Return what a release keeps of a delivery that was read from the disk.

    Raises:
        WorkError: when a file's name can't be told in a manifest.
    """
    from translator.release.layout import lay_out
    from translator.release.manifest import Options

    full = {path: _full(path) for path in delivery.sources}
    places = lay_out(full.values(), _folders(delivery, wanted))
    place = {path: places[full[path]] for path in delivery.sources}
    files: dict[str, KeptFile] = {}
    machines: list[str] = []
    for path, role, known in _known(delivery, place):
        files.setdefault(place[path].path, _kept(place[path], delivery.sources[path], role, known))
        if role == "machine profile":
            machines.append(place[path].name)
    return Kept(
        files=tuple(files[path] for path in sorted(files)),
        data={place[path].name: data for path, data in delivery.sources.items()},
        options=Options.model_validate(
            {
                "formats": formats,
                "nc": _given(wanted),
                "practice": wanted.practice,
                "as_of": day(wanted.as_of),
                "paper": paper,
                "machines": tuple(machines),
            }
        ),
        remarks=remarks(delivery, wanted.paths, {path: own.name for path, own in place.items()}),
    )


def refuse_standard_input(wanted: Wanted) -> None:
    """Refuse what has no name and can't be read again.

    Raises:
        UsageError: when a path is "-".
    """
    if STDIN in wanted.paths:
        raise click.UsageError("a release is made of files; standard input can't be kept in one")


def _known(
    delivery: Delivery, place: "Mapping[str, Place]"
) -> "Iterator[tuple[str, InputRole, Mapping[str, object]]]":
    """Yield path and role of each file and what else is known of it.

    Machine profiles are those that nothing else names.
    """
    inputs = {item.source.path: item for item in delivery.inputs}
    libraries = {path for item in delivery.inputs for path in item.source.library}
    settings = {_settings_name(own.path) for own in delivery.settings.values()}
    settings |= {*delivery.billed[1:]}
    decided = {one.path: one for item in delivery.inputs for one in item.decisions}
    for path in sorted(delivery.sources, key=lambda path: path not in inputs):
        whole = {"whole": path in decided and decided[path].is_whole}
        if path in inputs:
            yield path, "part file", _of_input(inputs[path], delivery, place)
        elif path in delivery.billed[:1]:
            by = next((place[name].name for name in delivery.billed[1:]), None)
            yield path, "bill", {"settings": by}
        elif path in libraries:
            yield path, "library", {}
        elif path in settings:
            yield path, "settings", whole
        elif path in decided:
            yield path, "waivers", whole
        else:
            yield path, "machine profile", {}


def _kept(
    place: "Place", data: bytes, role: "InputRole", known: "Mapping[str, object]"
) -> "KeptFile":
    from translator.release.manifest import KeptFile

    return KeptFile.model_validate(
        {
            "path": place.path,
            "bytes": len(data),
            "sha256": hashlib.sha256(data).hexdigest(),
            "role": role,
            "name": place.name,
            **known,
        }
    )


def _of_input(
    item: "Input", delivery: Delivery, place: "Mapping[str, Place]"
) -> "Mapping[str, object]":
    settings = _settings_name(delivery.settings[item.source.path].path)
    waivers = [one.path for one in item.decisions if one.path != settings]
    return {
        "format": item.reader.name,
        "settings": None if settings is None else place[settings].name,
        "waivers": tuple(place[own].name for own in waivers),
        "uses": tuple(place[used].name for used in item.source.library),
    }


def _given(wanted: Wanted) -> dict[str, str]:
    pairs = (setting.partition("=") for setting in wanted.settings)
    return {name.strip().replace("-", "_"): value.strip() for name, _, value in pairs}


def _folders(delivery: Delivery, wanted: Wanted) -> "Iterator[PurePosixPath]":
    """Yield the folders that inputs stand in: those named, their own, and those of settings."""
    yield from (_full(path) for path in wanted.paths if path not in delivery.sources)
    for item in delivery.inputs:
        yield from _of_files(item)
        settings = _settings_name(delivery.settings[item.source.path].path)
        if settings is not None and wanted.config is None:
            above = _full(settings).parent
            if _full(item.source.path).is_relative_to(above):
                yield above


def _of_files(item: "Input") -> "Iterator[PurePosixPath]":
    for path in (item.source.path, *item.source.library):
        yield _full(path).parent
    for one in item.decisions:
        if _full(item.source.path).is_relative_to(_full(one.path).parent):
            yield _full(one.path).parent


def _settings_name(path: Path | None) -> str | None:
    return None if path is None else path.as_posix()


def _full(path: str) -> PurePosixPath:
    """Return a path from the top of its disk, with forward slashes and without ``..``."""
    return PurePosixPath(os.path.abspath(path).replace(os.sep, "/"))  # noqa: PTH100 - no link is followed
