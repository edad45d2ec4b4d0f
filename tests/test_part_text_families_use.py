"""``use``: families of other files, found in the input's folder tree and nowhere else."""

from pathlib import Path

import pytest

from translator.batch.configuration import FILE_NAME
from translator.batch.discover import InputFile, load
from translator.batch.library import SETTINGS_NAME
from translator.conventions import Conventions
from translator.findings import in_order
from translator.model import leg_of
from translator.readers.part_text import READER
from translator.source import Source
from translator.syntax.uses import UseError, used_path, used_paths

TAB = "units mm\nfamily tab(n, pitch = 70mm) { section FB100x10 length 80 + (n - 1) * pitch }\n"
CALL = 'use "lib.bmk"\nunits mm\npart P = tab(n = 3) { }\n'


def read(folder: Path, name: str = "x.bmk"):
    """Read one file of a folder, with what it uses."""
    path = folder / name
    source = load(InputFile(path=path.as_posix(), reader=READER.name))
    return READER.lower(READER.parse(source), Conventions())


def lay(folder: Path, **files: str) -> Path:
    """Write files; two underscores stand for a slash."""
    for name, text in files.items():
        path = folder / (name.replace("__", "/") + ".bmk")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def told(reading, folder: Path) -> list[str]:
    return [
        f"{f.span.line}:{f.span.column} {f.rule}: {f.message}".replace(f"{folder.as_posix()}/", "")
        for f in in_order(reading.findings)
    ]


def test_families_come_out_of_another_file(tmp_path):
    reading = read(lay(tmp_path, lib=TAB, x=CALL))
    assert reading.findings == ()
    (placed,) = reading.parts
    assert placed.part.length_mm == 220
    assert Path(placed.places["length"].path).name == "x.bmk"
    (line,) = placed.beyond["length"]
    assert (Path(line.span.path).name, line.span.line) == ("lib.bmk", 2)


def test_only_families_come(tmp_path):
    library = f"{TAB}grade A36\npart Z {{ section FB100x10 length 100 }}\n"
    (placed,) = read(lay(tmp_path, lib=library, x=CALL)).parts
    assert (placed.part.mark, placed.part.grade) == ("P", None)


def test_a_used_file_has_its_own_use_that_is_not_handed_on(tmp_path):
    middle = 'use "../lib.bmk"\nunits mm\nfamily more(k) = tab(n = k) { grade A36 }\n'
    text = 'use "deep/middle.bmk"\nunits mm\npart P = more(k = 3) { }\npart Q = tab(n = 3) { }\n'
    reading = read(lay(tmp_path, lib=TAB, deep__middle=middle, x=text))
    assert [placed.part.length_mm for placed in reading.parts] == [220]
    assert told(reading, tmp_path) == ["4:10 family-unknown: There is no family tab."]


def test_a_library_in_inches_called_from_a_file_in_millimetres(tmp_path):
    library = (
        "units inch\nfamily clip(rows, pitch = 3in) { section L4x4x3/8\n"
        " length 2 * 1-1/4 + (rows - 1) * pitch\n"
        " leg a { holes 13/16 gauge 2-1/2 at 1-1/4, (rows - 1) @ pitch } }\n"
    )
    text = 'use "lib.bmk" units mm part P = clip(rows = 3, pitch = 75) { length 220 }'
    (placed,) = read(lay(tmp_path, lib=library, x=text)).parts
    assert placed.part.units == "mm"
    assert [f.x_mm for f in leg_of(placed.part, "a").features] == [31.75, 106.75, 181.75]


def test_bare_numbers_of_two_units_are_never_mixed(tmp_path):
    library = "units inch\nfamily f(n) { section PL3/8x4 length n * 3 }\n"
    text = 'use "lib.bmk" units mm part P = f(n = 75) { }'
    line, _note_on_the_plate = told(read(lay(tmp_path, lib=library, x=text)), tmp_path)
    assert line == (
        "1:33 units-differ: 225 is worked out of bare numbers typed under different units, or"
        " under none: write the unit behind each length, as 75mm or 3in."
    )


OUTSIDE = "it lies outside the folder tree of this file."
REFUSED = {
    "missing": ("none.bmk", "none.bmk is not read: there is no such file."),
    "out of the tree": ("../lib.bmk", f"../lib.bmk is not read: {OUTSIDE}"),
    "far out of the tree": (
        "../../../../../../../../../../../../etc/lib.bmk",
        f"../../../../../../../../../../../../etc/lib.bmk is not read: {OUTSIDE}",
    ),
    "top of the disk": (
        "/etc/lib.bmk",
        "The way to a file begins at this one, not at the top of a disk.",
    ),
    "drive": ("C:/lib.bmk", "The way to a file begins at this one, not at the top of a disk."),
    "backslash": (
        "a\\\\lib.bmk",
        "The way to a file is written with forward slashes: `parts/clips.bmk`.",
    ),
    "other format": (
        "lib.nc1",
        "Only a file of part text can be used, and its name ends in .bmk.",
    ),
    "no name": ("", "Only a file of part text can be used, and its name ends in .bmk."),
    "folder": ("dir.bmk", "dir.bmk is not read: it is no ordinary file."),
    "itself": ("x.bmk", "These files use each other: x.bmk uses x.bmk."),
}


@pytest.mark.parametrize(("name", "message"), REFUSED.values(), ids=REFUSED)
def test_refused_names(tmp_path, name, message):
    lay(tmp_path, lib=TAB)
    folder = tmp_path / "own"
    (folder / "dir.bmk").mkdir(parents=True)
    lay(folder, x=f'use "{name}"\n')
    (line,) = told(read(folder), folder)
    assert line.split(": ", 1)[1] == message


def test_the_tree_begins_at_the_settings_file(tmp_path):
    assert SETTINGS_NAME == FILE_NAME
    lay(tmp_path, lib=TAB, own__x=CALL.replace("lib.bmk", "../lib.bmk"))
    assert read(tmp_path / "own").parts == ()
    (tmp_path / SETTINGS_NAME).write_text("", encoding="utf-8")
    assert len(read(tmp_path / "own").parts) == 1


def test_a_link_does_not_lead_out(tmp_path):
    lay(tmp_path, lib=TAB)
    folder = lay(tmp_path / "own", x=CALL)
    (folder / "lib.bmk").symlink_to(tmp_path / "lib.bmk")
    assert told(read(folder), folder)[0].endswith(OUTSIDE)


def test_files_that_use_each_other(tmp_path):
    lay(tmp_path, lib=f'use "x.bmk"\n{TAB}', x=CALL)
    reading = read(tmp_path)
    assert told(reading, tmp_path) == [
        "1:5 use-has-faults: lib.bmk has a fault, the first at line 1."
    ]
    assert len(reading.parts) == 1
    assert told(read(tmp_path, "lib.bmk"), tmp_path) == [
        "1:5 use-has-faults: x.bmk has a fault, the first at line 1."
    ]


def test_a_fault_in_a_used_file(tmp_path):
    reading = read(lay(tmp_path, lib=TAB.replace("length", "lenght"), x=CALL))
    assert told(reading, tmp_path) == [
        "1:5 use-has-faults: lib.bmk has a fault, the first at line 2.",
        "3:10 family-unsound: The family tab has a fault at line 2: it can't be called.",
    ]


@pytest.mark.parametrize("units", ["unit mmm", "units milimetre", "units", "units furlong"])
def test_a_family_under_a_unit_that_was_misspelt_is_not_called(tmp_path, units):
    reading = read(lay(tmp_path, lib=TAB.replace("units mm", units), x=CALL))
    assert reading.parts == ()
    assert [f.rule for f in in_order(reading.findings)] == ["use-has-faults", "family-unsound"]


def test_a_family_of_two_files(tmp_path):
    text = f'use "lib.bmk"\n{TAB}'
    assert told(read(lay(tmp_path, lib=TAB, x=text)), tmp_path) == [
        "3:8 given-twice: There are two families tab: give one of them another name."
    ]


def test_an_input_that_stands_alone_uses_nothing():
    source = Source(path="-", data=CALL.encode())
    reading = READER.lower(READER.parse(source), Conventions())
    assert [f.message for f in in_order(reading.findings)] == [
        "lib.bmk is not read: this input stands alone, and knows no other file.",
        "There is no family tab.",
    ]


def test_many_files_are_bounded(tmp_path):
    files = {f"f{n}": f"units mm\nfamily g{n}() {{ }}\n" for n in range(60)}
    text = "".join(f'use "f{n}.bmk"\n' for n in range(60))
    found = told(read(lay(tmp_path, x=text, **files)), tmp_path)
    assert len(found) == 10
    assert all("one more than the 50 files" in line for line in found)


def test_a_long_line_of_files(tmp_path):
    files = {f"f{n}": f'use "f{n + 1}.bmk"\n' for n in range(49)}
    text = 'use "f0.bmk"\nunits mm\npart P { section FB 100x10 length 300 grade S275JR }\n'
    reading = read(lay(tmp_path, x=text, f49=TAB, **files))
    assert reading.findings == ()


def test_a_file_that_only_uses_another_is_empty(tmp_path):
    reading = read(lay(tmp_path, lib=TAB, x='use "lib.bmk"\n'))
    assert told(reading, tmp_path) == ["1:1 file-empty: No part and no family stands in this file."]


def test_paths_are_spelling_alone():
    assert used_path("shop/sub/x.bmk", "../lib/a.bmk") == "shop/lib/a.bmk"
    with pytest.raises(UseError, match="forward slashes"):
        used_path("x.bmk", "a\\b.bmk")
    text = 'use "a.bmk" # use "b.bmk"\nremark "use ""c.bmk"""\nUSE\n\u201cd.bmk\u201d reuse "e.bmk"'
    assert used_paths(Source(path="x.bmk", data=text.encode())) == ("a.bmk", "d.bmk")
