"""How large and in which color a page of a PDF is written."""

from pypdf import PageObject


def sizes_of(page: PageObject) -> set[float]:
    """Of each text, in points."""
    found: set[float] = set()
    page.extract_text(visitor_text=lambda text, cm, tm, font, size: found.add(float(size)) if text.strip() else None)
    return found


def colors_of(page: PageObject) -> set[str]:
    """Every setting of a color in the page's own commands, as it is written there."""
    contents = page.get_contents()
    lines = contents.get_data().decode("latin-1").split("\n") if contents else []
    return {line.strip() for line in lines if line.strip().endswith((" rg", " RG", " k", " K", " g", " G"))}
