"""Canonical JSON against RFC 8785 and its author's test data, and against a second library.

Sources: github.com/cyberphone/json-canonicalization, testdata/input and the SHA-256 of testdata/output; RFC 8785,
3.2.2 to 3.2.4 and appendix B (the doubles from memory, confirmed by the libraries rfc8785 and jcs).
"""

import hashlib
import json
import struct

import jcs
import pytest
import rfc8785
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.record.log.canonical import canonical
from portal.record.log.unrecordable import IntegerTooLarge, NumberNotFinite

FRENCH = (
    '{"peach": "This sorting order", "p\u00e9ch\u00e9": "is wrong according to French", '
    '"p\u00eache": "but canonicalization MUST", "sin": "ignore locale"}'
)
STRUCTURES = (
    r'{"1": {"f": {"f": "hi","F": 5} ,"\n": 56.0}, "10": { }, "": "empty", "a": { }, '
    r'"111": [ {"e": "yes","E": "no"} ], "A": { }}'
)
VALUES = (
    r'{"numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001], '
    r'"string": "\u20ac$\u000F\u000aA\u0027\u0042\u0022\u005c\\\"\/", "literals": [null, true, false]}'
)
WEIRD = (
    r'{"\u20ac": "Euro Sign", "\r": "Carriage Return", "\u000a": "Newline", "1": "One", '
    r'"\u0080": "Control\u007f", "\ud83d\ude02": "Smiley", "\u00f6": "Latin Small Letter O With Diaeresis", '
    r'"\ufb33": "Hebrew Letter Dalet With Dagesh", "</script>": "Browser Challenge"}'
)
FILES = [
    ("arrays", '[56, {"d": true, "10": null, "1": [ ]}]', 32,
     "099601b171cafed97c333f8878d68e7f8c8f795412adb34b2fdcf0e7c7beac42"),
    ("french", FRENCH, 130, "d99d0ebdcb0033cb858cfa830ae46bc0fb3309413b271f1da828c89901a27ed5"),
    ("structures", STRUCTURES, 98, "605f65004ec2db7692522a0852c22f1c989e036d547e88963d1a3143cf3195d5"),
    ("unicode", r'{"Unnormalized Unicode":"A\u030a"}', 30,
     "0d99aad92a125196ff887876643fd3206786a84ddce2cee52ba4ad256d2381d3"),
    ("values", VALUES, 118, "2d5e01a318d0f0879ab568c4be289c8b1f64ef8921a53c6277d5e069978baacb"),
    ("weird", WEIRD, 214, "6af595a9aa80110b964b4de3f82a05fa6ae7423005019bacfa2620dddc4e94d1"),
]
DOUBLES = [
    ("8000000000000000", "0"), ("0000000000000001", "5e-324"), ("8000000000000001", "-5e-324"),
    ("7fefffffffffffff", "1.7976931348623157e+308"), ("4340000000000000", "9007199254740992"),
    ("c340000000000000", "-9007199254740992"), ("4430000000000000", "295147905179352830000"),
    ("44b52d02c7e14af5", "9.999999999999997e+22"), ("44b52d02c7e14af6", "1e+23"),
    ("44b52d02c7e14af7", "1.0000000000000001e+23"), ("444b1ae4d6e2ef4e", "999999999999999700000"),
    ("444b1ae4d6e2ef50", "1e+21"), ("3eb0c6f7a0b5ed8c", "9.999999999999997e-7"), ("3eb0c6f7a0b5ed8d", "0.000001"),
    ("41b3de4355555555", "333333333.3333333"), ("41b3de4355555557", "333333333.33333343"),
    ("becbf647612f3696", "-0.0000033333333333333333"), ("43143ff3c1cb0959", "1424953923781206.2"),
]
INLINE = [
    ('[56,{"d":true,"10":null,"1":[]}]', '[56,{"1":[],"10":null,"d":true}]'),
    (r'{"1":{"f":{"f":"hi","F":5},"\n":56.0},"10":{},"":"empty","a":{},"111":[{"e":"yes","E":"no"}],"A":{}}',
     r'{"":"empty","1":{"\n":56,"f":{"F":5,"f":"hi"}},"10":{},"111":[{"E":"no","e":"yes"}],"A":{},"a":{}}'),
    ("[333333333.33333329,1E30,4.50,2e-3,1e-27]", "[333333333.3333333,1e+30,4.5,0.002,1e-27]"),
    (r'"A\u030a"', '"A\u030a"'),
]
SAFE = st.integers(-(2**53) + 1, 2**53 - 1)
ANY = st.recursive(
    st.none() | st.booleans() | SAFE | st.text() | st.floats(allow_nan=False, allow_infinity=False),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4), max_leaves=20,
)


@pytest.mark.parametrize(("name", "text", "length", "sha256"), FILES, ids=[name for name, *_ in FILES])
def test_the_authors_files_come_out_byte_for_byte(name: str, text: str, length: int, sha256: str) -> None:
    made = canonical(json.loads(text))
    assert (len(made), hashlib.sha256(made).hexdigest()) == (length, sha256)


@pytest.mark.parametrize(("given_text", "wanted"), INLINE)
def test_the_small_cases_come_out_as_published(given_text: str, wanted: str) -> None:
    assert canonical(json.loads(given_text)) == wanted.encode()


@pytest.mark.parametrize(("bits", "text"), DOUBLES)
def test_doubles_are_written_as_in_appendix_b(bits: str, text: str) -> None:
    number = struct.unpack(">d", bytes.fromhex(bits))[0]
    assert canonical(number) == text.encode()


@pytest.mark.parametrize("number", [float("nan"), float("inf"), float("-inf")])
def test_what_is_no_number_is_refused(number: float) -> None:
    with pytest.raises(NumberNotFinite):
        canonical([number])


def test_the_whole_number_on_which_two_libraries_differ_is_refused() -> None:
    assert jcs.canonicalize(2**53 + 1) == b"9007199254740992"
    with pytest.raises(rfc8785.IntegerDomainError):
        rfc8785.dumps(2**53 + 1)
    with pytest.raises(IntegerTooLarge, match=r"^size\.1: 9007199254740993 is beyond 9007199254740991"):
        canonical({"size": [1, 2**53 + 1]})
    assert canonical([2**53 - 1, 1 - 2**53]) == b"[9007199254740991,-9007199254740991]"


@settings(max_examples=120)
@given(ANY)
def test_any_value_is_written_as_a_second_library_writes_it(value: object) -> None:
    assert canonical(value) == jcs.canonicalize(value)


@pytest.mark.parametrize("code_point", [*range(0x80), 0x7F, 0x80, 0x2028, 0xD7FF, 0xE000, 0xFEFF, 0xFFFF, 0x10000])
def test_each_awkward_character_is_written_as_a_second_library_writes_it(code_point: int) -> None:
    value = {"text": [chr(code_point)], chr(code_point): 1}
    assert canonical(value["text"]) == jcs.canonicalize(value["text"])
    assert canonical(value) == jcs.canonicalize(value)


def test_keys_beyond_the_basic_plane_sort_by_utf_16_units() -> None:
    """RFC 8785, 3.2.3: U+1F602 is D83D DE02 in UTF-16 and so comes before U+FB33."""
    assert canonical({"\ufb33": 1, "\U0001f602": 2}) == '{"\U0001f602":2,"\ufb33":1}'.encode()
