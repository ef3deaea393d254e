"""The key that a plan is kept under, and the seal by which its text is known to be the one that was written."""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256

FORMAT = "plan/4"
"""Changes whenever what a plan's text holds does."""

_LENGTH = 64  # of a digest in hexadecimal digits


def key_of(inputs: Iterable[str | bytes]) -> str:
    """The digest of all that a plan is made from, each part with its length, so that no two lists come to one text."""
    digest = sha256(FORMAT.encode())
    for each in inputs:
        part = each.encode("utf-8", "surrogatepass") if isinstance(each, str) else each
        digest.update(f"\n{len(part)}\n".encode())
        digest.update(part)
    return digest.hexdigest()


def seal(key: str, text: str) -> bytes:
    """A plan's text as it is kept: its own digest, taken together with its key, stands before it."""
    body = text.encode("utf-8")
    return _digest(key, body) + b"\n" + body


def unseal(key: str, kept: bytes) -> bytes | None:
    """The text of a kept plan; None where it is not what was written under this key."""
    digest, body = kept[:_LENGTH], kept[_LENGTH + 1 :]
    return body if digest == _digest(key, body) else None


def _digest(key: str, body: bytes) -> bytes:
    return sha256(key.encode() + b"\n" + body).hexdigest().encode()
