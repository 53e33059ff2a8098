"""What was found of one thing of an installation, and what to do where it is not in order."""

from collections.abc import Callable
from dataclasses import dataclass

from portal.settings import Settings
from portal.store.engine.faults import refusal_of


@dataclass(frozen=True, slots=True)
class Finding:
    """`to_do` is empty while it is in order. `note`: in order, and yet worth knowing."""

    name: str
    found: str
    to_do: str = ""
    note: str = ""

    @property
    def ok(self) -> bool:
        return not self.to_do

    def __str__(self) -> str:
        after = f" {self.to_do or self.note}".rstrip()
        return f"{'in order' if self.ok else 'WRONG   '}  {self.name}: {self.found}.{after}"


Look = Callable[[Settings], list[Finding]]


def looked_at(name: str, look: Look, settings: Settings) -> list[Finding]:
    """What can't even be looked at is not in order, and hides nothing else."""
    try:
        return look(settings)
    except Exception as error:
        why = refusal_of(error) or f"{type(error).__name__}: {error}"
        return [Finding(name, "could not be looked at", f"It said: {why}")]
