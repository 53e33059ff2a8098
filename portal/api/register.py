"""Puts the API together: its blueprints, its description, who gets in, and how it refuses."""

from typing import Any

from apispec.ext.marshmallow import MarshmallowPlugin, resolver
from flask import Flask

from portal.api.access import ROLES
from portal.api.description import DescribedApi, Headers, describe
from portal.api.http import sender
from portal.api.resources import (
    decisions,
    deliveries,
    diary,
    handovers,
    interruptions,
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
from portal.api.resources.drawn import layouts, sheets, sizes

_MORE = (interruptions,)  # imported for their routes
BLUEPRINTS = (
    projects.blueprint, rooms.blueprint, people.blueprint, phases.blueprint, decisions.blueprint, visits.blueprint,
    deliveries.blueprint, diary.updates, diary.calls, handovers.blueprint, record.blueprint, schedule.blueprint,
    tonight.blueprint, layouts.blueprint, sheets.blueprint,
    proposals.blueprint, plans.blueprint, plans.of_project,
    sizes.blueprint, sizes.of_project,
)


def register(app: Flask) -> None:
    app.extensions[sender.ROLES] = ROLES
    app.config.update(
        API_TITLE="Portal",
        API_VERSION="v1",
        OPENAPI_VERSION="3.1.0",
        OPENAPI_URL_PREFIX="/api/v1",
        OPENAPI_JSON_PATH="openapi.json",
        API_SPEC_OPTIONS={"security": [{"token": []}]},
    )
    schemas = MarshmallowPlugin(schema_name_resolver=_schema_name)
    api = DescribedApi(app, spec_kwargs={"marshmallow_plugin": schemas, "extra_plugins": [Headers(app)]})
    describe(api, schemas)
    for blueprint in BLUEPRINTS:
        api.register_blueprint(blueprint)


def _schema_name(schema: Any) -> str:
    """The class's name without `Schema`; the schema of a change, in which every field may be missing, is its own."""
    name = str(resolver(schema))
    return f"{name}Change" if getattr(schema, "partial", None) else name
