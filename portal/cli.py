"""The `portal` command."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from portal import __version__, clock
from portal.commands.backup import add_backup
from portal.commands.check import add_check
from portal.commands.export import add_export
from portal.commands.key import add_key
from portal.commands.numbers import at_least_one, port_number
from portal.commands.restore import add_restore
from portal.commands.staff import add_staff_commands
from portal.commands.verify import add_verify
from portal.content import MissingPiece
from portal.running.log_lines import log_to_stderr
from portal.settings import SettingRefused, Settings
from portal.store.refusals import Refused

if TYPE_CHECKING:
    Commands = argparse._SubParsersAction[argparse.ArgumentParser]
Command = Callable[[argparse.Namespace, Settings], int]


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command. The exit status is 0, or 1 with a sentence on standard error when it was refused."""
    arguments = _parser().parse_args(argv)
    command: Command = arguments.command
    log_to_stderr()
    try:
        status = command(arguments, Settings.read())
        sys.stdout.flush()
        return status
    except BrokenPipeError:  # as with `| head`: what was left to do may not be done
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        print("Whoever read these lines has stopped reading. Run the command again, to its end.", file=sys.stderr)
        return 1
    except (Refused, SettingRefused, MissingPiece) as refusal:
        print(refusal, file=sys.stderr)
        return 1
    except OSError as error:
        if error.filename is None:
            return _said(error)
        print(f"{error.filename} can't be used: {error.strerror}. Check PORTAL_DATA (for the demo: --data), and that "
              "this account may write there.", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130
    except Exception as error:
        return _said(error)


def _said(error: Exception) -> int:
    """What is the disk's or the database's fault, in their own words; what is ours goes on as it is."""
    from portal.store.engine.faults import refusal_of

    refusal = refusal_of(error)
    if refusal is None:
        raise error
    print(refusal, file=sys.stderr)
    return 1


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="portal", description="Asks in time, keeps the answers, publishes one page.")
    parser.add_argument("--version", action="version", version=f"portal {__version__}")
    commands = parser.add_subparsers(title="commands", required=True)
    _add_serve(commands)
    _add_demo(commands)
    add_staff_commands(commands)
    _add_link(commands)
    _add_publish(commands)
    add_key(commands)
    add_check(commands)
    add_verify(commands)
    add_export(commands)
    add_backup(commands)
    add_restore(commands)
    return parser


def _add_serve(commands: Commands) -> None:
    serve = commands.add_parser("serve", help="serve the portal")
    serve.add_argument("--host", default="127.0.0.1", help="127.0.0.1, or another address of this machine alone")
    serve.add_argument("--port", type=port_number, default=8080)
    serve.add_argument("--socket", help="a unix socket to listen on instead of host and port")
    serve.add_argument("--workers", type=at_least_one, default=2)
    serve.add_argument("--threads", type=at_least_one, default=8)
    serve.set_defaults(command=_serve)


def _add_demo(commands: Commands) -> None:
    demo = commands.add_parser("demo", help="make an invented project and serve it")
    demo.add_argument("--json", action="store_true", help="print one JSON object with the links as the first line")
    demo.add_argument("--host", default="127.0.0.1")
    demo.add_argument("--port", type=port_number, default=8080)
    demo.add_argument("--data", default="var/demo", help="an empty folder, or that of an earlier demo")
    demo.add_argument("--workers", type=at_least_one, default=1)
    demo.set_defaults(command=_demo)


def _add_link(commands: Commands) -> None:
    link = commands.add_parser("link", help="private links of a household").add_subparsers(required=True)
    for name, command, words in (
        ("new", _link_new, "make a new link for a person; an earlier one stops working"),
        ("revoke", _link_revoke, "revoke a person's link"),
    ):
        one = link.add_parser(name, help=words)
        one.add_argument("project", type=int, help="the project's id")
        one.add_argument("person", type=int, help="the person's id")
        one.set_defaults(command=command)


def _add_publish(commands: Commands) -> None:
    publish = commands.add_parser("publish", help="publish the pages again: those that are stale, or all")
    publish.add_argument("--all", action="store_true")
    publish.set_defaults(command=_publish)
    tick = commands.add_parser("tick", help="what time brings: pages of a new day, mail; run it every few minutes")
    tick.set_defaults(command=_tick)


def _serve(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.acts.keeping.own_keys import KeyRefused
    from portal.commands.starting import starting_words
    from portal.pages.paper.cautions import check_cautions
    from portal.serving import Server, address_of, check_place
    from portal.store.engine.database import close_database

    check_cautions()
    if not arguments.socket:
        check_place(arguments.host, arguments.port)
    catching_up: tuple[str, ...] = (sys.executable, "-m", "portal.commands.catching_up")  # while it answers already
    try:
        _open(settings)
    except KeyRefused as refusal:
        print(f"{refusal} Until then, pages are served as they were published, and nothing else.", file=sys.stderr)
        catching_up = ()
    else:
        for line in starting_words(settings, arguments.socket, arguments.host, arguments.port):
            print(line, file=sys.stderr)
    close_database()
    bind = f"unix:{arguments.socket}" if arguments.socket else address_of(arguments.host, arguments.port)
    Server(bind, arguments.workers, arguments.threads, beside=catching_up).run()
    return 0


def _demo(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.demo.run import run_demo

    return run_demo(arguments)


def _link_new(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.acts.actor import OPERATOR
    from portal.acts.household.links import make_link
    from portal.store.reading.firm import current_firm
    from portal.store.rows.editable import project_row
    from portal.words.page_lacks import page_lacks

    _open(settings)
    link = make_link(OPERATOR, arguments.project, arguments.person, secret=settings.secret, now=clock.now())
    _publish_one(settings, arguments.project)
    print(f"{settings.base_url}/p/{link}/")
    firm = current_firm()
    lacks = page_lacks(firm.name, firm.phone, project_row(arguments.project).phone)
    if lacks:
        print(lacks, file=sys.stderr)
    return 0


def _link_revoke(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.acts.actor import OPERATOR
    from portal.acts.household.links import revoke_link

    _open(settings)
    gone = revoke_link(OPERATOR, arguments.project, arguments.person, now=clock.now())
    _publish_one(settings, arguments.project)
    print("The link no longer works." if gone else "There was no link to revoke.")
    return 0


def _publish(arguments: argparse.Namespace, settings: Settings) -> int:
    from tqdm import tqdm

    from portal.pages.publishing.publish import Publisher
    from portal.store.engine.database import close_database
    from portal.store.rows.project_rows import all_ids

    _open(settings)
    publisher = Publisher(settings.site, settings.secret, background=False)
    chosen = all_ids() if arguments.all else publisher.stale(clock.now())
    failed = publisher.publish_each(tqdm(chosen, desc="Publishing", unit=" page", disable=None))
    close_database()
    if failed:
        numbers = ", ".join(str(project_id) for project_id in failed)
        print(f"The pages of these projects could not be published: {numbers}. The others are.", file=sys.stderr)
    return 1 if failed else 0


def _tick(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.commands.tick import tick

    _open(settings)
    return tick(settings)


def _publish_one(settings: Settings, project_id: int) -> None:
    from portal.pages.publishing.publish import Publisher

    Publisher(settings.site, settings.secret, background=False).publish(project_id)


def _open(settings: Settings) -> None:
    from portal.acts.keeping.moved_photos import bring_home
    from portal.acts.keeping.own_keys import check_keys
    from portal.store.engine.opening import open_or_make

    open_or_make(settings.database)
    check_keys(settings)
    bring_home(settings.photos, settings.site / "pages")


if __name__ == "__main__":
    sys.exit(main())
