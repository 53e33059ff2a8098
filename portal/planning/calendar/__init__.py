"""The working calendar: work time over nights, weekends, holidays and clock changes, to the minute."""
