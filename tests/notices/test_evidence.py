"""Each letter carries the signed head of the record as it was then."""

from portal.acts.decisions.answers import approve
from portal.acts.keeping.receipts import signed_head
from portal.record.log.heads import Signer
from portal.record.papers.head_line import heads_in_letter
from tests.house import NOW, House
from tests.notices.office import KEY, PostOffice


def test_a_letter_carries_the_head_of_the_record(house: House, office: PostOffice) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="b", name="Maren Okafor", now=NOW)
    head = signed_head(house.project, Signer(KEY))
    mails = office.send()
    assert mails and head is not None
    for mail in mails:
        assert heads_in_letter(mail.data) == heads_in_letter(mail.text.encode()) == [head]
        assert "prove how long the record of Okafor house was" in " ".join(mail.text.split())
        assert max(map(len, mail.text.splitlines())) <= 78 or "http" in mail.text


def test_where_there_is_no_record_yet_there_are_no_such_words(house: House, office: PostOffice) -> None:
    mails = office.tick(30 * 60)
    assert mails and not any("record-head" in mail.text or "Keep this mail" in mail.text for mail in mails)
