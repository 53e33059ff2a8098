"""Where a request comes from."""

from ipaddress import ip_address

from flask import request

_FORWARDED = ("X-Forwarded-For", "Forwarded", "X-Real-Ip")


def is_on_this_machine() -> bool:
    """Whether a program of this machine asks, for itself. Behind a web server everyone does so from here; but that one
    says for whom (deploy/nginx.conf)."""
    if any(name in request.headers for name in _FORWARDED):
        return False
    peer = request.environ.get("werkzeug.proxy_fix.orig", request.environ).get("REMOTE_ADDR", "")
    try:
        return not peer or ip_address(peer).is_loopback  # a unix socket has no address
    except ValueError:
        return False
