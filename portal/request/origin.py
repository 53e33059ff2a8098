"""From where a request comes, as limits count it."""

from collections.abc import Iterable
from ipaddress import IPv4Address, IPv6Address, ip_address, ip_network
from typing import Any

from flask import request
from werkzeug.middleware.proxy_fix import ProxyFix

_SUBSCRIBER = 64
"""Bits of an IPv6 address that name a connection; whoever has it chooses the others (RFC 6177, RFC 4291 2.5.4)."""


def origin() -> str:
    """An IPv4 address, or the IPv6 network of a connection."""
    return network_of(request.remote_addr or "")


def network_of(address: str) -> str:
    try:
        found: IPv4Address | IPv6Address = ip_address(address.partition("%")[0])
    except ValueError:
        return "unknown"
    if isinstance(found, IPv6Address) and found.ipv4_mapped:
        found = found.ipv4_mapped
    if isinstance(found, IPv4Address):
        return str(found)
    return str(ip_network((found, _SUBSCRIBER), strict=False))


class BehindProxy:
    """Takes the caller's address from X-Forwarded-For where a web server on this machine says it, and from nobody
    else: whoever reaches the service from elsewhere could name any. A request by a socket comes without an address.
    """

    def __init__(self, app: Any) -> None:
        self.direct = app
        self.told = ProxyFix(app, x_for=1, x_proto=1)

    def __call__(self, environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
        asked = self.told if _is_near(environ.get("REMOTE_ADDR", "")) else self.direct
        answer: Iterable[bytes] = asked(environ, start_response)
        return answer


def _is_near(address: str) -> bool:
    if not address:
        return True
    try:
        found = ip_address(address.partition("%")[0])
    except ValueError:
        return False
    mapped = found.ipv4_mapped if isinstance(found, IPv6Address) else None
    return (mapped or found).is_loopback
