"""The sheet of a crew for a day, at the desk: to print, or as a link that ends with the day; and the link of the crew's
calendar."""

from datetime import date, timedelta

from flask import Response, request, url_for
from marshmallow import fields

from portal import clock
from portal.acts.actor import allow
from portal.acts.crews.crew_links import make_crew_link, revoke_crew_links
from portal.api.http.shapes import Strict
from portal.pages.telling.phone_addresses import mail_address, sms_address
from portal.request.crew_day import crew_day
from portal.request.services import services
from portal.store.rows.crews import crew_link_rows
from portal.store.rows.editable import in_firm
from portal.store.rows.project_rows import usual_timezone
from portal.store.tables import Crew
from portal.web.desk.ahead import Ahead, look_first
from portal.web.desk.blueprint import form_page, who
from portal.web.desk.forms import Values, handle
from portal.web.desk.showing import show
from portal.web.forms.inputs import Field, Form
from portal.words.dates import day_words, local

ONE = "/crews/<int:crew_id>"
_ENDS = "There is a link already. A new one takes its place, and the old one stops working."


class DayForm(Strict):
    day = fields.Date(required=True)


@form_page(f"{ONE}/day", "make_crew_link")
def crew_sheet(crew_id: int) -> Response:
    """`?on=`: the day, today unless named. Its one press makes the link of that day."""
    crew, now = in_firm(Crew, crew_id), clock.now()
    allow(who(), "erase_crew_note")  # it says how to get in
    today = local(now, usual_timezone() or "UTC").date()
    day = _day(request.args.get("on", "")) or today
    made: list[str] = []

    def do(values: Values) -> str:
        if any(one.day == values["day"] for one in crew_link_rows.live(crew_id, clock.now())):
            look_first([Ahead(_ENDS)])
        made.append(make_crew_link(who(), crew_id, day=values["day"], secret=_secret(), now=clock.now()))
        return f"The link for {day_words(values['day'])} is made."

    form = Form(f"{crew.name}, {day_words(day)}", [Field("day", "", "hidden")], DayForm(), "Make the link of this day",
                template="crew_day_desk.html")
    answer = handle(
        form, do, "", {"day": day.isoformat()}, repeatable=True, crew=crew,
        found=crew_day(crew_id, crew.name, day, now), day=day, is_over=day < today,
        beside=[day - timedelta(1), day + timedelta(1)],
        links=_live(crew_id, now),
    )  # fmt: skip
    return _made(crew, made[0], day) if made else answer


@form_page(f"{ONE}/calendar", "make_crew_link")
def crew_feed(crew_id: int) -> Response:
    crew = in_firm(Crew, crew_id)
    made: list[str] = []

    def do(values: Values) -> str:
        made.append(make_crew_link(who(), crew_id, day=None, secret=_secret(), now=clock.now()))
        return "The link is made."

    has_one = any(one.day is None for one in crew_link_rows.live(crew_id, clock.now()))
    once = _ENDS if has_one else ""
    form = Form(f"A calendar for {crew.name}", [], Strict(), "Make the link",
                intro=f"Their calendar then shows their visits at all our houses, with addresses, and follows each "
                f"change. It holds nothing of keys and pets. {once}")
    answer = handle(form, do, "", repeatable=True)
    return _made(crew, made[0], None) if made else answer


@form_page(f"{ONE}/revoke", "revoke_crew_links")
def stop_crew_links(crew_id: int) -> Response:
    crew = in_firm(Crew, crew_id)

    def do(values: Values) -> str:
        revoke_crew_links(who(), crew_id, now=clock.now())
        return f"No link of {crew.name} opens anything any longer."

    form = Form(f"Revoke the links of {crew.name}", [], Strict(), "Revoke them",
                intro="Their sheets and their calendar open nothing any longer, at once.")
    return handle(form, do, url_for("desk.crews"))


def _made(crew: Crew, link: str, day: date | None) -> Response:
    """The link is shown in the answer to the form, and nowhere else: it is kept nowhere that could show it again."""
    address = f"{services().settings.base_url}/c/{link}/{'' if day else 'visits.ics'}"
    words = f"Your sheet for {day_words(day)}: {address}" if day else f"Your visits, for your calendar: {address}"
    mail = mail_address(crew.email, crew.name, words)
    text = sms_address(crew.phone, words)
    return show("crew_link.html", crew=crew, day=day and day_words(day), address=address, text=text, mail=mail)


def _live(crew_id: int, now: int) -> list[str]:
    found = crew_link_rows.live(crew_id, now)
    return ["the calendar" if one.day is None else day_words(one.day) for one in found]


def _secret() -> bytes:
    return services().settings.secret


def _day(text: str) -> date | None:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return None
    return day if 1971 < day.year < 9000 else None
