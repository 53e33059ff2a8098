"""The second factor of the staff, and the codes that get in without it. A code is used up by the one statement that
finds it unused: of two that come at once, one is taken."""

from collections.abc import Iterable

from portal.store.rows.editable import first_firm
from portal.store.tables import Firm, RecoveryCode, SecondFactor


def factor_of(staff_id: int) -> SecondFactor | None:
    return SecondFactor.get_or_none(SecondFactor.staff == staff_id)


def staff_with_one() -> set[int]:
    return {row.staff_id for row in SecondFactor.select(SecondFactor.staff)}


def set_up(staff_id: int, *, salt: str, codes_salt: str, step: int, now: int) -> None:
    SecondFactor.create(staff=staff_id, salt=salt, codes_salt=codes_salt, made_at=now, last_step=step)


def take_step(staff_id: int, step: int) -> bool:
    """Whether a code of this step may still be taken; from now on it may not."""
    later = (SecondFactor.staff == staff_id) & (SecondFactor.last_step < step)
    return bool(SecondFactor.update(last_step=step).where(later).execute())


def drop(staff_id: int) -> bool:
    """Whether there was one."""
    RecoveryCode.delete().where(RecoveryCode.staff == staff_id).execute()
    return bool(SecondFactor.delete().where(SecondFactor.staff == staff_id).execute())


def set_codes(staff_id: int, codes_salt: str, digests: Iterable[str]) -> None:
    """These, and no longer those from before."""
    RecoveryCode.delete().where(RecoveryCode.staff == staff_id).execute()
    SecondFactor.update(codes_salt=codes_salt).where(SecondFactor.staff == staff_id).execute()
    for digest in digests:
        RecoveryCode.create(staff=staff_id, digest=digest)


def use_code(staff_id: int, digest: str, now: int) -> bool:
    unused = (RecoveryCode.staff == staff_id) & (RecoveryCode.digest == digest) & RecoveryCode.used_at.is_null()
    return bool(RecoveryCode.update(used_at=now).where(unused).execute())


def codes_left(staff_id: int) -> int:
    left: int = RecoveryCode.select().where((RecoveryCode.staff == staff_id) & RecoveryCode.used_at.is_null()).count()
    return left


def is_demanded() -> bool:
    """Whether the firm asks everybody for one."""
    return bool(first_firm().demands_second_factor)


def set_demand(demanded: bool) -> bool:
    """Whether there is a firm to keep it with. It stands on no page, so no page is written anew."""
    firm = Firm.update(demands_second_factor=demanded, version=Firm.version + 1)
    return bool(firm.where(Firm.id == first_firm().id).execute())
