"""`python -m tests.record.every_byte`: changes every byte of a real copy of the demo's second house, and of one that
version 0.3.0 handed out, and prints each change that the check does not find. That takes some minutes."""

import sys
import tempfile
import zlib
from collections.abc import Iterable
from pathlib import Path

from tqdm import tqdm

from portal.copying import own_copy
from portal.record.checking.returned_files import verify_file
from portal.record.checking.zip_reading import read_zip
from tests.demo_house import demo_house
from tests.house import NOW

_FORMER = Path(__file__).parent / "former" / "copy-of-form-1.zip"


def unnoticed(data: bytes, places: Iterable[int]) -> list[int]:
    """The places whose byte can be another without a fault."""
    return [place for place in places if verify_file(_flipped(data, place)).ok]


def _flipped(data: bytes, place: int) -> bytes:
    return data[:place] + bytes([data[place] ^ (1 << place % 8)]) + data[place + 1:]


def _all_of(name: str, data: bytes) -> list[int]:
    return unnoticed(data, tqdm(range(len(data)), desc=name, unit=" bytes", disable=None))


def _means_nothing(data: bytes, place: int) -> bool:
    """In a copy of form 1: whether the change unpacks to the very same files. Only compression allows for that."""
    return read_zip(_flipped(data, place)).hashes == read_zip(data).hashes


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        new = own_copy(2, demo_house(Path(folder) / "demo").settings, NOW)
    old = _FORMER.read_bytes()
    found = [f"a copy of today: byte {place}" for place in _all_of("today", new)]
    same = _all_of("form 1", old)
    found += [f"a copy of form 1: byte {place}" for place in same if not _means_nothing(old, place)]
    print(f"{len(new)} bytes of a copy of today and {len(old)} of one of form 1 were changed, one by one.")
    print(f"Not found, and of another meaning: {len(found)}. In form 1, not found and of the very same meaning: "
          f"{len(same)} (compressed by zlib {zlib.ZLIB_RUNTIME_VERSION}).")
    print("\n".join(found))
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
