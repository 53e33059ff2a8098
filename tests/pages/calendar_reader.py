"""Reads an iCalendar file by the rules of RFC 5545 and nothing else, as strictly as they are: the portal's calendar is
written by a library, which must not be its own witness."""

import re
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from typing import Any

# Value types by property (RFC 5545, 3.8; RFC 7986, 5). Whatever is not named here is text.
_TYPES = {
    "DTSTAMP": "DATE-TIME", "DTSTART": "DATE-TIME", "DTEND": "DATE-TIME", "SEQUENCE": "INTEGER", "URL": "URI",
    "REFRESH-INTERVAL": "DURATION",
    "TRIGGER": "DURATION", "X-PUBLISHED-TTL": "DURATION",
}  # fmt: skip
_LINE = re.compile(r'([A-Z-]+)((?:;[A-Z-]+=(?:"[^"]*"|[^";:,]*))*):(.*)', re.DOTALL)
_PARAMETER = re.compile(r';([A-Z-]+)=(?:"([^"]*)"|([^";:,]*))')


@dataclass
class Component:
    """`values` by property, as Python values; `raw` as they are written, each with its parameters."""

    name: str
    values: dict[str, Any] = field(default_factory=dict)
    raw: dict[str, tuple[dict[str, str], str]] = field(default_factory=dict)
    inside: list["Component"] = field(default_factory=list)

    def __getitem__(self, name: str) -> Any:
        return self.values[name]


def read_calendar(data: bytes) -> Component:
    """The one calendar in a file. Raises AssertionError for whatever the RFC doesn't allow, or this doesn't know."""
    open_ones = [Component("file")]
    for line in content_lines(data):
        found = _LINE.fullmatch(line)
        assert found, line
        name, parameters, value = found.groups()
        if name == "BEGIN":
            open_ones.append(Component(value))
        elif name == "END":
            closed = open_ones.pop()
            assert closed.name == value
            open_ones[-1].inside.append(closed)
        else:
            given = {one[1]: one[2] or one[3] for one in _PARAMETER.finditer(parameters)}
            assert name not in open_ones[-1].raw, f"{name} is there twice"
            open_ones[-1].raw[name] = given, value
            open_ones[-1].values[name] = _value(given.get("VALUE", _TYPES.get(name, "TEXT")), value)
    (file,) = open_ones
    (calendar,) = file.inside
    assert calendar.name == "VCALENDAR" and not file.raw
    return calendar


def content_lines(data: bytes) -> list[str]:
    """Unfolded (3.1). No line is longer than 75 octets, none is split within a character, each ends with CRLF."""
    assert data.endswith(b"\r\n")
    lines = data.removesuffix(b"\r\n").split(b"\r\n")
    for line in lines:
        assert len(line) <= 75 and not set(line) & set(b"\r\n\0")
        line.decode()
    return re.sub(r"\r\n[ \t]", "", data.decode().removesuffix("\r\n")).split("\r\n")


def _value(kind: str, value: str) -> Any:
    if kind == "TEXT":
        return _text(value)
    if kind == "INTEGER":
        return int(value)
    if kind == "DATE":
        return date.fromisoformat(value)
    if kind == "DATE-TIME":
        return datetime.strptime(value, "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC)  # form 2 of 3.3.5 and no other
    if kind == "DURATION":
        found = re.fullmatch(r"([+-]?)P(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?)?", value)  # 3.3.6, as far as we need it
        assert found and not value.endswith(("P", "T")), value
        days, hours, minutes = (int(one or 0) for one in found.groups()[1:])
        return timedelta(days=days, hours=hours, minutes=minutes) * (-1 if found[1] == "-" else 1)
    assert kind == "URI", kind
    return value


def _text(value: str) -> str:
    """3.3.11: a backslash stands before backslash, semicolon, comma and n or N; the former three stand nowhere bare."""
    parts = re.findall(r"\\[\\;,nN]|[^\\;,]", value, re.DOTALL)
    assert "".join(parts) == value, value
    text = "".join(("\n" if part[1] in "nN" else part[1]) if len(part) == 2 else part for part in parts)
    assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f]", text), "control characters"
    return text
