"""The worked example of the guide page on checking the record. Its key is the one of RFC 8032, 7.1, TEST 1."""

from portal.record.log.heads import Signer
from portal.record.papers.export import export_file
from tests.record.chains import Record

SIGNER = Signer(bytes.fromhex("9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60"))
MANAGER = {"kind": "staff", "id": 1, "name": "Ines Lind", "role": "manager"}
OWNER = {"kind": "person", "id": 7, "name": "Maren Okafor", "role": "homeowner"}
CODE = "44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a"  # SHA-256 of `{}`, as a stand-in


def example() -> Record:
    """Three entries: asked, approved, started."""
    record = Record(1)
    record.add("2026-11-24T14:05:00Z", MANAGER, "asked", {"decision": 1, "revision": 1, "check_code": CODE})
    approved = {"decision": 1, "revision": 1, "option": "b", "check_code": CODE, "name": "Maren Okafor"}
    record.add("2026-11-25T19:12:44Z", OWNER, "approved", approved)
    record.add("2026-11-30T08:00:00Z", MANAGER, "started", {"phase": 4, "name": "Drill the top"})
    return record


def receipt_file() -> bytes:
    """The receipt of the approval."""
    return example().receipt(2, "2026-11-30T08:00:01Z", SIGNER).file


def record_file() -> bytes:
    record = example()
    return export_file(1, [entry.canonical for entry in record.entries], [record.head("2026-11-30T08:00:01Z", SIGNER)])
