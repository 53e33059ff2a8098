"""Where files lie in a copy: the paths that copies in people's hands already have."""

import pytest

from portal.record.papers import copy_paths


def test_the_paths_are_those_of_the_copies_that_are_out() -> None:
    assert (copy_paths.RECORD, copy_paths.LIST, copy_paths.SIGNATURE) == (
        "record/record.json", "record/files.sha256", "record/files.signature"
    )  # fmt: skip
    assert copy_paths.receipt_path(12) == "record/12/receipt.json"
    assert copy_paths.shown_path(4, 2) == "decisions/4/shown-2.json"
    assert copy_paths.wording_path("ab" * 32) == f"wording/{'ab' * 32}.md"
    assert copy_paths.photo_path("1f0c-large.jpg") == "photos/1f0c-large.jpg"


def test_what_was_shown_is_known_by_its_path() -> None:
    assert copy_paths.shown_at("decisions/14/shown-2.json") == (14, 2)


@pytest.mark.parametrize("path", [
    "decisions/4/shown-2.json.html", "x/decisions/4/shown-2.json", "decisions/4/shown-.json",
    "decisions/a/shown-2.json", "decisions/4/shown-2-a.json", "decisions/4/revision-2-a.svg", "",
])
def test_any_other_path_is_that_of_nothing_shown(path: str) -> None:
    assert copy_paths.shown_at(path) is None
