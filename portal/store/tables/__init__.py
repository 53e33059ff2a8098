"""The tables, one module a subject."""

from portal.store.tables.base import Table, Versioned
from portal.store.tables.decisions import (
    Approval,
    Consent,
    Decision,
    PhaseHold,
    QuestionBack,
    QuestionWithdrawal,
    Release,
    Revision,
    Withdrawal,
)
from portal.store.tables.diary import Answered, Call, Photo, RecordEdge, RecordEntry, RecordNode, Update
from portal.store.tables.firm import Firm, Staff, Token
from portal.store.tables.foresight import DeskLine, Forecast, PlannedOrder, PlannedQuestion
from portal.store.tables.handover import Handover, OpenItem
from portal.store.tables.notices import Notice
from portal.store.tables.plan import Delivery, DeliveryHold, Phase, PhaseLink, Visit
from portal.store.tables.project import Link, Person, Project, Room
from portal.store.tables.proposals import Proposal
from portal.store.tables.sizes import KeptSize
from portal.store.tables.wordings import Wording

__all__ = [
    "Answered", "Approval", "Call", "Consent", "Decision", "Delivery", "DeliveryHold", "DeskLine", "Firm",
    "Forecast", "Handover", "KeptSize", "Link", "Notice", "OpenItem", "Person", "Phase", "PhaseHold", "PhaseLink",
    "Photo", "PlannedOrder", "PlannedQuestion", "Project", "Proposal", "QuestionBack", "QuestionWithdrawal",
    "RecordEdge", "RecordEntry", "RecordNode", "Release", "Revision", "Room", "Staff", "Table", "Token", "Update",
    "Versioned", "Visit", "Withdrawal", "Wording",
]
