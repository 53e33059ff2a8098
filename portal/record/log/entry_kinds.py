"""The kinds of entries: a closed set, so that a reader in ten years meets no unexplained word."""

ROTATED = "key_rotated"
"""The only kind that checking the record itself has to know."""

KINDS: dict[str, str] = {
    "asked": "a decision was asked",
    "revised": "a decision was asked again, changed: earlier approvals no longer count",
    "failing_layout_offered": "a manager offered a layout that breaks a rule all the same, with a reason",
    "question_withdrawn": "the manager withdrew a question that was not approved, with a reason",
    "asked_back": "the household asked a question instead of answering",
    "placement_proposed": "a designer proposed where something goes; nothing is settled by it",
    "answered": "the office or the manager answered a question of the household",
    "approvers_changed": "who must approve a decision was changed",
    "approved": "a named person approved one option of one revision",
    "withdrawn": "an approval was withdrawn before the held work started",
    "consent_given": "a person agreed to deal electronically, with the paper way named",
    "consent_withdrawn": "a person went back to paper",
    "released": "the manager let held work start without an approval, with a reason",
    "started": "a phase was started",
    "stopped": "a phase was stopped for a while",
    "resumed": "a stopped phase went on",
    "inspection_awaited": "a phase waits for an inspection",
    "finished": "a phase was finished",
    "visit_booked": "a visit was booked",
    "visit_moved": "a visit was moved",
    "visit_cancelled": "a visit was cancelled",
    "timezone_changed": "the project's timezone was put right; visits stay at their time by the clock at the house",
    "delivery_arrived": "an ordered item arrived",
    "household_changed": "someone was added to the household or removed, or may do something else than before",
    "link_made": "a private link was made",
    "link_revoked": "a private link was turned off",
    "contract_changed": "the contract amount or time was changed",
    "handed_over": "a phase or the project was handed over, with a list of what is still open",
    "handover_accepted": "the homeowner accepted a hand-over",
    "item_added": "an open item was added to a hand-over",
    "item_closed": "an open item of a hand-over was done",
    ROTATED: "another key signs the heads from here on",
}
