"""The tables, one module a subject."""

from portal.store.tables.base import Table, Versioned
from portal.store.tables.decisions import Approval, Decision, PhaseHold, QuestionBack, Release, Revision
from portal.store.tables.diary import Answered, Call, Photo, RecordEntry, Update
from portal.store.tables.firm import Firm, Staff, Token
from portal.store.tables.plan import Delivery, DeliveryHold, Phase, PhaseLink, Visit
from portal.store.tables.project import Link, Person, Project, Room

__all__ = [
    "Answered", "Approval", "Call", "Decision", "Delivery", "DeliveryHold", "Firm", "Link", "Person", "Phase",
    "PhaseHold", "PhaseLink", "Photo", "Project", "QuestionBack", "RecordEntry", "Release", "Revision", "Room",
    "Staff", "Table", "Token", "Update", "Versioned", "Visit",
]
