"""Whether mail goes out from here, in the words of the desk; and what becomes of a link that it can't carry."""

from flask import url_for

from portal.request.services import services
from portal.store.reading.firm import current_firm


def no_mail() -> str:
    """Why no mail is sent from here; empty when it is."""
    if services().settings.smtp is None:
        return "Mail is not set up on this server, so none is sent."
    if not current_firm().email:
        return "No mail is sent, because the firm has no e-mail address. Enter one in the firm’s details."
    return ""


def without_mail(project_id: int, person_id: int, done: str) -> tuple[str, str]:
    """What is said after `done`, where a link should have gone by mail, and the way to one that can be texted."""
    then = "The link goes out as soon as it can. Until then make a new one here, and text or read it to them."
    return f"{done} {no_mail()} {then}", url_for("desk.new_link", project_id=project_id, person_id=person_id)
