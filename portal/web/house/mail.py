"""Our mail to this person, under their own link: stop it, or begin it again."""

from flask import Response, redirect

from portal.web.house.blueprint import blueprint, reader
from portal.web.stop_mail import change_mail, mail_of


@blueprint.get("/mail/")
def mail() -> Response:
    return mail_of(reader(), home="../")


@blueprint.post("/mail/")
def change() -> Response:
    change_mail(reader())
    return redirect("./", 303)  # type: ignore[return-value]
