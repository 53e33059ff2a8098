"""Photos of an earlier version, which lie in the site alone, are brought home once; nothing is lost on the way."""

import threading
from pathlib import Path

import pytest

from portal.acts.keeping import moved_photos
from portal.acts.keeping.moved_photos import bring_home
from portal.pages.publishing.photo_copies import PhotoCopies

NAMES = ["a" * 20, "b" * 20]
FILES = {f"{project}/{name}-{size}.jpg": f"{project} {name} {size}".encode()
         for project in (7, 12) for name in NAMES for size in ("large", "small")}  # fmt: skip


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """As version 0.3.0 left it, with a mark of a photo that nothing names, and things that are none of ours."""
    pages = tmp_path / "site" / "pages"
    for file, data in FILES.items():
        project, name = file.split("/")
        path = pages / project / "photos" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    (pages / "7" / "photos" / f".{NAMES[0]}.unnamed").touch()
    (pages / "7" / "photos" / "x.123.part").touch()
    (pages / "8").mkdir()
    (pages / "not-a-project" / "photos").mkdir(parents=True)
    return tmp_path / "site"


def originals(site: Path) -> dict[str, bytes]:
    photos = site.with_name("photos")
    return {str(path.relative_to(photos)): path.read_bytes() for path in photos.rglob("*.jpg")}


def test_every_photo_is_brought_home_and_the_site_keeps_its_own(site: Path) -> None:
    bring_home(site.with_name("photos"), site / "pages")
    assert originals(site) == FILES
    for file, data in FILES.items():
        project, name = file.split("/")
        assert (site / "pages" / project / "photos" / name).read_bytes() == data
    left = {path.name for path in (site / "pages" / "7" / "photos").iterdir() if path.suffix != ".jpg"}
    assert left == {"x.123.part"}
    assert site.with_name("photos").stat().st_mode & 0o077 == 0


def test_what_the_site_has_is_known_for_copies(site: Path) -> None:
    """Publishing writes none of them again."""
    bring_home(site.with_name("photos"), site / "pages")
    before = {path: path.stat().st_ino for path in (site / "pages").rglob("*.jpg")}
    PhotoCopies(site).have(7, NAMES)
    PhotoCopies(site).have(12, NAMES)
    assert {path: path.stat().st_ino for path in (site / "pages").rglob("*.jpg")} == before


@pytest.mark.parametrize("after", range(9))
def test_interrupted_anywhere_it_is_whole_when_it_is_run_again(
    site: Path, monkeypatch: pytest.MonkeyPatch, after: int
) -> None:
    """The power goes while a file is copied: half of it lies there as a part."""
    really, copied = moved_photos.shutil.copyfile, []

    def copy(source: Path, into: Path) -> None:
        copied.append(source)
        if len(copied) > after:
            into.write_bytes(source.read_bytes()[:5])
            raise OSError(28, "No space left on device", str(into))
        really(source, into)

    monkeypatch.setattr(moved_photos.shutil, "copyfile", copy)
    if after < len(FILES):
        with pytest.raises(OSError, match="No space left"):
            bring_home(site.with_name("photos"), site / "pages")
        assert all(FILES[file] == data for file, data in originals(site).items())
    monkeypatch.undo()
    bring_home(site.with_name("photos"), site / "pages")
    assert originals(site) == FILES


def test_it_is_done_once(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A photo that was dropped later must not come back from a copy that was left."""
    bring_home(site.with_name("photos"), site / "pages")
    gone = site.with_name("photos") / "7" / f"{NAMES[0]}-large.jpg"
    gone.unlink()
    bring_home(site.with_name("photos"), site / "pages")
    assert not gone.exists()


def test_the_service_and_the_tick_may_start_at_once(site: Path) -> None:
    both = [threading.Thread(target=bring_home, args=(site.with_name("photos"), site / "pages")) for _ in range(4)]
    for one in both:
        one.start()
    for one in both:
        one.join()
    assert originals(site) == FILES and not list(site.with_name("photos").rglob("*.part"))


def test_where_nothing_was_published_nothing_is_made(tmp_path: Path) -> None:
    bring_home(tmp_path / "photos", tmp_path / "site" / "pages")
    assert list(tmp_path.iterdir()) == []
