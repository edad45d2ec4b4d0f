"""``backmark compare``: two sides paired mark by mark, in text, JSON and exit codes."""

import json
import re
import time
import zipfile
from collections import Counter
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from test_compare_parts import CLIP, longer, moved, with_features, words
from test_samples import GOOD_OUTCOME, SETTLED, look

from translator.changes import Side, Unread, applied, compare
from translator.changes.document import told_of
from translator.changes.text import WIDTH
from translator.changes.text import render as text_of
from translator.commands import main
from translator.commands._options import Wanted
from translator.commands._side import side
from translator.emitters import EmitOptions, emitters
from translator.findings import CAUTION, Severity
from translator.model import Part, Placed, on_grid
from translator.resources import resource
from translator.source import whole_file

SAMPLES = Path(__file__).parent.parent / "samples"
QUAY = SAMPLES / "tern-quay"
REV_B = SAMPLES / "tern-quay-rev-b"
SCHEMA = json.loads(resource("schemas", "changes.schema.json").read_text(encoding="utf-8"))
HEAD = 'units inch\norder "TQ-7" revision "A"\ngrade A36\n'


def run(*args):
    done = CliRunner().invoke(main, ["compare", *map(str, args)])
    return done.exit_code, done.output


def document(*args):
    code, out = run(*args, "--format", "json")
    assert code in (0, 1), out
    found = json.loads(out)
    jsonschema.Draft202012Validator(SCHEMA).validate(found)
    return found


def clip(mark, *, quantity=4, length="11-1/2", leg_a="holes 13/16 gauge 2-1/2 at 1-1/4, 3 @ 3"):
    return (
        f"part {mark} {{ section L4x3-1/2x3/8 length {length} quantity {quantity}\n"
        f"  leg a {{ {leg_a} }} leg b {{ holes 13/16 gauge 2 at 1-1/4, 2 @ 3 }} }}\n"
    )


@pytest.fixture
def sides(tmp_path):
    """Return a function that writes both sides and gives their paths."""

    def written(old, new):
        paths = []
        for name, text in (("old", old), ("new", new)):
            folder = tmp_path / name
            folder.mkdir()
            files = text if isinstance(text, dict) else {"a.bmk": HEAD + text}
            for file, body in files.items():
                (folder / file).write_text(body)
            paths.append(folder)
        return paths

    return written


def statuses(found):
    return {part["mark"]: part["status"] for part in found["parts"]}


# The sample.


def test_the_sample_tells_its_changes_in_shop_words():
    code, out = run("--partial", QUAY, REV_B)
    assert code == 1
    told = " ".join(out.split())
    for said in (
        "C22 is now the mirror image of what it was: check the hand",
        "metal length 11-1/2 became 12",
        "metal leg a: hole 13/16 at 4-1/4 moved to 4-1/2",
        "leg b: everything on it (4 slots 13/16 x 1, stamp of the mark) moved 1/4 towards the toe",
        "work quantity 24 became 30",
        "metal leg b: clipped corner at the far end, toe (3/4 long x 3/4 deep) removed",
        "paper C13 is now called C15",
        "4 changed (3 metal, 1 paper only), 1 called otherwise, 1 added, 2 unchanged, 24 not",
    ):
        assert said in told
    assert "F41" not in out  # drawn in inches now, its holes in another order: no change
    assert "F42" not in out
    assert told.endswith(CAUTION)
    assert max(map(len, out.splitlines())) <= WIDTH


def test_the_sample_has_no_finding_above_a_note():
    above = [f for f in look(REV_B).verdict.findings if f.severity is not Severity.NOTE]
    assert [(f.span.path, f.rule, f.message) for f in above] == []


def test_the_sample_without_partial_names_what_is_missing():
    found = document(QUAY, REV_B)
    assert found["summary"]["removed"] == 24
    assert found["not_issued"] == []
    assert "B7" in statuses(found)


def test_a_sample_against_itself_is_silent_and_clean():
    assert run(QUAY, QUAY) == (0, "")
    found = document(QUAY, QUAY)
    assert found["parts"] == []
    assert len(found["unchanged"]) == 31


def test_the_same_bytes_again():
    pair = (QUAY / "clips.bmk", REV_B / "clips.bmk")
    for form in ("text", "json", "html"):
        assert run(*pair, "--format", form) == run(*pair, "--format", form)


def test_each_told_change_of_the_sample_makes_the_new_part():
    wanted = Wanted(
        paths=(str(REV_B),), settings=(), config=None, kind=None, as_of=None, practice=None
    )
    new = {p.part.mark: p.part for p in side(wanted, "NEW").parts}
    old = {p.part.mark: p.part for p in GOOD_OUTCOME.parts}
    done = 0
    for part in document(QUAY, REV_B)["parts"]:
        if "changes" in part:
            made = applied(old[part["old"]["mark"]], told_of(part))
            assert words(made) == words(new[part["mark"]])
            done += 1
    assert done == 5


# Other formats of the same parts.


@pytest.mark.parametrize("name", ["json", "nc", "bmk"])
def test_another_file_format_is_no_change(name, tmp_path):
    (emitter,) = [e for e in emitters() if e.name == name]
    for number, placed in enumerate(GOOD_OUTCOME.parts):
        data = emitter.emit(placed.part, EmitOptions(conventions=SETTLED))
        (tmp_path / f"p{number}{emitter.suffix}").write_bytes(data)
    settings = '[nc]\nu_view_bottom = "toe"\narc_sign = "plus-left"\nmitre_sign = "plus-left"\n'
    (tmp_path / "backmark.toml").write_text(settings)
    code, out = run(QUAY, tmp_path)
    assert (code, out) == (0, "")
    found = document(tmp_path, QUAY)
    assert found["parts"] == []
    assert found["summary"]["largest_rounding_mm"] <= 0.016
    from_nc = {"B53", "F54", "F55", "K51", "K52", "K56"}
    every = set(found["unchanged"]) | set(found["rounded"])
    assert set(found["compared_in_nc_terms"]) == (every - from_nc if name == "nc" else from_nc)


def test_a_moved_hole_is_told_across_formats(tmp_path):
    (emitter,) = [e for e in emitters() if e.name == "nc"]
    (part,) = [p.part for p in GOOD_OUTCOME.parts if p.part.mark == "C12"]
    part = moved(part, "a", 1.5875, numbers={2})
    (tmp_path / "C12.nc1").write_bytes(emitter.emit(part, EmitOptions(conventions=SETTLED)))
    code, out = run(
        "--partial", QUAY / "clips.bmk", tmp_path / "C12.nc1", "--nc", "u_view_bottom=toe"
    )
    assert code == 1
    assert "hole 13/16 at 7-1/4" in out or "at 184.15 moved to" in out


# What stands on one side only.


def test_added_removed_renamed_merged_and_split(sides):
    old = (
        clip("C1", length="8")
        + clip("C2", quantity=6)
        + clip("C3", quantity=2)
        + clip("C5", length="14", quantity=9)
        + clip("C8", length="16")
    )
    new = (
        clip("C2", quantity=8)
        + clip("C5", length="14", quantity=5)
        + clip("C6", length="14", quantity=4)
        + clip("C7", length="8")
        + clip("C9", length="15")
    )
    found = document(*sides(old, new))
    assert statuses(found) == {
        "C2": "changed",
        "C3": "merged",
        "C5": "changed",
        "C6": "split",
        "C7": "renamed",
        "C8": "removed",
        "C9": "added",
    }
    remarks = {part["mark"]: part.get("remarks", [""])[0] for part in found["parts"]}
    assert remarks["C3"] == "its pieces go by C2 now, the same piece: 6 there became 8"
    assert remarks["C6"] == "split off from C5, the same piece: 9 there became 5"
    (renamed,) = [p for p in found["parts"] if p["mark"] == "C7"]
    assert renamed["old"]["mark"] == "C1"
    assert [c["text"] for c in renamed["changes"]] == ["C1 is now called C7"]


def test_a_renamed_piece_drawn_turned_end_for_end(sides):
    old = clip("C1", leg_a="holes 13/16 gauge 2-1/2 at 1-1/4, 4-1/4")
    new = (
        "part C9 { section L3-1/2x4x3/8 length 11-1/2 quantity 4\n"
        "  leg b { holes 13/16 gauge 2-1/2 at 7-1/4, 10-1/4 }\n"
        "  leg a { holes 13/16 gauge 2 at 4-1/4, 2 @ 3 } }\n"
    )
    (part,) = document(*sides(old, new))["parts"]
    assert part["status"] == "renamed"
    assert part["lie"] == "turned end for end"
    assert [c["text"] for c in part["changes"]] == [
        "same piece, now drawn turned end for end",
        "C1 is now called C9",
    ]


def test_an_opposite_hand_under_another_mark_is_not_the_same_piece(sides):
    old = clip("C1", leg_a="holes 13/16 gauge 2-1/2 at 1-1/4, 4-1/4")
    new = clip("C9", leg_a="holes 13/16 gauge 2-1/2 at 7-1/4, 10-1/4").replace(
        "gauge 2 at 1-1/4, 2 @ 3", "gauge 2 at 4-1/4, 2 @ 3"
    )
    assert statuses(document(*sides(old, new))) == {"C1": "removed", "C9": "added"}


def test_orders_tell_like_marks_apart_and_a_changed_order_is_paper(sides):
    old, new = sides(
        {"a.bmk": HEAD + clip("C1"), "b.bmk": HEAD.replace("TQ-7", "TQ-8") + clip("C1", length=9)},
        {"a.bmk": HEAD + clip("C1"), "b.bmk": HEAD.replace("TQ-7", "TQ-8") + clip("C1", length=8)},
    )
    (part,) = document(old, new)["parts"]
    assert part["old"]["order"] == part["new"]["order"] == "TQ-8"
    (new / "b.bmk").unlink()
    (new / "a.bmk").write_text(HEAD.replace("TQ-7", "TQ-9") + clip("C2"))
    (old / "b.bmk").unlink()
    (old / "a.bmk").write_text(HEAD + clip("C2"))
    (part,) = document(old, new)["parts"]
    assert [c["text"] for c in part["changes"]] == ["order TQ-7 became TQ-9"]


def test_marks_that_stand_twice(sides):
    twice = {"a.bmk": HEAD + clip("C1"), "b.bmk": HEAD + clip("C1", length="12")}
    old, new = sides(twice, {"a.bmk": twice["b.bmk"], "b.bmk": twice["a.bmk"]})
    found = document(old, new)
    assert found["parts"] == []
    assert any("C1 stands 2 times in OLD" in words for words in found["remarks"])
    (new / "b.bmk").unlink()
    (part,) = document(old, new)["parts"]
    assert (part["mark"], part["status"]) == ("C1", "removed")


def test_a_superseded_revision_does_not_count(sides):
    both = {
        "a.bmk": HEAD + clip("C1"),
        "b.bmk": HEAD.replace('"A"', '"B"') + clip("C1", length="12"),
    }
    old, new = sides(both, {"b.bmk": both["b.bmk"]})
    found = document(old, new)
    assert found["parts"] == []
    assert any("revision B counts" in words for words in found["remarks"])


# What could not be read is never passed over.

BROKEN = "part C2 { section L4x3-1/2x3/8 length eleven quantity 4 }\n"


def test_a_part_that_could_not_be_read_on_one_side(sides):
    old, new = sides(clip("C1") + clip("C2"), clip("C1") + BROKEN)
    code, out = run(old, new)
    assert code == 1
    assert "C2  could not be read in NEW: " in out
    assert "OLD has L4x3-1/2x3/8, 11-1/2 long, 4 pieces" in " ".join(out.split())
    assert "Removed" not in out
    (part,) = document(new, old)["parts"]
    assert (part["mark"], part["status"], part["weight"]) == ("C2", "unread", "metal")
    assert "old_missing" in part
    assert run(old, new, "--fail-on", "metal")[0] == 1


def test_a_part_that_could_not_be_read_on_both_sides(sides):
    (part,) = document(*sides(clip("C1") + BROKEN, clip("C1") + BROKEN))["parts"]
    assert part["status"] == "unread"
    assert {"old_missing", "new_missing"} <= set(part)


def test_a_file_that_could_not_be_read_explains_its_marks(sides):
    files = {"a.bmk": HEAD + clip("C1"), "b.bmk": HEAD + clip("C2")}
    old, new = sides(files, {**files, "b.bmk": "\x00\x01 nothing"})
    found = document(old, new)
    assert statuses(found) == {"C2": "unread"}


def test_a_removed_part_is_in_doubt_beside_a_file_that_was_not_read_whole(sides):
    no_name = "part { section L4x3-1/2x3/8 length 11 quantity 4 }\n"
    old, new = sides(clip("C1") + clip("C2"), clip("C1") + no_name)
    (part,) = [p for p in document(old, new)["parts"] if p["mark"] == "C2"]
    assert part["status"] == "removed"
    assert part["remarks"][-1].startswith("unless it stands in ")


def test_a_part_with_errors_is_compared_all_the_same(sides):
    off = "holes bolt 3/4 gauge 3/4 at 1-1/4, 3 @ 3"
    old, new = sides(clip("C1", leg_a=off), clip("C1", leg_a=off.replace("1-1/4", "1-3/8")))
    (part,) = document(old, new)["parts"]
    assert [c["text"] for c in part["changes"]] == [
        "leg a: all 4 holes 13/16 moved 1/8 towards the far end"
    ]


@pytest.mark.parametrize("order", [0, 1])
def test_a_side_of_which_nothing_can_be_read_is_no_comparison(sides, order):
    pair = sides(clip("C1"), BROKEN)
    code, out = run(*(pair if order == 0 else pair[::-1]))
    assert code == 2
    assert f"no part of {'NEW' if order == 0 else 'OLD'}" in out


def test_missing_paths_and_both_sides_from_standard_input():
    assert run("nowhere", QUAY)[0] == 2
    assert run("-", "-")[0] == 2


# Exit codes and options.


@pytest.mark.parametrize(
    ("new", "codes"),
    [
        (clip("C1"), (0, 0, 0)),
        (clip("C1").replace("part C1", 'part C1 "title"'), (1, 0, 0)),
        (clip("C1", quantity=5), (1, 1, 0)),
        (clip("C1", length="11-5/8"), (1, 1, 1)),
        (clip("C1") + clip("C2", length="9"), (1, 1, 1)),
    ],
    ids=["same", "paper", "work", "metal", "added"],
)
def test_exit_codes(sides, new, codes):
    pair = sides(clip("C1"), new)
    assert tuple(run(*pair, "--fail-on", f)[0] for f in ("any", "work", "metal")) == codes


def test_one_side_may_come_from_standard_input(sides):
    old, _ = sides(clip("C1"), clip("C1"))
    done = CliRunner().invoke(
        main, ["compare", str(old / "a.bmk"), "-"], input=HEAD + clip("C1", quantity=5)
    )
    assert done.exit_code == 1
    assert "quantity 4 became 5" in done.output


def test_a_zip_archive_is_a_side(sides, tmp_path):
    old, new = sides(clip("C1"), clip("C1", quantity=5))
    with zipfile.ZipFile(tmp_path / "new.zip", "w") as archive:
        archive.write(new / "a.bmk", "a.bmk")
    code, out = run(old, tmp_path / "new.zip")
    assert code == 1
    assert "quantity 4 became 5" in out


def test_each_side_may_have_settings_of_its_own(tmp_path):
    """K52 reads otherwise under the other setting of view u: the same bytes, other parts."""
    file = QUAY / "detailer" / "K52.nc1"
    toe, heel = tmp_path / "toe.toml", tmp_path / "heel.toml"
    for path in (toe, heel):
        path.write_text(
            f'[nc]\nu_view_bottom = "{path.stem}"\narc_sign = "plus-left"\nnominal_inch = "yes"\n'
        )
    assert run(file, file, "--config", toe) == (0, "")
    code, out = run(file, file, "--old-config", toe, "--new-config", heel)
    assert code == 1
    assert "leg b" in out


def test_out_writes_the_file(sides, tmp_path):
    pair = sides(clip("C1"), clip("C1", quantity=5))
    code, out = run(*pair, "--out", tmp_path / "changes.txt")
    assert (code, out) == (1, "")
    assert "quantity 4 became 5" in (tmp_path / "changes.txt").read_text()


def test_hostile_texts_reach_neither_terminal_nor_page(sides):
    bad = 'part C1 "\u202e<script>alert(1)</script>" {'
    old, new = sides(clip("C1"), clip("C1").replace("part C1 {", bad))
    code, out = run(old, new)
    assert code == 1
    assert "\u202e" not in out
    _, page = run(old, new, "--format", "html")
    assert "<script>alert" not in page
    assert "\u202e" not in page


# A release.


def released(folder, tmp_path, *more):
    out = tmp_path / f"release-{folder.name}"
    done = CliRunner().invoke(
        main, ["release", str(folder), "--to", str(out), "--by", "QA", *map(str, more)]
    )
    assert done.exit_code == 0, done.output
    return out


def test_releases_are_compared_and_marks_on_hold_named(sides, tmp_path):
    other = clip("C2", length="12-1/2")
    old, new = sides(clip("C1") + other, clip("C1", quantity=9) + other)
    first = released(old, tmp_path)
    second = released(new, tmp_path, "--hold", "C2=RFI 17")
    assert run(old, first) == (0, "")
    found = document(first, second)
    assert statuses(found) == {"C1": "changed", "C2": "unread"}
    (held,) = [p for p in found["parts"] if p["mark"] == "C2"]
    assert held["new_missing"]["on_hold"]
    assert held["new_missing"]["message"] == "RFI 17"
    assert "C2  is on hold in NEW: " in run(first, second)[1]


def test_a_release_that_was_touched_is_said_to_be(sides, tmp_path):
    old, _ = sides(clip("C1") + clip("C2", length="12-1/2"), clip("C1"))
    first = released(old, tmp_path)
    (file,) = first.rglob("C1.part.json")
    file.write_text(file.read_text().replace('"quantity": 4', '"quantity": 5'))
    found = document(old, first)
    assert statuses(found) == {"C1": "changed"}
    assert "is not as it was released" in found["remarks"][0]
    file.unlink()
    assert "is not as it was released" in document(old, first)["remarks"][0]


# In memory.


def placed(part, path):
    return Placed(part=part, places={"": whole_file(path)})


def side_of(parts, name):
    return Side(name=name, parts=tuple(placed(part, f"{name}/{part.mark}.bmk") for part in parts))


EDITS = (
    lambda p: p,
    lambda p: moved(p, "a", 3.175, numbers={1}),
    lambda p: p.model_copy(update={"quantity": 7}),
    lambda p: p.model_copy(update={"revision": "B"}),
    lambda p: longer(p, 25.4),
    lambda p: p.model_copy(update={"order": "TQ-9"}),
)


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_every_part_of_both_sides_is_accounted_for_once(data):
    """Duplicates, renames, lost parts: whatever happens, no part is passed over or told twice."""

    def drawn():
        part = CLIP.model_copy(
            update={"mark": data.draw(st.sampled_from(["C1", "C2", "C3", "C4"]))}
        )
        return data.draw(st.sampled_from(EDITS))(part)

    old, new = ([drawn() for _ in range(data.draw(st.integers(1, 6)))] for _ in range(2))
    lost = tuple(
        Unread(path=f"new/{mark or 'x'}.bmk", line=1, mark=mark, why="no length")
        for mark in data.draw(st.lists(st.sampled_from(["C1", "C5", ""]), unique=True))
    )
    one, two = side_of(old, "old"), replace(side_of(new, "new"), unread=lost)
    found = compare(one, two)
    quiet = Counter([*found.unchanged, *found.rounded])
    for name, parts, told in (
        ("OLD", one.parts, [e.old for e in found.entries if e.old]),
        ("NEW", two.parts, [e.new for e in found.entries if e.new]),
    ):
        assert len({id(p) for p in told}) == len(told)
        left = Counter(p.part.mark for p in parts) - Counter(p.part.mark for p in told) - quiet
        # What an older revision of a mark said is replaced, and a remark says so.
        assert all(any(f"{m} stands" in r and name in r for r in found.remarks) for m in left)
    assert {u for e in found.entries for u in e.unread if u} == set(lost)
    assert (found.worst is None) == (not found.entries)


def test_two_thousand_parts_a_side_take_two_seconds():
    old = [
        longer(CLIP, on_grid(0.79375 * n)).model_copy(update={"mark": f"C{n}"}) for n in range(2000)
    ]
    new = [Part.model_validate_json(p.model_dump_json()) for p in old]
    for n in range(0, 2000, 5):
        new[n] = moved(new[n], "a", 3.175, numbers={1})
    for n in range(1, 2000, 5):
        new[n] = new[n].model_copy(update={"revision": "B"})
    for n in range(2, 2000, 50):
        new[n] = new[n].model_copy(update={"mark": f"N{n}"})
    start = time.process_time()
    found = compare(side_of(old, "old"), side_of(new, "new"))
    assert time.process_time() - start < 4  # a second on its own; machines are shared
    assert found.counts() == {
        "changed": 800,
        "changed: metal": 400,
        "changed: paper": 400,
        "renamed": 40,
    }
    assert len(found.unchanged) == 1160


def test_words_that_changed_alike_in_many_parts_are_told_once():
    old = [CLIP.model_copy(update={"mark": f"C{n}"}) for n in range(40)]
    new = [part.model_copy(update={"revision": "B"}) for part in old]
    text = text_of(compare(side_of(old, "old"), side_of(new, "new")))
    assert text.count("revision A became B") == 1
    assert re.search(r"C1, C2, C3, .* C10", text)
    assert max(map(len, text.splitlines())) <= WIDTH


def test_the_mass_leaves_out_what_is_not_on_both_sides():
    old = [CLIP, longer(CLIP, 50.8).model_copy(update={"mark": "C13"})]
    lost = Unread(path="new/C13.bmk", line=1, mark="C13", why="no length")
    new = Side(name="new", parts=(placed(CLIP, "new/C12.bmk"),), unread=(lost,))
    text = " ".join(text_of(compare(side_of(old, "old"), new)).split())
    assert "Without what could not be read or is on hold: 24 pieces became 24" in text
    assert "as before" in text


def test_a_piece_that_became_another_kind_is_drawn_and_told(tmp_path):
    flat = "part C1 { section FB4x3/8 length 8 quantity 4 face { holes 13/16 gauge 2 at 2, 6 } }\n"
    (tmp_path / "old.bmk").write_text(HEAD + clip("C1"))
    (tmp_path / "new.bmk").write_text(HEAD + flat)
    code, out = run(tmp_path / "old.bmk", tmp_path / "new.bmk")
    assert code == 1
    assert "an angle became a flat: L4x3-1/2x3/8 became FB4x3/8" in out
    _, page = run(tmp_path / "old.bmk", tmp_path / "new.bmk", "--format", "html")
    assert page.count("<figure>") == 3


def test_a_hole_that_was_lost_is_not_hidden_by_its_twin():
    one = CLIP.legs.a.features
    old = with_features(CLIP, "a", (*one, one[0].model_copy(update={"id": "a9"})))
    found = compare(side_of([old], "old"), side_of([CLIP], "new"))
    (entry,) = found.entries
    assert [c.kind for c in entry.told.changes] == ["removed"]
