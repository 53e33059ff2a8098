"""Where a sentence ends. Pure."""


def stopped_once(text: str) -> str:
    """End no sentence twice: after `“Does it stain?”` and `“It does.”` stands no full stop."""
    return text.replace("?”.", "?”").replace("!”.", "!”").replace(".”.", ".”")
