"""What a firm does on its first day, once: noted when it was, so that the desk can tick it."""

from portal.acts.actor import Actor, firm_act
from portal.store.rows.accounts import first_day_rows


@firm_act("note_mail_tried")
def note_mail_tried(actor: Actor, trouble: str, now: int) -> None:
    """`trouble`: what the mail server said; empty where it took the letter."""
    first_day_rows.note("mail", now, trouble[:500])
