"""Verifying a project here, where it is kept: its record from the first entry, and the facts that it tells of."""

from collections.abc import Sequence

from portal.acts.keeping.receipts import signed_head
from portal.planning.calendar.week import CalendarError, read_pattern
from portal.planning.crews.hours import own_hours
from portal.record.checking.drawings_check import check_drawings
from portal.record.checking.facts_in_entries import KeptEntry
from portal.record.checking.prices_check import check_prices
from portal.record.checking.rows_check import check_rows, check_staff, unreadable_words
from portal.record.checking.tables_check import (
    check_columns,
    check_contract,
    check_facts,
    check_household,
    check_readable,
    check_shown,
    check_states,
)
from portal.record.checking.verification import verify_record
from portal.record.checking.wording_check import check_wordings, versions_named
from portal.record.log.heads import SignedHead, Signer
from portal.record.log.merkle import NotAFrontier
from portal.record.verdict import Fault, Verdict
from portal.store.engine.database import read as reading
from portal.store.engine.odd_text import OddRow, odd_rows_told, odd_text_read
from portal.store.reading import record_facts
from portal.store.refusals import NotFound
from portal.store.rows import project_rows, record_rows, staff_rows
from portal.store.rows.crews import crew_rows
from portal.store.told.sound_rows import unsound
from portal.store.told.told_rows import standing_of_all


def verify_project(project_id: int, signer: Signer, held: Sequence[SignedHead] = ()) -> Verdict:
    """Check everything that is kept of a project's record, whatever stands in its rows. Raises NotFound.

    `held` are heads from receipts and copies that somebody has: the record has to agree with them, too. Without
    any, entries cut off at the end together with their facts and their tree would not be missed.
    """
    with reading(), odd_text_read():
        if project_id not in project_rows.all_with_record():
            raise NotFound(what="project")
        if project_id not in project_rows.all_ids():
            return Verdict((), "the project is not in the tables, but its record is: it was removed past the product.")
        try:
            with odd_rows_told():
                return _verified(project_id, signer, held)
        except OddRow as wrong:
            found = next(unsound(project_id), None)
            return Verdict((), unreadable_words(*found) if found else f"the record can't be checked ({wrong}).")


def _verified(project_id: int, signer: Signer, held: Sequence[SignedHead]) -> Verdict:
    try:
        signed = signed_head(project_id, signer)
    except NotAFrontier as wrong:
        return Verdict((), f"the right edge of the tree was changed: {wrong}")
    heads = [*held, *([signed] if signed else [])]
    rows, nodes = list(record_rows.every(project_id)), record_rows.all_nodes(project_id)
    found = verify_record(project_id, rows, heads, nodes=nodes, whole=True)
    return _with_facts(project_id, found) if found.ok else found


def _with_facts(project_id: int, found: Verdict) -> Verdict:
    entries = record_facts.kept_entries(project_id)
    said = list(found.sentences)
    try:
        check_columns(entries)
        _check_edge(project_id, entries)
        revisions = record_facts.kept_revisions(project_id)
        check_readable(revisions)
        said.extend(check_drawings(entries, revisions))
        said.append(check_shown(revisions))
        named = versions_named((entry.content for entry in entries), (one.shown for one in revisions))
        said.extend(check_wordings(named, record_facts.wording_hashes(named)))
        said.append(check_facts(entries, record_facts.kept_facts(project_id)))
        check_states(record_facts.decision_states(project_id))
        members = record_facts.members(project_id)
        check_household(entries, members)
        check_prices(entries, record_facts.reading_prices(project_id), [one.person for one in members])
        check_contract(entries, record_facts.contract_cents(project_id))
        check_staff(entries, staff_rows.names_and_roles())
        said.append(check_rows(entries, standing_of_all(project_id), record_rows.edge(project_id).told_from))
        _check_sound(project_id)
    except Fault as fault:
        return Verdict(tuple(said), str(fault))
    return Verdict(tuple(said))


def _check_sound(project_id: int) -> None:
    """Also of what no entry tells: in old records, and of what may not be told."""
    found = next(unsound(project_id), None)
    if found:
        raise Fault(unreadable_words(*found))
    for crew in crew_rows.every():
        try:
            read_pattern(own_hours(crew.week, crew.days_off))
        except CalendarError as wrong:
            raise Fault(unreadable_words("crew", crew.id, wrong.field)) from None


def _check_edge(project_id: int, entries: Sequence[KeptEntry]) -> None:
    """The next entry joins hash and time of the edge, so they must be those of the newest entry."""
    last = record_rows.edge(project_id).last
    if last is None:
        return
    row = record_rows.one(project_id, last.sequence)
    if row is None or (row[1], entries[-1].at) != (last.hash, last.at):
        raise Fault("the right edge of the tree names another newest entry than there is.")
