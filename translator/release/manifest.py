"""The manifest: what a release holds, and who made it of what."""

from typing import Annotated, Final, Literal, TypeVar

from pydantic import AfterValidator, FailFast, Field, model_validator

from translator.model.numbers import Frozen, SizeMm, Text
from translator.release.document import FILES, MANIFEST, SIGNATURE, SUMS

MOST_FILES: Final = 250_000
"""Files of a release; 20,000 marks in ten formats stay below."""

MOST_FOLDERS: Final = 20_000

MOST_MARKS: Final = 100_000

LARGEST_FILE: Final = 1 << 40
"""No file of a release is a terabyte."""

InputRole = Literal["part file", "library", "settings", "waivers", "machine profile", "bill"]
OutputRole = Literal["part", "review page", "findings report"]
Status = Literal["released", "on hold"]

_COMPONENT: Final = r"[A-Za-z0-9_~][A-Za-z0-9._+~-]{0,199}"
_PATH: Final = rf"{_COMPONENT}(/{_COMPONENT}){{0,40}}"


def _safe(path: str) -> str:
    """Refuse what some system would take for another name, or for a way out of the folder."""
    if any(name.endswith(".") for name in path.split("/")):
        raise ValueError("a name in it ends in a point, which some systems drop")
    return path


def _clash(paths: tuple[str, ...]) -> tuple[str, str] | None:
    """Return two paths that can't both be on a disk, or would be one on a case-blind one."""
    files: dict[str, str] = {}
    folders: dict[str, str] = {}
    for path in paths:
        key = path.casefold()
        if key in files or key in folders:
            return files.get(key) or folders[key], path
        files[key] = path
        folder = path.rpartition("/")[0]
        while folder:
            key = folder.casefold()
            if key in files or folders.get(key, folder) != folder:
                return files.get(key) or folders[key], path
            if key in folders:
                break  # and so are those above it
            folders[key] = folder
            folder = folder.rpartition("/")[0]
        if len(folders) > MOST_FOLDERS:
            raise ValueError(f"the files lie in more than {MOST_FOLDERS} folders")
    return None


SafePath = Annotated[
    str, Field(pattern=rf"^{_PATH}$", max_length=1000, min_length=1), AfterValidator(_safe)
]
"""A way from the release's folder down to a file, safe on every system."""

Entry = TypeVar("Entry")
Many = Annotated[tuple[Entry, ...], FailFast()]
"""A list; of one that is full of faults only the first is told."""

Sha256 = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
Bytes = Annotated[int, Field(ge=0, le=LARGEST_FILE)]
Moment = Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}Z$")]
Name = Annotated[Text, Field(min_length=1, max_length=200)]
Mass = Annotated[float, Field(ge=0, allow_inf_nan=False)]


class MarkName(Frozen):
    """A piece mark, and the order it belongs to."""

    mark: Name
    order: Text | None = None


class Change(MarkName):
    """A mark that is not what it was in the earlier release."""

    what: Annotated[Many[Text], Field(min_length=1)]


class Superseded(Frozen):
    """The earlier release that this one takes the place of, mark by mark."""

    name: Name
    number: Annotated[int, Field(ge=1)]
    by: Name
    at: Moment
    manifest_sha256: Sha256
    taken_over: Many[MarkName] = ()
    changed: Many[Change] = ()
    new: Many[MarkName] = ()
    dropped: Many[MarkName] = ()


class Options(Frozen):
    """What the command line settled, beside the settings files."""

    formats: Annotated[Many[Name], Field(min_length=1)]
    nc: Annotated[dict[Name, Name], Field(default_factory=dict)]
    practice: Literal["auto", "us", "eu", "none"] | None = None
    as_of: Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$")] | None = None
    paper: Literal["A4", "A3", "letter", "tabloid"] | None = None
    machines: Many[Text] = ()


class Skipped(Frozen):
    """A rule that was not applied."""

    rule: Name
    why: Text


class Judged(Frozen):
    """What the parts were judged by, and how many findings stand open."""

    practice: Many[Text] = ()
    rules: Many[Name] = ()
    not_applied: Many[Skipped] = ()
    warnings: Annotated[int, Field(ge=0)]
    notes: Annotated[int, Field(ge=0)]
    waived: Annotated[int, Field(ge=0)]


class Writer(Frozen):
    """A program that wrote NC files of the delivery, and how they were read."""

    writer: Text
    settings: dict[Name, Name]
    files: Many[Text]


class Mark(MarkName):
    """One piece mark of the release."""

    status: Status
    reason: Annotated[Text, Field(min_length=1)] | None = None
    revision: Text | None = None
    quantity: Annotated[int, Field(ge=1)]
    section: Text
    length_mm: SizeMm
    grade: Text | None = None
    units: Literal["mm", "inch"]
    mass_kg: Mass
    net_mass_kg: Mass
    piece: Sha256
    source: Text
    files: Many[SafePath] = ()

    @model_validator(mode="after")
    def _hold_has_a_reason(self) -> "Mark":
        if (self.status == "on hold") != (self.reason is not None):
            raise ValueError("a mark on hold has a reason, and only such a mark")
        if self.status == "on hold" and self.files:
            raise ValueError("a mark on hold has no files")
        return self


class LeftOut(Frozen):
    """Something of the delivery that is no part of the release."""

    source: Text
    mark: Name | None = None
    order: Text | None = None
    revision: Text | None = None
    why: Text


class ListedFile(Frozen):
    """A file of the release, and what proves it."""

    path: SafePath
    bytes: Bytes
    sha256: Sha256


class Remark(Frozen):
    """What the search for files passed over."""

    rule: Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=80)]
    severity: Literal["warning", "note"]
    message: Text
    path: Text


class KeptFile(ListedFile):
    """A file that the release was made of, as it was read."""

    role: InputRole
    name: Annotated[Text, Field(min_length=1)]
    format: Name | None = None
    settings: Text | None = None
    waivers: Many[Text] = ()
    uses: Many[Text] = ()
    whole: bool = False


class MadeFile(ListedFile):
    """A file that the release was made for."""

    role: OutputRole
    format: Name


class Tool(Frozen):
    """The program that made the release."""

    name: Name
    version: Name


class Release(Frozen):
    """One frozen set.

    ``number`` counts the releases of a chain: one more than that of the release superseded.
    """

    name: Name
    number: Annotated[int, Field(ge=1, le=1_000_000)]
    by: Name
    at: Moment
    tool: Tool
    supersedes: Superseded | None = None
    options: Options
    judged: Judged
    writers: Many[Writer] = ()
    marks: Annotated[Many[Mark], Field(min_length=1, max_length=MOST_MARKS)]
    left_out: Many[LeftOut] = ()
    remarks: Many[Remark] = ()
    inputs: Annotated[Many[KeptFile], Field(min_length=1, max_length=MOST_FILES)]
    outputs: Annotated[Many[MadeFile], Field(min_length=1, max_length=MOST_FILES)]

    @property
    def files(self) -> tuple[ListedFile, ...]:
        """All files that the manifest lists."""
        return (*self.inputs, *self.outputs)

    @model_validator(mode="after")
    def _each_file_once(self) -> "Release":
        paths = [file.path for file in self.files]
        clash = _clash((MANIFEST, SUMS, SIGNATURE, *paths))
        if clash is not None:
            raise ValueError(f"{clash[1]!r} can't stand beside {clash[0]!r}")
        if sum(file.role == "bill" for file in self.inputs) > 1:
            raise ValueError("two inputs are bills")
        names = [file.name for file in self.inputs]
        if len(set(names)) < len(names):
            raise ValueError("two inputs have one name")
        return self

    @model_validator(mode="after")
    def _marks_own_the_parts(self) -> "Release":
        parts = sorted(file.path for file in self.outputs if file.role == "part")
        owned = sorted(path for mark in self.marks for path in mark.files)
        if parts != owned:
            raise ValueError("the files of the marks are not the part files among the outputs")
        if not all(path.startswith(f"{FILES}/") for path in parts):
            raise ValueError(f"a part file stands outside {FILES}/")
        keys = [(mark.order or "", mark.mark) for mark in self.marks]
        if len(set(keys)) < len(keys):
            raise ValueError("two marks of one order have one name")
        return self

    @model_validator(mode="after")
    def _inputs_name_inputs(self) -> "Release":
        known = {file.name for file in self.inputs}
        named = {name for file in self.inputs for name in (*file.waivers, *file.uses)}
        named |= {file.settings for file in self.inputs if file.settings is not None}
        named |= set(self.options.machines)
        unknown = sorted(named - known)
        if unknown:
            raise ValueError(f"{unknown[0]!r} is named and is none of the inputs")
        return self
