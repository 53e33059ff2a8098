"""One set of cautions, in content/cautions: what a sheet prints is what is written there, and none may be missing."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from portal import content
from portal.app import create_app
from portal.cli import main
from portal.content import MissingPiece, piece
from portal.layouts.content_tables.materials import MATERIALS
from portal.layouts.kinds import KINDS, kind_named
from portal.pages.paper.cautions import cautions_of, check_cautions


@pytest.fixture
def delivered(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A copy of the content, from which a file may go."""
    copy = tmp_path / "content"
    shutil.copytree(content.CONTENT, copy)
    monkeypatch.setattr(content, "CONTENT", copy)
    content.piece.cache_clear()
    yield copy
    content.piece.cache_clear()


@pytest.mark.parametrize("kind", KINDS)
def test_a_sheet_prints_the_cautions_of_its_work_in_their_order_as_they_are_written(kind: str) -> None:
    said = cautions_of(kind)
    assert len(said) == len(kind_named(kind).CAUTIONS)
    for name, text in zip(kind_named(kind).CAUTIONS, said, strict=True):
        written = piece("cautions", name)
        assert written is not None and text.startswith(f"{written.title}: {written.summary} ")
        assert "Sources" not in text and "<" not in text and "#" not in text


@pytest.mark.parametrize(("material", "dust"), [
    ("granite", "Stone dust: "), ("quartz", "Stone dust: "), ("wood", "Wood dust: "), ("laminate", "Wood dust: "),
    ("solid surface", "Dust of solid surface: "), (None, "Stone dust: ")])
def test_a_sheet_warns_of_the_dust_of_its_material_and_of_no_other(material: str | None, dust: str) -> None:
    said = [text for text in cautions_of("seam", {"material": material}) if "ust" in text.partition(": ")[0]]
    assert [text[: len(dust)] for text in said] == [dust]


def test_all_that_is_delivered_is_enough_to_start() -> None:
    check_cautions()


@pytest.mark.parametrize("name", sorted({name for kind in KINDS for name in kind_named(kind).CAUTIONS} | {
    name for each in MATERIALS.values() for name in each.dust}))
def test_without_one_of_them_the_service_does_not_start_and_names_the_file(delivered: Path, name: str) -> None:
    (delivered / "cautions" / f"{name}.md").unlink()
    with pytest.raises(MissingPiece, match=f"cautions/{name}.md is missing"):
        create_app()


def test_the_command_says_so_in_a_sentence(delivered: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (delivered / "cautions" / "gas.md").unlink()
    assert main(["serve", "--port", "8931"]) == 1
    assert "cautions/gas.md is missing. Put it back" in capsys.readouterr().err
