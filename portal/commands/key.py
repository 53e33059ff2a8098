"""`portal key`: the key that signs the records: its name, another one, and the way back for who lost it."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from portal import clock
from portal.settings import Settings
from portal.words.plurals import counted

if TYPE_CHECKING:
    from portal.acts.firm.lost_keys import Lost

    Commands = argparse._SubParsersAction[argparse.ArgumentParser]


def add_key(commands: Commands) -> None:
    key = commands.add_parser("key", help="the name of the key that signs the records, for the contract papers")
    key.set_defaults(command=_name)
    more = key.add_subparsers()
    rotate = more.add_parser("rotate", help="have a new key sign from here on, with the service stopped")
    rotate.set_defaults(command=_rotate)
    lost = more.add_parser("replace-lost", help="the record key or the secret is lost for good: take others")
    lost.add_argument("--yes", action="store_true", help="do it; without this, it says what would be lost")
    lost.set_defaults(command=_replace_lost)


def _name(arguments: argparse.Namespace, settings: Settings) -> int:
    _open(settings)
    print(_key(settings))
    print("That is the name of the key that signs the records of this portal. Print it in the contract papers: whoever "
          "checks a receipt compares it.")
    return 0


def _rotate(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.acts.keeping.key_rotation import rotate_key

    _open(settings)
    told = rotate_key(settings, clock.now())
    print(f"Records that tell of the change: {len(told)}. They are signed with key {_key(settings)} from now on: put "
          "that name into the papers that you give out, and start the service again.")
    return 0


def _replace_lost(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.acts.firm.lost_keys import replace_lost, what_is_lost

    _open(settings)
    if not arguments.yes:
        for line in _would_be_lost(what_is_lost(settings), settings):
            print(line)
        print("Nothing was changed. If no backup holds what is lost: stop the service, and run this again with --yes.",
              file=sys.stderr)
        return 1
    lost = replace_lost(settings, clock.now())
    print(f"Records that tell of it: {lost.told}.")
    if lost.record_key:
        print(f"They are signed with key {_key(settings)} from now on. Put that name into the papers that you give "
              "out, and tell the households: no signature of the old key vouches for it.")
    if lost.secret:
        print(f"Ended: {counted(lost.links, 'private link')}. Make new ones at the desk, or by portal link new.")
    print("Start the service again.")
    return 0


def _would_be_lost(lost: Lost, settings: Settings) -> list[str]:
    said = []
    if lost.record_key:
        path = settings.record_key_file
        other = f"The one that lies in {path} now" if path.exists() else "A new one"
        said.append(f"The record key is lost. {other} would sign from here on, and an entry on every record would "
                    "say that the old one was lost and did not sign that. Receipts that the old key signed stay as "
                    "they are, and can be checked by its name in the papers.")
    if lost.secret:
        path = settings.secret_file
        other = f"The one that lies in {path} now" if path.exists() else "A new one"
        said.append(f"The secret is lost. {other} would take its place. Every private link would end and have to be "
                    "made anew and sent, everyone at the desk would have to sign in again, and calendars may show "
                    "events twice.")
    return said


def _key(settings: Settings) -> str:
    from portal.acts.keeping.own_keys import signer
    from portal.record.log.heads import key_name

    return key_name(signer(settings).public_key)


def _open(settings: Settings) -> None:
    """A new database is not made here: the name would be that of a key that signs nothing."""
    from portal.store.engine.opening import open_there

    open_there(settings.database)
