"""`fluewright serve` for a shop's network: only with the shop's own certificate for its name, and then by https."""

import json
import os
import signal
import ssl
import subprocess
import sys
import time
from datetime import timedelta
from http.client import HTTPSConnection
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from fluewright import clock
from fluewright.cli.main import main

SRC = Path(__file__).resolve().parents[2] / "src"
RUN = "from fluewright.cli.main import run; run()"
NAME = "shop.example"
ELSEWHERE = "127.0.0.2"
"""An address of this machine that is not the one on which a token opens the door."""


def certificate(folder: Path, *, name: str = NAME, days: int = 30, loud: bool = False) -> tuple[Path, Path]:
    """A certificate made for this test, and its key."""
    key = ec.generate_private_key(ec.SECP256R1())
    now = clock.now()
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])
    made = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=60))
        .not_valid_after(now + timedelta(days=days))
        .add_extension(x509.SubjectAlternativeName([x509.DNSName(name)]), critical=False)
        .sign(key, hashes.SHA256())
    )
    chain, private = folder / "chain.pem", folder / "key.pem"
    chain.write_bytes(made.public_bytes(serialization.Encoding.PEM))
    private.write_bytes(
        key.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption())
    )
    private.chmod(0o644 if loud else 0o600)
    return chain, private


def options(chain: Path, private: Path, name: str = NAME, address: str = ELSEWHERE) -> list[str]:
    return ["--address", address, "--name", name, "--certificate", str(chain), "--key", str(private)]


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (["--address", "0.0.0.0"], "without --name, --certificate, --key"),
        (["--name", NAME], "without --certificate, --key, --address"),
        (["--address", "127.0.0.2", "--name", NAME], "without --certificate, --key"),
    ],
)
def test_another_address_without_a_certificate_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], given: list[str], said: str
) -> None:
    assert main(["serve", "--journal", str(tmp_path / "j.db"), "--port", "0", *given]) == 2
    told = capsys.readouterr().err
    assert said in told and "FW-U-198" in told and "expected" in told


def test_a_certificate_that_browsers_would_refuse_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folders = [tmp_path / name for name in ("old", "other", "loud", "pair", "torn")]
    for folder in folders:
        folder.mkdir()
    old, other = certificate(folders[0], days=-1), certificate(folders[1], name="other.example")
    loud, torn = certificate(folders[2], loud=True), certificate(folders[4])
    pair = (certificate(folders[3])[0], old[1])
    torn[0].write_bytes(b"no certificate")
    gone = (tmp_path / "none.pem", old[1])
    told = {old: "it counts from", other: "and not for shop.example", loud: "others on this machine",
            pair: "no pair", torn: "no pair", gone: "no pair"}  # fmt: skip
    for files, said in told.items():
        assert main(["serve", "--journal", str(tmp_path / "j.db"), "--port", "0", *options(*files)]) == 2
        assert said in capsys.readouterr().err
    starred = tmp_path / "star"
    starred.mkdir()
    star = certificate(starred, name="*.example")
    assert main(["serve", "--journal", str(tmp_path / "j.db"), "--port", "70000", *options(*star)]) == 2
    assert "port 70000" in capsys.readouterr().err, "the certificate itself was taken"


def test_the_shops_server_speaks_https_only_and_stops_within_a_second(tmp_path: Path) -> None:
    chain, private = certificate(tmp_path)
    command = [sys.executable, "-c", RUN, "serve", "--port", "0", "--json", "--journal", str(tmp_path / "j.db")]
    environment = {**os.environ, "PYTHONPATH": str(SRC)}
    going = subprocess.Popen([*command, *options(chain, private)], stdout=subprocess.PIPE, text=True, env=environment)
    try:
        assert going.stdout is not None
        address = json.loads(going.stdout.readline())["address"]
        port = int(address.removeprefix(f"https://{NAME}:").rstrip("/"))
        trusted = ssl.create_default_context(cafile=str(chain))
        trusted.check_hostname = False  # the name leads nowhere on this machine
        connection = HTTPSConnection(ELSEWHERE, port, context=trusted, timeout=20)
        connection.request("GET", "/", headers={"host": f"{NAME}:{port}"})
        answer = connection.getresponse()
        assert (answer.status, answer.headers["location"]) == (303, "/sign-in")
        assert answer.headers["strict-transport-security"]
        answer.read()
        connection.request("GET", "/sign-in", headers={"host": f"evil.example:{port}"})
        assert connection.getresponse().status == 421
    finally:
        began = time.monotonic()
        going.send_signal(signal.SIGTERM)
        assert going.wait(10) in (0, 143)
        assert time.monotonic() - began < 3.0
