"""Letters to our own people about the firm's portal itself, and no house."""

from portal.notices.letter import Letter


def way_in_letter(firm: str, by: str, address: str) -> Letter:
    """A link to set a password. It is the only thing that the letter tells."""
    return Letter(f"Your way in to the desk of {firm}" if firm else "Your way in to the desk", [
        f"{by} has made you an account, or a new way in to yours. Set your password here:",
        address,
        "The link works once, and for 24 hours. If you did not expect it, call the office and do not use it.",
    ])


def trial_letter(firm: str, address: str) -> Letter:
    return Letter(f"A letter from {firm} to itself" if firm else "A letter from the desk to itself", [
        "You have asked the desk to try its mail. This is the letter: mail goes out.",
        "Look at the sender: households see the same. If it lay among the junk, theirs may, too.",
        f"Back to the desk: {address}",
    ])
