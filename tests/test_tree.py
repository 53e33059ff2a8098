"""The tree as a newcomer meets it: few things on top, no long files, and documentation that mentions what there is."""

import re
import subprocess
from collections import Counter
from pathlib import Path

from portal import __version__

ROOT = Path(__file__).parents[1]
TOP = {
    "README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "pyproject.toml", "portal", "content", "static", "tests",
    "deploy",
}  # fmt: skip
LONGEST = 350
MOST_MODULES = 17  # in a folder
# Put together here, so that this file does not say them either.
ORIGIN = re.compile("|".join([r"\btran" + r"script\b", "seed " + r"doc(ument)?\b"]), re.I)
UNFINISHED = re.compile(
    r"# *(TO" + r"DO|FIX" + r"ME|XX" + r"X)\b|mark\.(sk" + r"ip|xf" + r"ail)"
    r"|raise NotImpl" + r"ementedError|no co" + r"ver\b"
)


def tracked() -> list[Path]:
    """Files that are, or are about to be, in the repository."""
    listing = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT, capture_output=True, text=True, check=True,
    )  # fmt: skip
    return [ROOT / line for line in listing.stdout.splitlines() if (ROOT / line).is_file()]


def texts() -> dict[Path, str]:
    """Every text file; what is no UTF-8 is no text."""
    found = {}
    for path in tracked():
        try:
            found[path.relative_to(ROOT)] = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
    return found


def test_the_top_level_holds_what_the_design_names() -> None:
    tops = {path.relative_to(ROOT).parts[0] for path in tracked()}
    assert {top for top in tops if not top.startswith(".")} - TOP == set()


def test_no_python_file_is_longer_than_a_room_should_be() -> None:
    lengths = {path: text.count("\n") for path, text in texts().items() if path.suffix == ".py"}
    assert {str(path): length for path, length in lengths.items() if length > LONGEST} == {}


def test_no_folder_holds_more_modules_than_one_finds_at_a_glance() -> None:
    modules = [path for path in texts() if path.parts[0] == "portal" and path.suffix == ".py"]
    told_apart = [path for path in modules if path.stem != "__init__" and path.parent.name != "migrations"]
    folders = Counter(str(path.parent) for path in told_apart)
    assert {folder: count for folder, count in folders.items() if count > MOST_MODULES} == {}


def test_no_folder_or_module_is_named_for_nothing() -> None:
    nothing = {"utils", "util", "helpers", "helper", "common", "manager", "misc"}
    assert [str(path) for path in texts() if nothing & {part.removesuffix(".py") for part in path.parts}] == []


def test_no_file_says_where_the_idea_came_from() -> None:
    assert [str(path) for path, text in texts().items() if ORIGIN.search(f"{path}\n{text}")] == []


def test_nothing_is_left_unfinished_or_passed_over() -> None:
    python = {path: text for path, text in texts().items() if path.suffix == ".py"}
    assert [f"{path}: {hit[0]}" for path, text in python.items() for hit in UNFINISHED.finditer(text)] == []


def test_the_readme_shows_the_two_commands() -> None:
    readme = (ROOT / "README.md").read_text()
    assert "bash deploy/demo" in readme
    assert "bash tests/run" in readme


def test_the_changes_begin_with_the_version_that_runs() -> None:
    versions = re.findall(r"^## (.*)", (ROOT / "CHANGELOG.md").read_text(), re.M)
    assert [version for version in versions if version != "Unreleased"][0] == __version__


def test_every_setting_is_documented() -> None:
    read = {
        setting
        for path, text in texts().items()
        if path.parts[0] in ("portal", "deploy", "tests")
        for setting in re.findall(r"\bPORTAL_[A-Z_]+[A-Z]\b", text)
    }
    documented = (ROOT / "README.md").read_text() + (ROOT / "DEVELOPERS.md").read_text()
    assert {setting for setting in read if setting not in documented} == set()


def test_every_place_that_the_developers_page_names_is_there() -> None:
    named = set(re.findall(r"`([a-z_]+(?:/[a-z_]+)*(?:/|\.py|\.md)?)`", (ROOT / "DEVELOPERS.md").read_text()))
    places = {name for name in named if "/" in name or name.endswith(".py")}
    known = [path.as_posix() for path in texts()]
    gone = {
        name for name in places
        if not any(f"/{path}".endswith(f"/{name}") or f"/{name.rstrip('/')}/" in f"/{path}" for path in known)
    }
    assert gone == set()


def test_every_folder_of_the_portal_is_on_the_developers_map() -> None:
    page = (ROOT / "DEVELOPERS.md").read_text()
    folders = {path.parent.relative_to("portal") for path in texts() if path.match("portal/*/__init__.py")} | {
        path.parent.relative_to("portal") for path in texts() if path.match("portal/*/*/__init__.py")
    }
    named = {folder.as_posix() for folder in folders if len(folder.parts) in (1, 2)}
    kinds = {name for name in named if name.startswith("layouts/")}  # one line says it of all of them
    assert {name for name in named - kinds if name not in page} == set()
