"""The shop's own certificate, looked at before anything is served with it."""

import os
from pathlib import Path
from typing import TYPE_CHECKING

from fluewright import clock
from fluewright.errors import UseError

if TYPE_CHECKING:
    from cryptography.x509 import Certificate

LOUD = 0o077
"""Rights by which others than the owner may read a key."""


def need_fit(certificate: Path, key: Path, name: str) -> None:
    """Refuse a certificate that browsers would refuse, or a key that others can read.

    certificate  PEM, with its chain
    key          PEM, for its owner's eyes only
    name         under which the server is reached
    -> nothing; UseError saying what does not fit
    """
    import ssl

    from cryptography.x509 import load_pem_x509_certificates

    try:
        chain = load_pem_x509_certificates(certificate.read_bytes())
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(certificate, key, password=_no_words)
    except (OSError, ValueError) as error:
        raise _unfit(
            certificate, f"it and {key.name} are no pair: {getattr(error, 'strerror', None) or error}"
        ) from error
    if os.name == "posix" and key.stat().st_mode & LOUD:
        raise UseError(
            code="FW-U-199",
            where=str(key),
            read="a private key that others on this machine may read",
            expected="a file for its owner only: mode 0600",
            matters="who has the key can pass for the shop's server and read every password",
            do="chmod 600 the file; when others had it for long, have a new certificate made",
        )
    own = chain[0]
    if not own.not_valid_before_utc <= clock.now() <= own.not_valid_after_utc:
        raise _unfit(
            certificate, f"it counts from {own.not_valid_before_utc:%Y-%m-%d} to {own.not_valid_after_utc:%Y-%m-%d}"
        )
    if not any(_covers(each, name.lower()) for each in _names(own)):
        raise _unfit(certificate, f"it is for {', '.join(_names(own)) or 'no name'} and not for {name}")


def _no_words() -> bytes:
    """No words are asked for: a key that is locked with some cannot be opened when the machine starts by itself."""
    return b""


def _names(certificate: "Certificate") -> list[str]:
    """Names in the certificate; the subject alone is no name to a browser (RFC 9525, 6.3)."""
    from cryptography.x509 import DNSName, ExtensionNotFound, IPAddress, SubjectAlternativeName

    try:
        found = certificate.extensions.get_extension_for_class(SubjectAlternativeName).value
    except ExtensionNotFound:
        return []
    addresses = map(str, found.get_values_for_type(IPAddress))
    return [each.lower() for each in (*found.get_values_for_type(DNSName), *addresses)]


def _covers(pattern: str, name: str) -> bool:
    """Whether a name in a certificate is this one; a star stands for one whole first label (RFC 9525, 6.3)."""
    if pattern.startswith("*."):
        return pattern[2:] == name.partition(".")[2] and bool(name.partition(".")[0])
    return pattern == name


def _unfit(certificate: Path, read: str) -> UseError:
    return UseError(
        code="FW-U-200",
        where=str(certificate),
        read=read,
        expected="a certificate in date for the name given, with its private key",
        matters="browsers refuse any other, and people would learn to click the warning away",
        do="have the shop's certificate made or renewed for this name; this program makes none",
    )
