"""Decisions at the desk: asked, seen, asked again, and questions answered."""

from pathlib import Path

from portal.acts.keeping.photos import keep_photo
from portal.store.rows import decision_rows, plan_rows
from portal.store.tables import Decision, Photo, QuestionBack
from tests.acts.keeping.pictures.drawn import flat, saved
from tests.house import House
from tests.web.signed_in import Desk

NEW = "/desk/projects/7/decisions/new"


def way(house: House, number: int, doing: str = "") -> str:
    return f"/desk/projects/7/decisions/{house.decisions[number]}/{doing}"


def test_a_decision_is_asked_with_its_options(manager: Desk, house: House) -> None:
    manager.open(NEW).send(
        question="Where does the towel bar go?", kind="general", room=str(house.rooms["bath"]), lead_days="3",
        holds=[str(house.phases["vanity"])], approvers=str(house.co_owner.id),
        options__0__title="Beside the vanity", options__0__effects="Within reach.", options__0__recommended="on",
        options__2__title="On the door", options__2__cost_cents="-1,030.50", options__2__days="0",
        options__2__cannot_be_undone="The door keeps its holes.",
    )  # fmt: skip
    assert "Decision 6 is asked." in manager.says
    assert "We recommend this." in manager.says
    assert "Takes $1,030.50 off the price." in manager.says
    decision = Decision.get(Decision.number == 6)
    assert (decision.lead_days, decision.approvers) == (3, str(house.co_owner.id))
    assert plan_rows.held_phases(decision.id) == [house.phases["vanity"]]
    options = decision_rows.revision(decision.id, 1).options
    assert [(one["key"], one["cost_cents"], one["days"]) for one in options] == [("a", None, None), ("b", -103050, 0)]


def test_a_finish_and_photos_that_were_sent_are_asked_and_asked_again(
    manager: Desk, house: House, tmp_path: Path
) -> None:
    photo = Photo.select().order_by(Photo.id).first()
    kept = keep_photo(tmp_path / "photos" / str(house.project), saved(flat(64, 48), "JPEG"), "grout.jpg")
    Photo.update(name=kept.name).where(Photo.id == photo.id).execute()
    manager.open(NEW).send(
        question="Which grout?", options__0__title="Warm gray", options__0__finish__maker="Harborstone",
        options__0__finish__color="Linen 12", options__0__finish__swatch="#CDC5B6", options__0__photos=[kept.name],
        options__1__title="Charcoal",
    )  # fmt: skip
    asked = Decision.get(Decision.number == 6)
    one, other = decision_rows.revision(asked.id, 1).options
    assert one["finish"] == {"maker": "Harborstone", "color": "Linen 12", "swatch": "#cdc5b6"}
    assert [(shown["name"], shown["sha256"]) for shown in one["photos"]] == [(kept.name, kept.sha256)]
    assert not {"finish", "photos"} & set(other)
    assert "Harborstone, Linen 12" in manager.says
    manager.open(f"/desk/projects/7/decisions/{asked.id}/again").send(question="Which grout, then?")
    assert decision_rows.revision(asked.id, 2).options[0] == one


def test_a_swatch_that_is_no_color_is_marked_where_it_was_typed(manager: Desk) -> None:
    manager.open(NEW).send(status=422, question="Which?", options__0__title="One", options__0__finish__color="Linen",
                           options__0__finish__swatch="beige")  # fmt: skip
    assert "#d9d2c3" in manager.wrong("options.0.finish.swatch")


def test_what_is_wrong_with_an_option_is_marked_at_that_option(manager: Desk) -> None:
    manager.open(NEW).send(
        status=422, question="Which?", options__1__title="One", options__1__cost_cents="much",
        options__3__effects="No title", options__3__days="1.5",
    )  # fmt: skip
    assert manager.wrong("options.1.cost_cents") == "Give dollars, such as 640 or 48,600.50."
    assert manager.wrong("options.3.title") == "Please fill this in."
    assert manager.wrong("options.3.days") == "Give a whole number."
    assert manager.typed()["options.1.cost_cents"] == "much"
    assert manager.typed()["question"] == "Which?"


def test_a_decision_without_options_or_with_two_recommended_is_refused(manager: Desk) -> None:
    manager.open(NEW).send(status=422, question="Which?")
    assert manager.wrong("options.0.title") == "Give at least one option a title."
    manager.send(status=422, options__0__title="One", options__0__recommended="on", options__1__title="Two",
                 options__1__recommended="on")  # fmt: skip
    assert "At most one option can be recommended." in manager.says
    assert manager.typed()["options.1.title"] == "Two"
    assert Decision.select().where(Decision.project == 7).count() == 5


def test_the_desk_shows_a_decision_as_the_household_reads_it(office: Desk, house: House) -> None:
    office.open(way(house, 3))
    assert "In the middle of each drawer" in office.says
    assert "Maren Okafor" in office.says
    assert "Check code" in office.says
    assert not {"again", "change"} & office.ways


def test_asking_again_keeps_what_a_form_does_not_know(manager: Desk, house: House) -> None:
    manager.open(way(house, 1, "again"))
    assert manager.typed()["options.1.cost_cents"] == "45"
    manager.send(options__1__title="Two holes: faucet and dispenser", reason="The dispenser is a larger one")
    assert "Revision 2" in manager.says
    old, new = (decision_rows.revision(house.decisions[1], number).options for number in (1, 2))
    assert new[1] == old[1] | {"title": "Two holes: faucet and dispenser"}
    assert new[0] == old[0]


def test_an_option_taken_away_and_a_new_one_have_keys_of_their_own(manager: Desk, house: House) -> None:
    manager.open(way(house, 2, "again"))
    blank = {name: "" for name in manager.typed() if name.startswith("options.0.") and not name.endswith("key")}
    manager.post(manager.typed() | blank | {"options.2.title": "Ivory", "picked": ""})
    assert [one["key"] for one in decision_rows.revision(house.decisions[2], 2).options] == ["b", "c"]


def test_asking_the_same_again_is_refused(manager: Desk, house: House) -> None:
    manager.open(way(house, 1, "again")).send(status=422, reason="Just so")
    assert "Nothing has changed" in manager.wrong("question")
    assert manager.typed()["reason"] == "Just so"


def test_an_old_tab_does_not_ask_over_a_newer_question(manager: Desk, house: House) -> None:
    manager.open(way(house, 1, "again"))
    old = manager.typed() | {"question": "Older?"}
    manager.send(question="Newer?")
    manager.path = way(house, 1, "again")
    manager.post(old, 412)
    assert "changed by someone else" in manager.says
    assert decision_rows.revision(house.decisions[1], 2).question == "Newer?"


def test_what_waits_for_it_can_be_changed_without_asking_again(manager: Desk, house: House) -> None:
    manager.open(way(house, 5, "change"))
    assert manager.typed()["asked_for"] == "2026-12-11"
    manager.send(lead_days="4", holds=[str(house.phases["shelves"])], approvers="all", asked_for="")
    decision = Decision.get_by_id(house.decisions[5])
    assert (decision.lead_days, decision.approvers, decision.asked_for, decision.revision) == (4, "all", None, 1)
    assert plan_rows.held_phases(decision.id) == [house.phases["shelves"]]


def test_the_office_answers_what_was_asked_back_once(office: Desk, house: House) -> None:
    question = QuestionBack.get(QuestionBack.decision == house.decisions[4])
    office.open("/desk/projects/7/")
    answer = f"decisions/{house.decisions[4]}/questions/{question.id}/answer"
    assert answer in office.ways
    office.open(answer)
    assert "Can the ceiling stay as it is?" in office.says
    office.send(status=422, answer=" ")
    office.send(answer="Yes. We only paint the walls.")
    assert "the decision is theirs again" in office.says
    assert Decision.get_by_id(house.decisions[4]).state == "asked"
    office.open(f"/desk/projects/7/{answer}").send(status=409, answer="No.")
    assert "answered already, by Lou Ferris" in office.says
    assert office.typed()["answer"] == "No."


def test_a_question_of_another_decision_is_not_here(manager: Desk, house: House) -> None:
    question = QuestionBack.get(QuestionBack.decision == house.decisions[4])
    manager.open(way(house, 1, f"questions/{question.id}/answer"), 404)
