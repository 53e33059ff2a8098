"""Codes of the second factor against what the RFCs publish: RFC 6238 (TOTP), Appendix B, and RFC 4226 (HOTP), Appendix
D. The key of both is the 20 letters 12345678901234567890."""

from base64 import b32encode

import pytest

from portal.acts.firm.second_factor import code_at, step_of

KEY = b32encode(b"12345678901234567890").decode()
# RFC 6238, Appendix B, the rows of SHA-1: the time, and the code in 8 digits.
TOTP = [
    (59, "94287082"), (1111111109, "07081804"), (1111111111, "14050471"), (1234567890, "89005924"),
    (2000000000, "69279037"), (20000000000, "65353130"),
]  # fmt: skip
# RFC 4226, Appendix D: the codes in 6 digits of the counts from 0.
HOTP = ["755224", "287082", "359152", "969429", "338314", "254676", "287922", "162583", "399871", "520489"]


@pytest.mark.parametrize(("at", "code"), TOTP)
def test_the_code_of_a_time_is_the_published_one(at: int, code: str) -> None:
    assert code_at(KEY, at // 30, digits=8) == code
    assert code_at(KEY, at // 30) == code[-6:], "fewer digits are the last ones (RFC 4226, 5.3)"
    assert step_of(KEY, code[-6:], at) == at // 30


@pytest.mark.parametrize(("count", "code"), list(enumerate(HOTP)))
def test_the_code_of_a_count_is_the_published_one(count: int, code: str) -> None:
    assert code_at(KEY, count) == code


@pytest.mark.parametrize(("steps", "taken"), [(-2, False), (-1, True), (0, True), (1, True), (2, False)])
def test_a_clock_may_be_off_by_one_step(steps: int, taken: bool) -> None:
    """RFC 6238, 5.2 recommends at most one time step for the way."""
    at = 1111111111
    assert (step_of(KEY, code_at(KEY, at // 30 + steps), at) is not None) is taken


@pytest.mark.parametrize("typed", [" 050 471 ", "050471\n"])
def test_blanks_in_a_code_do_not_matter(typed: str) -> None:
    assert step_of(KEY, typed, 1111111111) == 1111111111 // 30


@pytest.mark.parametrize("typed", ["", "05047", "0504711", "x50471", "٠٥٠٤٧١", "５０４７１0"])
def test_what_is_no_code_of_now_is_none(typed: str) -> None:
    assert step_of(KEY, typed, 1111111111) is None
