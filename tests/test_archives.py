"""Zip archives read where they lie. The outside check is the standard library's own zip writer."""

import pickle
import struct
import tracemalloc
import zipfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from zip_files import CLIP, KNOWN, PART, forged, look, zipped

from translator.batch.discover import discover, load
from translator.conventions import Conventions
from translator.errors import WorkError
from translator.findings import Severity

# ------------------------------------------------------------------ sound archives


def test_a_delivery_in_an_archive_reads_like_the_folder_it_was_made_of(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    files = [(f"stair/{n}.bmk", PART.format(n).encode()) for n in ("B2", "A10", "a1")]
    files += [("stair/deep/K.nc1", b"ST\r\n"), ("F.part.json", b"{}"), ("__MACOSX/._F.bmk", b"x")]
    zipped(Path("d.zip"), files)
    names, told = look("d.zip")
    assert names == [
        "d.zip!/F.part.json",
        "d.zip!/stair/A10.bmk",
        "d.zip!/stair/B2.bmk",
        "d.zip!/stair/a1.bmk",
        "d.zip!/stair/deep/K.nc1",
    ]
    assert told == []
    data = {file.name: load(file).data for file in discover([Path("d.zip")], KNOWN).files}
    assert data["d.zip!/stair/B2.bmk"] == PART.format("B2").encode()
    assert all(Path("d.zip") == Path(f.path) for f in discover([Path("d.zip")], KNOWN).files)
    assert sorted(tmp_path.iterdir()) == [tmp_path / "d.zip"]  # nothing is unpacked


@settings(
    max_examples=60,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(
    files=st.dictionaries(
        st.lists(st.text("abcXYZ09-_ üß字", min_size=1, max_size=9), min_size=1, max_size=4)
        .map(lambda steps: "/".join(s.strip() or "x" for s in steps) + ".bmk"),
        st.binary(max_size=3000),
        min_size=1,
        max_size=8,
    ),
    pack=st.sampled_from([zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED]),
    before=st.binary(max_size=200),
    comment=st.binary(max_size=200),
)  # fmt: skip
def test_any_sound_archive_gives_the_bytes_that_were_put_in(tmp_path, files, pack, before, comment):
    path = zipped(tmp_path / "x.zip", files.items(), pack=pack, before=before, comment=comment)
    found = discover([path], KNOWN)
    assert found.findings == ()
    read = {file.entry.name: load(file).data for file in found.files}
    assert read == files
    assert [f.name for f in found.files] == sorted(f"{path.as_posix()}!/{name}" for name in files)


def test_an_archive_of_the_large_kind_is_read(tmp_path, monkeypatch):
    """Zip64 (APPNOTE 4.3.14, 4.5.3): the writer is told to take it for more than 20 files."""
    monkeypatch.setattr(zipfile, "ZIP_FILECOUNT_LIMIT", 20)
    path = tmp_path / "x.zip"
    with zipfile.ZipFile(path, "w") as archive:
        with archive.open("wide.bmk", "w", force_zip64=True) as stream:
            stream.write(CLIP)
        for number in range(30):
            archive.writestr(zipfile.ZipInfo(f"{number}.txt"), b"")
    end = path.read_bytes()[-98:]
    assert end.startswith(b"PK\x06\x06")
    path.write_bytes(path.read_bytes()[:-12] + b"\xff" * 10 + b"\0\0")  # sizes stand there alone
    (file,) = discover([path], KNOWN).files
    assert load(file).data == CLIP
    assert len(zipfile.ZipFile(path).namelist()) == 31


def test_sizes_in_64_bits_are_read_where_the_list_gives_them(tmp_path):
    path = zipped(tmp_path / "x.zip", [("a.bmk", CLIP)], pack=zipfile.ZIP_STORED)
    data = bytearray(path.read_bytes())
    at = data.find(b"PK\x01\x02")
    data[at + 20 : at + 28] = b"\xff" * 8
    data[at + 30 : at + 32] = struct.pack("<H", 20)
    wide = struct.pack("<2H2Q", 1, 16, len(CLIP), len(CLIP))
    name_end = at + 46 + len("a.bmk")
    data[name_end:name_end] = wide
    end = data.find(b"PK\x05\x06")
    data[end + 12 : end + 16] = struct.pack("<L", end - at)
    path.write_bytes(data)
    (file,) = discover([path], KNOWN).files
    assert load(file).data == CLIP
    assert zipfile.ZipFile(path).read("a.bmk") == CLIP  # the outside check of the forgery


def test_found_files_are_small_and_can_be_sent_to_another_process(tmp_path):
    names = [f"order-TQ-7/phase-{n // 500}/C{n}.part.json" for n in range(5000)]
    path = tmp_path / "many.zip"
    path.write_bytes(forged(names))
    discover([path], KNOWN)  # what is loaded and remembered once does not count
    tracemalloc.start()
    found = discover([path], KNOWN).files
    held, _ = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert len(found) == 5000
    assert held < 2_500_000
    sent = pickle.dumps(found)
    assert len(sent) < 750_000
    assert pickle.loads(sent) == found  # noqa: S301 - our own bytes


# ------------------------------------------------------------------ what is told beside


SETTINGS_UNREAD = (
    "2 files (first backmark.toml) of settings or waivers in it: not read, those of the folder that"
    " the archive lies in count"
)


def test_what_else_is_in_an_archive_is_told(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    zipped(
        Path("d.zip"),
        [
            ("a.bmk", CLIP),
            ("inner.zip", zipped(Path("i.zip"), [("b.bmk", CLIP)]).read_bytes()),
            ("more/older.7z", b""),
            ("backmark.toml", b""),
            ("waivers.toml", b""),
            ("read me.txt", b""),
            ("more/", b""),
            (".hidden/c.bmk", CLIP),
        ],
    )
    names, told = look("d.zip")
    assert names == ["d.zip!/a.bmk"]
    assert [(rule, severity, text) for rule, severity, _, text in told] == [
        (
            "archive-in-archive",
            "warning",
            "2 archives (first inner.zip) in it: an archive in an archive is not opened",
        ),
        (
            "archive-settings",
            "warning",
            SETTINGS_UNREAD,
        ),
        ("archive-read", "note", "1 part file in it; beside 1 other file (read me.txt)"),
    ]


def test_names_in_old_letters_and_with_backslashes_are_read_and_told(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    zipped(Path("d.zip"), [("stair\\XX.bmk", CLIP), ("YY.bmk", CLIP)])
    data = Path("d.zip").read_bytes().replace(b"XX", b"A\x9a").replace(b"YY", b"\xc3\xbc")
    Path("d.zip").write_bytes(data)  # 0x9A is Ü in code page 437; C3 BC is ü in UTF-8
    names, told = look("d.zip")
    assert names == ["d.zip!/stair/AÜ.bmk", "d.zip!/ü.bmk"]
    assert [text for *_, text in told] == [
        "1 name (stair/AÜ.bmk) with backslashes in it, read as slashes",
        "2 names (first stair/AÜ.bmk) in it that are not said to be UTF-8: letters guessed",
    ]


def test_an_archive_in_a_folder_is_part_of_the_delivery_and_named(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("d/old").mkdir(parents=True)
    Path("d/a.bmk").write_bytes(CLIP)
    zipped(Path("d/b.zip"), [("x/c.bmk", CLIP), ("x/void.bmk", CLIP)])
    zipped(Path("d/old/e.ZIP"), [("e.bmk", CLIP)])
    zipped(Path("d/none.zip"), [("photo.jpg", b"")])
    Path("d/old/f.tar.gz").write_bytes(b"")
    names, told = look("d")
    assert names == ["d/a.bmk", "d/b.zip!/x/c.bmk", "d/b.zip!/x/void.bmk", "d/old/e.ZIP!/e.bmk"]
    assert [(path, text) for _, _, path, text in told] == [
        ("d/b.zip", "2 part files in it"),
        ("d/none.zip", "no part file in it; beside 1 other file (photo.jpg)"),
        ("d/old/e.ZIP", "1 part file in it"),
        ("d", "d/old/f.tar.gz is passed over: of archives only .zip is read"),
    ]
    names, told = look("d", excludes=("old", "void.*"))
    assert names == ["d/a.bmk", "d/b.zip!/x/c.bmk"]
    assert ("d", "d/old/e.ZIP is left out by `--exclude old`") in [(p, t) for _, _, p, t in told]
    names, _ = look("d", excluded_by=lambda path: Path("s.toml") if ".zip" in str(path) else None)
    assert names == ["d/a.bmk", "d/old/e.ZIP!/e.bmk"]
    with pytest.raises(WorkError, match=r"^the archive d/none\.zip holds no part file \("):
        look("d/none.zip")


WAYS = {
    "one-file": ("d.zip!/stair/C1.bmk", ["stair/C1.bmk"]),
    "a-folder": ("d.zip!/stair", ["stair/C1.bmk", "stair/C[2].bmk", "stair/in/C3.bmk"]),
    "a-pattern": ("d.zip!/*/C1*", ["plates/C1.nc1", "stair/C1.bmk"]),
    "any-depth": ("d.zip!/**/*3.bmk", ["stair/in/C3.bmk"]),
    "as-it-is-spelt": ("d.zip!/stair/C[2].bmk", ["stair/C[2].bmk"]),
}


@pytest.mark.parametrize(("way", "names"), WAYS.values(), ids=WAYS)
def test_a_way_into_an_archive_names_a_file_a_folder_or_a_pattern(
    tmp_path, monkeypatch, way, names
):
    monkeypatch.chdir(tmp_path)
    inner = ("stair/C1.bmk", "stair/C[2].bmk", "stair/in/C3.bmk", "plates/C1.nc1", "x.txt")
    zipped(Path("d.zip"), [(name, CLIP) for name in inner])
    assert look(way) == ([f"d.zip!/{name}" for name in names], [])


def test_a_way_to_nothing_is_told(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    zipped(Path("d.zip"), [("a.bmk", CLIP)])
    with pytest.raises(WorkError, match=r"^the archive d\.zip holds no part file named b\.bmk \("):
        look("d.zip!/b.bmk")
    with pytest.raises(WorkError, match=r"^there is no file or folder no\.zip!/b\.bmk$"):
        look("no.zip!/b.bmk")


# ------------------------------------------------------------------ files that use others

LIBRARY = "units mm\nfamily tab(n) { section FB100x10 length 80 * n }\n"
USER = 'use "{}"\nunits mm\npart P = tab(n = 2) {{ }}\n'


def _read(file):
    reader = next(r for r in KNOWN if r.name == file.reader)
    source = load(file)
    return source, reader.lower(reader.parse(source), Conventions())


def test_a_file_in_an_archive_uses_those_in_the_archive_only(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    zipped(
        Path("d.zip"),
        [
            ("lib.bmk", LIBRARY.encode()),
            ("stair/near.bmk", USER.format("../lib.bmk").encode()),
            ("stair/out.bmk", USER.format("../../lib.bmk").encode()),
            ("stair/none.bmk", USER.format("no.bmk").encode()),
            ("twice.bmk", LIBRARY.encode()),
            ("twice.bmk", LIBRARY.encode()),
            ("stair/open.bmk", USER.format("../twice.bmk").encode()),
        ],
    )
    Path("lib.bmk").write_text(LIBRARY)
    Path("no.bmk").write_text(LIBRARY)
    files = {f.entry.name: f for f in discover([Path("d.zip")], KNOWN).files}
    source, reading = _read(files["stair/near.bmk"])
    assert dict(source.library) == {"d.zip!/lib.bmk": LIBRARY.encode()}
    assert [placed.part.length_mm for placed in reading.parts] == [160.0]
    expected = {
        "stair/out.bmk": "it lies outside the archive of this file",
        "stair/none.bmk": "there is no such file in the archive",
        "stair/open.bmk": "the archive holds 2 files of this name",
    }
    for name, why in expected.items():
        source, reading = _read(files[name])
        assert list(source.unread.values()) == [why]
        assert not source.library
        assert not reading.parts
        assert any(f.severity is Severity.ERROR for f in reading.findings)


def test_a_file_on_disk_uses_none_in_an_archive(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    zipped(Path("d.zip"), [("lib.bmk", LIBRARY.encode())])
    Path("x.bmk").write_text(USER.format("d.zip!/lib.bmk"))
    (file,) = discover([Path("x.bmk")], KNOWN).files
    assert list(load(file).unread.values()) == ["there is no such file"]
