"""All news: the updates, newest first, with their photos."""

from dataclasses import dataclass

from markupsafe import Markup

from portal.store.facts import PhotoFact, Snapshot, UpdateFact
from portal.words.dates import when_words

_SMALL_EDGE = 640


@dataclass(frozen=True, slots=True)
class Photo:
    """`alt` tells those who can't see it what it shows; the addresses are relative to the page."""

    small: str
    large: str
    width: int
    height: int
    alt: str
    caption: str


@dataclass(frozen=True, slots=True)
class News:
    title: str
    text: Markup
    photos: list[Photo]


def news_section(snapshot: Snapshot) -> list[News]:
    return [_news(update, snapshot.project.timezone) for update in snapshot.updates]


def _news(update: UpdateFact, zone: str) -> News:
    when = when_words(update.at, zone)
    title = f"{when}, from {update.staff}" if update.staff else when
    photos = [photo_of(photo, f"Photo {at} of the update of {when}") for at, photo in enumerate(update.photos, 1)]
    # Converted and allow-listed by portal.words.prose when it was written.
    return News(title, Markup(update.html), photos)


def photo_of(photo: PhotoFact, otherwise: str) -> Photo:
    """`otherwise`: what is said of a photo that nobody described."""
    scale = min(1.0, _SMALL_EDGE / max(photo.width, photo.height, 1))
    return Photo(
        f"photos/{photo.name}-small.jpg", f"photos/{photo.name}-large.jpg",
        round(photo.width * scale), round(photo.height * scale), photo.caption or otherwise, photo.caption,
    )
