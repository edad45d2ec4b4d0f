"""Detached signatures on a manifest: Ed25519, by the package ``cryptography``.

The signature is the plain 64 bytes that ``openssl pkeyutl -verify -rawin`` takes too.
"""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Final, cast

from translator.errors import WorkError

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import (
        Ed25519PrivateKey,
        Ed25519PublicKey,
    )

LENGTH: Final = 64
"""Bytes of a signature."""

LARGEST_KEY: Final = 64_000
"""A key file is far smaller."""

_MISSING: Final = (
    "signatures need the package cryptography, which is not installed; pip install 'backmark[sign]'"
)
_MAKE: Final = "ssh-keygen -t ed25519, or openssl genpkey -algorithm ed25519, makes one"


def private_key(data: bytes, name: str, password: Callable[[], bytes]) -> "Ed25519PrivateKey":
    """Return the private key of a key file, in OpenSSH's or the PEM form.

    Args:
        data: its bytes.
        name: of the file, for messages.
        password: asked when the key is locked by one.

    Raises:
        WorkError: when the package is missing, or the file holds no such key.
    """
    serialization, kinds = _library()
    load = (
        serialization.load_ssh_private_key
        if b"OPENSSH PRIVATE KEY" in data
        else serialization.load_pem_private_key
    )
    try:
        key = _unlocked(load, data, password)
    except WorkError:
        raise
    except Exception as error:
        raise WorkError(f"{name} can't be read as a private key: {_MAKE}") from error
    if not isinstance(key, kinds.Ed25519PrivateKey):
        raise WorkError(f"{name} holds a key of another kind than Ed25519; {_MAKE}")
    return cast("Ed25519PrivateKey", key)


def public_key(data: bytes, name: str) -> "Ed25519PublicKey":
    """Return the public key of a key file, in OpenSSH's one-line or the PEM form.

    Raises:
        WorkError: when the package is missing, or the file holds no such key.
    """
    serialization, kinds = _library()
    if b"PRIVATE KEY" in data:
        raise WorkError(f"{name} holds a private key; name the public one, which may be shown")
    load = (
        serialization.load_pem_public_key
        if data.lstrip().startswith(b"-----")
        else serialization.load_ssh_public_key
    )
    try:
        key = load(data)
    except Exception as error:
        raise WorkError(f"{name} can't be read as a public key, OpenSSH's or PEM") from error
    if not isinstance(key, kinds.Ed25519PublicKey):
        raise WorkError(f"{name} holds a key of another kind than Ed25519")
    return cast("Ed25519PublicKey", key)


def is_signed_by(key: "Ed25519PublicKey", signature: bytes, data: bytes) -> bool:
    """Tell whether a signature on some bytes was made with the private half of a key."""
    from cryptography.exceptions import InvalidSignature

    try:
        key.verify(signature, data)
    except InvalidSignature:
        return False
    return True


def _unlocked(load: Callable[..., Any], data: bytes, password: Callable[[], bytes]) -> object:
    try:
        return load(data, None)
    except TypeError:  # this is how the library says that a password is needed
        pass
    given = password()
    try:
        return load(data, given)
    except ValueError as error:
        raise WorkError("the password does not open the key") from error


def _library() -> tuple[Any, Any]:
    try:
        from cryptography.hazmat.primitives import serialization
        from cryptography.hazmat.primitives.asymmetric import ed25519
    except ImportError as error:
        raise WorkError(_MISSING) from error
    return serialization, ed25519
