"""The little that all our SVG drawings share: numbers, escaping, and a root that says what is drawn."""

from xml.sax.saxutils import escape

_ALONE = (
    "<style>svg{color:#111;background:#fff;--paper:#fff}"
    "@media screen and (prefers-color-scheme:dark){svg{color:#eee;background:#161616;--paper:#161616}}</style>"
)


def number(value: float, places: int = 1) -> str:
    """Write a coordinate in as few characters as its places need; never `-0`."""
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def words(text: str) -> str:
    """Make text safe between tags and inside double-quoted attributes; characters that XML forbids are dropped."""
    allowed = "".join(c for c in text if c >= " " or c in "\n\t")
    return escape(allowed, {'"': "&quot;"})


def svg_root(
    *, ident: str, title: str, description: str, view: tuple[float, float, float, float], body: str, alone: bool = False
) -> str:
    """Write a whole `<svg>`: role, title, description, then `body`.

    `ident` makes the ids unique on a page. `alone` adds what a file of its own needs: colors for both schemes. On
    a page the drawing takes the page's colors (`currentColor`, and `--paper` behind words).
    """
    box = " ".join(number(v) for v in view)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" viewBox="{box}" role="img" '
        f'aria-labelledby="{ident}-t" aria-describedby="{ident}-d"><title id="{ident}-t">{words(title)}</title>'
        f'<desc id="{ident}-d">{words(description)}</desc>{_ALONE if alone else ""}{body}</svg>'
    )
