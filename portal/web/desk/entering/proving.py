"""The two steps of signing in, the same at the door and beside a form. Each raises what it refuses with."""

from portal import clock
from portal.acts import limits
from portal.acts.firm import second_factor
from portal.acts.firm.sessions import CODE, Standing
from portal.acts.firm.staff import sign_in
from portal.request import browser, session
from portal.request.origin import origin
from portal.request.services import services
from portal.store.rows.accounts import factor_rows
from portal.web.desk.guessing import count_try


def give_password(email: str, password: str) -> Standing | None:
    """Begin a session; what it still asks for stands in the answer."""
    account = email.strip().lower()
    tried = count_try(account, clock.now())
    session.begin(sign_in(email, password, origin()))
    tried.was_right()
    found = session.standing()
    if found is None or found.step != CODE:
        browser.remember(account)
    return found


def give_code(found: Standing, code: str) -> int | None:
    """The second step. Returns how many recovery codes are left where one was used up."""
    staff = found.session.staff
    recovery = second_factor.is_recovery_code(code)
    limit = "recovery_code" if recovery else "code"
    limits.take(limit, staff, clock.now())
    second_factor.prove(found.session, code, services().settings.secret, clock.now())
    limits.begin_anew(limit, staff)
    session.look_again()
    browser.remember(found.session.email)
    return factor_rows.codes_left(staff) if recovery else None
