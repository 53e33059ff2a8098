"""Whether one person gets mail, in the words of the desk."""

from portal.store.rows.letters.mail_rows import MailState
from portal.words.dates import when_words


def mail_words(state: MailState, zone: str) -> str:
    """Why this person gets no mail; empty when they do."""
    if state.stopped_at is not None:
        return f"No mail: stopped on {when_words(state.stopped_at, zone)}. Tell them by phone."
    return f"Mail to them comes back: {state.comes_back.rstrip('.')}. Tell them by phone." if state.comes_back else ""
