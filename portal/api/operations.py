"""What each operation is called, in a word and in a sentence, and how it may refuse: the description tells so.

The names are published: clients that are made from the description call their functions by them.
"""

from dataclasses import dataclass

from portal.layouts.kinds import KINDS

NAMES: dict[str, tuple[str, str]] = {
    "projects.every": ("list_projects", "List the projects"),
    "projects.add": ("add_project", "Add a project"),
    "projects.one": ("get_project", "Read a project"),
    "projects.change": ("change_project", "Change a project"),
    "projects.hand_over": ("hand_over_house", "Say which manager runs a project"),
    "projects.close": ("close_project", "Close a project"),
    "projects.open": ("open_project", "Open a closed project again"),
    "projects.remove": ("remove_project", "Remove a project that was set up by mistake"),
    "rooms.every": ("list_rooms", "List the rooms"),
    "rooms.one": ("get_room", "Read a room"),
    "rooms.add": ("add_room", "Add a room"),
    "rooms.change": ("change_room", "Change a room"),
    "rooms.remove": ("remove_room", "Remove a room"),
    "people.every": ("list_people", "List the people of the household"),
    "people.one": ("get_person", "Read a person"),
    "people.add": ("add_person", "Add a person"),
    "people.change": ("change_person", "Change a person"),
    "people.remove": ("remove_person", "Remove a person"),
    "people.make_link": ("make_link", "Make a private link for a person"),
    "people.revoke_link": ("revoke_link", "Revoke the private link of a person"),
    "phases.every": ("list_phases", "List the phases"),
    "phases.one": ("get_phase", "Read a phase"),
    "phases.add": ("add_phase", "Add a phase"),
    "phases.change": ("change_phase", "Change a phase"),
    "phases.remove": ("remove_phase", "Remove a phase"),
    "phases.start": ("start_phase", "Start a phase"),
    "phases.finish": ("finish_phase", "Finish a phase"),
    "phases.release": ("release_phase", "Let a held phase start without an approval"),
    "phases.stop": ("stop_phase", "Stop a phase that is under way"),
    "phases.resume": ("resume_phase", "Go on with a phase"),
    "phases.await_inspection": ("await_inspection", "Have a phase wait for its inspection"),
    "phases.remaining": ("change_remaining_hours", "Say how many crew hours are left"),
    "phases.take_back_start": ("take_back_start", "Take back that a phase was started"),
    "phases.take_back_stop": ("take_back_stop", "Take back that a phase rests or waits for its inspection"),
    "phases.take_back_finish": ("take_back_finish", "Take back that a phase is finished"),
    "phases.take_back_release": ("take_back_release", "Take back that a held phase may start"),
    "plans.every": ("list_plans", "List the plans to start from"),
    "planned.planned": ("get_planned", "Read what the plan still wants asked, ordered and read off labels"),
    "planned.start": ("start_from_plan", "Start from a plan"),
    "planned.ask": ("ask_planned_question", "Ask a question of the plan"),
    "planned.drop_question": ("drop_planned_question", "Drop a question of the plan"),
    "planned.order": ("order_planned_item", "Order an item of the plan"),
    "planned.drop_order": ("drop_planned_order", "Drop an item of the plan"),
    "decisions.every": ("list_decisions", "List the decisions"),
    "decisions.one": ("get_decision", "Read a decision"),
    "decisions.add": ("ask_decision", "Ask a decision"),
    "decisions.change": ("change_decision", "Change who decides, by when, and what it holds"),
    "decisions.revisions": ("list_revisions", "List the revisions of a decision"),
    "decisions.ask_again": ("ask_again", "Ask a decision again, changed"),
    "decisions.withdraw_question": ("withdraw_question", "Withdraw a question that is not approved"),
    "decisions.approvals": ("list_approvals", "List the approvals of a decision"),
    "decisions.approve": ("approve", "Approve an option of a revision"),
    "decisions.enter_paper": ("enter_paper_approval", "Enter an approval that was signed on paper"),
    "decisions.take_back_paper": ("take_back_paper_approval", "Take back an approval that was entered by mistake"),
    "decisions.withdraw": ("take_back_approval", "Take back one's own approval"),
    "decisions.ask_back": ("ask_back", "Ask back instead of answering"),
    "decisions.answer": ("answer_question_back", "Answer a question back"),
    "photos.keep": ("keep_photo", "Keep a photo for the options of a question"),
    "visits.every": ("list_visits", "List the visits"),
    "visits.one": ("get_visit", "Read a visit"),
    "visits.add": ("book_visit", "Book a visit"),
    "visits.change": ("change_visit", "Change a visit"),
    "visits.cancel": ("cancel_visit", "Cancel a visit"),
    "visits.suits": ("answer_visit", "Say whether a visit suits"),
    "messages.every": ("list_messages", "List what the household told us"),
    "messages.one": ("get_message", "Read a message"),
    "messages.send": ("send_message", "Tell the firm something, with a photo or without"),
    "messages.answer": ("answer_message", "Answer a message"),
    "crew_notes.every": ("list_crew_notes", "List what is for the crew only"),
    "crew_notes.write": ("write_crew_note", "Write down what is for the crew only"),
    "crew_notes.erase": ("erase_crew_note", "Erase what was for the crew only"),
    "deliveries.every": ("list_deliveries", "List the deliveries"),
    "deliveries.one": ("get_delivery", "Read a delivery"),
    "deliveries.add": ("order_delivery", "Note what was ordered"),
    "deliveries.change": ("change_delivery", "Change a delivery"),
    "deliveries.remove": ("remove_delivery", "Remove a delivery"),
    "deliveries.arrived": ("record_arrival", "Record that a delivery has arrived"),
    "deliveries.take_back_arrival": ("take_back_arrival", "Take back that a delivery has arrived"),
    "updates.every_update": ("list_updates", "List the updates"),
    "updates.one_update": ("get_update", "Read an update"),
    "updates.post_update": ("post_update", "Post an update, with photos or without"),
    "updates.change_update": ("change_update", "Change an update"),
    "updates.remove_update": ("remove_update", "Remove an update"),
    "calls.every_call": ("list_calls", "List the call notes"),
    "calls.one_call": ("get_call", "Read a call note"),
    "calls.note_call": ("note_call", "Note a call"),
    "handovers.every": ("list_handovers", "List the hand-overs"),
    "handovers.one": ("get_handover", "Read a hand-over"),
    "handovers.offer": ("offer_handover", "Offer a phase, or all of it, for hand-over"),
    "handovers.add_item": ("add_open_item", "Add an open item"),
    "handovers.take_back": ("take_back_handover", "Take back a hand-over that was not accepted"),
    "handovers.item": ("get_open_item", "Read an open item"),
    "handovers.change_item": ("change_open_item", "Change an open item"),
    "handovers.close_item": ("close_open_item", "Say that an open item is done"),
    "handovers.change_items_until": ("change_items_until", "Set until when the household can add to the list"),
    "handovers.accept": ("accept_handover", "Accept a hand-over"),
    "record.every": ("read_record", "Read the record"),
    "record.receipt": ("get_receipt", "Read the receipt of an entry"),
    "record.consistency": ("get_consistency_proof", "Prove that the record only grew"),
    "schedule.moves": ("list_moves_of_the_finish", "Read what moved the finish"),
    "schedule.one": ("get_schedule", "Read the schedule and the forecast"),
    "tonight.one": ("get_tonight", "Read what works tonight"),
    "sheets.sheet": ("get_sheet", "Read the sheet of a decision, as a file"),
    "proposals.every": ("list_proposals", "List the proposals of layouts"),
    "proposals.propose": ("propose_layout", "Propose a layout"),
    "sizes.every": ("list_sizes", "List the firm's kept sizes"),
    "sizes.usual": ("list_usual_sizes", "List the usual sizes"),
    "sizes.one": ("get_size", "Read a kept size of the firm"),
    "sizes.add": ("keep_size", "Keep a size for every house"),
    "sizes.change": ("change_size", "Change a kept size of the firm"),
    "sizes.remove": ("drop_size", "Drop a kept size of the firm"),
    "crews.every": ("list_crews", "List the firm's crews"),
    "crews.one": ("get_crew", "Read a crew"),
    "crews.written": ("list_written_crews", "List the texts that plans and visits hold for crews"),
    "crews.add": ("add_crew", "Add a crew"),
    "crews.change": ("change_crew", "Change a crew"),
    "crews.name": ("name_crew", "Say which texts stand for a crew"),
    "crews.remove": ("remove_crew", "Remove a crew that has no work before it"),
    "house_sizes.every": ("list_house_sizes", "List the kept sizes of a house"),
    "house_sizes.one": ("get_house_size", "Read a kept size of a house"),
    "house_sizes.add": ("keep_house_size", "Keep a size of a house"),
    "house_sizes.change": ("change_house_size", "Change a kept size of a house"),
    "house_sizes.remove": ("drop_house_size", "Drop a kept size of a house"),
} | {f"layouts.{kind}": (f"lay_out_{kind}", f"Lay out: {kind}") for kind in KINDS}
"""By endpoint: the operationId and the summary."""

_ALWAYS = {401, 403, 404, 429, 500, 503}
_BODY = {400, 413, 415, 422}
_WRITING = {409, 422, 507}
_READ_BY: dict[str, set[int]] = {
    "needs_version": {412, 428}, "takes_version": {412}, "photos_first": _BODY, "idempotent": {409, 422},
}
"""How a request can be refused by what a decorator reads of it."""


@dataclass(frozen=True, slots=True)
class Operation:
    """A view as the description knows it: its endpoint, its method, the names of its decorators (`http.around`)."""

    endpoint: str
    method: str
    around: tuple[str, ...]

    @property
    def refusals(self) -> frozenset[int]:
        """Every status by which it may refuse. A file can be refused, too: what was kept may not be printed (409)."""
        found = set(_ALWAYS)
        for name in self.around:
            found |= _READ_BY.get(name, set())
        if "arguments" in self.around:
            found |= {422} if self.method in ("GET", "DELETE") else _BODY
        if self._writes:
            found |= _WRITING
        if self.endpoint == "sheets.sheet":
            found |= {409, 422}
        return frozenset(found)

    @property
    def _writes(self) -> bool:
        return self.method != "GET" and not self.endpoint.startswith("layouts.")
