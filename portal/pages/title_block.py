"""The title block, as it stands in a drawing's corner: the same rows from asking to proof. On the second look the name
is typed into its last row, on a receipt it stands filled, on paper it is empty for a pen (`dl.block`, block.css)."""

from typing import Any

from portal.drawings.sheets.block_sheet import Row
from portal.pages.home.contract import price_after
from portal.store.facts import DecisionFact, ProjectFact, Snapshot
from portal.words.capitals import first_upper
from portal.words.dates import time_change
from portal.words.finishes.finish_words import finish_words
from portal.words.money import money, price_changed

__all__ = ["Row", "choice_rows", "house_row", "option_rows", "total_words"]


def house_row(project: ProjectFact, *, whole: bool = False) -> Row:
    """Whose house, and its street; the `whole` address where there is room for it."""
    street = project.address if whole else project.address.split(",")[0]
    return Row("House", ", ".join(filter(None, (project.name, street))))


def choice_rows(snapshot: Snapshot, decision: DecisionFact, option: dict[str, Any], finish: str = "") -> list[Row]:
    """House, question, choice, price and time of an option as it is kept. `finish`: when the whole job is then done,
    in words. Without sums there is no row of the price."""
    asked, cents = (decision.number, decision.question), option.get("cost_cents") if snapshot.sums else None
    rows = option_rows(
        asked, option["title"], cents, option.get("days"), total=total_words(snapshot, decision, option), finish=finish,
        made=finish_words(option.get("finish")),
    )
    return [house_row(snapshot.project), *rows]


def option_rows(
    asked: tuple[int, str], title: str, cents: int | None, days: int | None, *, total: str = "", finish: str = "",
    made: str = "",
) -> list[Row]:
    """Question (its number and words), choice, price and time: `No change, $48,600`. `total`: the whole price then.
    `made`: of a finish, who makes it and which color.
    What nobody has said has no row."""
    price = first_upper(", ".join(filter(None, (price_changed(cents), total))))
    time = first_upper(", ".join(filter(None, (time_change(days), finish))))
    return [
        Row(f"Question {asked[0]}", asked[1]),
        Row("Choice", title, wide=True, look="big"),
        *([Row("Finish", made, wide=True)] if made else []),
        *([Row("Price", price, wide=not time)] if price else []),
        *([Row("Time", time, wide=not price)] if time else []),
    ]


def total_words(snapshot: Snapshot, decision: DecisionFact, option: dict[str, Any]) -> str:
    """The whole price with this option: `$48,600`. Empty without sums, and where no contract amount was entered."""
    after = price_after(snapshot, decision, option) if snapshot.sums else None
    return money(after) if after is not None else ""
