"""How well plans and forecasts fitted, at the desk."""

from portal.store.engine.database import write
from portal.store.tables import Forecast, Phase
from tests.house import House, at
from tests.web.signed_in import Desk

DAY = 24 * 3600


def _says(desk: Desk) -> str:
    return desk.open("/desk/plans/").says


def test_finished_phases_say_how_far_their_times_were_off(office: Desk, house: House) -> None:
    """The inspection: an hour planned, an hour taken. The rough work: 20 hours planned; from Wed 8:00 to Fri noon, with
    8 and a half hours a day, 21."""
    says = _says(office)
    assert "Inspection of the rough work Finished once; took as long as planned" in says
    assert "Rough plumbing and wiring Finished once; took as long as planned; 1 of 1 within" in says


def test_the_furthest_off_comes_first_with_hours_that_would_have_fitted(office: Desk, house: House) -> None:
    with write():
        Phase.update(work_low=120, work_likely=240, work_high=300).where(Phase.id == house.phases["out"]).execute()
    says = _says(office)
    assert "Take out the old kitchen Finished once; took 4.2 times as long as planned; 0 of 1 within" in says
    assert says.index("Take out the old kitchen") < says.index("Rough plumbing and wiring")
    assert "Would have fitted: 8.5 / 17 / 21.25 crew hours." in says


def test_rests_are_no_work(office: Desk, house: House) -> None:
    with write():
        Phase.update(rested=10 * 60).where(Phase.id == house.phases["rough"]).execute()
    assert "Rough plumbing and wiring Finished once; took 0.55 times as long as planned" in _says(office)


def test_phases_of_a_plan_are_counted_together_under_its_name(office: Desk, house: House) -> None:
    with write():
        Phase.update(starter="bath.tile").where(Phase.id.in_([house.phases["out"], house.phases["rough"]])).execute()
    says = _says(office)
    assert "Finished 2 times" in says and "A bath" in says


def test_kept_forecasts_are_held_to_account(office: Desk, house: House) -> None:
    """The rough work was finished on Nov 20 at noon: two days after "likely by", a day before "safely by"."""
    end = at("2026-11-20T12:00")
    with write():
        Forecast.create(
            project=house.project, state="", made_at=end - 8 * DAY, futures=1, likely_by=end, safely_by=end,
            phases=[[house.phases["rough"], end - 2 * DAY, end + DAY, 1.0]],
        )
    assert (
        "Of 1 phase foreseen a week ahead, 1 was finished by the day that holds in 80 of 100 cases, 0 by "
        "the one that holds in 50. That day was off by 2.0 days, rather too early." in _says(office)
    )


def test_while_nothing_can_be_compared_it_says_so(office: Desk, house: House) -> None:
    says = _says(office)
    assert "Of phases nothing is finished yet that was foreseen a week ahead." in says
    assert "Of whole projects nothing is finished yet that was foreseen a week ahead." in says


def test_all_projects_lead_to_it(office: Desk, house: House) -> None:
    assert "/desk/plans/" in office.open("/desk/").ways
