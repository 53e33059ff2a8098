"""The tables, one module a subject."""

from portal.store.tables.accounts import AccountEntry, RecoveryCode, SecondFactor, StaffSession, WayIn
from portal.store.tables.base import Table, Versioned
from portal.store.tables.crew_notes import CrewNote
from portal.store.tables.crews import Crew, CrewLink, CrewName, PlannedWork
from portal.store.tables.decisions import (
    Approval,
    Consent,
    Decision,
    PhaseHold,
    QuestionBack,
    QuestionWithdrawal,
    Release,
    ReleaseTakenBack,
    Revision,
    Withdrawal,
)
from portal.store.tables.diary import Answered, Call, Photo, RecordEdge, RecordEntry, RecordNode, Update
from portal.store.tables.firm import Firm, FirmKeys, FirstDay, Staff, Supplier, Token
from portal.store.tables.foresight import (
    DeskLine,
    FinishMoves,
    Forecast,
    PlannedOrder,
    PlannedQuestion,
    ShownPage,
    ToldMark,
)
from portal.store.tables.handover import Handover, OpenItem
from portal.store.tables.household import Message, VisitAnswer
from portal.store.tables.notices import (
    Bounce,
    EveningLook,
    MailStop,
    Notice,
    ReminderLook,
    ReturnedMailbox,
    StaffNotice,
)
from portal.store.tables.plan import Delivery, DeliveryHold, Phase, PhaseLink, Visit
from portal.store.tables.project import Link, Person, Project, Room
from portal.store.tables.proposals import Proposal
from portal.store.tables.sizes import KeptSize
from portal.store.tables.wordings import Wording

__all__ = [
    "AccountEntry", "Answered", "Approval", "Bounce", "Call", "Consent", "Crew", "CrewLink", "CrewName", "CrewNote",
    "Decision", "Delivery", "DeliveryHold", "DeskLine", "EveningLook", "FinishMoves", "Firm", "FirmKeys",
    "FirstDay", "Forecast", "Handover", "KeptSize", "Link", "MailStop", "Message", "Notice", "OpenItem", "Person",
    "Phase", "PhaseHold", "PhaseLink", "Photo", "PlannedOrder", "PlannedQuestion", "PlannedWork", "Project",
    "Proposal", "QuestionBack", "QuestionWithdrawal", "RecordEdge", "RecordEntry", "RecordNode", "RecoveryCode",
    "Release", "ReleaseTakenBack", "ReminderLook", "ReturnedMailbox", "Revision", "Room", "SecondFactor",
    "ShownPage", "Staff", "StaffNotice", "StaffSession", "Supplier", "Table", "Token", "ToldMark", "Update",
    "Versioned", "Visit", "VisitAnswer", "WayIn", "Withdrawal", "Wording",
]
