"""Whom no mail reaches and who must be told: one line a person, with all that they must be told as one message.
Where no mail is sent to anybody, a house has one line."""

from collections.abc import Callable, Mapping, Sequence

from portal.notices.reach import NONE_IS_SENT, needs_a_call
from portal.planning.day_list import Due
from portal.store.facts import FirmFact
from portal.store.reading import desk_lines
from portal.store.reading.desk_lines import Listed
from portal.store.rows import notice_rows
from portal.store.rows.notice_rows import FAILED, WAITING, Notice
from portal.web.desk.people.mail import no_mail
from portal.web.desk.people.notices import MOST, still_true
from portal.web.desk.people.telling import Telling
from portal.web.desk.today.line import Line, Press, Reached, reached
from portal.words.dates import local
from portal.words.lists import listed
from portal.words.plurals import counted

Calls = Sequence[tuple[Notice, str]]
"""What a person must be told, the newest first, each with why no mail does."""
LINK = "link"

_LOOKED_AT = 40
"""Houses whose notices are looked at again, whether they are still true: so many are read; the notices' page looks at
all."""


def notice_lines(
    houses: Mapping[int, Listed], is_shown: Callable[[Listed], bool], firm: FirmFact, now: int
) -> list[Line]:
    """The newest first. `houses`: the open ones that are shown; of others, such as one that is closed, those that
    `is_shown`: what ended with a house must still be told."""
    can_send = not no_mail()
    found = [one for state in (*FAILED, WAITING) for one in notice_rows.in_state(state, MOST)]
    calls = [(one, why) for one in found if (why := needs_a_call(one, can_send))]
    others = sorted({one.project_id for one, _ in calls} - set(houses))
    whole = {**houses, **{one.id: one for one in desk_lines.those(others, now) if one.closed and is_shown(one)}}
    calls = [(one, why) for one, why in calls if one.project_id in whole]
    telling = Telling([one for one, _ in calls], whole, now)
    calls = [(one, why) for one, why in calls if not telling.is_ours(one)]
    near = list(dict.fromkeys(one.project_id for one, _ in calls))[:_LOOKED_AT]
    true = {one.id for one in still_true([one for one, _ in calls if one.project_id in near])}
    people: dict[int, list[tuple[Notice, str]]] = {}
    for one, why in calls:
        if one.id in true or one.project_id not in near:
            people.setdefault(one.person_id, []).append((one, why))
    groups: dict[tuple[int, int], list[Calls]] = {}
    for person, its in people.items():
        groups.setdefault((its[0][0].project_id, 0 if _is_the_firms(its) else person), []).append(its)
    return [_line(whole[house], group, telling, firm) for (house, _), group in groups.items()]


def _is_the_firms(its: Calls) -> bool:
    """Tell whether the cause is the same for everybody, and all of it can be told: no mail is sent from here."""
    return all(why == NONE_IS_SENT and one.kind != LINK for one, why in its)


def _line(house: Listed, group: Sequence[Calls], telling: Telling, firm: FirmFact) -> Line:
    """Of one person, or of all of a house."""
    (one, why), today = group[0][0], local(telling.now, house.timezone).date()
    people = tuple(_reached(house, its, telling, firm) for its in group)
    told = [notice.id for its in group for notice, _ in its if notice.kind != LINK]  # a link is not told, it is given
    says = list(dict.fromkeys(text for its in group for text in _says(its, telling))) or [telling.words(one)]
    if _is_the_firms(group[0]):
        why = f"No mail is sent from here{_all_of(people[0], says)}"
        what = f" {counted(len(says), 'thing')}" if len(says) > 1 else f": {says[0]}"
    else:
        why, what = f"{one.name} {why}.{f' And {len(says) - 1} more.' if len(says) > 1 else ''}", f": {says[0]}"
    press = people[0].best if people[0].best.href else Press("Open", "/desk/notices/")
    if not told:
        press = Press("New link", f"/desk/projects/{house.id}/people/{one.person_id}/link", may="make_link")
    whose = "notices" if len(group) > 1 else f"people/{one.person_id}"
    return Line(
        house.id, house.name, house.address, "", f"Tell {listed([_first(person.name) for person in people])}{what}",
        why, press, Due(), today, people, f"/desk/projects/{house.id}/{whose}/told" if told else "",
        {"notice": told, "then": "today"}, f"notices:{one.person_id}",
    )


def _all_of(person: Reached, says: Sequence[str]) -> str:
    """Where what is told stands, when the heading has no room for it."""
    if len(says) == 1:
        return "."
    return "; the text has all of it." if person.by_text.href else f". The newest: {says[0]}"


def _says(its: Calls, telling: Telling) -> list[str]:
    return list(telling.message([notice for notice, _ in its]))


def _reached(house: Listed, its: Calls, telling: Telling, firm: FirmFact) -> Reached:
    one, signed = its[0][0], f"{firm.name}{', ' + firm.phone if firm.phone else ''}"
    return reached(one.name, one.phone, one.email, house.name, f"{' '.join(_says(its, telling))} {signed}")


def _first(name: str) -> str:
    return name.split()[0]
