"""The plan computed: working calendar, schedule, late answers, conflicts, forecast, tonight. Pure.

An *instant* is an int: whole minutes since 1970-01-01T00:00Z. Work time and wait time are int minutes.
"""
