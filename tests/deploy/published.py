"""A page laid out on disk as the publisher lays it out: `p/<link>` points to `pages/<project id>`."""

import gzip
from pathlib import Path

LINK = "Zm9yLXRoZS1mYW1pbHktb25seQ_-1234567890abcde"


def lay_out_page(data: Path, page: bytes, link: str = LINK, project_id: int = 1) -> Path:
    """Writes the page and its .gz; returns the folder of the project's files."""
    folder = data / "site" / "pages" / str(project_id)
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in (("index.html", page), ("index.html.gz", gzip.compress(page, 9, mtime=0))):
        (folder / f".{name}").write_bytes(content)
        (folder / f".{name}").rename(folder / name)
    pointer = data / "site" / "p" / link
    pointer.parent.mkdir(exist_ok=True)
    if not pointer.is_symlink():
        pointer.symlink_to(Path("..") / "pages" / str(project_id))
    return folder
