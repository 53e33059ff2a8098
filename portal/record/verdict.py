"""What a check found, in words: what holds, and the first thing that does not."""

from dataclasses import dataclass, field


class Fault(ValueError):
    """The first thing that does not hold, as a sentence."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """`sentences` say what holds, in the order it was checked; `first_fault` says what does not, or is None."""

    sentences: tuple[str, ...] = field(default=())
    first_fault: str | None = None

    @property
    def ok(self) -> bool:
        """Tell whether all of it holds."""
        return self.first_fault is None

    def __str__(self) -> str:
        end = "All of it holds." if self.ok else f"This does not hold: {self.first_fault}"
        return "\n".join(map(_on_one_line, (*self.sentences, end)))


def _on_one_line(sentence: str) -> str:
    """What a forged file says must not pass for a line of ours, nor steer a terminal."""
    return "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in sentence)
