"""Codes that people read to each other. Pure."""


def short_code(check_code: str) -> str:
    """Shorten a check code (64 hexadecimal digits) to what is printed and read aloud, its first twelve digits in
    groups of four: `3fa9-01bc-77de`."""
    return "-".join(check_code[start:start + 4] for start in (0, 4, 8))
