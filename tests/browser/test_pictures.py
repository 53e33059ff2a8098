"""`bash tests/pictures` can still make what README.md shows."""

import re
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser

from tests.browser.demo import running_demo
from tests.browser.pictures import make_pictures
from tests.deploy.site import CHECKOUT


def test_the_pictures_of_the_readme_can_be_made_anew(chromium: Browser, tmp_path: Path) -> None:
    made = tmp_path / "pictures"
    made.mkdir()
    with running_demo(tmp_path / "data") as demo:
        make_pictures(chromium, demo, made)
    shown = re.findall(r"!\[[^\]]+\]\(static/pictures/(\w+\.png)\)", (CHECKOUT / "README.md").read_text())
    assert sorted(shown) == sorted(path.name for path in made.iterdir())
    for name in shown:
        with Image.open(CHECKOUT / "static/pictures" / name) as kept, Image.open(made / name) as new:
            darkest, lightest = new.convert("L").getextrema()
            assert kept.size == new.size and darkest < 80 and lightest > 240
