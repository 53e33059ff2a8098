"""A process that approves: `python -m tests.postgresql.approving URL PERSON`. Begins at a line on its
standard input; prints how many of the project's decisions it approved."""

import sys

from portal.acts.actor import Actor
from portal.acts.decisions.answers import approve
from portal.acts.refusals import Refused
from portal.store.engine.database import open_database
from portal.store.tables import Decision, Person
from tests.house import NOW


def main(url: str, person: str) -> None:
    open_database(url)
    row = Person.get_by_id(int(person))
    actor = Actor("homeowner", row.id, row.name, row.project_id)
    decisions = list(Decision.select().where(Decision.project == row.project_id).order_by(Decision.id))
    print("ready", flush=True)
    sys.stdin.readline()
    done = 0
    for decision in decisions:
        try:
            values = {"revision": decision.revision, "option": "a", "name": row.name, "now": NOW}
            done += approve(actor, row.project_id, decision.id, **values)[1]
        except Refused as refusal:
            print(refusal, file=sys.stderr)
    print(done)


if __name__ == "__main__":
    main(*sys.argv[1:])
