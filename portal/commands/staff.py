"""`portal staff`: accounts of the firm's people, and the tokens that programs use in their name."""

from __future__ import annotations

import argparse
import getpass
import os
from collections.abc import Callable
from typing import TYPE_CHECKING

from portal import clock
from portal.settings import Settings
from portal.store.refusals import FieldRefused
from portal.words.dates import utc_text
from portal.words.plurals import counted, plural

if TYPE_CHECKING:
    from portal.store.tables import Staff, Token

    Commands = argparse._SubParsersAction[argparse.ArgumentParser]
Command = Callable[[argparse.Namespace, Settings], int]

_DAY = 24 * 3600


def add_staff_commands(commands: Commands) -> None:
    staff = commands.add_parser("staff", help="accounts of the firm's people").add_subparsers(required=True)
    add = staff.add_parser("add", help="add an account; asks for the password, or reads it from PORTAL_PASSWORD")
    add.add_argument("name")
    _for(add, _add)
    add.add_argument("role", choices=["manager", "office"])
    _for(staff.add_parser("remove", help="end an account: its sessions and tokens stop at once"), _remove)
    _for(staff.add_parser("password", help="give an account a new password, as for `add`; its sessions end"), _password)
    out = staff.add_parser("sign-out", help="end an account's sessions, on every phone and computer")
    _for(out, _sign_out)
    out.add_argument("--tokens", action="store_true", help="end its API tokens, too")
    away = staff.add_parser("no-second-factor", help="take an account's second factor away, when the phone is lost")
    _for(away, _no_second_factor)
    token = staff.add_parser("token", help="make an API token for an account; it is shown once")
    _for(token, _token)
    token.add_argument("--label", default="", help="what it is for, to know it again in the list of tokens")
    _for(staff.add_parser("tokens", help="list an account's tokens by number, label and age"), _tokens)
    revoke = staff.add_parser("revoke", help="end one token; the account and its other tokens go on")
    _for(revoke, _revoke)
    revoke.add_argument("number", type=int, help="its number in `portal staff tokens EMAIL`")


def _for(parser: argparse.ArgumentParser, command: Command) -> None:
    parser.add_argument("email")
    parser.set_defaults(command=command)


def _add(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.acts.firm.staff import add_staff

    password = _typed("Password: ")
    _open(settings)
    staff = add_staff(arguments.name, arguments.email, arguments.role, password)
    print(f"{staff.name} can sign in as {staff.email}.")
    return 0


def _typed(prompt: str) -> str:
    try:
        return os.environ.get("PORTAL_PASSWORD") or getpass.getpass(prompt)
    except EOFError:
        raise FieldRefused("password", "Nobody is here to type it. Give it in PORTAL_PASSWORD.") from None


def _remove(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.acts.firm.staff import remove_staff

    _open(settings)
    print(f"{remove_staff(arguments.email, clock.now()).name} can no longer sign in.")
    return 0


def _password(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.acts.firm.staff import set_password

    password = _typed("New password: ")
    _open(settings)
    staff, ended = set_password(arguments.email, password, clock.now())
    print(f"{staff.name} has a new password. {_ended(ended)}{_tokens_left(staff)}")
    return 0


def _sign_out(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.acts.firm.staff import sign_out

    _open(settings)
    staff, ended, revoked = sign_out(arguments.email, clock.now(), tokens=arguments.tokens)
    tokens = f" {counted(revoked, 'API token')} ended." if arguments.tokens else _tokens_left(staff)
    print(f"{staff.name} is signed out. {_ended(ended)}{tokens}")
    return 0


def _no_second_factor(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.acts.firm.staff import take_second_factor_away

    _open(settings)
    staff, ended = take_second_factor_away(arguments.email, clock.now())
    print(f"{staff.name} signs in with the password alone. {_ended(ended)}{_tokens_left(staff)}")
    return 0


def _ended(sessions: int) -> str:
    return f"{counted(sessions, 'session')} ended."


def _tokens_left(staff: Staff) -> str:
    """What still opens something: a token needs neither password nor code."""
    from portal.acts.firm.staff import tokens_of

    left = sum(token.revoked_at is None for token in tokens_of(staff.email))
    if not left:
        return ""
    return f" {counted(left, 'API token')} still {plural(left, 'works', 'work')}: sign-out --tokens ends them."


def _token(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.acts.firm.staff import add_token

    _open(settings)
    print(add_token(arguments.email, arguments.label, clock.now()))
    return 0


def _tokens(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.acts.firm.staff import tokens_of

    _open(settings)
    now = clock.now()
    print("\n".join(_line(token, now) for token in tokens_of(arguments.email)) or "No token was made for this account.")
    return 0


def _revoke(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.acts.firm.staff import revoke_token

    _open(settings)
    token = revoke_token(arguments.email, arguments.number, clock.now())
    print(f"Token {token.id} ({_label(token)}) no longer works.")
    return 0


def _line(token: Token, now: int) -> str:
    days = max(0, now - token.made_at) // _DAY
    age = "today" if days == 0 else f"{counted(days, 'day')} ago"
    ended = f", revoked {utc_text(token.revoked_at)[:10]}" if token.revoked_at else ""
    return f"{token.id:>4}  {_label(token)}: made {utc_text(token.made_at)[:10]}, {age}{ended}"


def _label(token: Token) -> str:
    return token.label or "no label"


def _open(settings: Settings) -> None:
    from portal.store.engine.opening import open_or_make

    open_or_make(settings.database)
