"""Puts the API together: its blueprints, its description, who gets in, and how it refuses."""

from typing import Any

from apispec.ext.marshmallow import MarshmallowPlugin, resolver
from flask import Flask

from portal.api.access import ROLES
from portal.api.description import ABOUT, DescribedApi, Operations, describe
from portal.api.http import sender
from portal.api.resources import (
    crew_notes,
    decisions,
    deliveries,
    diary,
    handovers,
    messages,
    people,
    phases,
    plans,
    projects,
    proposals,
    record,
    rooms,
    schedule,
    tonight,
    visits,
)
from portal.api.resources.asked import photos
from portal.api.resources.crews import crews
from portal.api.resources.drawn import layouts, sheets, sizes
from portal.api.resources.underway import interruptions, taking_back

_MORE = (interruptions, taking_back)  # imported for their routes
BLUEPRINTS = (
    projects.blueprint, rooms.blueprint, people.blueprint, phases.blueprint, decisions.blueprint, visits.blueprint,
    deliveries.blueprint, diary.updates, diary.calls, handovers.blueprint, record.blueprint, schedule.blueprint,
    tonight.blueprint, layouts.blueprint, sheets.blueprint,
    messages.blueprint, photos.blueprint, crew_notes.blueprint, proposals.blueprint, plans.blueprint, plans.of_project,
    sizes.blueprint, sizes.of_project, crews.blueprint,
)


def register(app: Flask, base_url: str) -> None:
    app.extensions[sender.ROLES] = ROLES
    app.config.update(
        API_TITLE="Portal",
        API_VERSION="v1",
        OPENAPI_VERSION="3.1.0",
        OPENAPI_URL_PREFIX="/api/v1",
        OPENAPI_JSON_PATH="openapi.json",
        API_SPEC_OPTIONS={"info": {"description": ABOUT}, "security": [{"token": []}], "servers": [{"url": base_url}]},
    )
    schemas = MarshmallowPlugin(schema_name_resolver=_schema_name)
    api = DescribedApi(app, spec_kwargs={"marshmallow_plugin": schemas, "extra_plugins": [Operations(app)]})
    describe(api, schemas)
    for blueprint in BLUEPRINTS:
        api.register_blueprint(blueprint)


def _schema_name(schema: Any) -> str:
    """The class's name without `Schema`; the schema of a change, in which every field may be missing, is its own."""
    name = str(resolver(schema))
    return f"{name}Change" if getattr(schema, "partial", None) else name
