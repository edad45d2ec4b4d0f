"""Where the inputs of a release are kept: the same wherever their folders stand."""

from collections.abc import Iterable, Mapping, Sequence
from pathlib import PurePosixPath
from typing import Final

from msgspec import Struct, field

from translator.batch.names import stems
from translator.errors import WorkError
from translator.release.document import BESIDE, INPUTS, KEPT

_LONGEST: Final = 1000
_DEEPEST: Final = 40


class Place(Struct, frozen=True, kw_only=True):
    """Where one input is kept.

    Attributes:
        name: what findings call it; its way down from the folder that the delivery stands in.
        path: where it lies in the release, in a spelling that is safe on every system.
    """

    name: str
    path: str


def lay_out(
    files: Iterable[PurePosixPath], folders: Iterable[PurePosixPath]
) -> Mapping[PurePosixPath, Place]:
    """Give each input its place.

    A file keeps its way down from the outermost of the folders around it, so that what one
    file says of another one's place stays true; the name of that folder stands before it where
    there are several. A file in none of the folders is kept by its name alone. Nothing above
    the folders shows.

    Args:
        files: all inputs, absolute, without ``..``.
        folders: those that inputs lie in, absolute; the order makes no difference.

    Raises:
        WorkError: for a name that can't be told in a manifest, or too long a way.
    """
    ordered = sorted(set(files))
    tops = [top for top in _outermost(folders) if any(file.is_relative_to(top) for file in ordered)]
    before = dict.fromkeys(tops, "") if len(tops) == 1 else _called(tops)
    names: dict[PurePosixPath, tuple[str, str]] = {}
    apart: list[PurePosixPath] = []
    for file in ordered:
        top = next((top for top in tops if file.is_relative_to(top)), None)
        if top is None:
            apart.append(file)
        else:
            way = file.relative_to(top).as_posix()
            names[file] = (INPUTS, f"{before[top]}/{way}" if before[top] else way)
    taken = {name.split("/")[0] for _, name in names.values()}
    room = _free(BESIDE, taken)
    for file, name in _called(apart).items():
        names[file] = (BESIDE, f"{room}/{name}")
    return _places(names)


def _places(names: Mapping[PurePosixPath, tuple[str, str]]) -> Mapping[PurePosixPath, Place]:
    trees: dict[str, _Folder] = {INPUTS: _Folder(), BESIDE: _Folder()}
    for tree, name in names.values():
        _refuse_unsayable(name)
        trees[tree].add(name.split("/"))
    out: dict[PurePosixPath, Place] = {}
    for file, (tree, name) in names.items():
        steps = name.split("/") if tree == INPUTS else name.split("/")[1:]
        start = trees[tree] if tree == INPUTS else trees[tree].inside[name.split("/")[0]]
        path = "/".join((tree, *start.spelt(steps))) + KEPT
        if len(path) > _LONGEST or len(steps) > _DEEPEST:
            raise WorkError(f"{name} lies too deep to be kept in a release")
        out[file] = Place(name=name, path=path)
    return out


class _Folder(Struct, frozen=True, kw_only=True):
    """A folder of inputs; filled before any name is asked for."""

    inside: "dict[str, _Folder]" = field(default_factory=dict)
    safe: dict[str, str] = field(default_factory=dict)

    def add(self, steps: Sequence[str]) -> None:
        here = self
        for step in steps:
            here = here.inside.setdefault(step, _Folder())

    def spelt(self, steps: Sequence[str]) -> list[str]:
        """Return a way down in names that are safe, and differ in more than capitals."""
        here, out = self, []
        for step in steps:
            if not here.safe:
                known = stems(("", name) for name in here.inside)
                here.safe.update({name: _closed(stem) for (_, name), stem in known.items()})
            out.append(here.safe[step])
            here = here.inside[step]
        return out


def _closed(stem: str) -> str:
    """Spell a point at the end of a name, which some systems drop, by its number."""
    return f"{stem[:-1]}~2E" if stem.endswith(".") else stem


def _outermost(folders: Iterable[PurePosixPath]) -> list[PurePosixPath]:
    kept: list[PurePosixPath] = []
    for folder in sorted(set(folders), key=lambda f: (len(f.parts), f)):
        if not any(folder.is_relative_to(top) for top in kept):
            kept.append(folder)
    return sorted(kept)


def _called(paths: Sequence[PurePosixPath]) -> dict[PurePosixPath, str]:
    """Return the last name of each path, numbered where another one has it."""
    out: dict[PurePosixPath, str] = {}
    taken: set[str] = set()
    for path in sorted(paths):
        out[path] = _free(path.name or "top", taken)
        taken.add(out[path])
    return out


def _free(name: str, taken: set[str]) -> str:
    number, found = 1, name
    while found in taken:
        number += 1
        found = f"{name}-{number}"
    return found


def _refuse_unsayable(name: str) -> None:
    if not name.isprintable():
        raise WorkError(
            f"the name of {name!a} holds characters that can't be told in a manifest;"
            " rename the file"
        )
