"""Patterns as paths, excludes of a run, and what in a folder is passed over with a word."""

import os
import re
import time
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from zip_files import CLIP, KNOWN, look, zipped

from translator.batch.discover import discover
from translator.batch.paths import fits, is_left_out
from translator.commands import main
from translator.errors import WorkError

FILES = ("a.bmk", "stair/b.bmk", "stair/b.nc1", "stair/in/c.bmk", "deck/d.bmk", "deck[1]/e.bmk")


@pytest.fixture
def tree(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for name in (*FILES, "out/f.bmk", ".old/g.bmk"):
        path = Path("p", name)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(CLIP)
    zipped(Path("p/z.zip"), [("in/h.bmk", CLIP), ("i.nc1", CLIP)])
    return tmp_path


PATTERNS = {
    "names-of-one-folder": ("p/stair/*.bmk", ["stair/b.bmk"]),
    "one-sign": ("p/stair/?.nc1", ["stair/b.nc1"]),
    "any-folder": ("p/*/*.nc1", ["stair/b.nc1", "z.zip!/i.nc1"]),
    "any-depth": ("p/**/*.nc1", ["stair/b.nc1", "z.zip!/i.nc1"]),
    "any-depth-includes-none": ("p/**/a.bmk", ["a.bmk"]),
    "in-between": ("p/**/in/*", ["stair/in/c.bmk", "z.zip!/in/h.bmk"]),
    "a-folder-takes-what-is-in-it": ("p/st*", ["stair/b.bmk", "stair/b.nc1", "stair/in/c.bmk"]),
    "an-archive": ("p/*.zip", ["z.zip!/i.nc1", "z.zip!/in/h.bmk"]),
    "in-an-archive": ("p/*.zip!/in/*", ["z.zip!/in/h.bmk"]),
    "one-of-some-signs": ("p/[a-d]*/[!x].bmk", ["deck/d.bmk", "deck[1]/e.bmk"]),
    "a-folder-of-that-spelling-goes-before": ("p/deck[1]", ["deck[1]/e.bmk"]),
    "outputs-and-hidden-are-passed-over": ("p/*/[fg].bmk", None),
    "none": ("p/**/*.part.json", None),
}


@pytest.mark.parametrize(("pattern", "names"), PATTERNS.values(), ids=PATTERNS)
@pytest.mark.usefixtures("tree")
def test_a_pattern_names_files_folders_and_archives(pattern, names):
    def is_skipped(folder):
        return folder.name == "out"

    if names is None:
        message = f"no part file (.bmk, .nc1, .part.json) is named by {pattern}"
        with pytest.raises(WorkError, match=re.escape(message)):
            look(pattern, is_skipped=is_skipped)
        return
    found, told = look(pattern, is_skipped=is_skipped)
    assert found == [f"p/{name}" for name in names]
    assert all(rule == "archive-read" for rule, *_ in told)


def test_a_pattern_gives_what_the_names_it_stands_for_give(tree):
    names = [f"p/{name}" for name in FILES if name.count("/") == 1 and name.endswith(".bmk")]
    assert look("p/*/*.bmk", is_skipped=lambda f: f.name == "out") == look(*sorted(names))
    assert look(f"{tree.as_posix()}/p/a*")[0] == [f"{tree.as_posix()}/p/a.bmk"]


def test_a_pattern_in_no_folder_is_told(tree):
    with pytest.raises(WorkError, match=r"^there is no folder q to look for q/\*\.bmk in$"):
        look("q/*.bmk")
    assert tree.is_dir()


@settings(max_examples=300, derandomize=True, deadline=None)
@given(
    steps=st.lists(st.text("ab", min_size=1, max_size=3), min_size=1, max_size=5),
    pattern=st.lists(st.sampled_from(["a", "b", "ab", "*", "a*", "**", "?"]), max_size=5),
)
def test_a_pattern_fits_where_a_plain_search_says_so(steps, pattern):
    """Held against the definition: a beginning of the way equals the pattern written out."""

    def same(way, signs):
        if not signs:
            return True  # the folder above is named: all in it is
        if signs[0] == "**":
            return any(same(way[n:], signs[1:]) for n in range(len(way) + 1))
        plain = signs[0].replace("*", ".*").replace("?", ".")
        return bool(way) and bool(re.fullmatch(plain, way[0])) and same(way[1:], signs[1:])

    assert fits(steps, pattern) is same(steps, pattern)


def test_no_pattern_takes_long():
    begun = time.process_time()
    assert not fits(["a"] * 200, [*(["**", "a"] * 100), "b"])
    assert not fits(["a" * 200], ["*a" * 40 + "b"])
    assert time.process_time() - begun < 1.0


EXCLUDES = {
    "a-name": ("b.bmk", "stair/b.bmk", True),
    "a-folder-at-any-depth": ("in", "stair/in/c.bmk", True),
    "a-folder-with-a-slash": ("in/", "stair/in/c.bmk", True),
    "a-pattern-of-names": ("*.nc1", "stair/b.nc1", True),
    "a-way": ("stair/in", "stair/in/c.bmk", True),
    "a-way-begins-at-the-top": ("in/c.bmk", "stair/in/c.bmk", False),
    "any-depth": ("**/in/c.bmk", "stair/in/c.bmk", True),
    "another": ("deck", "stair/b.bmk", False),
    "case-counts": ("STAIR", "stair/b.bmk", False),
}


@pytest.mark.parametrize(("pattern", "name", "is_out"), EXCLUDES.values(), ids=EXCLUDES)
def test_excludes_of_a_run(pattern, name, is_out):
    assert is_left_out(name.split("/"), pattern) is is_out


@pytest.mark.usefixtures("tree")
def test_what_a_run_excludes_is_counted_by_pattern():
    names, told = look("p", excludes=("*.nc1", "deck*", "out"))
    assert names == ["p/a.bmk", "p/stair/b.bmk", "p/stair/in/c.bmk", "p/z.zip!/in/h.bmk"]
    assert [(path, text) for rule, _, path, text in told if rule == "files-excluded"] == [
        (
            "p",
            "2 files are left out by `--exclude *.nc1`, the first is p/stair/b.nc1",
        ),
        ("p", "2 files are left out by `--exclude deck*`, the first is p/deck/d.bmk"),
        ("p", "p/out/f.bmk is left out by `--exclude out`"),
    ]
    assert look("p/stair/b.nc1", excludes=("*.nc1",))[0] == ["p/stair/b.nc1"]  # named outright
    with pytest.raises(WorkError, match=r"^there is no file to read: p/deck/d\.bmk is left out by"):
        look("p/stair", "p/deck", excludes=("*",))


def test_names_that_are_no_files_are_told(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("d/sub").mkdir(parents=True)
    Path("d/a.bmk").write_bytes(CLIP)
    Path("d/gone.bmk").symlink_to("nowhere")
    Path("d/ring.nc1").symlink_to("ring.nc1")
    Path("d/gone.zip").symlink_to("nowhere")
    Path("d/elsewhere").symlink_to("sub", target_is_directory=True)
    Path("d/.hidden").symlink_to("sub", target_is_directory=True)
    os.mkfifo("d/pipe.part.json")
    os.mkfifo("d/pipe.txt")
    names, told = look("d")
    assert names == ["d/a.bmk"]
    nowhere = "this file is not read: it is a link that leads nowhere, a pipe or a device"
    assert told == [
        ("file-not-ordinary", "error", f"d/{name}", nowhere)
        for name in ("gone.bmk", "gone.zip", "pipe.part.json", "ring.nc1")
    ] + [
        (
            "file-passed-over",
            "note",
            "d",
            "d/elsewhere is passed over: links to folders are not followed",
        )
    ]


def test_a_folder_that_can_not_be_read_stops_no_other(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for name in ("d/a.bmk", "d/locked/b.bmk", "d/open/c.bmk"):
        Path(name).parent.mkdir(parents=True, exist_ok=True)
        Path(name).write_bytes(CLIP)
    scandir = os.scandir

    def refusing(path):
        if Path(path).name == "locked":
            raise PermissionError(13, "Permission denied")
        return scandir(path)

    monkeypatch.setattr(os, "scandir", refusing)
    names, told = look("d")
    assert names == ["d/a.bmk", "d/open/c.bmk"]
    message = "this folder can't be read: what is in it is not looked at"
    assert told == [("folder-unreadable", "error", "d/locked", message)]
    with pytest.raises(WorkError, match=r"^can't read the folder d/locked: permission denied$"):
        look("d/locked")
    Path("d/a.bmk").unlink()
    Path("d/open/c.bmk").unlink()
    with pytest.raises(WorkError) as raised:
        look("d")
    assert str(raised.value) == f"there is no file to read: {message} (d/locked)"


def test_a_file_reached_by_a_link_is_read_once(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("d").mkdir()
    Path("d/a.bmk").write_bytes(CLIP)
    Path("d/b.bmk").symlink_to("a.bmk")
    zipped(Path("d/x.zip"), [("c.bmk", CLIP)])
    Path("d/y.zip").symlink_to("x.zip")
    assert look("d")[0] == ["d/a.bmk", "d/x.zip!/c.bmk"]


def test_unseen_signs_do_not_hide_a_file(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    names = ["a\n.bmk", "b\x1b[2J.bmk", "c\u202e.bmk"]
    for name in names:
        Path(name).write_bytes(CLIP)
    Path(os.fsdecode(b"d\xff.bmk")).write_bytes(CLIP)
    assert look(".")[0] == [*names, "d\udcff.bmk"]


def test_the_search_grows_with_the_folder_and_not_faster(tmp_path):
    def seconds(count):
        folder = tmp_path / f"{count}"
        for number in range(count):
            path = folder / f"{number % 20}" / f"{number}.nc1"
            path.parent.mkdir(parents=True, exist_ok=True)
            path.touch()
        begun = time.process_time()
        assert len(discover([folder], KNOWN).files) == count
        return time.process_time() - begun

    seconds(200)
    assert seconds(2400) < 12 * max(seconds(300), 0.002)


def test_format_writes_nothing_into_an_archive(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    zipped(Path("d.zip"), [("a.bmk", b"units   mm\n" + CLIP)])
    Path("b.bmk").write_bytes(b"units   mm\n" + CLIP)
    before = Path("d.zip").read_bytes(), Path("b.bmk").read_bytes()
    done = CliRunner().invoke(main, ["format", "b.bmk", "d.zip"])
    assert done.exit_code == 2
    assert "d.zip!/a.bmk lies in an archive, into which nothing is written" in done.output
    assert (Path("d.zip").read_bytes(), Path("b.bmk").read_bytes()) == before
    done = CliRunner().invoke(main, ["format", "--check", "d.zip"])
    assert done.exit_code == 1
    assert "would be set anew: d.zip!/a.bmk" in done.output
