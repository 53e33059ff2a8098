"""The Nu checker (npm vnu-jar, pinned in package.json) asked about pages: HTML, ARIA and SVG as their standards are."""

import json
import subprocess
from collections.abc import Mapping
from pathlib import Path

JAR = Path(__file__).parent / "node_modules/vnu-jar/build/dist/vnu.jar"
# What the checker does not know: CSS that browsers have (each with its source), and where the page comes from.
UNKNOWN = (
    "content-visibility",  # CSS Containment 2, 4
    "details-content",  # CSS Pseudo-Elements 4, 4.5: ::details-content
    "print-color-adjust",  # CSS Color Adjustment 1, 3.2
    "text-wrap",  # CSS Text 4, 6.4
    "vector-effect",  # SVG 2, 8.12
    "Inline script violates Content Security Policy",  # it takes no hash; Chromium does, and tells (window.py)
    "Resource violates Content Security Policy",  # a file has no origin, so that 'self' is nothing there
)


def faults(pages: Mapping[str, str], folder: Path) -> list[str]:
    """`name: what is wrong (the markup there)` for each error and warning. `pages`: HTML by name."""
    assert JAR.exists(), "vnu-jar is missing: bash tests/run brings it"
    for at, html in enumerate(pages.values()):
        (folder / f"{at}.html").write_text(html, encoding="utf-8")
    said = subprocess.run(
        ["java", "-jar", JAR, "--format", "json", "--stdout", "--exit-zero-always", folder],
        capture_output=True, text=True, timeout=300, check=True,
    )  # fmt: skip
    names = dict(enumerate(pages))
    return [
        f"{names[int(Path(one['url']).stem)]}: {one['message']} ({one.get('extract', '')[:160]!r})"
        for one in json.loads(said.stdout)["messages"]
        if one["type"] != "info" or one.get("subType") == "warning"
        if not any(word in one["message"] for word in UNKNOWN)
    ]
