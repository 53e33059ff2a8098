"""Consent to deal on a screen: what was agreed to, and the way back to paper."""

from flask import Response, redirect

from portal import clock
from portal.acts.household.consent import WORDING, go_back_to_paper
from portal.content import piece
from portal.pages.paper.paper_page import render_paper
from portal.store.rows import consent_rows
from portal.web.answer import page
from portal.web.house.blueprint import blueprint, project_id, reader, snapshot


@blueprint.get("/paper/")
def paper() -> Response:
    return page(render_paper(snapshot(), piece(*WORDING), agreed=consent_rows.standing(reader().id)))


@blueprint.post("/paper/")
def back_to_paper() -> Response:
    go_back_to_paper(reader(), project_id(), now=clock.now())
    return redirect("./", 303)  # type: ignore[return-value]
