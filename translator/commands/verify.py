"""``backmark verify``: prove that a release is what it was."""

from pathlib import Path
from typing import Final

import click

from translator.commands._console import say
from translator.commands._options import path_option

FORMATS: Final = ("text", "json")


@click.command("verify", short_help="Prove that a release is untouched.")
@click.argument("out", metavar="OUT", type=click.Path(path_type=Path))
@click.option(
    "--rederive",
    is_flag=True,
    help="Make all outputs again from the kept inputs, and compare them byte for byte.",
)
@path_option(
    "--key",
    "PUBFILE",
    "Public Ed25519 key (OpenSSH or PEM) that the signature must be made with.",
    into="key_file",
)
@click.option(
    "--manifest-sha256",
    "digest",
    metavar="HEX",
    help="SHA-256 that the manifest must have, as the transmittal or a later release tells it.",
)
@click.option(
    "--format", "form", type=click.Choice(FORMATS), default="text", help="text (default) or json."
)
def verify(
    out: Path, *, rederive: bool, key_file: Path | None, digest: str | None, form: str
) -> int:
    """Prove that the release in the folder OUT is what it was when it was released.

    Every file is held against the manifest: changed, missing and extra ones are told, and so
    is a manifest that SHA256SUMS does not bear out. Who changes the manifest too is found by
    its SHA-256 (--manifest-sha256) or by a signature (--key) alone.

    The public key beside a key made by `ssh-keygen -t ed25519` ends in .pub;
    `openssl pkey -pubout` writes one from a PEM key.

    Exit codes: 0 untouched, 1 not, 2 there is no release to look at.
    """
    from translator.commands._release_proof import document, prove, sentence

    proof = prove(out, rederive=rederive, key_file=key_file, digest=digest)
    say(document(proof) if form == "json" else sentence(proof))
    return 0 if proof.is_untouched else 1


COMMAND = verify
