"""What `portal tick` does for notices: all that is due in the outbox is sent, and what came back is read."""

from portal import clock
from portal.acts.keeping.own_keys import signer as signer_of
from portal.acts.keeping.receipts import head_words, receipt_for
from portal.notices.returned_mail import read_returned
from portal.notices.sending import Outcome, Sender, send_due
from portal.settings import Settings
from portal.store.reading.firm import current_firm


def send_notices(settings: Settings) -> Outcome:
    """The database is open."""
    signer = signer_of(settings)
    return send_due(Sender(
        settings.base_url, settings.secret, settings.smtp if current_firm().email else None,
        receipt=lambda project_id, entry: receipt_for(project_id, entry, signer).file,
        clock=clock.now, returns_to=settings.bounces.to if settings.bounces else "",
        head=lambda project_id: head_words(project_id, signer),
    ))


def read_returned_mail(settings: Settings) -> str:
    """Why it could not be read; empty when it was, or when no mailbox is set. The database is open."""
    return read_returned(settings.bounces, settings.secret, clock.now()) if settings.bounces else ""
