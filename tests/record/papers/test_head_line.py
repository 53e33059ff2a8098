"""The line that a letter carries is read back however a mail program wrapped or quoted it, and no letter of it can be
another."""

import textwrap

import pytest
from hypothesis import given
from hypothesis import strategies as st

from portal.record.log.heads import Head
from portal.record.papers.head_line import head_line, heads_in_letter, heads_in_text
from tests.record.chains import SECOND_SIGNER, SIGNER, told

SIGNED = told().head()
LINE = head_line(SIGNED)
WRAPPED = textwrap.fill(LINE, 72)


def test_it_says_project_size_and_time_in_words_that_no_mail_program_breaks() -> None:
    assert LINE.startswith(f"record-head 1 {SIGNED.head.project} {SIGNED.head.size} {SIGNED.head.at} ")
    assert max(map(len, LINE.split(" "))) == 57 and len(LINE.split(" ")) == 8


@given(st.integers(0, 2**31 - 1), st.integers(0, 2**31 - 1), st.binary(min_size=32, max_size=32))
def test_it_is_read_back(project: int, size: int, root: bytes) -> None:
    signed = SIGNER.signed(Head(project, size, root.hex(), "2026-12-02T13:30:00.123456Z"))
    assert heads_in_text(head_line(signed)) == [signed] and signed.holds


@pytest.mark.parametrize("text", [
    WRAPPED, WRAPPED.replace("\n", "\r\n"), textwrap.indent(WRAPPED, "> > "), WRAPPED.replace("\n", ""),
    textwrap.fill(LINE, 30), f"“{LINE}”, it said.", f"*{LINE.replace(' ', '   ')}*",
])  # fmt: skip
def test_wrapped_quoted_and_pasted(text: str) -> None:
    assert heads_in_text(text) == heads_in_letter(text.encode()) == [SIGNED]


def test_several_in_one_text() -> None:
    other = told(9).head(signer=SECOND_SIGNER)
    assert heads_in_text(f"{LINE}\n\n{head_line(other)}") == [SIGNED, other]


def test_any_letter_changed_is_found() -> None:
    """As another head, whose signature does not hold; or it is none any more."""
    for place in range(len(LINE)):
        for put in ("0", "A", "_", " ", "é", ""):
            changed = LINE[:place] + put + LINE[place + 1:]
            if LINE[place] + put not in (" ", "  ") and changed != LINE:
                assert not any(found.holds for found in heads_in_text(changed)), (place, put)


@pytest.mark.parametrize("data", [
    b"", b"record-head", b"record-head 1 1 1 2026", b"\xff\xfe\0", LINE[:-1].encode(),
    LINE.replace("head 1", "head 2").encode(), b"Content-Type: multipart/mixed; boundary=x\n\n--x\n\nrecord",
    b"Content-Type: text/plain; charset=nonsense\n\nHello",
])  # fmt: skip
def test_what_holds_none(data: bytes) -> None:
    assert heads_in_letter(data) == []
