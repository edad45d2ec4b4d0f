"""Settle the conventions of a delivery once, before any part is lowered.

The order of authority: a setting that a person wrote, proofs, near-proofs in enough
independent pieces. Everything less only proposes: a hole on the wrong side of a leg is worse
than a refused file.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from msgspec import Struct

from translator.conventions.evidence import Evidence, Testimony, Weight
from translator.conventions.settings import AUTO, CHOICES, Conventions, with_setting
from translator.findings import Finding, Related, Severity, in_order

INDEPENDENT_PIECES: Final = 3
"""Near-proofs settle nothing below this number of pieces that differ in shape."""

_RELATED: Final = 12
"""At most this many further places are listed in a finding."""

_Voice = tuple[str, str, Testimony]
"""Path, piece and testimony."""


class Settled(Struct, frozen=True, kw_only=True):
    """Conventions of each writer in a delivery, and what is to be said about them."""

    by_writer: Mapping[str, Conventions]
    findings: tuple[Finding, ...]


def settle(conventions: Conventions, evidence: Iterable[Evidence]) -> Settled:
    """Settle each writer's conventions from the settings given and the pooled evidence.

    The result does not depend on the order of ``evidence``. A setting that is not "auto" in
    ``conventions`` is kept as it is, with a finding when the evidence speaks against it.

    Args:
        conventions: the settings a person gave; "auto" where nobody did.
        evidence: one record for each file of the delivery.

    Returns:
        The conventions of every writer that occurs, and the findings: settled (note),
        proposed (warning), contradicted (error or warning).
    """
    pools: dict[str, list[Evidence]] = {}
    for record in sorted(evidence, key=lambda e: (e.writer, e.path, e.piece)):
        pools.setdefault(record.writer, []).append(record)
    by_writer: dict[str, Conventions] = {}
    findings: list[Finding] = []
    for writer, pool in pools.items():
        settled = conventions
        for setting, choices in CHOICES.items():
            if AUTO not in choices:
                continue
            case = _case(writer, setting, pool)
            value, said = _decide(case, getattr(conventions, setting))
            settled = with_setting(settled, setting, value)
            findings += said
        by_writer[writer] = settled
    return Settled(by_writer=by_writer, findings=in_order(findings))


class _Case(Struct, frozen=True, kw_only=True):
    """All that one writer's files say about one setting."""

    writer: str
    setting: str
    files: int
    needed: bool
    voices: tuple[_Voice, ...]

    def values(self, *weights: Weight) -> tuple[str, ...]:
        return tuple(sorted({t.value for _, _, t in self.voices if t.weight in weights}))

    def pieces(self, value: str, *weights: Weight) -> int:
        return len(
            {piece for _, piece, t in self.voices if t.value == value and t.weight in weights}
        )

    def speaking(self, *weights: Weight) -> tuple[Testimony, ...]:
        return tuple(t for _, _, t in self.voices if t.weight in weights)


def _case(writer: str, setting: str, pool: Sequence[Evidence]) -> _Case:
    voices = [
        (record.path, record.piece, t)
        for record in pool
        for t in record.testimonies
        if t.setting == setting and t.value in CHOICES[setting]
    ]
    voices.sort(key=lambda v: (v[0], v[2].span, v[2].value, v[2].weight, v[2].message, v[1]))
    return _Case(
        writer=writer,
        setting=setting,
        files=len({record.path for record in pool}),
        needed=any(setting in record.undecided for record in pool),
        voices=tuple(voices),
    )


def _decide(case: _Case, given: str) -> tuple[str, list[Finding]]:
    """Return the value of one setting for one writer, and what to say about it."""
    if given != AUTO:
        return given, _against(case, given)
    proven = case.values(Weight.PROOF)
    strong = case.values(Weight.PROOF, Weight.NEAR_PROOF)
    if len(strong) > 1:
        return AUTO, [_contradiction(case, strong, proofs=bool(proven))]
    if proven:
        return proven[0], [_settled(case, proven[0])]
    if not strong:
        return AUTO, _hinted(case)
    if case.pieces(strong[0], Weight.NEAR_PROOF) >= INDEPENDENT_PIECES:
        return strong[0], [_settled(case, strong[0])]
    return AUTO, [_proposed(case, strong[0])] if case.needed else []


def _against(case: _Case, given: str) -> list[Finding]:
    """Say where the evidence speaks against a setting that a person gave."""
    said: list[Finding] = []
    for weight in (Weight.PROOF, Weight.NEAR_PROOF):
        others = [t for t in case.speaking(weight) if t.value != given]
        if not others:
            continue
        pieces = sum(case.pieces(v, weight) for v in case.values(weight) if v != given)
        if weight is Weight.PROOF:
            severity = Severity.ERROR
        else:
            enough = pieces >= INDEPENDENT_PIECES
            severity = Severity.WARNING if enough else Severity.NOTE
        message = (
            f'{case.setting} is set to "{given}", but {_pieces(pieces)} of {_writer(case)}'
            f' {"speaks" if pieces == 1 else "speak"} for "{others[0].value}" by {weight}:'
            f" {others[0].message}; the setting was kept"
        )
        said.append(_finding("nc-setting-against-evidence", severity, message, others))
    return said


def _contradiction(case: _Case, values: Sequence[str], *, proofs: bool) -> Finding:
    weights = (Weight.PROOF, Weight.NEAR_PROOF)
    counts = " and ".join(f'{_pieces(case.pieces(v, *weights))} for "{v}"' for v in values)
    firsts = [next(t for t in case.speaking(*weights) if t.value == v) for v in values]
    message = (
        f"the files of {_writer(case)} contradict each other on {case.setting}: {counts}: "
        + "; against it: ".join(t.message for t in firsts)
        + f"; nothing was settled: write the right value under [nc] in backmark.toml,"
        f" for instance {_line(case.setting, values[0])}, or have the files put right"
    )
    severity = Severity.ERROR if proofs else Severity.WARNING
    others = [t for t in case.speaking(*weights) if t not in firsts]
    return _finding("nc-evidence-contradicts", severity, message, [*firsts, *others])


def _settled(case: _Case, value: str) -> Finding:
    proofs = [t for t in case.speaking(Weight.PROOF) if t.value == value]
    near = [t for t in case.speaking(Weight.NEAR_PROOF) if t.value == value]
    message = (
        f'{case.setting} = "{value}" was settled for {_writer(case)}: {_counted(case, value)}'
        f"; {(proofs or near)[0].message}"
    )
    return _finding("nc-setting-settled", Severity.NOTE, message, proofs or near)


def _proposed(case: _Case, value: str) -> Finding:
    near = [t for t in case.speaking(Weight.NEAR_PROOF) if t.value == value]
    pieces = case.pieces(value, Weight.NEAR_PROOF)
    verb = "speaks" if pieces == 1 else "speak"
    message = (
        f"{_pieces(pieces)} of {_writer(case)} {verb} for"
        f' {case.setting} = "{value}" by near-proof, and {INDEPENDENT_PIECES} are needed to'
        f" settle it ({_counted(case, value)}): {near[0].message}; if a drawing confirms it,"
        f" put {_line(case.setting, value)} under [nc] in backmark.toml"
    )
    return _finding("nc-setting-proposed", Severity.WARNING, message, near)


def _hinted(case: _Case) -> list[Finding]:
    hints = case.speaking(Weight.HINT)
    if not hints or not case.needed:
        return []
    counts = ", ".join(
        f'{_pieces(case.pieces(v, Weight.HINT))} for "{v}"' for v in case.values(Weight.HINT)
    )
    message = (
        f"only hints speak on {case.setting} for {_writer(case)}, and hints settle nothing:"
        f" {counts}; {hints[0].message}; compare with a drawing and put for instance"
        f" {_line(case.setting, hints[0].value)} under [nc] in backmark.toml"
    )
    return [_finding("nc-setting-hinted", Severity.NOTE, message, hints)]


def _counted(case: _Case, value: str) -> str:
    parts = []
    for weight, word in (
        (Weight.PROOF, "proof"),
        (Weight.NEAR_PROOF, "near-proof"),
        (Weight.HINT, "hint"),
    ):
        number = sum(1 for t in case.speaking(weight) if t.value == value)
        if number:
            plural = "" if number == 1 else "s"
            parts.append(f"{number} {word}{plural} in {_pieces(case.pieces(value, weight))}")
    other = sum(1 for t in case.speaking(Weight.HINT) if t.value != value)
    if other:
        parts.append(f"{other} hint{'' if other == 1 else 's'} the other way")
    return ", ".join(parts)


def _pieces(number: int) -> str:
    return "1 piece" if number == 1 else f"{number} independent pieces"


def _writer(case: _Case) -> str:
    files = "1 file" if case.files == 1 else f"{case.files} files"
    return f"the writer {case.writer} ({files})"


def _line(setting: str, value: str) -> str:
    return f'`{setting} = "{value}"`'


def _finding(rule: str, severity: Severity, message: str, voices: Sequence[Testimony]) -> Finding:
    return Finding(
        rule=rule,
        severity=severity,
        message=message,
        span=voices[0].span,
        unit="",
        related=tuple(
            Related(span=t.span, message=f'{t.weight} for "{t.value}": {t.message}')
            for t in voices[1 : 1 + _RELATED]
        ),
    )
