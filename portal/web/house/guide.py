"""The guidance under a private link: the same pieces as for everyone, with the way back to the house.

A copy of its own, so that nothing in an address, and no Referer, tells another page from where it was opened.
"""

from flask import Response, abort

from portal.content import piece, pieces
from portal.pages.plain_pages import render_checks, render_guide, render_guides
from portal.web.answer import page
from portal.web.house.blueprint import blueprint, snapshot


@blueprint.get("/guide/")
def guides() -> Response:
    shown = snapshot()
    return page(render_guides(shown.firm, pieces("guide"), pieces("care"), shown.project))


@blueprint.get("/guide/checks/")
def checks() -> Response:
    shown = snapshot()
    return page(render_checks(shown.firm, shown.project))


@blueprint.get("/guide/<name>/")
def guide(name: str) -> Response:
    found = piece("guide", name) or piece("care", name)
    if found is None:
        abort(404)
    shown = snapshot()
    return page(render_guide(shown.firm, found, shown.project))
