"""What is read out to a caller, a line at a time."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Spoken:
    """`lead` stands out, `rest` follows it in the same breath; `late`: it tells of something that is late, or can't be
    kept."""

    lead: str
    rest: str = ""
    late: bool = False

    @property
    def words(self) -> str:
        """The line as it is read."""
        return f"{self.lead} {self.rest}".strip()
