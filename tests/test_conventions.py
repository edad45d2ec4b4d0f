"""Settling: who is believed, how many pieces it takes, and that the order never matters."""

import itertools

import pytest

from translator.conventions import (
    AUTO,
    CHOICES,
    Conventions,
    Evidence,
    Weight,
    settle,
    with_setting,
)
from translator.conventions import Testimony as Voice  # pytest collects classes called Test*
from translator.errors import UnknownNameError
from translator.findings import Severity
from translator.source import Span

PROOF, NEAR, HINT = Weight.PROOF, Weight.NEAR_PROOF, Weight.HINT


def says(
    file: str,
    *voices: tuple[str, Weight],
    piece: str | None = None,
    writer: str = "w",
    setting: str = "u_view_bottom",
) -> Evidence:
    """Build the evidence of one file; ``voices`` are (value, weight)."""
    testimonies = tuple(
        Voice(
            setting=setting,
            value=value,
            weight=weight,
            message=f"line {n} says {value}",
            span=Span(file, n, 1, n, 9),
        )
        for n, (value, weight) in enumerate(voices, start=1)
    )
    return Evidence(
        writer=writer,
        piece=piece or file,
        path=file,
        testimonies=testimonies,
        undecided=(setting,),
    )


NOTHING: list[tuple[str, Severity]] = []
E, W, N = Severity.ERROR, Severity.WARNING, Severity.NOTE

TABLE = {
    "no evidence": ([says("a")], AUTO, NOTHING),
    "one proof settles": (
        [says("a", ("toe", PROOF)), says("b")],
        "toe",
        [("nc-setting-settled", N)],
    ),
    "proofs agree": (
        [says("a", ("toe", PROOF)), says("b", ("toe", PROOF))],
        "toe",
        [("nc-setting-settled", N)],
    ),
    "proofs contradict": (
        [says("a", ("toe", PROOF)), says("b", ("heel", PROOF))],
        AUTO,
        [("nc-evidence-contradicts", E)],
    ),
    "a near-proof stands against a proof": (
        [says("a", ("toe", PROOF)), says("b", ("heel", NEAR))],
        AUTO,
        [("nc-evidence-contradicts", E)],
    ),
    "near-proofs are divided": (
        [says("a", ("toe", NEAR)), says("b", ("heel", NEAR))],
        AUTO,
        [("nc-evidence-contradicts", W)],
    ),
    "one near-proof proposes": (
        [says("a", ("toe", NEAR))],
        AUTO,
        [("nc-setting-proposed", W)],
    ),
    "two pieces propose": (
        [says("a", ("toe", NEAR)), says("b", ("toe", NEAR))],
        AUTO,
        [("nc-setting-proposed", W)],
    ),
    "three copies of one piece propose": (
        [says(f, ("toe", NEAR), piece="same") for f in "abc"],
        AUTO,
        [("nc-setting-proposed", W)],
    ),
    "three near-proofs in one piece propose": (
        [says("a", ("toe", NEAR), ("toe", NEAR), ("toe", NEAR))],
        AUTO,
        [("nc-setting-proposed", W)],
    ),
    "three pieces settle": (
        [says(f, ("toe", NEAR)) for f in "abc"],
        "toe",
        [("nc-setting-settled", N)],
    ),
    "hints never settle": (
        [says(f, ("toe", HINT)) for f in "abcdefgh"],
        AUTO,
        [("nc-setting-hinted", N)],
    ),
    "a hint does not undo a proof": (
        [says("a", ("toe", PROOF)), says("b", ("heel", HINT))],
        "toe",
        [("nc-setting-settled", N)],
    ),
}


@pytest.mark.parametrize("case", TABLE, ids=lambda name: name.replace(" ", "-"))
def test_settling_table(case):
    evidence, value, expected = TABLE[case]
    settled = settle(Conventions(), evidence)
    assert settled.by_writer["w"].u_view_bottom == value
    assert [(f.rule, f.severity) for f in settled.findings] == expected


AGAINST = {
    "a proof is an error": ([says("a", ("heel", PROOF))], E),
    "few near-proofs are a note": ([says("a", ("heel", NEAR))], N),
    "three near-proofs are a warning": ([says(f, ("heel", NEAR)) for f in "abc"], W),
    "hints are not worth a word": ([says("a", ("heel", HINT))], None),
    "evidence that agrees is silent": ([says("a", ("toe", PROOF))], None),
}


@pytest.mark.parametrize("case", AGAINST, ids=lambda name: name.replace(" ", "-"))
def test_a_setting_given_wins_and_what_stands_against_it_is_said(case):
    evidence, severity = AGAINST[case]
    settled = settle(Conventions(u_view_bottom="toe"), evidence)
    assert settled.by_writer["w"].u_view_bottom == "toe"
    expected = [] if severity is None else [("nc-setting-against-evidence", severity)]
    assert [(f.rule, f.severity) for f in settled.findings] == expected


def test_writers_are_settled_apart():
    settled = settle(
        Conventions(),
        [
            says("a", ("toe", PROOF), writer="one"),
            says("b", ("heel", PROOF), writer="two"),
            says("c", writer="three"),
        ],
    )
    values = {w: c.u_view_bottom for w, c in settled.by_writer.items()}
    assert values == {"one": "toe", "two": "heel", "three": AUTO}


def test_settings_are_settled_apart():
    settled = settle(
        Conventions(),
        [says("a", ("toe", PROOF)), says("b", ("plus-left", PROOF), setting="arc_sign")],
    )
    assert settled.by_writer["w"] == Conventions(u_view_bottom="toe", arc_sign="plus-left")


def test_evidence_that_no_part_needs_is_not_proposed():
    record = says("a", ("toe", NEAR))
    idle = Evidence(writer="w", piece="a", path="a", testimonies=record.testimonies, undecided=())
    assert settle(Conventions(), [idle]).findings == ()


def test_the_proposal_shows_the_line_to_write():
    (finding,) = settle(Conventions(), [says("a", ("toe", NEAR))]).findings
    assert finding.message == (
        '1 piece of the writer w (1 file) speaks for u_view_bottom = "toe" by near-proof, and'
        " 3 are needed to settle it (1 near-proof in 1 piece): line 1 says toe; if a drawing"
        ' confirms it, put `u_view_bottom = "toe"` under [nc] in backmark.toml'
    )


def test_the_contradiction_shows_both_sides():
    (finding,) = settle(
        Conventions(), [says("a", ("toe", PROOF)), says("b", ("heel", PROOF))]
    ).findings
    assert finding.message == (
        "the files of the writer w (2 files) contradict each other on u_view_bottom: 1 piece"
        ' for "heel" and 1 piece for "toe": line 1 says heel; against it: line 1 says toe;'
        " nothing was settled: write the right value under [nc] in backmark.toml, for instance"
        ' `u_view_bottom = "heel"`, or have the files put right'
    )
    assert {finding.span.path, *(r.span.path for r in finding.related)} == {"a", "b"}


def test_the_order_of_the_files_does_not_matter():
    evidence = [
        says("a", ("toe", NEAR), ("heel", HINT)),
        says("b", ("toe", NEAR)),
        says("c", ("toe", NEAR), writer="x"),
        says("d", ("toe", PROOF), writer="x"),
    ]
    results = [
        (list(s.by_writer.items()), s.findings)
        for order in itertools.permutations(evidence)
        for s in [settle(Conventions(), order)]
    ]
    assert len(results) == 24
    assert all(result == results[0] for result in results)


def test_no_evidence_at_all_is_an_empty_answer():
    settled = settle(Conventions(), [])
    assert (dict(settled.by_writer), settled.findings) == ({}, ())


def test_settings_take_dashes_and_list_what_exists():
    assert with_setting(Conventions(), "u-view-bottom", "toe").u_view_bottom == "toe"
    with pytest.raises(UnknownNameError, match="it takes auto, toe, heel"):
        with_setting(Conventions(), "u_view_bottom", "up")
    with pytest.raises(UnknownNameError, match="there is no setting 'colour'"):
        with_setting(Conventions(), "colour", "red")


def test_the_default_of_each_setting_is_its_first_choice():
    assert {name: getattr(Conventions(), name) for name in CHOICES} == {
        name: choices[0] for name, choices in CHOICES.items()
    }
