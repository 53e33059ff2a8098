"""What becomes of a proposal, and that whoever made it is told."""

import pytest

from portal.acts.actor import Actor
from portal.acts.decisions.proposals import ProposalSettled, propose_layout, settle_proposal
from portal.acts.refusals import FieldRefused, NotFound
from portal.notices.notice_kinds import KINDS
from portal.store.rows import proposal_rows
from portal.store.tables import Notice, Person
from tests.acts.kept import newest
from tests.drawn import UPPER, ask_pulls
from tests.house import NOW, House


def proposed(house: House) -> tuple[int, int]:
    """The decision, and what is proposed for it."""
    row = Person.create(project=house.project, name="Pia Lindqvist", role="designer", email="pia@example.org")
    pulls = ask_pulls(house).id
    designer = Actor("designer", row.id, row.name, house.project)
    return pulls, propose_layout(designer, house.project, pulls, placement={}, layout=UPPER, note="", now=NOW).id


def test_what_is_refused_is_told_with_its_reason_once(house: House) -> None:
    pulls, one = proposed(house)
    before = Notice.select().count()
    for _ in range(2):
        settle_proposal(house.manager, house.project, pulls, one, "refused", "It hides the grain", now=NOW)
    assert Notice.select().count() == before + 1
    notice = Notice.select().order_by(Notice.id.desc()).get()
    assert (notice.kind, notice.about["because"]) == ("proposal_settled", "It hides the grain")
    assert KINDS[notice.kind].told(notice.about, "UTC").endswith("is not taken up.")
    assert "because" not in newest(house.project)["body"], "why is the designer's to read"
    with pytest.raises(ProposalSettled):
        settle_proposal(house.manager, house.project, pulls, one, "taken", now=NOW)
    (found,) = proposal_rows.proposals_of(pulls)
    assert (found.outcome, found.because, found.settled_at) == ("refused", "It hides the grain", NOW)


def test_without_a_reason_or_of_another_question_nothing_is_refused(house: House) -> None:
    pulls, one = proposed(house)
    with pytest.raises(FieldRefused, match="Say why"):
        settle_proposal(house.manager, house.project, pulls, one, "refused", " . ", now=NOW)
    with pytest.raises(NotFound):
        settle_proposal(house.manager, house.project, house.decisions[1], one, "refused", "No", now=NOW)
