"""Certificates for tests: self-made, for this computer alone, good for a day."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID


def make_certificate(place: Path, name: str = "class", password: bytes = b"") -> tuple[Path, Path]:
    """Write a certificate for 127.0.0.1 and its key into ``place`` and return both paths."""
    key = ec.generate_private_key(ec.SECP256R1())
    who = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "demo class")])
    now = datetime.now(UTC)
    made = (
        x509.CertificateBuilder(issuer_name=who, subject_name=who, public_key=key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(hours=1))
        .not_valid_after(now + timedelta(days=1))
        .add_extension(x509.SubjectAlternativeName([x509.IPAddress(ip_address("127.0.0.1"))]), critical=False)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .sign(key, hashes.SHA256())
    )
    files = place / f"{name}-cert.pem", place / f"{name}-key.pem"
    kept = serialization.BestAvailableEncryption(password) if password else serialization.NoEncryption()
    files[0].write_bytes(made.public_bytes(serialization.Encoding.PEM))
    files[1].write_bytes(key.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, kept))
    return files
