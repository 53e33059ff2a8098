"""The list of files is one that `sha256sum` reads, and the first file that is not as it says is named."""

import hashlib
import subprocess
from pathlib import Path

import pytest

from portal.record.papers.file_list import check_list, check_list_signature, file_list
from portal.record.verdict import Fault
from tests.record.chains import SECOND_SIGNER, SIGNER

FILES = {"b.html": b"two", "a b/é.jpg": b"one", "record/files.sha256": b"", "record/files.signature": b"x" * 64}
HASHES = {path: hashlib.sha256(data).hexdigest() for path, data in FILES.items()}
LISTED = file_list(HASHES)


def fault(hashes: dict[str, str], listed: bytes = LISTED) -> str:
    with pytest.raises(Fault) as found:
        check_list(hashes, listed)
    return str(found.value)


def test_the_list_is_in_the_order_of_the_paths_and_leaves_itself_out() -> None:
    assert LISTED.decode() == f"{HASHES['a b/é.jpg']}  a b/é.jpg\n{HASHES['b.html']}  b.html\n"
    assert file_list({}) == b""
    check_list(HASHES, LISTED)
    check_list({path: code for path, code in HASHES.items() if not path.startswith("record/")}, LISTED)


def test_the_tool_that_everybody_has_reads_it(tmp_path: Path) -> None:
    for path in ("a b/é.jpg", "b.html"):
        (tmp_path / path).parent.mkdir(exist_ok=True)
        (tmp_path / path).write_bytes(FILES[path])
    (tmp_path / "list").write_bytes(LISTED)
    command = ["sha256sum", "--check", "--strict", "--quiet", "list"]
    assert subprocess.run(command, cwd=tmp_path, capture_output=True, check=False).returncode == 0
    (tmp_path / "b.html").write_bytes(b"three")
    assert subprocess.run(command, cwd=tmp_path, capture_output=True, check=False).returncode == 1


def test_the_first_file_that_is_not_as_listed_is_named() -> None:
    assert fault(HASHES | {"b.html": "0" * 64}) == (
        "b.html was changed: it no longer has the hash that the list of files says."
    )
    assert fault({path: code for path, code in HASHES.items() if path != "b.html"}) == "b.html is missing in the copy."
    assert fault(HASHES | {"z.html": "0" * 64, "c\n.html": "0" * 64}) == (
        "'c\\n.html' was added to the copy: it is not in the list of its files."
    )
    both = HASHES | {"b.html": "0" * 64, "a b/é.jpg": "0" * 64}
    assert fault(both).startswith("a b/é.jpg was changed")


@pytest.mark.parametrize("change", [
    lambda listed: listed + b"\n", lambda listed: listed[:-1], lambda listed: b"\n".join(listed.split(b"\n")[::-1]),
    lambda listed: listed + listed, lambda listed: listed.replace(b"  ", b" "), lambda listed: listed.upper(),
])
def test_a_list_that_is_written_otherwise_is_not_the_list(change: object) -> None:
    assert callable(change)
    assert fault(HASHES, change(LISTED))


def test_a_list_that_says_the_same_in_other_bytes_is_said_to_be_changed() -> None:
    assert fault(HASHES, LISTED + b"# a remark\n") == "the list of files was changed."
    assert fault(HASHES, b"\xff\n") == "the list of files can't be read: it was changed."


def test_the_signature_is_over_these_bytes_and_by_this_key() -> None:
    signature = bytes.fromhex(SIGNER.signature(LISTED))
    check_list_signature(LISTED, signature, SIGNER.public_key)
    for listed, signed, key in (
        (LISTED + b"\n", signature, SIGNER.public_key), (LISTED, signature[::-1], SIGNER.public_key),
        (LISTED, b"", SIGNER.public_key), (LISTED, signature, SECOND_SIGNER.public_key),
    ):  # fmt: skip
        with pytest.raises(Fault, match="^the list of files is not signed with the key of the record"):
            check_list_signature(listed, signed, key)
