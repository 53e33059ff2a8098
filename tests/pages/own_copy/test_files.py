"""All files of a copy lead to each other and nowhere else, are the same for the same state, and are all listed."""

import hashlib
import json
import posixpath
import re
import subprocess
import zipfile
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from portal.acts.household.updates import post_update
from portal.copying import own_copy
from portal.folders import CONTENT
from portal.pages.own_copy.files import zipped
from portal.pages.own_copy.offline import CHECKING
from portal.record.checking.copy_check import verify_copy
from portal.record.log.heads import Signer
from portal.record.papers.copy_paths import LIST, SIGNATURE
from portal.record.papers.file_list import check_list, file_list
from portal.record.verdict import Fault
from portal.store.rows import record_rows
from portal.words.prose import prose
from tests.demo_house import DemoHouse
from tests.house import NOW
from tests.pages.own_copy.lived_in import copy_of, lived_in, wording_of
from tests.web.plain import X, parsed, text_of


def test_every_link_and_picture_of_every_page_is_in_the_copy(demo: DemoHouse) -> None:
    lived_in(demo)
    files = copy_of(demo)
    pages = {path: parsed(data.decode()) for path, data in files.items() if path.endswith(".html")}
    assert len(pages) > 40
    reached = {"index.html", "contents.html"}
    for path, page in pages.items():
        ways = [a.get("href") or "" for a in page.iter(f"{X}a")] + [i.get("src") or "" for i in page.iter(f"{X}img")]
        for way in ways:
            parts = urlsplit(way)
            if parts.scheme in ("tel", "mailto") or way.startswith("#"):
                continue
            assert not parts.scheme and not way.startswith("/"), f"{path} leads out of the copy: {way}"
            target = posixpath.normpath(posixpath.join(posixpath.dirname(path), parts.path))
            assert target in files, f"{path} leads to {way}, which is not in the copy"
            reached.add(target)
        assert not list(page.iter(f"{X}form")) and (path == CHECKING) == bool(list(page.iter(f"{X}script")))
        assert len(list(page.iter(f"{X}h1"))) == 1
        assert path == CHECKING or "own copy, as of" in text_of(page)
    assert set(files) - reached == set()


def test_nothing_in_it_is_fetched_from_elsewhere(demo: DemoHouse) -> None:
    for path, data in copy_of(demo).items():
        if path.endswith(".html"):
            assert not re.search(rb'(src|action|url)\s*[=(]\s*"?https?:', data), path
            assert path == CHECKING or b"img-src file: data:" in data
            assert b"form-action &#39;none&#39;" in data
            assert b"/p/" not in data, f"{path} gives the private link away"


def test_the_same_state_gives_the_same_bytes_all_day_long(demo: DemoHouse) -> None:
    morning = own_copy(demo.project, demo.settings, NOW)
    assert own_copy(demo.project, demo.settings, NOW + 8 * 3600) == morning
    assert own_copy(demo.project, demo.settings, NOW + 24 * 3600) != morning
    post_update(demo.told.manager, demo.project, text=prose("The top is set."), now=NOW + 60)
    assert own_copy(demo.project, demo.settings, NOW + 120) != morning


def test_it_checks_itself_and_says_what_holds(demo: DemoHouse) -> None:
    verdict = verify_copy(own_copy(demo.project, demo.settings, NOW))
    assert verdict.ok, verdict
    assert f"Each of the {record_rows.count(demo.project)} receipts proves its entry." in verdict.sentences
    assert "What was shown in each of the 6 questions has the check code of the record." in verdict.sentences


@pytest.mark.parametrize(("path", "change", "found"), [
    ("decisions/1/shown-1.json", lambda data: data.replace(b"One hole", b"Two holes"), "is not what was shown"),
    ("decisions/1/shown-1.json", None, "what was shown as revision 1 of decision 1 is missing"),
    ("record/4/receipt.json", None, "the receipt of entry 4 is missing"),
    ("record/6/receipt.json", lambda data: data.replace(b"Dana", b"Dena"), "record/6/receipt.json: the proof"),
    ("record/record.json", lambda data: data.replace(b"Maren", b"Karen", 1), "another hash"),
    ("record/record.json", None, "record/record.json is missing"),
])
def test_a_copy_that_was_changed_is_found(demo: DemoHouse, path: str, change: object, found: str) -> None:
    files = copy_of(demo)
    data = files.pop(path)
    if callable(change):
        files[path] = change(data)
        assert files[path] != data
    verdict = verify_copy(zipped(files))
    assert not verdict.ok and found in str(verdict.first_fault), verdict


def test_the_words_that_were_shown_and_agreed_to_are_in_it_once_a_version(demo: DemoHouse) -> None:
    lived_in(demo)
    files = copy_of(demo)
    words = {path: data for path, data in files.items() if path.startswith("wording/") and path.endswith(".md")}
    assert all(path == f"wording/{hashlib.sha256(data).hexdigest()}.md" for path, data in words.items())
    kinds = {json.loads(data)["kind"] for path, data in files.items() if "/shown-" in path}
    assert len(words) == len(kinds) + 1, "guidance of each kind, and the words of consent"
    assert files[wording_of(files)] == (CONTENT / "decisions" / "deck.md").read_bytes()
    page = wording_of(files).replace(".md", ".html")
    assert f'href="../../{page}">What we wrote beside it' in files["decisions/1/index.html"].decode()
    said = f"Each of the {len(words)} versions of guidance and consent has the hash that it is named by."
    assert said in verify_copy(zipped(files)).sentences


def test_words_that_are_others_or_missing_in_a_copy_are_found(demo: DemoHouse) -> None:
    files = copy_of(demo)
    path = wording_of(files)
    found = verify_copy(zipped(files | {path: b"# Any number of holes is fine\n"})).first_fault
    assert found is not None and f"version {path[8:20]} were changed" in found
    del files[path]
    assert f"version {path[8:20]} are missing" in str(verify_copy(zipped(files)).first_fault)


def test_the_photo_of_what_was_open_has_the_hash_that_the_record_tells(demo: DemoHouse) -> None:
    """Whoever makes a copy could put another photo into it, and sign the list of its files."""
    lived_in(demo)
    files = copy_of(demo)
    (item,) = json.loads(files["record/record.json"])["entries"][-1]["body"]["open"]
    path = f"photos/{item['photo']}"
    assert hashlib.sha256(files[path]).hexdigest() == item["photo_sha256"]
    assert "The photo of what was open has the hash of the record." in verify_copy(zipped(files)).sentences
    other = next(data for name, data in files.items() if name.endswith("-large.jpg") and name != path)
    swapped = verify_copy(zipped(files | {path: other}))
    assert f"{path} is not the photo that was handed over" in str(swapped.first_fault)
    del files[path]
    assert f"{path} is missing in the copy: the record lists it" in str(verify_copy(zipped(files)).first_fault)


def test_swapped_receipts_and_questions_never_asked_are_found(demo: DemoHouse) -> None:
    files = copy_of(demo)
    swapped = files | {"record/4/receipt.json": files["record/5/receipt.json"]}
    assert "is not the receipt of entry 4" in str(verify_copy(zipped(swapped)).first_fault)
    added = files | {"decisions/9/shown-1.json": b"{}"}
    assert "was never asked" in str(verify_copy(zipped(added)).first_fault)


def test_any_page_drawing_or_photo_changed_added_or_taken_out_is_found(demo: DemoHouse) -> None:
    """Every file of the copy, so that none is left out of the signed list."""
    files = copy_of(demo)
    hashes = {path: hashlib.sha256(data).hexdigest() for path, data in files.items()}
    for path in set(files) - {LIST, SIGNATURE}:
        changed = hashes | {path: hashlib.sha256(files[path] + b" ").hexdigest()}
        with pytest.raises(Fault, match=f"{re.escape(path)} was changed"):
            check_list(changed, files[LIST])
        with pytest.raises(Fault, match=f"{re.escape(path)} is missing"):
            check_list({name: code for name, code in hashes.items() if name != path}, files[LIST])
    for path in ("evil.html", "../../evil.html", "photos/new.jpg", "Index.html"):
        verdict = verify_copy(zipped(files | {path: b"<p>Hello"}))
        assert not verdict.ok and f"'{path}' was added to the copy" in str(verdict.first_fault)
    photo = next(path for path in files if path.endswith("-large.jpg"))
    assert f"{photo} was changed" in str(verify_copy(zipped(files | {photo: files["index.html"]})).first_fault)


def test_a_list_of_files_made_anew_has_no_signature_of_ours(demo: DemoHouse) -> None:
    files = copy_of(demo) | {"index.html": b"<p>All was approved."}
    files[LIST] = file_list({path: hashlib.sha256(data).hexdigest() for path, data in files.items()})
    assert "not signed with the key of the record" in str(verify_copy(zipped(files)).first_fault)
    files[SIGNATURE] = bytes.fromhex(Signer(bytes(32)).signature(files[LIST]))
    assert "not signed with the key of the record" in str(verify_copy(zipped(files)).first_fault)
    del files[SIGNATURE]
    assert "not signed with the key of the record" in str(verify_copy(zipped(files)).first_fault)
    del files[LIST]
    assert "record/files.sha256 is missing" in str(verify_copy(zipped(files)).first_fault)


def test_general_tools_read_the_list_and_its_signature(demo: DemoHouse, tmp_path: Path) -> None:
    (tmp_path / "copy.zip").write_bytes(own_copy(demo.project, demo.settings, NOW))
    with zipfile.ZipFile(tmp_path / "copy.zip") as archive:
        archive.extractall(tmp_path)
    checked = subprocess.run(["sha256sum", "--check", "--strict", "--quiet", LIST], cwd=tmp_path, check=False)
    assert checked.returncode == 0
    key = bytes.fromhex(Signer(demo.settings.record_key).public_key)
    Ed25519PublicKey.from_public_bytes(key).verify((tmp_path / SIGNATURE).read_bytes(), (tmp_path / LIST).read_bytes())
