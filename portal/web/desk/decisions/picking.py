"""What is kept, in the page that asks with drawings: what was picked is filled in, what is to be kept is kept."""

from collections.abc import Sequence

from flask import request
from marshmallow import ValidationError

from portal import clock
from portal.acts.actor import MAY
from portal.acts.firm.sizes import keep_firm_size, keep_size
from portal.api.resources.drawn.sizes import SizeSchema
from portal.layouts.sizes.picking import FIRM, HOUSE
from portal.store.refusals import Refused
from portal.store.rows import size_rows
from portal.web.desk.blueprint import who
from portal.web.forms.blanks import Group
from portal.web.forms.nesting import faults
from portal.web.forms.once import once
from portal.web.forms.picking import Box, Typed, boxes, fill, pick_only_ones, recognize, to_keep
from portal.web.forms.plain_words import plain

Faults = dict[str, list[str]]


def boxes_of(groups: Sequence[Group], project_id: int) -> list[list[Box]]:
    """The lists to pick from beside each group, and the inputs to keep it."""
    sizes, whose = size_rows.offered(project_id), owners()
    return [boxes(group, sizes, whose) for group in groups]


def owners() -> list[str]:
    """For whom the member of staff who is signed in may keep something."""
    role = who().role
    return [owner for owner, doing in ((HOUSE, "keep_size"), (FIRM, "keep_firm_size")) if role in MAY[doing]]


def recognized(kind: str, project_id: int, typed: Typed) -> None:
    """Set the lists to what is kept as it stands in the inputs."""
    recognize(kind, typed, size_rows.offered(project_id))


def begun_with_only_ones(kind: str, project_id: int, typed: Typed) -> list[str]:
    """A new question begins with what there is one of alone. Returns what was filled in, in a sentence."""
    return pick_only_ones(kind, typed, size_rows.offered(project_id))


def pick(kind: str, project_id: int, typed: Typed) -> tuple[list[str], Faults]:
    """Fill in what was picked, and keep nothing."""
    return fill(kind, typed, size_rows.offered(project_id)), {}


def pick_and_keep(kind: str, project_id: int, typed: Typed) -> tuple[list[str], Faults]:
    """Fill in what was picked and keep what was ticked, in what was typed. Returns what was done, in sentences, and
    what is wrong with what was to be kept, by the input where it stands."""
    said = fill(kind, typed, size_rows.offered(project_id))
    wrong: Faults = {}
    for box, owner, values in list(to_keep(kind, typed, owners())):
        try:
            said.append(_keep_once(project_id, owner, SizeSchema().load(values), box.name))
        except ValidationError as error:
            _place(wrong, box, [(path, plain(message)) for path, message in faults(error.normalized_messages(), {})])
        except Refused as refusal:
            _place(wrong, box, refusal.faults or [("", str(refusal))])
        else:
            _clear(typed, box)
    return said, wrong


def _keep_once(project_id: int, owner: str, values: dict[str, object], box: str) -> str:
    def keep() -> str:
        if owner == FIRM:
            keep_firm_size(who(), values)
        else:
            keep_size(who(), project_id, values, now=clock.now())
        return f"“{values['name']}” is kept for {'the firm' if owner == FIRM else 'this house'}."

    return once(who(), f"{request.form.get('once', '')} {box}", keep)


def _clear(typed: Typed, box: Box) -> None:
    for one in box.keep:
        typed.pop(one.name, None)


def _place(wrong: Faults, box: Box, found: Sequence[tuple[str, str]]) -> None:
    for path, message in found:
        field = path.removeprefix("values").removeprefix(".")
        wrong.setdefault(box.stands.get(field, box.stands[""]), []).append(message)
