"""Ticks over the invented house, at a clock that the test sets."""

from dataclasses import dataclass, replace
from datetime import datetime

from portal.acts.decisions.asking import ask_decision
from portal.acts.keeping.receipts import head_words, receipt_for
from portal.acts.visiting.visits import change_visit
from portal.notices.post import WAITS, Waits
from portal.notices.reminders import remind
from portal.notices.sending import Sender, send_due
from portal.record.log.heads import Signer
from portal.store import tables
from tests.house import NOW, SECRET, House
from tests.notices.mail_server import Mail, Mailbox

BASE = "https://portal.example.org"
KEY = bytes(range(32, 64))


@dataclass
class PostOffice:
    house: House
    box: Mailbox
    now: int = NOW
    waits: Waits = WAITS

    @property
    def sender(self) -> Sender:
        signer = Signer(KEY)
        return Sender(
            BASE, SECRET, self.box.server, lambda project, entry: receipt_for(project, entry, signer).file,
            lambda: self.now, lambda project: head_words(project, signer), self.waits,
        )

    def tick(self, later: int = 0) -> list[Mail]:
        """Remind and send what is due `later` seconds on; the mails that arrived by it."""
        remind(self.now + later)
        return self.send(later)

    def send(self, later: int = 0) -> list[Mail]:
        """The same without new reminders."""
        self.now += later
        before = len(self.box.mails)
        send_due(self.sender)
        return self.box.mails[before:]

    def tick_without_mail(self) -> None:
        send_due(replace(self.sender, server=None))

    def link(self, who: str) -> str:
        return f"{BASE}/p/{self.house.links[who]}/"


def states() -> list[tuple[str, str]]:
    """Kind and state of each notice there is, oldest first."""
    return [(row.kind, row.state) for row in tables.Notice.select().order_by(tables.Notice.id)]


def ask(house: House, **values: object) -> tables.Decision:
    asked = {"question": "Which side does the door open to?", "options": [{"title": "In"}, {"title": "Out"}]}
    return ask_decision(house.manager, house.project, asked | values, NOW)


def move(house: House, phase: str, day: int, seen: int = 1) -> None:
    """Book the visit of `phase` onto another day of December 2026."""
    times = {"starts_at": datetime(2026, 12, day, 9), "ends_at": datetime(2026, 12, day, 14), "reason": "Rain"}
    change_visit(house.office, house.project, house.visits[phase], seen, times, NOW)
