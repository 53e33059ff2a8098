"""The style sheets: words stay legible in both color schemes, on paper, and for a finger."""

import re

import pytest
from coloraide import Color

from portal.folders import STATIC
from portal.pages.environment import LOOKS, PLAIN, SCREENS, content_policy, policy_of, style_of

AA = 4.5  # WCAG 2.2, success criterion 1.4.3
NON_TEXT = 3.0  # WCAG 2.2, success criterion 1.4.11: the border of a field
SHEETS = {path.stem: path.read_text(encoding="utf-8") for path in sorted(LOOKS.glob("*.css"))}


def _schemes() -> dict[str, dict[str, str]]:
    """The colors of each `:root` block, in the order light, dark, paper."""
    blocks = re.findall(r":root \{(.*?)\}", SHEETS["base"], re.DOTALL)
    found = [dict(re.findall(r"--(\w+): (#[0-9a-f]+)", block)) for block in blocks]
    return dict(zip(("light", "dark", "print"), found, strict=True))


GROUNDS = ("paper", "card", "wash")
LEAST = {"ink": AA, "quiet": AA, "blue": AA, "late": AA}
PAIRS = (
    *((name, ground, least) for name, least in LEAST.items() for ground in GROUNDS),
    ("rule", "paper", NON_TEXT), ("rule", "card", NON_TEXT), ("ontag", "tag", AA), ("ink", "blade", AA),
    *(("ink", fill, AA) for fill in ("wood", "stone", "glass")),
)


@pytest.mark.parametrize("scheme", ["light", "dark", "print"])
@pytest.mark.parametrize(("name", "ground", "least"), PAIRS)
def test_each_color_stands_out_from_what_it_stands_on(scheme: str, name: str, ground: str, least: float) -> None:
    """Contrast by the WCAG formula (relative luminance), computed by the library coloraide."""
    colors = _schemes()[scheme]
    assert Color(colors[name]).contrast(colors[ground], method="wcag21") >= least


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_sign_can_be_read(scheme: str) -> None:
    """On paper it has a frame instead of a ground."""
    colors = _schemes()[scheme]
    assert Color(colors["onblue"]).contrast(colors["blue"], method="wcag21") >= AA


@pytest.mark.parametrize("name", SHEETS)
def test_no_color_is_named_outside_the_schemes(name: str) -> None:
    """So that the check above sees them all. Black is what a sign is framed with on paper."""
    rest = re.sub(r":root \{.*?\}", "", SHEETS[name], flags=re.DOTALL)
    assert set(re.findall(r"#[0-9a-f]{3,8}\b|rgb|hsl", rest)) <= {"#000"}


@pytest.mark.parametrize("name", SHEETS)
def test_the_sheet_asks_for_nothing_from_elsewhere(name: str) -> None:
    assert not re.search(r"url\(|@import|@font-face", SHEETS[name])


@pytest.mark.parametrize("screen", [*SCREENS, "any other"])
def test_what_stands_in_the_page_means_the_same_as_its_sheets(screen: str) -> None:
    """Comments, spaces and last semicolons are dropped; what is left must still be the same rules."""
    names = SCREENS.get(screen, PLAIN)
    sheets = re.sub(r"/\*.*?\*/", "", "".join(SHEETS[name] for name in names), flags=re.DOTALL)
    bare = [re.sub(r";?\s*\}", "}", re.sub(r"\s", "", text)) for text in (sheets, style_of(screen))]
    assert bare[0] == bare[1]
    style = style_of(screen)
    assert "</style" not in style and "/*" not in style and style.count("{") == style.count("}")


@pytest.mark.parametrize("screen", [*SCREENS, "any other"])
def test_the_service_lets_each_page_have_its_own_style(screen: str) -> None:
    own = re.search(r"'sha256-[^']+'", policy_of(screen))
    assert own and own[0] in content_policy()


def test_every_sheet_stands_in_some_screen() -> None:
    assert {name for names in SCREENS.values() for name in names} | {"plain"} == set(SHEETS)


def test_nothing_moves_by_itself() -> None:
    """So nothing has to be stilled for who asks for less motion (CSS Media Queries 5, 12.1)."""
    for path in [*LOOKS.glob("*.css"), *(STATIC / "desk").glob("*.js"), *STATIC.glob("*.js")]:
        text = path.read_text(encoding="utf-8")
        found = re.findall(r"transition|animation|@keyframes|scroll-behavior|\.animate\(|smooth|<marquee", text)
        assert found == [], path
