"""What a notice says is what is true when it goes out: what was answered, moved back or replaced is no news."""


from portal.acts.decisions.answers import approve, enter_paper_approval
from portal.acts.decisions.asking import answer_question, ask_again
from portal.acts.decisions.asking_back import ask_back
from portal.acts.household.consent import go_back_to_paper
from portal.acts.visiting.visits import cancel_visit
from portal.record.checking.verification import verify_receipt
from portal.store import tables
from tests.drawn import BECAUSE, ask_tight
from tests.house import NOW, House
from tests.notices.mail_server import Mail
from tests.notices.office import BASE, PostOffice, ask, move, states

MAREN, JONAS = "maren@example.org", "jonas@example.org"
DAY = 24 * 3600


def test_whoever_went_back_to_paper_is_not_asked_by_mail_but_told_of_visits(house: House, office: PostOffice) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    office.tick()
    go_back_to_paper(house.homeowner, house.project, now=NOW)
    ask(house)
    move(house, "sink", 9)
    subjects = [mail.message["Subject"] for mail in office.tick() if mail.to == [MAREN]]
    assert subjects == ["Okafor house: a visit is moved to Wed Dec 9"]
    assert len(office.box.to(JONAS)) == 3


# What is no longer true is not sent.

def test_a_decision_that_was_answered_meanwhile_is_not_asked(house: House, office: PostOffice) -> None:
    decision = ask(house)
    approve(house.homeowner, house.project, decision.id, revision=1, option="a", name="Maren Okafor", now=NOW)
    assert [mail.message["Subject"] for mail in office.tick()] == [
        "Okafor house, question 6: Maren chose “In”", "Okafor house, question 6: your approval is kept"
    ]
    assert states() == [("asked", "dropped"), ("asked", "dropped"), ("receipt", "sent"), ("other_owner", "sent")]


def test_the_other_owner_is_still_asked_when_both_must_approve(house: House, office: PostOffice) -> None:
    decision = ask(house, approvers="all")
    approve(house.homeowner, house.project, decision.id, revision=1, option="a", name="Maren Okafor", now=NOW)
    asked = [mail.to for mail in office.tick() if "approval is kept" not in mail.message["Subject"]]
    assert asked == [[JONAS], [JONAS]]


def test_the_other_owner_is_still_asked_when_one_asked_back(house: House, office: PostOffice) -> None:
    decision = ask(house)
    ask_back(house.homeowner, house.project, decision.id, revision=1, text="Which door?", now=NOW)
    assert [mail.to for mail in office.tick()] == [[MAREN], [JONAS], [JONAS]]


def test_an_older_revision_is_not_asked_any_more(house: House, office: PostOffice) -> None:
    decision = ask(house)
    ask_again(house.manager, house.project, decision.id, {"question": "In or out?"}, NOW)
    assert ["has changed" in mail.message["Subject"] for mail in office.tick()] == [True, True]


def test_a_visit_that_was_moved_twice_is_told_once_with_what_they_knew(house: House, office: PostOffice) -> None:
    move(house, "top", 8)
    move(house, "top", 9, seen=2)
    office.tick()
    (mail,) = office.box.to(MAREN)
    assert "Now: Wed Dec 9, 9:00 am to 2:00 pm. Stone crew: Set the stone top" in mail.text
    assert "It was booked for Thu Dec 3, 9:00 am to 2:00 pm." in mail.text


def test_each_is_told_from_what_they_knew(house: House, office: PostOffice) -> None:
    tables.Person.update(email="").where(tables.Person.id == house.co_owner.id).execute()
    move(house, "top", 8)
    office.tick()
    tables.Person.update(email=JONAS).where(tables.Person.id == house.co_owner.id).execute()
    move(house, "top", 9, seen=2)
    office.tick()
    assert "It was booked for Tue Dec 8, 9:00 am" in office.box.to(MAREN)[-1].text
    assert "It was booked for Thu Dec 3, 9:00 am" in office.box.to(JONAS)[-1].text


def test_a_visit_that_was_moved_there_and_back_is_no_news(house: House, office: PostOffice) -> None:
    move(house, "top", 8)
    move(house, "top", 3, seen=2)
    assert office.tick() == []


def test_a_visit_that_was_moved_and_then_cancelled_is_only_cancelled(house: House, office: PostOffice) -> None:
    move(house, "top", 8)
    cancel_visit(house.office, house.project, house.visits["top"], 2, because="The slab has a crack", now=NOW)
    office.tick()
    (mail,) = office.box.to(MAREN)
    assert mail.message["Subject"] == "Okafor house: the visit on Tue Dec 8 is cancelled"
    assert "Why: The slab has a crack." in mail.text


def test_a_visit_that_is_over_is_no_news(house: House, office: PostOffice) -> None:
    move(house, "top", 4)
    cancel_visit(house.office, house.project, house.visits["drill"], 1, because="", now=NOW)
    assert [one for one in office.tick(later=3 * DAY) if "visit" in one.message["Subject"]] == []


def test_an_answer_to_a_question_says_both(house: House, office: PostOffice) -> None:
    question = tables.QuestionBack.get()
    answer_question(house.manager, house.project, house.decisions[4], question.id, answer="Yes, it can.", now=NOW)
    (mail,) = office.tick()
    words = " ".join(mail.text.split())
    assert mail.to == [JONAS]
    assert "“Can the ceiling stay as it is?” Dana Whitcombe answered on Wed Dec 2: “Yes, it can.”" in words
    assert f"{office.link('co_owner')}decisions/4/" in words


# The receipt.

def test_the_receipt_in_the_mail_verifies_byte_for_byte(house: House, office: PostOffice) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="b", name="Maren Okafor", now=NOW)
    mail = next(one for one in office.tick() if one.to == [MAREN])
    (attached,) = mail.message.iter_attachments()
    data = attached.get_content()
    assert attached.get_filename() == "receipt-2.json" and attached.get_content_type() == "application/json"
    assert data == office.sender.receipt(house.project, 2)
    verdict = verify_receipt(data)
    assert verdict.ok, verdict
    for place in range(0, len(data), 97):
        assert not verify_receipt(data[:place] + bytes([data[place] ^ 1]) + data[place + 1:]).ok, place
    words = " ".join(mail.text.split())
    assert "you approved “Two holes: the faucet and the soap dispenser” for question 1, as Maren Okafor" in words
    assert "Adds $45 to the price." in words and f"{BASE}/guide/check-the-record/" in words


def test_a_receipt_is_sent_even_if_the_question_has_changed_since(house: House, office: PostOffice) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="b", name="Maren Okafor", now=NOW)
    ask_again(house.manager, house.project, house.decisions[1], {"question": "How many?"}, NOW)
    receipt = next(mail for mail in office.tick() if "is kept" in mail.message["Subject"])
    assert "Two holes" in receipt.text and "How many?" not in receipt.text


def test_a_signature_on_paper_is_told_to_whoever_signed(house: House, office: PostOffice) -> None:
    enter_paper_approval(house.office, house.project, house.decisions[1], revision=1, option="a",
                         person=house.co_owner.id, name="Jonas Okafor", now=NOW)  # fmt: skip
    mail = next(one for one in office.tick() if one.to == [JONAS])
    assert "If you did not sign that, call us at once." in mail.text


def read(mails: list[Mail]) -> str:
    return " ".join(" ".join(mail.text for mail in mails).replace("\u00a0", " ").split())


def test_a_letter_that_asks_says_which_choice_breaks_a_rule_and_so_does_the_proof(
    house: House, office: PostOffice
) -> None:
    decision = ask_tight(house)
    said = "“Two holes” breaks a rule: hole to hole, faucet and soap dispenser"
    asked = read(office.tick())
    assert said in asked and f"Dana Whitcombe offers it all the same, and writes: “{BECAUSE}”" in asked
    assert "We recommend" not in asked
    approve(house.homeowner, house.project, decision.id, revision=1, option="b", name="Maren Okafor", now=NOW)
    assert said in read(office.tick())
