"""``backmark release``: freeze a checked set, with the proof of what it holds."""

import hashlib
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from translator.commands._console import say
from translator.commands._delivery import Delivery, Wanted, shared_options, take
from translator.commands._options import machines_option, path_option
from translator.commands._release_terms import (
    EPOCH,
    hold,
    holds_of,
    moment_of,
    plain,
    signing_key,
)
from translator.commands._release_words import not_written, refused, told
from translator.commands.translate import PAPERS

if TYPE_CHECKING:
    from translator.commands._derive import Derived, Holds, Written
    from translator.commands._kept import Kept
    from translator.commands._release_checked import Checked
    from translator.findings import Finding
    from translator.model import Part, Placed
    from translator.release.manifest import Release

DEFAULT_FORMATS: Final = "json,dxf"


@click.command("release", short_help="Freeze a checked set, with the proof of what it holds.")
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@click.option(
    "--to",
    "out",
    required=True,
    type=click.Path(path_type=Path),
    metavar="OUT",
    help="Folder of the release; there must be nothing in it.",
)
@click.option("--by", required=True, metavar="NAME", help="Who releases it.")
@click.option("--name", metavar="TEXT", help="Name of the release; else that of the folder OUT.")
@click.option(
    "--formats",
    metavar="FORMATS",
    help="Formats of the part files; default json,dxf and those under [release] in backmark.toml.",
)
@click.option(
    "--hold",
    "hold",
    multiple=True,
    metavar="MARK=REASON",
    help="Put a mark on hold; may be given again. It is told, and none of its files is made.",
)
@path_option(
    "--holds",
    "FILE",
    "File of marks on hold: tables [[hold]] with mark, reason and, if need be, order.",
    into="hold_file",
)
@path_option(
    "--supersedes",
    "EARLIER",
    "Folder of the release that this one takes the place of; it must verify.",
    into="earlier",
)
@click.option(
    "--at",
    metavar="TIME",
    help=f"Moment of the release, like 2026-01-31T08:30:00Z; else {EPOCH}, else now.",
)
@path_option(
    "--sign",
    "KEYFILE",
    "Private Ed25519 key (OpenSSH or PEM) to sign the manifest with.",
    into="key_file",
)
@click.option("--paper", type=click.Choice(PAPERS), help="Paper of sheets.")
@machines_option("Profile of a machine to hold the parts against; else those of the settings.")
@path_option(
    "--bill",
    "FILE",
    "Bill (separated values) that the parts must agree with.",
)
@shared_options
def release(wanted: Wanted, **given: Any) -> int:  # noqa: ANN401 - what click hands over
    """Freeze a checked set into a new folder OUT, with the proof of what it holds.

    Refused, with nothing written, while any error stands open. OUT gets the part files, the
    review page and the findings, a copy of all that was read, a manifest (release.json) and
    SHA256SUMS, which `sha256sum -c SHA256SUMS` takes. It appears whole or not at all, and is
    never written over: the next release gets a new folder and --supersedes.

    Copies of inputs end in .kept, so that no machine and no folder search takes one for a
    released file. The same inputs make the same bytes; only release.json (and what is
    computed from it) says who and when.

    A key for --sign is made by `ssh-keygen -t ed25519` or `openssl genpkey -algorithm ed25519`;
    the signature, release.json.sig, needs pip install 'backmark[sign]'. `backmark verify OUT`
    checks all of it.
    """
    from translator.commands._kept import refuse_standard_input
    from translator.release.placing import refuse_taken

    out: Path = given["out"]
    refuse_standard_input(wanted)
    given["by"] = plain(given["by"], "--by")
    given["name"] = plain(given["name"] or out.resolve().name, "--name")
    given["at"] = moment_of(given["at"])
    refuse_taken(out)
    named = [hold(text) for text in given["hold"]]
    given["key"] = signing_key(given["key_file"])
    earlier = given["earlier"] = _earlier(given["earlier"])
    delivery = take(wanted, out, given["machines"], given["bill"])
    holds, faults = holds_of(named, given["hold_file"], delivery)
    before = () if earlier is None else earlier.findings
    if _open_errors((*delivery.outcome.verdict.findings, *faults, *before)):
        say(refused(delivery, faults, before))
        return 1
    derived = _derived(wanted, delivery, given)
    return _released(derived, holds, given)


COMMAND = release


def _kept(wanted: Wanted, delivery: Delivery, given: dict[str, Any]) -> "Kept":
    from translator.commands._derive import known_emitters
    from translator.commands._kept import keep

    named = given["formats"]
    formats = [name.strip() for name in (named or DEFAULT_FORMATS).split(",") if name.strip()]
    if named is None:
        formats += [name for own in delivery.configurations for name in own.formats]
    if not formats:
        raise click.UsageError("--formats names no format")
    known = known_emitters(tuple(dict.fromkeys(formats)))
    return keep(delivery, wanted, tuple(emitter.name for emitter in known), given["paper"])


def _derived(wanted: Wanted, delivery: Delivery, given: dict[str, Any]) -> "Derived":
    """Read the delivery again from what is kept of it; both must be the same parts."""
    from translator.commands._derive import derive

    derived = derive(_kept(wanted, delivery, given))
    errors = _open_errors(derived.outcome.verdict.findings)
    if errors or not _are_same(derived.outcome.parts, delivery.outcome.parts):
        why = errors[0].message if errors else "other parts come out of them"
        raise RuntimeError(f"the kept inputs read otherwise than those of the delivery: {why}")
    return derived


def _are_same(one: "tuple[Placed, ...]", other: "tuple[Placed, ...]") -> bool:
    """Tell whether two deliveries have the same parts, whatever their files are called."""

    def ordered(placed: "tuple[Placed, ...]", *, tell: "Callable[[Part], str]") -> "list[Part]":
        parts = (each.part for each in placed)
        return sorted(parts, key=lambda p: (p.order or "", p.mark, p.revision or "", tell(p)))

    quick = ordered(one, tell=lambda _: "") == ordered(other, tell=lambda _: "")
    return quick or ordered(one, tell=repr) == ordered(other, tell=repr)


def _released(derived: "Derived", holds: "Holds", given: dict[str, Any]) -> int:
    """Make the outputs from what is kept alone, and put the release in its place."""
    from translator.commands._derive import Written
    from translator.commands._progress import progress
    from translator.release.placing import place

    if all(_is_held(placed, holds) for placed in derived.ready):
        raise click.UsageError("there is no part to release: none is there, or all are on hold")
    written = Written()
    with progress(len(derived.ready), "marks") as done:
        files = _files(derived, holds, written, {**given, "done": done})
        place(given["out"], files, lambda: bool(written.proof))
    if not written.proof:
        say(not_written(_open_errors(written.findings)))
        return 1
    say(told(*written.proof[0], given["out"]))
    return 0


def _files(
    derived: "Derived", holds: "Holds", written: "Written", given: dict[str, Any]
) -> Iterator[tuple[str, bytes]]:
    """Yield path and bytes of all files: outputs, inputs, and at the very end the proof.

    There is no proof where a part can't be written in one of the formats.
    """
    from translator.commands._derive import outputs
    from translator.release.checking import expected_digests
    from translator.release.document import MANIFEST, SIGNATURE, SUMS
    from translator.release.making import manifest_bytes, sums_bytes

    yield from outputs(derived, holds, written, verify=True, done=given["done"])
    if _open_errors(written.findings):
        return
    for file in derived.kept.files:
        yield file.path, derived.kept.data[file.name]
    release = _release(derived, holds, written, given)
    manifest = manifest_bytes(release)
    digest = hashlib.sha256(manifest).hexdigest()
    signature = None
    if given["key"] is not None:
        signature = given["key"].sign(manifest)
        yield SIGNATURE, signature
    yield MANIFEST, manifest
    signed = None if signature is None else hashlib.sha256(signature).hexdigest()
    yield SUMS, sums_bytes(expected_digests(release), digest, signed)
    written.proof.append((release, digest))


def _release(
    derived: "Derived", holds: "Holds", written: "Written", given: dict[str, Any]
) -> "Release":
    from translator import __version__
    from translator.commands._release_body import body
    from translator.release.manifest import Release, Tool
    from translator.release.superseding import supersede

    earlier: Checked | None = given["earlier"]
    before = None if earlier is None else earlier.release
    made = Release(
        name=given["name"],
        number=1 if before is None else before.number + 1,
        by=given["by"],
        at=given["at"],
        tool=Tool(name="backmark", version=__version__),
        **body(derived, holds, written),
    )
    if earlier is None or before is None:
        return made
    superseded = supersede(before, earlier.manifest_sha256, made)
    return made.model_copy(update={"supersedes": superseded})


def _earlier(folder: Path | None) -> "Checked | None":
    from translator.commands._release_checked import look_at

    return None if folder is None else look_at(folder)


def _open_errors(findings: "Sequence[Finding]") -> "list[Finding]":
    from translator.findings import Severity

    return [f for f in findings if f.severity is Severity.ERROR and f.waived is None]


def _is_held(placed: Any, holds: "Holds") -> bool:  # noqa: ANN401 - a placed part
    from translator.commands._derive import key_of

    return key_of(placed) in holds
