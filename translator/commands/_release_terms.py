"""What the command line of a release means: holds, names, the moment, the key."""

import os
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from translator.commands._delivery import Delivery

if TYPE_CHECKING:
    from translator.commands._derive import Holds
    from translator.findings import Finding
    from translator.release.holds import Hold

EPOCH: Final = "SOURCE_DATE_EPOCH"
_MARKS_NAMED: Final = 40


def holds_of(
    holds: "list[Hold]", file: Path | None, delivery: Delivery
) -> "tuple[Holds, list[Finding]]":
    """Return what is on hold, and the faults of the file of holds.

    Raises:
        UsageError: when the command line holds a mark that is not in the delivery.
        WorkError: when the file can't be read.
    """
    from translator.batch.discover import shown
    from translator.commands._derive import key_of
    from translator.release.holds import LARGEST_BYTES, read_holds, settle_holds, unknown_hold
    from translator.release.listing import read_file

    faults: list[Finding] = []
    if file is not None:
        found, said = read_holds(shown(file), read_file(file.parent, file.name, LARGEST_BYTES))
        holds = [*holds, *found]
        faults += said
    pairs = zip(delivery.outcome.parts, delivery.outcome.refused, strict=True)
    keys = [key_of(placed) for placed, why in pairs if not why]
    reasons, unknown = settle_holds(holds, keys)
    for hold in unknown:
        if hold.span is None:
            known = ", ".join(sorted({mark for _, mark in keys})[:_MARKS_NAMED])
            raise click.UsageError(
                f"--hold names the mark {hold.mark!r}, which is not in the delivery; there are"
                f" {known or 'none'}"
            )
        faults.append(unknown_hold(hold, hold.span))
    return reasons, faults


def hold(text: str) -> "Hold":
    """Return the hold that an option MARK=REASON means.

    Raises:
        UsageError: when it means none.
    """
    from translator.release.holds import Hold, is_reason

    mark, equals, reason = (piece.strip() for piece in text.partition("="))
    if not (equals and is_reason(mark) and is_reason(reason)):
        raise click.UsageError(f"--hold takes MARK=REASON, not {text!r}")
    return Hold(mark=mark, order=None, reason=reason)


def signing_key(file: Path | None) -> Any:  # noqa: ANN401 - the library may not be there
    """Return the key to sign with; None when no file is named.

    Raises:
        WorkError: when the file holds none, or signatures can't be made here.
    """
    if file is None:
        return None
    from translator.batch.discover import shown
    from translator.release.listing import read_file
    from translator.release.signing import LARGEST_KEY, private_key

    def password() -> bytes:
        return str(click.prompt(f"Password of {shown(file)}", hide_input=True, err=True)).encode()

    return private_key(read_file(file.parent, file.name, LARGEST_KEY), shown(file), password)


def plain(text: str, option: str) -> str:
    """Return a text that a manifest can tell.

    Raises:
        UsageError: when it can't.
    """
    from translator.release.holds import is_reason

    longest = 200
    if not is_reason(text) or len(text.strip()) > longest:
        raise click.UsageError(f"{option} takes a text of 1 to {longest} characters, all visible")
    return text.strip()


def moment_of(text: str | None) -> str:
    """Return a moment in UTC: that given, that of the environment, or now.

    Raises:
        UsageError: when it is none.
    """
    import datetime as dt

    epoch = os.environ.get(EPOCH)
    try:
        if text is not None:
            moment = dt.datetime.fromisoformat(text)
            if moment.tzinfo is None:
                raise click.UsageError(f"--at {text!r} does not say its zone; add Z for UTC")
        elif epoch:
            moment = dt.datetime.fromtimestamp(int(epoch), dt.UTC)
        else:
            moment = dt.datetime.now(dt.UTC)
    except (ValueError, OverflowError, OSError):
        what = f"--at takes a moment like 2026-01-31T08:30:00Z, not {text!r}"
        if text is None:
            what = f"{EPOCH} is {epoch!r}; it takes a number of seconds"
        raise click.UsageError(what) from None
    return moment.astimezone(dt.UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
