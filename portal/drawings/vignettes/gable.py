"""The gable over the rooms: roof, its inner line and a chimney, stretched over the whole width."""

from portal.drawings.symbols.line import Line, drawn

_GABLE = (Line("M72 9V1H78V12", "f"), Line("M0 20 50 1 100 20", "f", 3), Line("M4 20 50 3 96 20", width=1))


def gable() -> str:
    """Draw it: as wide and as high as what it stands over."""
    return f'<svg viewBox="0 0 100 20" preserveAspectRatio="none" aria-hidden="true">{drawn(_GABLE)}</svg>'
