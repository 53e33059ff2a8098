"""Sections 7 and 8: what was approved, what that makes of the contract, and the updates."""

from portal.store import tables
from tests.house import NOW, House, at
from tests.pages.reading import page_of, words_of


def _approved(house: House) -> str:
    return page_of(house).fold("Approved:")


def _price(house: House, now: int = NOW) -> str:
    return next(one for one in map(words_of, page_of(house, now).root.iter("details")) if "contract" in one)


def _approve(house: House, number: int, option: str) -> None:
    decision = house.decisions[number]
    tables.Decision.update(state="approved").where(tables.Decision.id == decision).execute()
    tables.Approval.create(
        decision=decision, revision=1, option=option, person=house.co_owner.id, name="Jonas Okafor", at=NOW
    )


def test_it_names_option_person_time_and_check_code(house: House) -> None:
    code = tables.Revision.get(tables.Revision.decision == house.decisions[3]).check_code
    short = f"{code[:4]}-{code[4:8]}-{code[8:12]}"
    assert (
        "In the middle of each drawer : How high do the pulls of the vanity sit? Maren Okafor on Tue Nov 24, 7:42 pm. "
        f"Code {short} ." in _approved(house).replace("\u00a0", " ")
    )


def test_the_latest_approval_comes_first(house: House) -> None:
    _approve(house, 1, "b")
    text = _approved(house)
    assert text.index("Two holes") < text.index("In the middle")


def test_all_who_approved_are_named(house: House) -> None:
    _approve(house, 3, "a")
    assert "Maren Okafor on Tue Nov 24, 7:42 pm and Jonas Okafor on Wed Dec 2, 7:30 am" in _approved(house)


def test_only_approved_changes_count_towards_the_contract(house: House) -> None:
    assert "The contract as signed on Mon Oct 19: $48,600. Nothing approved so far changes it." in _price(house)
    _approve(house, 1, "b")
    assert "The approved changes add $45, which makes $48,645." in _price(house)
    _approve(house, 4, "a")
    assert "The approved changes add $15, which makes $48,615." in _price(house)


def test_changes_may_take_off_the_price(house: House) -> None:
    _approve(house, 4, "a")
    assert "The approved changes take off $30, which makes $48,570." in _price(house)


def test_without_a_contract_amount_none_is_shown(house: House) -> None:
    tables.Project.update(contract_cents=None).execute()
    assert "$" not in page_of(house).text


def test_days_in_which_the_contract_can_be_cancelled_are_shown_while_they_last(house: House) -> None:
    """16 CFR 429.1: until midnight of the third business day; Sat Oct 24 counts, Sunday does not."""
    tables.Project.update(signed_on="2026-10-22").execute()
    text = _price(house, at("2026-10-26T12:00"))
    assert "you can cancel it until the end of Mon Oct 26" in text
    assert "cancel" not in page_of(house, at("2026-10-27T00:00")).text


def test_it_leads_to_the_record(house: House) -> None:
    assert "record/" in page_of(house).links()


def test_updates_come_newest_first_and_with_who_wrote_them(house: House) -> None:
    text = page_of(house).fold("News")
    assert text.startswith("News: 4 Tue Dec 1, 4:45 pm, from Dana Whitcombe The first three base cabinets stand")
    assert text.index("The bath floor is tiled") < text.index("The old kitchen is out")


def test_an_update_by_someone_who_left_has_no_name(house: House) -> None:
    tables.Update.update(staff=None).execute()
    assert "from" not in page_of(house).fold("News").split("The old kitchen")[0].split("4:45 pm")[1][:10]


def test_photos_have_words_for_those_who_do_not_see_them(house: House) -> None:
    images = list(page_of(house).root.iter("img"))
    assert [image.get("alt") for image in images] == [
        "The first three", "The first three", "The floor from the door", "The corner at the tub",
        "Photo 1 of the update of Tue Nov 17, 4:40 pm",
    ]
    assert {(image.get("width"), image.get("height"), image.get("loading")) for image in images[1:]} == {
        ("640", "480", "lazy")
    }
    assert images[0].get("loading") is None  # it is seen at once


def test_days_that_were_approved_are_added_up(house: House) -> None:
    tables.Decision.update(state="approved").where(tables.Decision.id == house.decisions[2]).execute()
    tables.Approval.create(
        decision=house.decisions[2], revision=1, option="b", person=house.homeowner.id, name="Maren Okafor", at=NOW
    )
    text = _price(house)
    assert "which makes $48,622" in text and "In time they add 1 working day." in text
