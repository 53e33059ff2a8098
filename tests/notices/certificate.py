"""A certificate for servers on loopback, so that TLS is spoken in tests as it is outside."""

import ssl
from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec


def make_certificate(folder: Path) -> Path:
    """Of a server on loopback, with its key, signed by itself."""
    key, name = ec.generate_private_key(ec.SECP256R1()), x509.Name([])
    now = datetime.now(UTC)
    made = (
        x509.CertificateBuilder().subject_name(name).issuer_name(name).public_key(key.public_key())
        .serial_number(1).not_valid_before(now - timedelta(1)).not_valid_after(now + timedelta(1))
        .add_extension(x509.SubjectAlternativeName([x509.IPAddress(ip_address("127.0.0.1"))]), critical=True)
        .sign(key, hashes.SHA256())
    )
    path = folder / "server.pem"
    path.write_bytes(made.public_bytes(serialization.Encoding.PEM) + key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()))
    return path


def under_tls(certificate: Path) -> ssl.SSLContext:
    secure = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    secure.load_cert_chain(certificate)
    return secure
