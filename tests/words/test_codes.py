"""Check codes as they are read aloud."""

from portal.words.codes import short_code


def test_a_check_code_is_read_in_three_groups_of_four() -> None:
    """SHA-256 of `{}`, which `printf '{}' | sha256sum` gives, too."""
    whole = "44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a"
    assert short_code(whole) == "4413-6fa3-55b3"
