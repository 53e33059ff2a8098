"""The receipt as a sheet to keep: the title block, and in words how anyone can check it. The same entry under the same
head is the same sheet."""

from typing import Any

from portal.drawings.sheets.block_sheet import BlockSheet
from portal.pages.evidence.entry_words import entry_when
from portal.pages.evidence.receipt_words import kept_of
from portal.pages.title_block import house_row
from portal.record.log.heads import key_name
from portal.record.papers.receipt import Receipt
from portal.store.facts import Snapshot
from portal.words.plurals import counted


def receipt_sheet(snapshot: Snapshot, receipt: Receipt, taken_back: dict[str, Any] | None) -> BlockSheet:
    """Lay out the sheet. `taken_back`: the entry that took this approval back."""
    entry, signed, zone = receipt.entry, receipt.signed, snapshot.project.timezone
    kept = kept_of(snapshot, entry, taken_back=taken_back is not None)
    firm, sequence, entries = snapshot.firm, entry["sequence"], counted(signed.head.size, "entry", "entries")
    signed_on = entry_when({"at": signed.head.at}, zone)
    return BlockSheet(
        title=f"Receipt: entry {sequence} of the record", stamp=kept.stamp,
        fields=[house_row(snapshot.project, whole=True), *kept.rows[1:]],
        first=[_back(taken_back, zone)] if taken_back else [],
        sentences=[
            f"On {signed_on} the record of {snapshot.project.name} had {entries}, and we signed it.",
            f"The file receipt-{sequence}.json proves it: keep it beside this sheet.",
            "The page “Check a receipt” reads that file, and needs nobody. Your own copy has that page, too.",
            f"Our key is called {key_name(signed.public_key)}. It must be the name in your contract papers.",
            ", ".join(filter(None, (firm.name, firm.address, firm.phone))),
        ],
    )


def _back(taken_back: dict[str, Any], zone: str) -> str:
    who, when = taken_back["actor"]["name"], entry_when(taken_back, zone)
    return f"This no longer counts: {who} took it back on {when} (entry {taken_back['sequence']})."
