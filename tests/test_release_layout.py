"""Where inputs are kept: nothing of the disk they came from shows, and no two share a place."""

import os
import sys
from pathlib import PurePosixPath

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from release_set import delivery, manifest, release, run

from translator.errors import WorkError
from translator.release.layout import lay_out


def placed(files, folders):
    found = lay_out(map(PurePosixPath, files), map(PurePosixPath, folders))
    return {str(file): (place.name, place.path) for file, place in found.items()}


def test_a_file_keeps_its_way_down_from_the_outermost_folder():
    assert placed(["/x/y/in/a/p.bmk", "/x/y/in/q.bmk"], ["/x/y/in/a", "/x/y/in"]) == {
        "/x/y/in/a/p.bmk": ("a/p.bmk", "inputs/a/p.bmk.kept"),
        "/x/y/in/q.bmk": ("q.bmk", "inputs/q.bmk.kept"),
    }


def test_several_folders_are_told_apart_by_their_names():
    found = placed(["/x/in/p.bmk", "/y/in/p.bmk", "/z/p.bmk"], ["/z", "/y/in", "/x/in"])
    assert found == {
        "/x/in/p.bmk": ("in/p.bmk", "inputs/in/p.bmk.kept"),
        "/y/in/p.bmk": ("in-2/p.bmk", "inputs/in-2/p.bmk.kept"),
        "/z/p.bmk": ("z/p.bmk", "inputs/z/p.bmk.kept"),
    }


def test_a_file_beside_the_folders_is_kept_by_its_name():
    found = placed(["/in/beside/p.bmk", "/etc/m.json", "/opt/m.json"], ["/in"])
    assert found == {
        "/in/beside/p.bmk": ("beside/p.bmk", "inputs/beside/p.bmk.kept"),
        "/etc/m.json": ("beside-2/m.json", "beside/m.json.kept"),
        "/opt/m.json": ("beside-2/m.json-2", "beside/m.json-2.kept"),
    }


def test_unsafe_names_are_spelt_so_that_every_system_takes_them():
    found = placed(["/in/north span/p.bmk", "/in/CON/p.bmk", "/in/a./p.bmk", "/in/ä.bmk"], ["/in"])
    assert found == {
        "/in/north span/p.bmk": ("north span/p.bmk", "inputs/north~20span/p.bmk.kept"),
        "/in/CON/p.bmk": ("CON/p.bmk", "inputs/~43ON/p.bmk.kept"),
        "/in/a./p.bmk": ("a./p.bmk", "inputs/a~2E/p.bmk.kept"),
        "/in/ä.bmk": ("ä.bmk", "inputs/~C3~A4.bmk.kept"),
    }


def test_names_that_differ_in_capitals_only_get_two_places():
    paths = [path for _, path in placed(["/in/p.bmk", "/in/P.bmk"], ["/in"]).values()]
    assert len({path.casefold() for path in paths}) == 2


@pytest.mark.parametrize("name", ["a\nb.bmk", "a\x1bb.bmk", "\udcff.bmk", "a\u202eb.bmk"])
def test_a_name_that_can_not_be_told_is_refused(name):
    with pytest.raises(WorkError, match="holds characters that can't be told in a manifest"):
        placed([f"/in/{name}"], ["/in"])


def test_a_way_that_is_too_long_is_refused():
    with pytest.raises(WorkError, match="lies too deep to be kept"):
        placed(["/in/" + "d/" * 50 + "p.bmk"], ["/in"])


NAMES = st.text("aA bB.~-_ä", min_size=1, max_size=6).filter(lambda n: set(n) != {"."})
WAYS = st.lists(NAMES, min_size=1, max_size=4).map("/".join)


@settings(max_examples=120, deadline=None, derandomize=True)
@given(st.sets(WAYS, min_size=1, max_size=12))
def test_any_names_get_places_of_their_own(ways):
    files = {f"/top/{way}" for way in ways}
    folders = {way for file in files for way in _above(file)}
    files -= folders
    paths = [path for _, path in placed(files, ["/top"]).values()]
    assert len(paths) == len(files)
    folded = {path.casefold() for path in paths}
    assert len(folded) == len(paths)
    for path in paths:
        steps = path.split("/")
        assert not any(step.endswith((".", " ")) or step.startswith(".") for step in steps)
        assert path.isascii()
        assert not any("/".join(steps[:n]).casefold() in folded for n in range(1, len(steps)))


def _above(file):
    steps = file.split("/")
    return ["/".join(steps[:n]) for n in range(2, len(steps))]


def test_names_with_blanks_are_released_and_made_again(tmp_path):
    source = delivery(tmp_path / "north span")
    (source / "detailer").rename(source / "the detailer's")
    (source / "library.bmk").rename(source / "shop library.bmk")
    strips = (source / "strips.bmk").read_text(encoding="utf-8")
    (source / "strips.bmk").write_text(
        strips.replace("library.bmk", "shop library.bmk"), encoding="utf-8"
    )
    done = release(source, tmp_path / "r1", "--formats", "json")
    assert done.exit_code == 0, done.output
    kept = {file["name"]: file["path"] for file in manifest(tmp_path / "r1")["inputs"]}
    assert kept["shop library.bmk"] == "inputs/shop~20library.bmk.kept"
    assert run("verify", tmp_path / "r1", "--rederive").exit_code == 0


def test_settings_above_and_files_named_one_by_one(tmp_path, monkeypatch):
    """What a folder above settles is kept, and names begin at that folder."""
    source = delivery(tmp_path / "shop" / "jobs" / "tq7")
    (source / "backmark.toml").rename(tmp_path / "shop" / "backmark.toml")
    monkeypatch.chdir(source)
    done = release("detailer", tmp_path / "r1", "strips.bmk", "--formats", "json")
    assert done.exit_code == 0, done.output
    names = {file["name"] for file in manifest(tmp_path / "r1")["inputs"]}
    assert names == {
        "backmark.toml",
        "jobs/tq7/detailer/F55.nc1",
        "jobs/tq7/library.bmk",
        "jobs/tq7/strips.bmk",
    }
    assert run("verify", tmp_path / "r1", "--rederive").exit_code == 0


def test_settings_named_outright_are_kept_beside(tmp_path):
    source = delivery(tmp_path / "in")
    (source / "backmark.toml").rename(tmp_path / "ours.toml")
    done = release(source, tmp_path / "r1", "--config", tmp_path / "ours.toml")
    assert done.exit_code == 0, done.output
    kept = {file["name"]: file for file in manifest(tmp_path / "r1")["inputs"]}
    assert kept["beside/ours.toml"]["path"] == "beside/ours.toml.kept"
    assert kept["detailer/F55.nc1"]["settings"] == "beside/ours.toml"
    assert run("verify", tmp_path / "r1", "--rederive").exit_code == 0


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="such names can't be made there")
def test_a_file_whose_name_can_not_be_told_is_said(tmp_path):
    source = delivery(tmp_path / "in")
    (source / "strips.bmk").rename(os.fsdecode(os.fsencode(source) + b"/strips\xff.bmk"))
    done = release(source, tmp_path / "r1")
    assert done.exit_code == 2
    assert "can't be told in a manifest; rename the file" in done.output
