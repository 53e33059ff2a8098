"""Until when an approval can be taken back is one sentence, whoever reads it and wherever: no two of them differ."""

from collections.abc import Callable

import pytest

from portal.acts.plan.starting import start_phase
from portal.notices.letter import Reader
from portal.notices.notice_kinds import KINDS
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import notice_rows
from portal.store.tables import Consent
from tests.acts.kept import kinds
from tests.house import NOW, House
from tests.web.signed_in import Desk

Opened = Callable[[str], Desk]
UNTIL = (
    "The approval can be taken back until “Drill the holes in the stone top” starts "
    "(booked for Fri Dec 4)."
)
NO_MORE = "The approval can’t be taken back any more, since “Drill the holes in the stone top” has started."


def approve(opened: Opened) -> Desk:
    return opened("homeowner").open("decisions/1/").send("choose", option="b").send("approve", name="Maren Okafor")


def receipt_of(opened: Opened, who: str = "homeowner") -> Desk:
    reader = opened(who).open("record/")
    way = max((way for way in reader.ways if way.strip("/").isdecimal()), key=lambda way: int(way.strip("/")))
    return reader.open(way)


def test_the_second_look_the_copy_at_once_the_page_and_the_receipt_say_the_same(opened: Opened, house: House) -> None:
    Consent.create(person=house.homeowner.id, version="1", at=NOW)  # so that the newest entry is the approval
    reader = opened("homeowner").open("decisions/1/").send("choose", option="b")
    assert f"You can take this back {UNTIL.split('taken back ', 1)[1]}" in reader.says
    reader.send("approve", name="Maren Okafor")
    assert UNTIL in reader.says
    for who in ("homeowner", "co_owner"):
        page = opened(who).open("decisions/1/")
        assert UNTIL in page.says and ("withdraw" in page.ways) is (who == "homeowner")
        assert UNTIL in receipt_of(opened, who).says


def test_once_the_work_has_started_all_of_them_say_that(opened: Opened, house: House) -> None:
    approve(opened)
    start_phase(house.manager, house.project, house.phases["drill"], now=NOW)
    page = opened("homeowner").open("decisions/1/")
    assert NO_MORE in page.says and "withdraw" not in page.ways
    kept = kinds(house.project)
    said = {kind: NO_MORE in opened("homeowner").open(f"record/{at}/").says for at, kind in enumerate(kept, 1)}
    assert said == {"consent_given": False, "approved": True, "started": False}


@pytest.mark.parametrize("who", ["manager", "office"])
def test_the_desk_and_the_sheet_to_sign_say_the_same(
    opened: Opened, request: pytest.FixtureRequest, house: House, who: str
) -> None:
    desk: Desk = request.getfixturevalue(who)
    at = f"/desk/projects/{house.project}/decisions/{house.decisions[1]}/"
    assert UNTIL in desk.open(f"{at}paper/print").says
    approve(opened)
    assert UNTIL in desk.open(at).says


def test_whoever_enters_what_was_signed_reads_it_too(office: Desk, house: House) -> None:
    office.open(f"/desk/projects/{house.project}/decisions/{house.decisions[1]}/paper").send(
        option="b", person=str(house.homeowner.id), name="Maren Okafor", signed_on="2026-12-01"
    )
    assert f"If this was a slip, take it back here. {UNTIL}" in office.says


def test_the_letter_with_the_receipt_says_the_same(opened: Opened, house: House) -> None:
    approve(opened)
    (notice,) = [one for one in notice_rows.in_state("waiting", 9) if one.kind == "receipt"]
    reader = Reader(notice.person_id, notice.name, read_snapshot(house.project), NOW, "http://localhost/p/x/")
    way = f"/p/{house.links['homeowner']}/record/{notice.about['entry']}/receipt.json"
    file = opened("homeowner").client.get(way).data
    letter = KINDS["receipt"].letter(reader, notice.about, lambda entry: file)
    assert letter is not None and UNTIL in letter.paragraphs
