"""Counts what the converter of Markdown does, which says the same on every machine."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from types import FrameType
from typing import Any

from markdown.inlinepatterns import LinkInlineProcessor


@dataclass
class Steps:
    """`calls` of functions, and `letters` that were looked through for the end of a bracket."""

    calls: int = 0
    letters: int = 0


@contextmanager
def counting() -> Iterator[Steps]:
    steps = Steps()
    watched = LinkInlineProcessor.getText, LinkInlineProcessor.getLink
    kept = sys.getprofile()

    def call(frame: FrameType, event: str, arg: Any) -> None:
        steps.calls += event in ("call", "c_call")

    def looked(method: Any) -> Any:
        def run(self: Any, data: str, index: int) -> Any:
            found = method(self, data, index)
            steps.letters += (found[-2] if found[-1] else len(data)) - index
            return found

        return run

    for name in ("getText", "getLink"):
        setattr(LinkInlineProcessor, name, looked(getattr(LinkInlineProcessor, name)))
    sys.setprofile(call)
    try:
        yield steps
    finally:
        sys.setprofile(kept)
        LinkInlineProcessor.getText, LinkInlineProcessor.getLink = watched  # type: ignore[method-assign]
