"""The letters of an accepted hand-over: to whoever accepted it, with its receipt, to the others, to our managers."""

from datetime import date

from portal.acts.household.handovers import accept_handover, offer_handover
from portal.record.checking.verification import verify_receipt
from tests.house import NOW, House
from tests.notices.office import PostOffice


def test_both_sides_read_that_it_is_accepted_and_what_is_ours_to_finish(house: House, office: PostOffice) -> None:
    handover = offer_handover(
        house.manager, house.project, phase=house.phases["floor"], note="", items=[{"item": "A loose tile"}], now=NOW,
        items_until=date(2026, 12, 9),
    )  # fmt: skip
    accept_handover(house.homeowner, house.project, handover.id, name="Maren Okafor", seen=1, now=NOW)
    mails = {mail.to[0]: mail for mail in office.send() if "accepted" in mail.message["subject"]}
    assert set(mails) == {"maren@example.org", "jonas@example.org", "dana@brackwater.example.com"}
    for mail in mails.values():
        said = " ".join(mail.text.split())
        assert "Ours to finish: - A loose tile." in said
    hers = " ".join(mails["maren@example.org"].text.split())
    assert "You accepted what we handed over, as Maren Okafor." in hers
    assert "You can add to the list until Wed Dec 9." in hers and "Accept or not" in hers
    (file,) = mails["maren@example.org"].message.iter_attachments()
    assert verify_receipt(file.get_content()).ok
    assert "“Lay the floor tile” was accepted by Maren Okafor on Wed Dec 2, 7:30 am." in " ".join(
        mails["jonas@example.org"].text.split())
