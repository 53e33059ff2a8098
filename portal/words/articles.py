"""One article before a name that was typed. Pure."""

_ARTICLES = ("the", "a", "an")


def bare(name: str) -> str:
    """Take the article off a typed name: `the faucet` and `A faucet` are `faucet`. A name that is nothing but an
    article stays."""
    first, _, rest = name.strip().partition(" ")
    return rest.lstrip() if first.lower() in _ARTICLES and rest.strip() else name.strip()


def with_the(name: str) -> str:
    """Name it with its article, once: `faucet`, `the faucet` and `A faucet` are `the faucet`."""
    return f"the {bare(name)}"
