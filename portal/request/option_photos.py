"""The photos that options of a question name: each must be one that was kept for the house, and is told as it is."""

from typing import Any

from portal.acts.keeping.photos import Kept, kept_photo
from portal.request.services import services
from portal.store.refusals import FieldRefused

Values = dict[str, Any]


def with_kept_photos(project_id: int, values: Values) -> Values:
    """Give `values` of a question with each photo of its options as it is kept. Raises FieldRefused with the
    path of one that is not."""
    if not any(one.get("photos") for one in values.get("options") or ()):
        return values
    folder = services().settings.photos_of(project_id)
    options = []
    for at, option in enumerate(values["options"]):
        photos = []
        for place, one in enumerate(option.get("photos") or ()):
            kept = kept_photo(folder, one["name"])
            if kept is None:
                path = f"options.{at}.photos.{place}.name"
                raise FieldRefused(path, "No photo of this name is kept for this house. Send it first.")
            photos.append(photo_told(kept, one.get("caption") or ""))
        options.append({**option, "photos": photos})
    return {**values, "options": options}


def photo_told(kept: Kept, caption: str = "") -> Values:
    """A kept photo as an option names it."""
    return {"name": kept.name, "caption": caption, "width": kept.width, "height": kept.height, "sha256": kept.sha256}
