"""New passwords by NIST SP 800-63B-4, 3.1.1 (length, no rules of composition, a list of common ones, words of the
context), and OWASP ASVS 5.0, 6.2. The list is zxcvbn's, 30,000 passwords by how often they were found in breaches."""

import pytest
from zxcvbn.frequency_lists import FREQUENCY_LISTS

from portal.acts.firm.passwords import LONGEST, SHORTEST, check_new
from portal.store.refusals import FieldRefused
from tests.house import House

COMMON = [word for word in FREQUENCY_LISTS["passwords"] if len(word) >= SHORTEST]
DANA = ("Dana Whitcombe", "dana@brackwater.example.com")


def test_every_common_password_that_is_long_enough_is_refused(house: House) -> None:
    """ASVS 6.2.4 asks for the 3,000 commonest that match the policy; these are all that the list has."""
    assert len(COMMON) >= 5
    for word in COMMON:
        with pytest.raises(FieldRefused, match="tried first"):
            check_new(word, *DANA)


def test_a_common_password_made_longer_is_common_still(house: House) -> None:
    top = list(FREQUENCY_LISTS["passwords"])[:300:10]
    for word in top:
        for longer in (word * (1 + SHORTEST // len(word)), f"{word}123456789012345"[: max(SHORTEST, len(word) + 8)]):
            with pytest.raises(FieldRefused, match="tried first"):
                check_new(longer, *DANA)


@pytest.mark.parametrize(
    "password",
    ["brackwater remodeling", "Brackwater2026!!!!", "dana@brackwater.example.com", "whitcombe dana 123",
     "portal portal portal", "DanaWhitcombe1985", "dana.whitcombe@brackwater"],
)  # fmt: skip
def test_a_password_made_of_the_name_the_address_or_the_firm_is_refused(house: House, password: str) -> None:
    """ASVS 6.2.11; NIST names the service, the user's name and what is derived from them."""
    with pytest.raises(FieldRefused, match="your name, your e-mail address or the firm’s name") as refused:
        check_new(password, *DANA)
    assert refused.value.field == "password"


@pytest.mark.parametrize(
    "password",
    [
        "plumb and square in the attic", "four old maple boards", "        spaces and words        ",
        "голубая лестница под дождём", "青い階段 と 雨の音 そして 石", "🪵🔨📐🪜🧱🪟🚪🪚🔩⚙️🧰🪛🔧🪝🧲",
        "plumb line to the wall " * 43, "x" * 20 + "dana hangs nine oak doors",
    ],
)  # fmt: skip
def test_any_letters_will_do(house: House, password: str) -> None:
    """No rule of composition, at least 64 characters taken (ASVS 6.2.5, 6.2.9), each code point counts as one."""
    assert len(password) <= LONGEST
    check_new(password, *DANA)


def test_the_length_is_counted_in_code_points(house: House) -> None:
    check_new("тёплый дом у во", *DANA)
    for short in ("тёплый дом у в", "level and plum"):
        with pytest.raises(FieldRefused, match="at least 15 characters"):
            check_new(short, *DANA)
    with pytest.raises(FieldRefused, match="at most 1000"):
        check_new("plumb line " * 100, *DANA)
