"""Prove a release: its files, its signature, and that its inputs still make its outputs."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click
from msgspec import Struct

from translator.commands._release_checked import Checked, look_at
from translator.commands._release_words import listed, many, place
from translator.errors import TranslatorError
from translator.findings import CAUTION, Finding, Severity, in_order
from translator.json_text import json_text
from translator.source import printable, whole_file

if TYPE_CHECKING:
    from translator.commands._derive import Written
    from translator.commands._kept import Kept
    from translator.release.manifest import Release
    from translator.release.verification import Rederived, Signature

MOST_LISTED: Final = 60
"""Differences told to a person one by one; --format json has all."""

LARGEST_KEPT: Final = 2_000_000_000
"""Bytes of kept inputs that are read at once."""


class Proof(Struct, frozen=True, kw_only=True):
    """What was looked at, and what came of it.

    Attributes:
        checked: the files.
        signature: whether there is one, and whether it is the right one.
        rederived: whether the inputs still make the outputs.
        findings: everything that does not hold.
    """

    checked: Checked
    signature: "Signature"
    rederived: "Rederived"
    findings: tuple[Finding, ...]

    @property
    def is_untouched(self) -> bool:
        """Whether nothing was found and there is a release."""
        errors = (finding for finding in self.findings if finding.severity is Severity.ERROR)
        return self.checked.release is not None and not any(errors)

    @property
    def files(self) -> int:
        """How many files the release holds, its own among them."""
        release = self.checked.release
        if release is None:
            return 0
        own = 2 if self.checked.signature is None else 3
        return len(release.inputs) + len(release.outputs) + own


def prove(out: Path, *, rederive: bool, key_file: Path | None, digest: str | None) -> Proof:
    """Look at a release.

    Args:
        out: its folder.
        rederive: whether its outputs are made again.
        key_file: of the public key that the signature must be made with.
        digest: SHA-256 that the manifest must have.

    Raises:
        WorkError: when there is nothing to look at, or the key is none.
        UsageError: when the digest is none.
    """
    if digest is not None and not re.fullmatch(r"[0-9a-fA-F]{64}", digest.strip()):
        raise click.UsageError("--manifest-sha256 takes 64 hexadecimal digits")
    checked = look_at(out)
    findings = list(checked.findings)
    if digest is not None and checked.manifest_sha256 != digest.strip().lower():
        message = f"the manifest has the SHA-256 {checked.manifest_sha256}, not the one given"
        findings.append(_about(checked, "release-manifest-other", message))
    signature, said = _signature(checked, key_file)
    findings += said
    rederived: Rederived = "not asked"
    if rederive:
        has_error = any(finding.severity is Severity.ERROR for finding in findings)
        if checked.release is None or has_error:
            rederived = "not possible"
        else:
            different = list(_rederived(checked, checked.release))
            findings += different
            rederived = "different" if different else "the same"
    return Proof(
        checked=checked, signature=signature, rederived=rederived, findings=in_order(findings)
    )


def sentence(proof: Proof) -> str:
    """Return the answer for a person: the verdict first, then what does not hold."""
    lines = [_verdict(proof)]
    lines += [f"  {_difference(f)}" for f in proof.findings[:MOST_LISTED]]
    if len(proof.findings) > MOST_LISTED:
        lines.append(f"  and {len(proof.findings) - MOST_LISTED} more (--format json has all)")
    lines += _more(proof)
    return "\n".join((*map(printable, lines), "", CAUTION))


def document(proof: Proof) -> str:
    """Return the answer for a program."""
    from translator.release.verification import Difference, Verification, Who

    release = proof.checked.release
    who = None
    if release is not None:
        who = Who(
            name=release.name,
            number=release.number,
            by=release.by,
            at=release.at,
            tool=release.tool,
            manifest_sha256=proof.checked.manifest_sha256,
        )
    answer = Verification(
        caution=CAUTION,
        untouched=proof.is_untouched,
        says=_verdict(proof),
        release=who,
        files=proof.files,
        signature=proof.signature,
        rederived=proof.rederived,
        differences=tuple(
            Difference(
                rule=finding.rule,
                message=printable(finding.message),
                path=printable(finding.span.path),
                line=finding.span.line,
                column=finding.span.column,
            )
            for finding in proof.findings
        ),
    )
    return json_text(answer.model_dump(mode="json", exclude_none=True))


def _verdict(proof: Proof) -> str:
    release = proof.checked.release
    if release is None:
        return "NOT proved: the manifest can't be used, so nothing is known of the files"
    who = f"as released by {release.by} on {release.at[:10]} at {release.at[11:16]} UTC"
    if proof.is_untouched:
        return f"{many(proof.files, 'file')} {who}"
    return f"NOT {who}: {many(len(proof.findings), 'difference')}"


def _difference(finding: Finding) -> str:
    """Return what does not hold; a sentence about a file as a whole names it itself."""
    is_whole = finding.span == whole_file(finding.span.path)
    return finding.message if is_whole else f"{place(finding)}: {finding.message}"


def _more(proof: Proof) -> Iterator[str]:
    release = proof.checked.release
    if release is None:
        return
    yield f'release {release.number} "{release.name}": {many(len(release.marks), "mark")}'
    held = [f"{m.mark}: {m.reason}" for m in release.marks if m.status == "on hold"]
    yield from listed("on hold", held)
    if release.supersedes is not None:
        earlier = release.supersedes
        yield f'supersedes release {earlier.number} "{earlier.name}"'
        yield f"  its manifest: SHA-256 {earlier.manifest_sha256}"
    yield {
        "none": "signature: none",
        "not checked": "signature: not checked; name the public key with --key",
        "good": "signature: made with the key given",
        "bad": "signature: NOT made with the key given",
    }[proof.signature]
    if proof.rederived == "the same":
        yield f"made again from its inputs: all {len(release.outputs)} outputs are the same bytes"
    elif proof.rederived == "not possible":
        yield "not made again from its inputs: they are not as released"
    if proof.rederived in ("the same", "different"):
        yield _versions(release)
    yield f"SHA-256 of the manifest: {proof.checked.manifest_sha256}"


def _versions(release: "Release") -> str:
    from translator import __version__

    before = f"{release.tool.name} {release.tool.version}"
    if release.tool.version == __version__:
        return f"released and made again by {before}"
    return f"released by {before}, made again by backmark {__version__}: another version"


def _signature(checked: Checked, key_file: Path | None) -> "tuple[Signature, list[Finding]]":
    if key_file is None:
        return ("none" if checked.signature is None else "not checked"), []
    from translator.batch.discover import shown
    from translator.release.listing import read_file
    from translator.release.signing import LARGEST_KEY, is_signed_by, public_key

    key = public_key(read_file(key_file.parent, key_file.name, LARGEST_KEY), shown(key_file))
    if checked.signature is None:
        message = "there is no signature, and a key was given to check one with"
        return "none", [_about(checked, "release-not-signed", message)]
    if is_signed_by(key, checked.signature, checked.manifest):
        return "good", []
    message = f"the signature of the manifest was not made with the key in {shown(key_file)}"
    return "bad", [_about(checked, "release-signature-bad", message)]


def _rederived(checked: Checked, release: "Release") -> Iterator[Finding]:
    """Make the outputs again from the kept inputs, and yield a finding for each difference."""
    from translator.commands._derive import Written, derive, outputs
    from translator.commands._release_body import body

    holds = {(m.order or "", m.mark): m.reason for m in release.marks if m.reason is not None}
    written = Written()
    try:
        derived = derive(_kept(checked, release))
        for _ in outputs(derived, holds, written, verify=False):
            pass  # their digests are what counts
        made = body(derived, holds, written)
    except TranslatorError as error:
        message = f"the outputs can't be made again: {error}"
        yield _about(checked, "release-not-derived", message)
        return
    yield from _other_files(checked, release, written)
    for name, value in made.items():
        if name != "outputs" and getattr(release, name) != value:
            message = f"the kept inputs give other {name.replace('_', ' ')} than the manifest says"
            yield _about(checked, "release-not-derived", message)


def _other_files(checked: Checked, release: "Release", written: "Written") -> Iterator[Finding]:
    from translator.batch.discover import shown

    fresh = {file.path: file for file in written.files}
    known = {file.path: file for file in release.outputs}
    for path in sorted(fresh.keys() | known.keys()):
        if fresh.get(path) == known.get(path):
            continue
        if path not in fresh:
            message = f"{path} does not come out of the kept inputs"
        elif path not in known:
            message = f"{path} comes out of the kept inputs and is not in the release"
        else:
            message = f"{path} comes out of the kept inputs with other bytes"
        span = whole_file(f"{shown(checked.folder)}/{path}")
        yield Finding(
            rule="release-not-derived",
            severity=Severity.ERROR,
            message=message,
            span=span,
            unit="",
        )


def _kept(checked: Checked, release: "Release") -> "Kept":
    """Return what the release was made of, read from its own folder alone.

    Raises:
        WorkError: when it is too large to be read at once, or is not what was checked.
    """
    from translator.commands._kept import Kept
    from translator.errors import WorkError
    from translator.release.listing import read_file

    if sum(file.bytes for file in release.inputs) > LARGEST_KEPT:
        raise WorkError(f"the kept inputs come to more than {LARGEST_KEPT} bytes")
    data = {file.name: read_file(checked.folder, file.path, file.bytes) for file in release.inputs}
    return Kept(files=release.inputs, data=data, options=release.options, remarks=release.remarks)


def _about(checked: Checked, rule: str, message: str) -> Finding:
    from translator.batch.discover import shown
    from translator.release.document import MANIFEST

    span = whole_file(f"{shown(checked.folder)}/{MANIFEST}")
    return Finding(rule=rule, severity=Severity.ERROR, message=message, span=span, unit="")
