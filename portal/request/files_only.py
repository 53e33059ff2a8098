"""What is still answered when the keys are not those of the database: files, and what is the same for everyone. Nothing
is signed, changed or published then."""

from flask import Flask, current_app, request

from portal.store.refusals import Refused

_PAGES = ("house.status_page", "house.photo", "house.visits")
_NAME = "portal files only"
_PARTS = ("public", "check", "up")


class FilesOnly(Refused):
    """The reasons name files of the server, so they stand in its log and not here."""

    status = 500
    sentence = (
        "The portal was started with other keys than those of its records. Until that is put right, pages can be read "
        "as they were, and nothing else works. Please call the office."
    )


def answer_files_only(app: Flask) -> None:
    """Refuse every request that needs more than a file."""
    app.extensions[_NAME] = True

    @app.before_request
    def refuse() -> None:
        part = (request.endpoint or "").split(".")[0]
        if request.endpoint not in _PAGES and part not in _PARTS:
            raise FilesOnly()


def only_files() -> bool:
    return _NAME in current_app.extensions
