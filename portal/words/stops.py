"""Where a sentence ends. Pure."""


def stopped_once(text: str) -> str:
    """End no sentence twice: after `“Does it stain?”` stands no full stop."""
    return text.replace("?”.", "?”").replace("!”.", "!”")
