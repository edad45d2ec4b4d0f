"""Zip archives that are locked, too large, damaged or made to do harm.

The limits are common practice, no source.
"""

import random
import struct
import time
import tracemalloc
import zipfile
import zlib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from zip_files import CLIP, KNOWN, forged, look, patched, zipped

from translator.batch import archives
from translator.batch.archive_list import listed
from translator.batch.archives import ArchiveError, Entry, read_entry
from translator.batch.discover import InputFile, discover, load
from translator.errors import WorkError

# ------------------------------------------------------------------ what may not be read

NOT_READ = "this file is not read: "


def _encrypted(path):
    return patched(zipped(path, [("a.bmk", CLIP)]), b"PK\x01\x02", 8, b"\x01\x00")


def _strongly_encrypted(path):
    return patched(zipped(path, [("a.bmk", CLIP)]), b"PK\x01\x02", 8, b"\x41\x00")


def _bzip2(path):
    return zipped(path, [("a.bmk", CLIP)], pack=zipfile.ZIP_BZIP2)


def _link(path):
    with zipfile.ZipFile(path, "w") as archive:
        info = zipfile.ZipInfo("a.bmk")
        info.create_system = 3
        info.external_attr = 0o120777 << 16
        archive.writestr(info, "/etc/passwd")
    return path


def _blank(path):
    return zipped(path, [("a.bmk", b" " * 200_000)])


def _large(path):
    return patched(
        zipped(path, [("a.bmk", CLIP)]), b"PK\x01\x02", 20, struct.pack("<2L", 67108865, 67108865)
    )


def _twice(path):
    return zipped(path, [("a.bmk", CLIP), ("a.bmk", CLIP + b"#"), ("b.bmk", CLIP)])


def _overlapping(path):
    """The list names one place twice, as an archive does that unpacks to petabytes."""
    path.write_bytes(forged(["a.bmk", "b.bmk"], entries={0: 0, 1: 0}, head=b"x" * 400))
    return path


def _named(name):
    return lambda path: (zipped(path, [("ok.bmk", CLIP)]), _add(path, name))[0]


def _add(path, name):
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr(zipfile.ZipInfo("x" * len(name.encode())), CLIP)
    data = path.read_bytes().replace(b"x" * len(name.encode()), name.encode())
    path.write_bytes(data)


FAULTS = {
    "encrypted": (
        _encrypted, "archive-encrypted", "a.bmk", "it is encrypted; send it without a password",
    ),
    "strongly-encrypted": (
        _strongly_encrypted, "archive-encrypted", "a.bmk",
        "it is encrypted; send it without a password",
    ),
    "packed-otherwise": (
        _bzip2, "archive-packing-unknown", "a.bmk",
        "it is packed by method 12; only methods 0 (stored) and 8 (deflated) are read",
    ),
    "link": (_link, "archive-link", "a.bmk", "it is a link or a device, no ordinary file"),
    "packed-too-well": (
        _blank, "archive-too-large", "a.bmk",
        "its 212 bytes unpack to 200000, more than 200 for each, as no part file does",
    ),
    "too-large": (
        _large, "archive-too-large", "a.bmk",
        "it has 67108865 bytes, more than the 67108864 that a part file may have",
    ),
    "name-twice": (
        _twice, "archive-name-twice", "a.bmk",
        "the archive holds 2 files of this name; which one counts is open",
    ),
    "overlapping": (
        _overlapping, "archive-bytes-shared", "a.bmk",
        "its bytes are also those of another file in the archive",
    ),
    "up": (
        _named("../up.bmk"), "archive-name-odd", "../up.bmk",
        "its name holds a step that is empty, `.` or `..`",
    ),
    "up-by-backslash": (
        _named("..\\up.bmk"), "archive-name-odd", "../up.bmk",
        "its name holds a step that is empty, `.` or `..`",
    ),
    "here": (
        _named("./up.bmk"), "archive-name-odd", "./up.bmk",
        "its name holds a step that is empty, `.` or `..`",
    ),
    "empty-step": (
        _named("a//b.bmk"), "archive-name-odd", "a//b.bmk",
        "its name holds a step that is empty, `.` or `..`",
    ),
    "absolute": (
        _named("/etc/b.bmk"), "archive-name-odd", "/etc/b.bmk",
        "its name begins at the top of a disk, not of the archive",
    ),
    "drive": (
        _named("C:b.bmk"), "archive-name-odd", "C:b.bmk",
        "its name begins at the top of a disk, not of the archive",
    ),
    "nul": (
        _named("b\0.bmk"), "archive-name-odd", "b\0.bmk", "its name holds signs that can't be seen",
    ),
    "escape": (
        _named("b\x1b[2J.bmk"), "archive-name-odd", "b\x1b[2J.bmk",
        "its name holds signs that can't be seen",
    ),
    "turned": (
        _named("b\u202etxt.bmk"), "archive-name-odd", "b\u202etxt.bmk",
        "its name holds signs that can't be seen",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", FAULTS.values(), ids=FAULTS)
def test_a_file_that_may_not_be_read_is_told_and_the_others_are_read(tmp_path, monkeypatch, case):
    make, rule, name, why = case
    monkeypatch.chdir(tmp_path)
    make(Path("d.zip"))
    zipped(Path("sound.zip"), [("s.bmk", CLIP)])
    names, told = look("d.zip", "sound.zip")
    assert "sound.zip!/s.bmk" in names
    assert f"d.zip!/{name}" not in names
    assert (rule, "error", f"d.zip!/{name}", NOT_READ + why) in told
    if not names[:-1]:  # by itself it leaves nothing to read, and that is told with its name
        with pytest.raises(WorkError, match="there is no file to read"):
            look("d.zip")


def _sparse(path, data, size):
    """Write an archive behind a hole, so that it is large without taking the disk's room."""
    with path.open("wb") as stream:
        stream.seek(size - len(data))
        stream.write(data)
    return path


def _many(path):
    path.write_bytes(forged([f"{n}" for n in range(100_001)]))
    return path


def _long_list(path):
    return patched(
        _sparse(path, forged([]), 17_000_000), b"PK\x05\x06", 12, struct.pack("<L", 16_000_001)
    )


def _volumes(path):
    return patched(zipped(path, [("a.bmk", CLIP)]), b"PK\x05\x06", 4, b"\x01\x00")


def _misplaced(path):
    return patched(zipped(path, [("a.bmk", CLIP)]), b"PK\x05\x06", 16, struct.pack("<L", 999_999))


def _broken_list(path):
    return patched(zipped(path, [("a.bmk", CLIP), ("b.bmk", CLIP)]), b"PK\x01\x02", 0, b"PKxx")


def _cut(path):
    whole = zipped(path, [("a.bmk", CLIP)]).read_bytes()
    path.write_bytes(whole[:-10])
    return path


def _none(path):
    path.write_bytes(b"this is no archive")
    return path


def _empty(path):
    path.write_bytes(b"")
    return path


WHOLE = {
    "no-archive": (_none, "it is no zip archive, or its end with the list of files is missing"),
    "empty": (_empty, "it is no zip archive, or its end with the list of files is missing"),
    "cut-short": (_cut, "it is no zip archive, or its end with the list of files is missing"),
    "several-volumes": (_volumes, "it is one of several volumes; an archive must be whole"),
    "list-misplaced": (
        _misplaced,
        "it is cut short or damaged: its list of files is not where it says",
    ),
    "list-broken": (_broken_list, "it is damaged: entry 1 of its list can't be read"),
    "too-many": (
        _many,
        "it has 100001 files and folders, more than the 100000 that an archive may have",
    ),
    "list-too-long": (
        _long_list,
        "it has 16000001 bytes of a list of files, more than the 16000000 that an archive may have",
    ),
    "too-large": (
        lambda path: _sparse(path, forged([]), 2_000_000_001),
        "it has 2000000001 bytes, more than the 2000000000 that an archive may have",
    ),
}


@pytest.mark.parametrize(("make", "why"), WHOLE.values(), ids=WHOLE)
def test_an_archive_that_can_t_be_read_is_told_and_does_not_stop_the_rest(
    tmp_path, monkeypatch, make, why
):
    monkeypatch.chdir(tmp_path)
    Path("d").mkdir()
    make(Path("d/x.zip"))
    Path("d/a.bmk").write_bytes(CLIP)
    begun = time.process_time()
    names, told = look("d")
    assert time.process_time() - begun < 1.0
    assert names == ["d/a.bmk"]
    assert told == [("archive-unreadable", "error", "d/x.zip", f"this archive is not read: {why}")]
    with pytest.raises(WorkError) as raised:
        look("d/x.zip")
    assert str(raised.value) == (
        f"there is no file to read: this archive is not read: {why} (d/x.zip)"
    )


def test_part_files_that_are_too_much_together_are_not_read(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    count, each = 16, 62_500_001
    names = [f"{n}.bmk" for n in range(count)]
    sizes = dict.fromkeys(range(count), each)
    places = {n: n * (each + 100) for n in range(count)}
    Path("x.zip").write_bytes(forged(names, sizes=sizes, entries=places))
    Path("a.bmk").write_bytes(CLIP)
    found = discover([Path("x.zip"), Path("a.bmk")], KNOWN)
    assert [file.name for file in found.files] == ["a.bmk"]
    (finding,) = found.findings
    assert finding.message == (
        "its part files come to 1000000016 bytes unpacked, more than the 1000000000 that those of"
        " an archive may have: none is read"
    )
    assert (finding.value, finding.limit, finding.unit) == (1_000_000_016, 1_000_000_000, "")
    sizes[0] -= 16
    Path("x.zip").write_bytes(forged(names, sizes=sizes, entries=places))
    assert len(discover([Path("x.zip")], KNOWN).files) == count


def test_of_many_files_with_one_fault_the_first_are_named(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    zipped(Path("x.zip"), [(f"{n:03}.bmk", CLIP) for n in range(30)])
    patched(Path("x.zip"), b"PK\x01\x02", 8, b"\x01\x00")
    Path("a.bmk").write_bytes(CLIP)
    _, told = look("x.zip", "a.bmk")
    assert [path for _, _, path, _ in told] == [f"x.zip!/{n:03}.bmk" for n in range(10)] + ["x.zip"]
    assert told[-1][3] == "20 more part files in this archive are not read for the same fault"


# ------------------------------------------------------------------ bytes that lie


def _one(tmp_path, data=CLIP, **more):
    path = zipped(tmp_path / "x.zip", [("a.bmk", data)], **more)
    (file,) = discover([path], KNOWN).files
    return path, file


def _told(file):
    with pytest.raises(WorkError) as raised:
        load(file)
    return str(raised.value).removeprefix(f"can't read {file.name}: ")


def test_damaged_bytes_are_told_by_their_checksum(tmp_path):
    path, file = _one(tmp_path, pack=zipfile.ZIP_STORED)
    path.write_bytes(path.read_bytes().replace(b"FB100", b"FB101", 1))
    is_now, was = (zlib.crc32(data) for data in (CLIP.replace(b"FB100", b"FB101"), CLIP))
    assert _told(file) == (
        f"it is damaged: its bytes have the checksum {is_now:08x}, the archive's list states"
        f" {was:08x}"
    )
    with pytest.raises(zipfile.BadZipFile):  # the outside check
        zipfile.ZipFile(path).read("a.bmk")


def test_bytes_that_are_no_deflate_are_told(tmp_path):
    path, file = _one(tmp_path, CLIP * 20)
    data = bytearray(path.read_bytes())
    data[file.entry.offset + 35] = 0xFF
    path.write_bytes(data)
    assert _told(file) == "it is damaged: its bytes can't be unpacked"


@pytest.mark.parametrize(("stated", "which"), [(10, "more"), (9999, "fewer")])
def test_a_size_that_lies_is_told(tmp_path, stated, which):
    _, file = _one(tmp_path, CLIP * 20)
    lie = InputFile(path=file.path, reader="bmk", entry=file.entry._replace(size=stated))
    assert _told(lie) == (
        f"it unpacks to {which} than the {stated} bytes that the archive's list states"
    )


def test_a_small_size_that_lies_costs_no_memory(tmp_path):
    path = tmp_path / "x.zip"
    zipped(path, [("b.bmk", b" " * 60_000_000)])
    (one,) = listed(path)
    tracemalloc.start()
    with pytest.raises(ArchiveError, match="unpacks to more than the 90000 bytes"):
        read_entry(path, one.entry._replace(size=90_000))
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert most < 2_000_000


def test_bytes_that_are_not_there_are_told(tmp_path):
    path, file = _one(tmp_path, CLIP * 20)
    whole = path.read_bytes()
    path.write_bytes(whole[: file.entry.offset + 50])
    assert _told(file).startswith("it is cut short: 15 bytes of the ")
    path.write_bytes(whole[:10])
    assert _told(file) == "nothing of it stands where the archive's list says"
    path.unlink()
    assert _told(file) == "it can't be read: no such file or directory"


def test_a_place_behind_the_end_of_everything_is_told(tmp_path):
    entry = Entry("a.bmk", archives.LARGEST_ARCHIVE_BYTES - 1, 10, 10, 0, 0)
    path, _ = _one(tmp_path)
    with pytest.raises(ArchiveError, match="nothing of it stands where"):
        read_entry(path, entry)
    path.write_bytes(forged(["a.bmk"], entries={0: archives.LARGEST_ARCHIVE_BYTES + 1}))
    with pytest.raises(WorkError, match="its bytes would lie behind the end of any archive"):
        discover([path], KNOWN)


def _survived(path):
    """Search and read an archive whatever it is; return whether something was said or read."""
    try:
        found = discover([path], KNOWN)
    except WorkError:
        return
    for file in found.files:
        try:
            load(file)
        except WorkError:
            continue


def test_no_cut_and_no_change_of_an_archive_does_harm(tmp_path):
    files = [("a/b.bmk", CLIP), ("c.nc1", b"ST\r\n" * 50), ("d.part.json", b"{}"), ("e.txt", b"")]
    sound = zipped(tmp_path / "x.zip", files, comment=b"TQ-7").read_bytes()
    path = tmp_path / "y.zip"
    dice = random.Random(29)
    begun = time.process_time()
    for length in range(len(sound)):
        path.write_bytes(sound[:length])
        _survived(path)
    for _ in range(1500):
        data = bytearray(sound)
        for _ in range(dice.randint(1, 5)):
            data[dice.randrange(len(data))] = dice.choice((0, 1, 0x50, 0x7F, 0xFF))
        path.write_bytes(data)
        _survived(path)
    assert time.process_time() - begun < 30.0


@settings(
    max_examples=150,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(st.binary(max_size=300), st.booleans())
def test_no_bytes_with_an_end_record_do_harm(tmp_path, data, is_wide):
    path = tmp_path / "z.zip"
    end = struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, 1, 1, len(data), 0, 0)
    if is_wide:
        end = data[-20:] + struct.pack("<4sLQL", b"PK\x06\x07", 0, 0, 1) + end
    path.write_bytes(data + end)
    _survived(path)
