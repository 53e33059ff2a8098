"""What the script that keeps forms on a phone asks for: its worker, and who is signed in (static/desk).

The worker lies below /desk/, so that it sees nothing else (W3C Service Workers, 3.4.3); who is not signed in gets it as
well, since it holds nothing: a browser looks now and then whether there is a newer one.
"""

import json
from base64 import b64encode
from hashlib import sha256

from flask import Response, jsonify, request

from portal.folders import STATIC
from portal.request import session
from portal.request.heads import WORKER_POLICY
from portal.store.reading.firm import current_firm
from portal.web.desk.blueprint import blueprint
from portal.web.desk.showing import small_page

_AGAIN = (
    'const again = () => location.replace(location.href); addEventListener("online", again);'
    'addEventListener("pageshow", (event) => event.persisted && again());'
    'navigator.serviceWorker.onmessage = (event) => event.data === "sent" && again();'
)
"""The page without a network goes as soon as there is one, and once what waited is sent: it says “kept here”."""


@blueprint.get("/worker.js")
def worker() -> Response:
    again = b64encode(sha256(_AGAIN.encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-{again}'; base-uri 'none'"
    away = {"page": small_page("away.html", firm=current_firm(), script_text=_AGAIN), "policy": policy}
    parts = [_text("waiting.js"), f"const AWAY = {json.dumps(away)};\n", _text("worker.js")]
    answer = Response("".join(parts), content_type="text/javascript; charset=utf-8")
    answer.headers |= {"Content-Security-Policy": WORKER_POLICY, "Cache-Control": "no-cache"}
    answer.add_etag()
    answer.make_conditional(request)
    return answer


@blueprint.get("/standing")
def standing() -> Response:
    """Whose forms may go from here, with the mark that they carry; of nobody, null."""
    found = session.standing()
    if found is None:
        return jsonify(account=None)
    return jsonify(account=found.actor.key, mark=session.form_mark(), step=found.step)


def _text(name: str) -> str:
    return (STATIC / "desk" / name).read_text(encoding="utf-8")
