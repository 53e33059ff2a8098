"""What every request needs and the application made once: the settings and the publisher."""

from dataclasses import dataclass

from flask import current_app

from portal.pages.publishing.publish import Publisher
from portal.settings import Settings


@dataclass(frozen=True)
class Services:
    settings: Settings
    publisher: Publisher


def services() -> Services:
    found: Services = current_app.extensions["portal"]
    return found
