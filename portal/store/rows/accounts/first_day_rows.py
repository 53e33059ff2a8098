"""What a firm has done of its first day, and when."""

from portal.store.tables import FirstDay


def note(step: str, now: int, trouble: str = "") -> None:
    """The first time counts; where there was trouble, or is now, the last."""
    kept = FirstDay.get_or_none(FirstDay.step == step)
    if kept is None:
        FirstDay.create(step=step, at=now, trouble=trouble)
    elif kept.trouble or trouble:
        FirstDay.update(at=now, trouble=trouble).where(FirstDay.step == step).execute()


def done() -> dict[str, FirstDay]:
    return {one.step: one for one in FirstDay.select()}
