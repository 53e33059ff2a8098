"""Before a link goes out: what its page lacks yet is said once, and the next press sends it all the same."""

from portal.store.reading.firm import current_firm
from portal.store.rows.editable import project_row
from portal.web.desk.ahead import Ahead, look_first
from portal.words.page_lacks import page_lacks


def ask_first(project_id: int) -> None:
    """Raises LookFirst where the page has no name or no number, and nobody has looked at that."""
    firm, project = current_firm(), project_row(project_id)
    said = page_lacks(firm.name, firm.phone, project.phone)
    look_first([Ahead(f"{said} Write it down under “The firm’s details”, or press again.")] if said else [])
