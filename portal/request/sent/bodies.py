"""How much of a request is read, by what it is and who sends it: what it becomes in memory is many times its size.

A form of a million names, or a list of a million lists, takes a hundred times what it had on its way. The library
bounds no plain form (werkzeug 3.1.9), and of a form with files each text by itself alone. So all that is no file is
small, and files go to disk, whoever sends them; the pictures among them are opened by `keep_photo` alone.
"""

from tempfile import TemporaryFile
from typing import IO, Any, cast

from flask import Request
from flask import request as current

LARGEST_REQUEST = 90 * 1024 * 1024
"""With files: four photos at their largest, and the form around them."""
LARGEST_TEXT = 1024 * 1024
"""Without files: the longest text that is kept has 10,000 letters, the largest form 200 phases."""
PARTS, PART_BYTES = 300, 100_000
"""Of a form with files, from a household or a stranger."""
STAFF_PARTS, STAFF_PART_BYTES = 1000, 500_000
"""A plan of 200 phases is one form; the rows of a sheet are one field."""


class BoundedRequest(Request):
    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.max_content_length = LARGEST_REQUEST if self.mimetype == "multipart/form-data" else LARGEST_TEXT

    def _get_file_stream(
        self, total_content_length: int | None, content_type: str | None, filename: str | None = None,
        content_length: int | None = None,
    ) -> IO[bytes]:  # fmt: skip
        """Into a file at once: hundreds of small ones would be held in memory."""
        return cast(IO[bytes], TemporaryFile("rb+"))  # closed, and so gone, with the request


def allow_long_forms() -> None:
    """Once it is known that a member of staff sends this."""
    current.max_form_parts, current.max_form_memory_size = STAFF_PARTS, STAFF_PART_BYTES
