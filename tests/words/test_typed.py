"""What a text may hold, against the Unicode Standard's own properties, and addresses against RFC 5321."""

import unicodedata

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from portal.words.typed import NotText, email, full_name, legible, line, lines, seen, whole

CONTROLS = [chr(code) for code in (*range(0x20), *range(0x7F, 0xA0))]
"""C0, DEL and C1: The Unicode Standard, 23.1."""
TURNS = [c for c in map(chr, range(0x110000)) if unicodedata.bidirectional(c) in {
    "LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI",
}]  # fmt: skip
"""Explicit directional formatting characters: UAX #9, 2.1 to 2.5 and table 4."""


@pytest.mark.parametrize("control", [c for c in CONTROLS if c not in "\t\n\r"])
def test_a_control_character_is_refused_with_its_place(control: str) -> None:
    for kept in (line, lines):
        with pytest.raises(NotText, match=rf"U\+{ord(control):04X}\) after “two holes”"):
            kept(f"two holes {control}here")


@pytest.mark.parametrize("none", ["\ud800", "\udfff", "\ufdd0", "\ufdef", "\uffff", "\U0001fffe", "\U0010ffff"])
def test_what_is_no_character_is_refused(none: str) -> None:
    """Halves of a pair, and the noncharacters: The Unicode Standard, 23.7."""
    with pytest.raises(NotText, match="at the beginning"):
        lines(none)


@pytest.mark.parametrize("turn", TURNS)
def test_what_turns_the_direction_of_writing_is_taken_out(turn: str) -> None:
    assert line(f"drill {turn}3 holes") == "drill 3 holes"


def test_every_character_that_turns_is_known() -> None:
    assert [ord(c) for c in TURNS] == [*range(0x202A, 0x202F), *range(0x2066, 0x206A)]


@pytest.mark.parametrize("mark", ["\u200e", "\u200f", "\u061c", "\u200d", "\u200c"])
def test_marks_that_arabic_and_persian_need_stay(mark: str) -> None:
    assert line(f"مارن{mark} 3") == f"مارن{mark} 3"


def test_a_number_copied_from_a_phones_contacts_is_the_number() -> None:
    assert line("\u202a+1 612 555 0142\u202c") == "+1 612 555 0142"


def test_a_line_has_no_break_and_no_tab() -> None:
    for broken, what in (
        ("Maren\nOkafor", "a line break"),
        ("Maren\tOkafor", "a tab"),
        ("Maren\u2028O", "a line break"),
    ):
        with pytest.raises(NotText, match=f"{what} after “Maren”. Put a space there"):
            line(broken)


def test_each_line_of_a_text_ends_alike() -> None:
    """The Unicode Standard, 5.8: CR, LF, CRLF, LS and PS all end a line."""
    assert lines("a\r\nb\rc\u2028d\u2029e\n\tf") == "a\nb\nc\nd\ne\n\tf"


@given(st.text(st.characters(exclude_categories=("Cc", "Cs", "Cn")), max_size=30))
@settings(max_examples=60)
@example("Zoe\u0308 Dvor\u030ca\u0301k")
@example("e\u202a\u0301")
def test_what_is_kept_is_composed_and_stays_as_it_is(text: str) -> None:
    """UAX #15: NFC, and idempotent."""
    kept = lines(text)
    assert unicodedata.is_normalized("NFC", kept)
    assert lines(kept) == kept


@pytest.mark.parametrize(
    "blank", ["", "   ", "\u200b\u200b", "\u00a0\u2003", "\ufeff", "\u2060", "\u3164\u115f", "\u2800", "\u0301"]
)
def test_a_name_of_nothing_is_nothing(blank: str) -> None:
    assert seen(blank) == 0


@pytest.mark.parametrize(
    ("name", "count"), [("Ida", 3), ("奥", 1), ("a\u200b", 1), ("é", 1), ("👩‍👩‍👦", 3), ("O’Brien", 7)]
)
def test_what_can_be_seen_is_counted(name: str, count: int) -> None:
    assert seen(name) == count


def test_a_refused_text_comes_back_with_the_character_to_be_found() -> None:
    assert legible("two\x07 holes\nhere\ud800") == "two\ufffd holes\nhere\ufffd"


def test_a_name_is_typed_with_single_spaces() -> None:
    assert full_name("  Maren \n Okafor\t") == "Maren Okafor"


def test_the_texts_within_json_are_kept_alike() -> None:
    assert whole({"e\u0301": ["\u202eabc", 3, None, {"x": "a\r\nb"}]}) == {"é": ["abc", 3, None, {"x": "a\nb"}]}
    with pytest.raises(NotText):
        whole([{"a": "\x01"}])


@pytest.mark.parametrize("address", [
    "maren@example.org", " maren.okafor+house@mail.example.org ", "o'brien@example.com", "m@xn--bcher-kva.example.org",
    "a" * 64 + "@example.org",
])  # fmt: skip
def test_an_address_that_servers_take_is_kept(address: str) -> None:
    assert email(address) == address.strip()


@pytest.mark.parametrize(("address", "why"), [
    ("maren", "has an @"), ("", "has an @"), ("maren example.org", "has an @"),
    ("maren okafor@example.org", "no spaces"), ("maren@ example.org", "no spaces"),
    ("a@example.org, b@example.org", "one e-mail address alone"), ("a@example.org;b@example.org", "address alone"),
    ("a@example.org b@example.org", "address alone"), ("Maren <maren@example.org>", "address alone"),
    ("maren@example.org\r\nBcc: x@example.com", "one line"), ("maren@example.org\n", "one line"),
    ("maren@example.org\x00", "U\\+0000"), ("maren@bücher.example.org", "plain letters"), ("zoë@example.org", "plain"),
    ("a" * 65 + "@example.org", "too long"), ("a@" + "b." * 130 + "org", "too long"),
    ("maren@localhost", "whole"), ("@example.org", "whole"), ("maren@", "whole"), (".m@example.org", "whole"),
    ("m..o@example.org", "whole"), ("m@-example.org", "whole"), ("m@example..org", "whole"),
    ('"m o"@example.org', "spaces"),
    ("m@[192.0.2.1]", "whole"), ("m@" + "b" * 64 + ".org", "whole"),
])  # fmt: skip
def test_what_is_no_single_address_is_refused_in_a_sentence(address: str, why: str) -> None:
    """RFC 5321, 4.1.2 and 4.5.3.1; names of hosts: RFC 1123, 2.1."""
    with pytest.raises(NotText, match=why):
        email(address)
