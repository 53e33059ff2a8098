"""What a line does for whoever may not do it: they tell the manager who runs the house."""

from collections.abc import Iterable
from functools import cached_property

from portal.acts.actor import MANAGER, MAY
from portal.pages.telling.phone_addresses import mail_address
from portal.store.reading.desk_lines import Listed
from portal.store.rows import staff_rows
from portal.store.tables import Staff
from portal.web.desk.today.line import Press


class WhoDoes:
    """`role`: of whoever reads the list."""

    def __init__(self, role: str) -> None:
        self.role = role

    def press(self, press: Press | None, house: Listed, words: str) -> Press | None:
        """The press, or for whoever may not do it a mail to whoever runs the house, with the words ready; None where
        nobody is known to. A press with a second look leads who may not do it where it can be read."""
        if press is None or not press.may or press.does or self.role in MAY[press.may]:
            return press
        runs = self._runs(house)
        way = mail_address(runs.email, house.name, words) if runs else ""
        return Press(f"Tell {runs.name.split()[0]}", way) if runs and way else None

    def _runs(self, house: Listed) -> Staff | None:
        """Who is named for it; where nobody is, the only manager that there is."""
        named = [one for one in self._managers if one.id == house.responsible]
        return _only(named or self._managers)

    @cached_property
    def _managers(self) -> list[Staff]:
        return [one for one in staff_rows.every_working() if one.role == MANAGER]


def _only(found: Iterable[Staff]) -> Staff | None:
    every = list(found)
    return every[0] if len(every) == 1 else None
