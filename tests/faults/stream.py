"""A project in which approvals never end: decisions are approved and, once approved, asked again, changed.

Each step is one act. What step comes next follows from the database alone, so a writer that was killed is followed by
another that knows nothing of it.
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from portal.acts.actor import Actor
from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_again, ask_decision
from portal.acts.keeping.own_keys import check_keys
from portal.acts.keeping.verifying import verify_project
from portal.pages.publishing.publish import Publisher
from portal.record.log.heads import Signer
from portal.settings import Settings
from portal.store.engine.database import execute, open_database
from portal.store.rows import record_rows
from portal.store.tables import Decision, Project
from tests.demo_house import settings_at
from tests.house import NOW, SECRET, make_house

DECISIONS = 8
OPTIONS = [{"title": "One hole", "key": "a"}, {"title": "Two holes", "key": "b"}]

Step = tuple[str, int, int]  # what was done, the decision's number, its revision


@dataclass(frozen=True)
class Stream:
    folder: Path
    manager: Actor
    homeowner: Actor
    link: str
    project: int

    @property
    def settings(self) -> Settings:
        return settings_at(self.folder)

    def open(self) -> None:
        open_database(self.settings.database)

    def steps(self) -> Iterator[Step]:
        """Do one act after the other, for ever; each is yielded once it has been acknowledged."""
        for turn in count():
            decision = self.decision(turn % DECISIONS + 1)
            yield self.approve(decision) if decision.state == "asked" else self.ask_again(decision)

    def decision(self, number: int) -> Decision:
        return Decision.get((Decision.project == self.project) & (Decision.number == number))

    def approve(self, decision: Decision) -> Step:
        answer = {"revision": decision.revision, "option": "a", "name": "Ida Sorensen"}
        approve(self.homeowner, self.project, decision.id, **answer, now=NOW)
        return "approved", decision.number, decision.revision

    def ask_again(self, decision: Decision) -> Step:
        question = {"question": f"How many holes? Asked {decision.revision + 1} times."}
        ask_again(self.manager, self.project, decision.id, question, NOW)
        return "revised", decision.number, decision.revision + 1

    def kept(self, after: int = 0) -> list[Step]:
        """The steps that the record holds after that many entries, in order."""
        entries = [json.loads(text) for _, _, text in record_rows.some(self.project, after, 100_000)]
        return [
            (entry["kind"], entry["body"]["decision"], entry["body"]["revision"])
            for entry in entries if entry["kind"] in ("approved", "revised")
        ]

    def check(self) -> None:
        """The record verifies, facts included, and the page is brought up to date."""
        verdict = verify_project(self.project, Signer(self.settings.record_key))
        assert verdict.ok, verdict
        publisher = Publisher(self.settings.site, self.settings.secret, background=False)
        publisher.tick(NOW)
        assert publisher.stale(NOW) == []
        assert self.page_is_whole()

    def check_counts(self) -> None:
        """No fact without its entry, no entry without its fact: counted, which is quick."""
        told = dict(execute("SELECT kind, COUNT(*) FROM record_entry GROUP BY kind").fetchall())
        for table, kinds in (("approval", ["approved"]), ("revision", ["asked", "revised"])):
            sql = f"SELECT COUNT(*) FROM {table} x JOIN decision d ON d.id = x.decision_id WHERE d.project_id = ?"
            assert execute(sql, self.project).fetchone()[0] == sum(told.get(kind, 0) for kind in kinds)

    def page_is_whole(self) -> bool:
        page = self.settings.site / "pages" / str(self.project) / "index.html"
        return not page.exists() or page.read_bytes().endswith(b"</html>")


def new_stream(folder: Path) -> Stream:
    """A new database at this folder: the project with its decisions asked, and its owner's consent given."""
    house = make_house(folder / "portal.db")
    (folder / "secret").write_text(SECRET.hex())
    project = house.other_project
    Project.update(contract_cents=None).where(Project.id == project).execute()
    stream = Stream(folder, house.manager, house.other_homeowner, house.links["other_homeowner"], project)
    check_keys(stream.settings)
    for _ in range(DECISIONS):
        ask_decision(stream.manager, project, {"question": "How many holes?", "options": OPTIONS}, NOW)
    stream.approve(stream.decision(1))
    return stream
