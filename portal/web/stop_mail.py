"""`/p/mail/<mark>/`, the address in the head and at the foot of each letter (RFC 2369, RFC 8058): one press stops our
mail to its reader, or begins it again.

GET changes nothing, since scanners of mail follow links; POST needs no cookie and no page before it, and is answered
without sending anyone elsewhere (RFC 8058, 3.1). The mark is a credential, of this and nothing else; it lies below /p/,
so no log holds it.
"""

from flask import Blueprint, Flask, Response, abort, request

from portal import clock, signing
from portal.acts.actor import Actor
from portal.acts.household.mail import actor_who_reads, begin_mail, stop_mail
from portal.acts.limits import take
from portal.pages.telling.mail_page import render_mail
from portal.request.services import services
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.letters import mail_rows
from portal.web.answer import page

blueprint = Blueprint("stop_mail", __name__, url_prefix="/p/mail/<mark>")


def register(app: Flask) -> None:
    app.register_blueprint(blueprint)


@blueprint.get("/")
def shown(mark: str) -> Response:
    return mail_of(_reader(mark))


@blueprint.post("/")
def pressed(mark: str) -> Response:
    """Whatever is sent stops it, but for the button that begins it again."""
    reader = _reader(mark)
    change_mail(reader)
    return mail_of(reader)


def change_mail(reader: Actor) -> None:
    assert reader.project is not None
    take("stop_mail", reader.id, clock.now())
    do = begin_mail if request.form.get("do") == "begin" else stop_mail
    do(reader, reader.project, reader.id, now=clock.now())


def mail_of(reader: Actor, home: str = "") -> Response:
    assert reader.project is not None
    snapshot, state = read_snapshot(reader.project), mail_rows.of_project(reader.project)[reader.id]
    return page(render_mail(snapshot.firm, snapshot.project, state.stopped_at, state.comes_back, home))


def _reader(mark: str) -> Actor:
    """A stranger gets the same 404 for each wrong mark."""
    person = signing.stopped_by(services().settings.secret, mark)
    found = None if person is None else actor_who_reads(person)
    return found if found is not None else abort(404)
