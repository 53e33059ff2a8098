"""Writers that are killed in the middle of their work, one after the other.

`python -m tests.faults.kennel FOLDER KILLS` forks a writer, lets it approve and publish, sends SIGKILL at a random
moment, and checks what is left; a process of its own, because it forks. Prints one line of JSON.
"""

import json
import os
import random
import signal
import sys
import time
from pathlib import Path

from portal.pages.publishing.publish import Publisher
from portal.store.engine.database import close_database, listen, stop_listening
from portal.store.rows import record_rows
from tests.faults.stream import Step, Stream, new_stream

LONGEST = 0.005  # seconds that a writer lives on after what it was waited for: an act or two, or part of a page
WHOLE_CHECK_EVERY = 25


def main(folder: Path, kills: int) -> None:
    stream = new_stream(folder)
    done, unacknowledged, size = 0, 0, record_rows.count(stream.project)
    for number in range(1, kills + 1):
        close_database()
        told = _killed(stream)
        stream.open()
        kept = stream.kept(after=size)
        assert kept[:len(told)] == told, f"kill {number}: acknowledged {told}, kept {kept}"
        assert len(kept) <= len(told) + 1, f"kill {number}: {kept} were kept, {told} acknowledged"
        stream.check_counts()
        assert stream.page_is_whole()
        done, unacknowledged = done + len(told), unacknowledged + len(kept) - len(told)
        size = record_rows.count(stream.project)
        if number % WHOLE_CHECK_EVERY == 0 or number == kills:
            stream.check()
            assert len(set(stream.kept())) == len(stream.kept()), "a step was kept twice"
    print(json.dumps({"kills": kills, "acknowledged": done, "kept_unacknowledged": unacknowledged, "entries": size}))


def _killed(stream: Stream) -> list[Step]:
    """Fork a writer, kill it, and return what it had acknowledged."""
    reading, writing = os.pipe()
    writer = os.fork()
    if writer == 0:
        os.close(reading)
        _write(stream, writing)
    os.close(writing)
    with os.fdopen(reading) as lines:
        told = [lines.readline() for _ in range(random.randint(0, 4))]
        time.sleep(random.uniform(0, LONGEST))
        os.kill(writer, signal.SIGKILL)
        told += lines.readlines()
    assert os.waitstatus_to_exitcode(os.waitpid(writer, 0)[1]) == -signal.SIGKILL
    return [_step(line) for line in told]


def _write(stream: Stream, acknowledged: int) -> None:
    """The writer: acts for ever, publishes beside it, and says each act that has returned."""
    stop_listening()
    stream.open()
    publisher = Publisher(stream.settings.site, stream.settings.secret)
    listen(publisher.soon)
    for kind, decision, revision in stream.steps():
        os.write(acknowledged, f"{kind} {decision} {revision}\n".encode())


def _step(line: str) -> Step:
    kind, decision, revision = line.split()
    return kind, int(decision), int(revision)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
