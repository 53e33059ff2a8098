"""Numbers on the command line, refused in words before anything is opened."""

import argparse


def port_number(text: str) -> int:
    """A TCP port. 0 is none: the links that are printed must lead somewhere."""
    return _whole(text, 1, 65535)


def at_least_one(text: str) -> int:
    return _whole(text, 1, 1000)


def _whole(text: str, least: int, most: int) -> int:
    if not (text.isascii() and text.isdecimal() and least <= int(text) <= most):
        raise argparse.ArgumentTypeError(f"give a whole number from {least} to {most}, not {text!r}")
    return int(text)
