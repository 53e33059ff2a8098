"""The real server killed under a stream of approvals over HTTP: `python -m tests.faults.served_kills FOLDER KILLS`.

Prints one line of JSON: how many kills, how many approvals were acknowledged, how many were kept without that.
"""

import json
import random
import sys
import threading
import time
from pathlib import Path

from portal.acts.decisions.asking import ask_again
from portal.store.engine.database import close_database
from portal.store.rows import record_rows
from tests.faults.server import Server
from tests.faults.stream import DECISIONS, Step, Stream, new_stream
from tests.house import NOW

LONGEST = 0.1  # seconds of approvals before the kill


def main(folder: Path, kills: int) -> None:
    stream = new_stream(folder)
    server, acknowledged, unacknowledged = Server(folder), 0, 0
    for number in range(kills):
        _ask_all_again(stream)
        size = record_rows.count(stream.project)
        close_database()
        told = _killed(server, stream)
        stream.open()
        kept = stream.kept(after=size)
        assert kept[:len(told)] == told, f"kill {number}: acknowledged {told}, kept {kept}"
        assert len(kept) <= len(told) + 1, f"kill {number}: {kept} were kept, {told} acknowledged"
        stream.check_counts()
        acknowledged, unacknowledged = acknowledged + len(told), unacknowledged + len(kept) - len(told)
    _check_after_restart(server, stream)
    print(json.dumps({"kills": kills, "acknowledged": acknowledged, "kept_unacknowledged": unacknowledged}))


def _ask_all_again(stream: Stream) -> None:
    for number in range(1, DECISIONS + 1):
        decision = stream.decision(number)
        again = {"question": f"How many holes? Asked {decision.revision + 1} times."}
        ask_again(stream.manager, stream.project, decision.id, again, NOW)


def _killed(server: Server, stream: Stream) -> list[Step]:
    """Start the server, approve over HTTP, kill it; what was answered with 201."""
    todo = [stream.decision(number) for number in range(1, DECISIONS + 1)]
    close_database()
    server.start()
    told: list[Step] = []

    def approve_all() -> None:
        for decision in todo:
            path = f"projects/{stream.project}/decisions/{decision.id}/approvals"
            values = {"revision": decision.revision, "option": "a", "name": "Ida Sorensen"}
            try:
                status, _, _ = server.post(path, stream.link, values)
            except OSError:
                return
            assert status == 201, status
            told.append(("approved", decision.number, decision.revision))

    household = threading.Thread(target=approve_all)
    household.start()
    time.sleep(random.uniform(0, LONGEST))
    server.kill()
    household.join(60)
    return told


def _check_after_restart(server: Server, stream: Stream) -> None:
    """The server itself brings the page up to date when it starts."""
    close_database()
    server.start()
    status, page = server.get(f"/p/{stream.link}/")
    server.kill()
    stream.open()
    stream.check()
    assert status == 200
    cards = page.decode().split('<div class="one">')
    for number in range(1, DECISIONS + 1):
        if stream.decision(number).state == "approved":
            (card,) = [one for one in cards if f">See question {number}<" in one]
            assert "<b>One hole</b>" in card and "Ida Sorensen" in card


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
