"""Photos that are chosen for an option in the form that asks in words: kept at once, so that nobody has to choose them
again when something else is refused."""

from flask import request
from werkzeug.datastructures import MultiDict

from portal.acts.decisions.finishes import MOST_PHOTOS
from portal.acts.keeping.photos import kept_photo
from portal.acts.refusals import NotAPhoto, PhotosWait, TooOften
from portal.photo_files import is_photo_name
from portal.request.sent_photos import keep_sent, photos_sent
from portal.request.services import services
from portal.web.desk.forms import Fault
from portal.web.forms.decision_forms import OFFERED
from portal.web.forms.inputs import Choices

_TOO_MANY = f"An option shows at most {MOST_PHOTOS} photos."


def chosen_photos(project_id: int) -> tuple[Choices, list[Fault]]:
    """Keep what is chosen, tick it in what the form sends, and give all that came so, to be ticked on the page; and
    what is wrong with the files, by the input where they were chosen."""
    found: dict[str, str] = {}
    wrong: list[Fault] = []
    ticked: MultiDict[str, str] = MultiDict(request.form)
    for number in range(OFFERED):
        path = f"options.{number}"
        names = request.form.getlist(f"{path}.photos")
        for file in photos_sent(f"{path}.sent"):
            if len(names) >= MOST_PHOTOS:
                wrong.append((f"{path}.sent", _TOO_MANY))
                break
            try:
                name = keep_sent(project_id, file).name
            except (NotAPhoto, PhotosWait, TooOften) as refusal:
                wrong.append((f"{path}.sent", str(refusal)))
                continue
            names = [*names, name]
            found[name] = f"{file.filename or 'A photo'}, just sent"
        ticked.setlist(f"{path}.photos", list(dict.fromkeys(names)))
        found |= {name: "A photo, just sent" for name in names if name not in found and _is_here(project_id, name)}
    if request.method == "POST":
        request.form = ticked  # type: ignore[assignment]  # what is kept is ticked, whoever reads the form next
    return list(found.items()), wrong


def _is_here(project_id: int, name: str) -> bool:
    return is_photo_name(name) and kept_photo(services().settings.photos_of(project_id), name) is not None
