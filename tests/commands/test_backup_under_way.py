"""`portal backup` in a process of its own, as the timer starts it: while people approve and photos come in, on a disk
that fills up, and killed in the middle of it."""

import os
import resource
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from functools import partial
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from portal.acts.household.updates import post_update
from portal.acts.keeping.photos import keep_photo
from portal.backup.workroom import PREFIX
from portal.store.engine.database import close_database, execute
from portal.store.tables import Photo
from portal.words.prose import prose
from tests.commands.conftest import Type
from tests.commands.typing_in import tree
from tests.demo_house import DemoHouse
from tests.faults.server import Server
from tests.faults.stream import Stream, new_stream
from tests.house import NOW

BACKUPS = 3
POSTED = """SELECT p.name FROM photo p JOIN "update" u ON u.id = p.update_id WHERE u.text LIKE 'Photo %'"""


def typed(data: Path, *arguments: object, largest: int | None = None) -> subprocess.Popen[str]:
    """The command under way. `largest`: no file that it writes can grow over so many bytes, as on a full disk."""
    limit = partial(resource.setrlimit, resource.RLIMIT_FSIZE, (largest, largest)) if largest is not None else None
    return subprocess.Popen(
        [sys.executable, "-m", "portal.cli", *map(str, arguments)], env=os.environ | {"PORTAL_DATA": str(data)},
        preexec_fn=limit, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip


@pytest.fixture
def stream(tmp_path: Path) -> Iterator[Stream]:
    begun = new_stream(tmp_path / "old")
    Photo.delete().execute()  # those of the invented house were never on a disk
    yield begun
    close_database()


def post_photo(stream: Stream, number: int) -> None:
    """An update with a photo that nobody has seen before."""
    picture = BytesIO()
    Image.new("RGB", (32, 32), (number % 256, number // 256, 90)).save(picture, "PNG")
    folder = stream.settings.photos_of(stream.project)
    photo = keep_photo(folder, picture.getvalue(), "sink.png")
    post_update(stream.manager, stream.project, text=prose(f"Photo {number}"), photos=[photo], now=NOW)


def test_under_a_stream_of_approvals_every_backup_is_of_one_moment(
    stream: Stream, tmp_path: Path, type_in: Type
) -> None:
    """All that was acknowledged before it began is in it, no row names a photo that it lacks, and its record holds."""
    steps, saved, posted = stream.steps(), [], 1
    post_photo(stream, posted)
    for number in range(BACKUPS):
        path, before = tmp_path / f"{number}.zip", len(stream.kept())
        under_way = typed(stream.folder, "backup", path)
        while under_way.poll() is None:
            next(steps)
            post_photo(stream, posted := posted + 1)
        _, err = under_way.communicate()
        assert under_way.returncode == 0 and f"pages/{stream.project}/" not in err  # the other house's are none on disk
        saved.append((path, before, len(stream.kept())))
    everything = stream.kept()
    for number, (path, before, after) in enumerate(saved):
        said = type_in(tmp_path / f"new{number}", "restore", path)
        assert f"project {stream.project} " not in said.err  # the other house's facts were laid down without a record
        copy = Stream(tmp_path / f"new{number}", stream.manager, stream.homeowner, stream.link, stream.project)
        copy.open()
        kept = copy.kept()
        assert kept == everything[: len(kept)] and before <= len(kept) <= after and before < after
        copy.check()
        copy.check_counts()
        photos = copy.settings.photos_of(stream.project)
        named = [name for (name,) in execute(POSTED).fetchall()]
        assert named and all((photos / f"{name}-{size}.jpg").is_file() for name in named for size in ("large", "small"))


def test_a_service_that_runs_keeps_its_database(stream: Stream, tmp_path: Path, type_in: Type) -> None:
    """It would go on writing into the one that was moved aside."""
    close_database()
    assert type_in(stream.folder, "backup", tmp_path / "backup.zip").status == 0
    server = Server(stream.folder, workers=2).start()
    try:
        said = type_in(stream.folder, "restore", tmp_path / "backup.zip", "--move-old-aside")
        assert said.status == 1 and "is in use. Stop the service and the timers" in said.err
        assert server.get(f"/p/{stream.link}/")[0] == 200
    finally:
        server.kill()
    for _ in range(100):  # its workers are killed with it, and gone a moment later
        said = type_in(stream.folder, "restore", tmp_path / "backup.zip", "--move-old-aside")
        if "is in use" not in said.err:
            break
        time.sleep(0.05)
    assert "What was there before lies in" in said.out


@pytest.mark.parametrize("largest", [0, 100_000, 700_000])
def test_a_full_disk_is_said_and_the_earlier_backup_stays_whole(
    old: DemoHouse, tmp_path: Path, type_in: Type, largest: int
) -> None:
    """Full at once, while the database is copied, while the backup is packed."""
    folder = tmp_path / "backups"
    folder.mkdir()
    assert type_in(old.folder, "backup", folder / "backup.zip").status == 0
    (old.folder / "papers.pdf").write_bytes(os.urandom(900_000))
    before = tree(folder)
    under_way = typed(old.folder, "backup", folder / "backup.zip", largest=largest)
    _, err = under_way.communicate()
    assert under_way.returncode == 1
    assert err.startswith("No backup was made: ") and "Earlier backups are as they were." in err and len(err) < 400
    assert tree(folder) == before


@pytest.mark.parametrize("largest", [0, 100_000, 700_000])
def test_a_disk_that_is_full_while_restoring_is_said_and_nothing_is_left(
    old: DemoHouse, tmp_path: Path, type_in: Type, largest: int
) -> None:
    (old.folder / "papers.pdf").write_bytes(os.urandom(900_000))
    assert type_in(old.folder, "backup", tmp_path / "backup.zip").status == 0
    under_way = typed(tmp_path / "new", "restore", tmp_path / "backup.zip", largest=largest)
    _, err = under_way.communicate()
    assert under_way.returncode == 1 and err.startswith("Nothing was restored, and all is as it was: ")
    assert not (tmp_path / "new").exists()


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGKILL])
def test_ended_in_the_middle_it_leaves_no_half_backup(
    old: DemoHouse, tmp_path: Path, type_in: Type, how: signal.Signals
) -> None:
    """systemd ends what takes too long by SIGTERM; a power loss asks nobody, and is cleared up after a day."""
    (old.folder / "papers.pdf").write_bytes(os.urandom(40_000_000))
    folder = tmp_path / "backups"
    folder.mkdir()
    under_way = typed(old.folder, "backup", folder / "backup.zip")
    while not list(folder.glob(f"{PREFIX}*/backup")):
        assert under_way.poll() is None
        time.sleep(0.002)
    under_way.send_signal(how)
    under_way.communicate()
    assert under_way.returncode in (130, -signal.SIGKILL)
    left = [path.name.startswith(PREFIX) for path in folder.iterdir()]
    assert left == ([] if how == signal.SIGTERM else [True])
    assert type_in(old.folder, "backup", folder / "backup.zip").status == 0


def test_what_a_killed_backup_left_is_cleared_away_after_a_day(
    old: DemoHouse, tmp_path: Path, type_in: Type
) -> None:
    yesterday, recent = tmp_path / f"{PREFIX}yesterday", tmp_path / f"{PREFIX}recent"
    for room, hours in ((yesterday, 25), (recent, 23)):
        room.mkdir()
        (room / "backup").write_bytes(b"half")
        os.utime(room, (NOW - hours * 3600,) * 2)
    assert type_in(old.folder, "backup", tmp_path / "backup.zip").status == 0
    assert not yesterday.exists() and recent.exists()
