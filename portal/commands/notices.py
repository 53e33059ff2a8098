"""What `portal tick` does for notices: reminders that are due go into the outbox, then all that is due is sent."""

from portal import clock
from portal.acts.keeping.receipts import receipt_for
from portal.notices.reminders import remind
from portal.notices.sending import Sender, send_due
from portal.record.log.heads import Signer
from portal.settings import Settings


def send_notices(settings: Settings) -> int:
    """Returns how many were sent. The database is open."""
    signer = Signer(settings.record_key)
    remind(clock.now())
    return send_due(Sender(
        settings.base_url, settings.secret, settings.smtp,
        receipt=lambda project_id, entry: receipt_for(project_id, entry, signer).file,
        clock=clock.now,
    ))
