"""A homeowner's private link: the page, the decisions, the record, hand-overs, the way back to paper."""
