"""What a page lacks before its link should go to a household: who we are, and whom to call."""

from portal.words.lists import listed


def page_lacks(firm: str, phone: str, house_phone: str) -> str:
    """One sentence; empty where nothing is missing. `house_phone`: the one to call for this house, in place of the
    office's."""
    needed = (("the firm’s name", firm), ("a phone number", phone or house_phone))
    lacking = [words for words, text in needed if not text]
    if not lacking:
        return ""
    return f"The page lacks {listed(lacking)} yet: whoever opens it does not see who it is from, or whom to call."
