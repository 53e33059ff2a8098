"""What is open to everyone: who the firm is, the guidance, the style sheets, and what a refusal means."""

from flask import Blueprint, Flask, Response, abort, send_from_directory

from portal.acts import refusals
from portal.content import piece, pieces
from portal.folders import STATIC
from portal.pages.plain_pages import render_checks, render_guide, render_guides, render_home, render_message
from portal.store.reading.firm import current_firm
from portal.store.refusals import Refused
from portal.web.answer import page

blueprint = Blueprint("public", __name__)


def register(app: Flask) -> None:
    app.register_blueprint(blueprint)


@blueprint.get("/")
def home() -> Response:
    return page(render_home(current_firm(), pieces("guide")))


@blueprint.get("/guide/")
def guides() -> Response:
    return page(render_guides(current_firm(), pieces("guide"), pieces("care")))


@blueprint.get("/guide/checks/")
def checks() -> Response:
    return page(render_checks(current_firm()))


@blueprint.get("/guide/<name>/")
def guide(name: str) -> Response:
    found = piece("guide", name) or piece("care", name)
    return page(render_guide(current_firm(), found)) if found else abort(404)


@blueprint.get("/static/<path:file>")
def static(file: str) -> Response:
    return send_from_directory(STATIC, file, max_age=3600)


@blueprint.get("/problems/<code>")
def problem(code: str) -> Response:
    """What a problem's `type` points to: the refusal in words."""
    known = {refusal.code(): refusal for refusal in _every_refusal(Refused)}
    if code not in known:
        abort(404)
    sentence = known[code].sentence.replace("{", "<").replace("}", ">")
    return page(render_message(current_firm(), code.replace("-", " ").capitalize(), [sentence]))


def _every_refusal(kind: type[Refused]) -> list[type[Refused]]:
    assert refusals  # imported, so that all of them are known
    return [kind, *(one for inner in kind.__subclasses__() for one in _every_refusal(inner))]
