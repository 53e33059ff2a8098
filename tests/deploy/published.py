"""A page on disk as the publisher puts it there."""

from pathlib import Path

from portal.pages.publishing.site import Page, Site

LINK = "Zm9yLXRoZS1mYW1pbHktb25seQ_-1234567890abcde"


def lay_out_page(data: Path, page: str, link: str = LINK, project_id: int = 1) -> Path:
    """Publishes the page under the link; returns the folder of the project's files."""
    site = Site(data / "site")
    site.write_page(project_id, Page(page))
    site.set_links(project_id, {link})
    return site.project_folder(project_id)
