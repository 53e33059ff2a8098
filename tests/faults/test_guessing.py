"""Whoever guesses a password gains nothing by a service that is killed and started again."""

from pathlib import Path
from urllib.parse import urlencode

from portal.acts.limits import LIMITS
from tests.faults.server import Server

GUESS = urlencode({"email": "dana@brackwater.example.com", "password": "a guess"}).encode()
FORM = {"Content-Type": "application/x-www-form-urlencoded"}


def guess(server: Server) -> tuple[int, dict[str, str]]:
    status, _, heads = server.send("POST", "/desk/sign-in", GUESS, FORM)
    return status, heads


def test_a_service_that_is_started_again_still_slows_down_who_guesses(tmp_path: Path) -> None:
    server = Server(tmp_path).start()
    try:
        tried = [guess(server)[0] for _ in range(LIMITS["sign_in_here"].many)]
        server.kill()
        status, heads = guess(server.start())
    finally:
        server.kill()
    assert set(tried) == {403}
    assert status == 429 and 0 < int(heads["Retry-After"]) <= LIMITS["sign_in_here"].seconds
