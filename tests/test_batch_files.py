"""Finding inputs, reading settings, writing whole or not at all."""

import os
from pathlib import Path

import pytest

from translator.batch import discover as discovery
from translator.batch.configuration import Configurations, read_configuration
from translator.batch.discover import discover, load
from translator.batch.write import write_all
from translator.conventions import CHOICES, Conventions
from translator.errors import WorkError
from translator.findings import Severity
from translator.readers import Reader, Reading

SETTINGS = (
    "fail_on, out, excludes, machines, nc, release, tolerances, bill, practice, edition,"
    " execution_class, punching, contact, gauges, stock, limits, severities, waiver, substitution"
)
TEXT = Reader(
    name="txt",
    title="text",
    pattern=r".+\.txt",
    ending=".txt",
    parse=lambda source: source,
    evidence=lambda _: None,
    lower=lambda _tree, _conventions: Reading(),
)
NC = Reader(
    name="num",
    title="numbers",
    pattern=r".+\.num[0-9]?",
    ending=".num1",
    parse=TEXT.parse,
    evidence=TEXT.evidence,
    lower=TEXT.lower,
)
KNOWN = (TEXT, NC)


def _tree(base, *names):
    for name in names:
        path = base / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(name.encode())


def _found(*paths, **more):
    return [f.name for f in discover(paths, KNOWN, **more).files]


def test_a_folder_is_searched_to_its_bottom_in_order(tmp_path, monkeypatch):
    _tree(tmp_path, "d/b.txt", "d/A.TXT", "d/sub/c.num1", "d/notes.md", "d/a.numx")
    monkeypatch.chdir(tmp_path)
    assert _found(Path("d")) == ["d/A.TXT", "d/b.txt", "d/sub/c.num1"]
    assert [f.reader for f in discover([Path("d")], KNOWN).files] == ["txt", "txt", "num"]


def test_hidden_names_and_output_folders_are_passed_over_unless_named(tmp_path, monkeypatch):
    _tree(tmp_path, "d/a.txt", "d/.b.txt", "d/.git/c.txt", "d/out/d.txt")
    monkeypatch.chdir(tmp_path)
    is_out = {"is_skipped": lambda folder: folder.name == "out"}
    assert _found(Path("d")) == ["d/a.txt", "d/out/d.txt"]
    assert _found(Path("d"), **is_out) == ["d/a.txt"]
    assert _found(Path("d/out"), **is_out) == ["d/out/d.txt"]


def test_a_file_named_twice_is_read_once(tmp_path, monkeypatch):
    _tree(tmp_path, "d/a.txt")
    monkeypatch.chdir(tmp_path)
    assert _found(Path("d/a.txt"), Path("d"), Path("d/../d/a.txt")) == ["d/a.txt"]


def test_a_link_that_runs_in_a_circle_ends(tmp_path, monkeypatch):
    _tree(tmp_path, "d/a.txt")
    (tmp_path / "d" / "loop").symlink_to(tmp_path / "d", target_is_directory=True)
    monkeypatch.chdir(tmp_path)
    assert _found(Path("d")) == ["d/a.txt"]


def test_a_file_that_no_reader_claims_is_a_finding(tmp_path, monkeypatch):
    _tree(tmp_path, "a.doc", "a.txt")
    monkeypatch.chdir(tmp_path)
    found = discover([Path("a.doc"), Path("a.txt")], KNOWN)
    assert [f.name for f in found.files] == ["a.txt"]
    (finding,) = found.findings
    assert (finding.rule, finding.severity, finding.span.path) == (
        "file-unknown",
        Severity.ERROR,
        "a.doc",
    )
    assert finding.message == (
        "the name a.doc does not end like that of a part file that can be read here: .num1, .txt"
    )


@pytest.mark.parametrize(
    ("names", "excluded", "why"),
    [
        pytest.param(
            ["d"],
            ["a.txt", "b.txt"],
            "2 files are left out by `excludes` of the settings, the first is d/a.txt (s.toml)",
            id="all-excluded",
        ),
        pytest.param(
            ["x.doc"],
            [],
            "the name x.doc does not end like that of a part file that can be read here:"
            " .num1, .txt",
            id="no-part-file",
        ),
        pytest.param(
            ["d", "x.doc"],
            ["a.txt", "b.txt"],
            "the name x.doc does not end like that of a part file that can be read here:"
            " .num1, .txt (and 1 more)",
            id="both",
        ),
        pytest.param(["d"], ["a.txt"], None, id="one-is-left"),
        pytest.param(["d", "d/a.txt"], ["a.txt", "b.txt"], None, id="one-is-named-outright"),
    ],
)
def test_when_nothing_is_left_to_read_that_is_said(tmp_path, monkeypatch, names, excluded, why):
    _tree(tmp_path, "d/a.txt", "d/b.txt", "x.doc")
    monkeypatch.chdir(tmp_path)

    def settings(path):
        return Path("s.toml") if Path(path).name in excluded else None

    if why is None:
        assert len(discover(map(Path, names), KNOWN, excluded_by=settings).files) == 1
        return
    with pytest.raises(WorkError) as raised:
        discover(map(Path, names), KNOWN, excluded_by=settings)
    assert str(raised.value) == f"there is no file to read: {why}"


def test_no_path_is_no_fault():
    assert discover([], KNOWN).files == ()


def _fifo(base):
    os.mkfifo(base / "pipe.txt")
    return base / "pipe.txt"


@pytest.mark.parametrize(
    ("make", "message"),
    [
        pytest.param(lambda b: b / "no", "there is no file or folder {base}/no", id="missing"),
        pytest.param(
            lambda b: b, "the folder {base} holds no part file (.num1, .txt)", id="empty-folder"
        ),
        pytest.param(
            lambda b: b / ("x" * 300),
            "can't look at {base}/" + "x" * 300 + ": file name too long",
            id="too-long",
        ),
        pytest.param(
            lambda b: b / "a\0b", "can't look at {base}/a\0b: no path can be spelt so", id="nul"
        ),
        pytest.param(
            _fifo, "{base}/pipe.txt is neither a folder nor an ordinary file", id="a-pipe"
        ),
    ],
)
def test_a_path_that_is_no_good_is_said_in_a_sentence(tmp_path, make, message):
    with pytest.raises(WorkError) as raised:
        discover([make(tmp_path)], KNOWN)
    assert str(raised.value) == message.format(base=tmp_path.as_posix())


def test_an_unreadable_and_an_oversized_file_are_said_in_a_sentence(tmp_path, monkeypatch):
    _tree(tmp_path, "a.txt")
    monkeypatch.chdir(tmp_path)
    (file,) = discover([Path("a.txt")], KNOWN).files
    assert load(file, KNOWN).data == b"a.txt"
    monkeypatch.setattr(discovery, "LARGEST_BYTES", 4)
    with pytest.raises(WorkError, match=r"^a\.txt is larger than 64 MB; a part file is not$"):
        load(file, KNOWN)
    (tmp_path / "a.txt").unlink()
    with pytest.raises(WorkError, match=r"^can't read a\.txt: no such file or directory$"):
        load(file, KNOWN)


def test_settings_are_found_upward_from_each_folder_and_the_nearest_counts(tmp_path):
    _tree(tmp_path, "d/e/a.txt", "f/g/b.txt", "d/made/c.txt", "f/made/c.txt")
    (tmp_path / "backmark.toml").write_text("out = 'd/made'\n")
    (tmp_path / "f" / "backmark.toml").write_text("[nc]\nstrict = 'yes'\n")
    shop = Configurations()
    assert shop.of(tmp_path / "d" / "e").path == tmp_path / "backmark.toml"
    assert shop.of(tmp_path / "f" / "g").path == tmp_path / "f" / "backmark.toml"
    assert shop.of(tmp_path / "f").conventions.strict == "yes"
    assert shop.of(tmp_path / "d").conventions.strict == "no"
    assert shop.is_output(tmp_path / "d" / "made")
    assert not shop.is_output(tmp_path / "f" / "made")
    fixed = Configurations(tmp_path / "backmark.toml")
    assert fixed.of(tmp_path / "f").conventions.strict == "no"
    (tmp_path / "h").mkdir()
    (tmp_path / "backmark.toml").unlink()
    assert Configurations().of(tmp_path / "h").out is None


@pytest.mark.parametrize(
    ("current", "named", "path"),
    [
        pytest.param(".", ".", "backmark.toml", id="here"),
        pytest.param(".", "d/e", "backmark.toml", id="above-what-is-named"),
        pytest.param(".", "link", "backmark.toml", id="by-a-link"),
        pytest.param("d", ".", "../backmark.toml", id="above-the-current-folder"),
        pytest.param("d", "e", "../backmark.toml", id="two-above"),
        pytest.param("d", "../f", "../backmark.toml", id="beside"),
    ],
)
def test_settings_are_spelt_as_the_folder_is(tmp_path, monkeypatch, current, named, path):
    _tree(tmp_path, "d/e/a.txt", "f/b.txt", "x/y/z/c.txt")
    (tmp_path / "link").symlink_to(tmp_path / "x" / "y" / "z", target_is_directory=True)
    (tmp_path / "backmark.toml").write_text("colour = 1\n")
    monkeypatch.chdir(tmp_path / current)
    settings = Configurations().of(Path(named))
    assert settings.path == Path(path)
    assert [finding.span.path for finding in settings.findings] == [path]


def test_settings_outside_of_the_way_are_spelt_in_full(tmp_path, monkeypatch):
    _tree(tmp_path, "here/a.txt", "x/y/c.txt")
    (tmp_path / "here" / "link").symlink_to(tmp_path / "x" / "y", target_is_directory=True)
    (tmp_path / "x" / "backmark.toml").write_text("")
    monkeypatch.chdir(tmp_path / "here")
    assert Configurations().of(Path("link")).path == tmp_path / "x" / "backmark.toml"
    assert Configurations().of(tmp_path / "x" / "y").path == tmp_path / "x" / "backmark.toml"


def test_a_folder_in_the_place_of_settings_is_refused(tmp_path, monkeypatch):
    _tree(tmp_path, "d/a.txt", "backmark.toml/notes.txt")
    monkeypatch.chdir(tmp_path)
    with pytest.raises(WorkError) as raised:
        Configurations().of(Path("d"))
    assert str(raised.value) == "can't read backmark.toml: is a directory"


def _read(tmp_path, text):
    path = tmp_path / "backmark.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_configuration(path)


def test_settings_that_are_understood(tmp_path):
    read = _read(
        tmp_path,
        'fail_on = "warning"\nout = "made"\n[nc]\ny_datum = "view-bottom"\nnominal-inch = true\n',
    )
    assert read.findings == ()
    assert read.fail_on is Severity.WARNING
    assert read.out == tmp_path / "made"
    assert read.conventions == Conventions(y_datum="view-bottom", nominal_inch="yes")
    assert read_configuration(None).conventions == Conventions()


@pytest.mark.parametrize(
    ("text", "rule", "place", "message"),
    [
        pytest.param(
            '\n\ncolour = "red"\n',
            "setting-unknown",
            (3, 1),
            f"there is no setting 'colour'; there are {SETTINGS}",
            id="unknown-key",
        ),
        pytest.param(
            '[nc]\n"y_datum" = "named-edge"\nydatum = "x"\n',
            "setting-unknown",
            (3, 1),
            f"in [nc], there is no setting 'ydatum'; there are {', '.join(CHOICES)}",
            id="unknown-key-of-a-table",
        ),
        pytest.param(
            'nc.y_datum = "top"\n',
            "setting-unknown",
            (1, 1),
            "in [nc], 'top' is no value of y_datum; it takes auto, named-edge, view-bottom",
            id="unknown-value",
        ),
        pytest.param(
            "# settings\nfail_on = 3\n",
            "setting-bad",
            (2, 1),
            "fail_on is 3; it takes error, warning, note",
            id="bad-value",
        ),
        pytest.param(
            "out = 3\n",
            "setting-bad",
            (1, 1),
            "out is 3; it takes the name of a folder",
            id="bad-out",
        ),
        pytest.param(
            "\n[other]\nx = 1\n",
            "setting-unknown",
            (2, 1),
            f"there is no setting 'other'; there are {SETTINGS}",
            id="unknown-table",
        ),
        pytest.param(
            "a = 1\nb = \n",
            "settings-unreadable",
            (2, 5),
            "the settings file can't be understood: invalid value",
            id="no-toml",
        ),
        pytest.param(
            b"\xff\xfe",
            "settings-unreadable",
            (1, 1),
            "the settings file can't be understood: it is not UTF-8 text",
            id="no-text",
        ),
        pytest.param(
            "a = " + "[" * 2000 + "]" * 2000,
            "settings-unreadable",
            (1, 1),
            "the settings file can't be understood: it is nested too deeply",
            id="too-deep",
        ),
    ],
)
def test_settings_that_are_not(tmp_path, text, rule, place, message):
    (finding,) = _read(tmp_path, text).findings
    assert (finding.rule, finding.severity) == (rule, Severity.ERROR)
    assert (finding.span.line, finding.span.column) == place
    assert finding.message == message


def test_files_appear_whole_and_keep_their_order(tmp_path):
    out = tmp_path / "deep" / "out"
    assert write_all(out, [("b", b"2"), ("a", b"1")]) == ("b", "a")
    assert {p.name: p.read_bytes() for p in out.iterdir()} == {"a": b"1", "b": b"2"}
    write_all(out, [("a", b"3")])
    assert (out / "a").read_bytes() == b"3"


def test_a_run_that_breaks_off_leaves_nothing(tmp_path):
    (tmp_path / "a").write_bytes(b"old")

    def files():
        yield "a", b"new"
        yield "b", b"new"
        raise RuntimeError("in the middle")

    with pytest.raises(RuntimeError, match="in the middle"):
        write_all(tmp_path, files())
    assert {p.name: p.read_bytes() for p in tmp_path.iterdir()} == {"a": b"old"}


def test_a_target_that_can_not_be_written_is_said_and_leaves_no_rest(tmp_path):
    (tmp_path / "a").mkdir()
    with pytest.raises(WorkError) as raised:
        write_all(tmp_path, [("a", b"1")])
    assert str(raised.value) == f"can't write {tmp_path.as_posix()}/a: is a directory"
    assert [p.name for p in tmp_path.iterdir()] == ["a"]
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(WorkError, match=r"can't make the folder .*/file/out: not a directory"):
        write_all(tmp_path / "file" / "out", [("a", b"1")])
    assert write_all(tmp_path / "none", []) == ()
    assert not (tmp_path / "none").exists()


def test_a_link_at_the_target_is_replaced_and_not_followed(tmp_path):
    (tmp_path / "outside").write_bytes(b"mine")
    out = tmp_path / "out"
    out.mkdir()
    (out / "a").symlink_to(tmp_path / "outside")
    write_all(out, [("a", b"1")])
    assert (tmp_path / "outside").read_bytes() == b"mine"
    assert not (out / "a").is_symlink()
