"""axe-core (npm, pinned in package.json) asked about a page: WCAG 2.0 to 2.2, A and AA, and its best practices."""

from functools import cache
from pathlib import Path

from tests.browser.window import Window

SOURCE = Path(__file__).parent / "node_modules/axe-core/axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
CONTRAST = ["color-contrast"]
"""What alone differs on the dark page."""
TARGETS = ["target-size"]
"""What differs with the width of the page."""


@cache
def _source() -> str:
    assert SOURCE.exists(), "axe-core is missing: bash tests/run brings it"
    return SOURCE.read_text()


def violations(window: Window, rules: list[str] = RULES) -> list[str]:
    """One line for each rule and element that axe-core finds fault with: `rule: what is wrong (selector)`."""
    with window.scripting():
        # Evaluated rather than added as a script element: the page's content security policy stays as it is.
        if not window.page.evaluate("'axe' in window"):
            window.page.evaluate(_source())
        found = window.page.evaluate(
            "rules => axe.run(document, {runOnly: rules, resultTypes: ['violations']})", rules
        )
    return [
        f"{rule['id']}: {rule['help']} ({' '.join(map(str, node['target']))})"
        for rule in found["violations"]
        for node in rule["nodes"]
    ]


def assert_accessible(window: Window) -> None:
    found = violations(window)
    assert found == [], found
