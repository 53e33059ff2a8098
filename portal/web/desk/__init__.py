"""The desk: where the manager and the office work, on a phone on site and with a caller on the line."""
