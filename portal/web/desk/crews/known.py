"""Names that plans and visits have for crews and that are on no list yet: of each, who it is. Only likely twins are
chosen before somebody looks; a name of which nothing is said is asked again."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from flask import Response, request, url_for
from marshmallow import fields, validate

from portal import clock
from portal.acts.crews.crews import add_crew, name_crew
from portal.api.http.shapes import Strict, name_field
from portal.planning.crews.names import crew_key, likely_twins
from portal.store.facts import CrewFact
from portal.store.refusals import FieldRefused
from portal.store.rows.crews import crew_rows
from portal.store.rows.crews.crew_rows import Written
from portal.web.desk.blueprint import form_page, who
from portal.web.desk.forms import Values, handle
from portal.web.forms.inputs import Choices, Field, Form
from portal.words.lists import listed, quoted
from portal.words.plurals import counted, plural

NEW, NONE, AS, CREW = "new", "none", "as ", "crew "
"""Who a name is: a new crew, no crew of ours, the same as that other name, or the crew with that id."""
_MOST = 50
"""Names on one page; those that most plans have come first, the others once these are said."""


@dataclass(frozen=True, slots=True)
class Group:
    """Names that are probably one crew. `crew`: the one on the list that they are probably, too."""

    texts: list[Written]
    crew: CrewFact | None

    @property
    def name(self) -> str:
        """The one that most plans have."""
        return self.crew.name if self.crew else max(self.texts, key=lambda one: one.many).text


class Asked(NamedTuple):
    """A name with its choices and the likely one of them."""

    text: str
    label: str
    choices: Choices
    likely: str


class NameForm(Strict):
    text = name_field(80, required=True)
    means = fields.String(load_default="", validate=validate.Length(max=90))


class KnownForm(Strict):
    each = fields.List(fields.Nested(NameForm), load_default=list, validate=validate.Length(max=_MOST))


@form_page("/crews/known", "name_crew")
def known_crews() -> Response:
    asked = {one.text: one for one in _asked()}
    texts = _sent() or [*asked][:_MOST]
    inputs: list[Field] = []
    for at, text in enumerate(texts):
        one = asked.get(text) or Asked(text, quoted([text]), _choices(None, text), "")
        inputs += [Field(f"each.{at}.text", "", "hidden"), Field(f"each.{at}.means", one.label, "choice",
                                                                 choices=one.choices)]
    start = {"each": [{"text": text, "means": asked[text].likely if text in asked else ""} for text in texts]}
    form = Form("Names of crews that we know from plans", inputs, KnownForm(), "Save who they are",
                template="known_crews.html",
                intro="What stands in plans and visits stays as it is written. Here you say who it is: from then on "
                "its hours, its phone and its other houses count for each of these names.")
    return handle(form, _save, url_for("desk.crews"), start)


def _sent() -> list[str]:
    """The names of the page that was sent, though others may have been said meanwhile."""
    found = (request.form.get(f"each.{at}.text", "") for at in range(_MOST))
    return [text for text in found if text]


def _save(values: Values) -> str:
    means = {row["text"]: row["means"] for row in values["each"] if row["means"]}
    if not means:
        raise FieldRefused("each.0.means", "Say of one name at least who it is.")
    for at, row in enumerate(values["each"]):
        if not _can_be(row["means"], means):
            raise FieldRefused(f"each.{at}.means", "Choose one of the list.")
    for text, mean in sorted(means.items(), key=lambda pair: pair[1].startswith(AS)):
        _be(text, mean)
    return " ".join(_said(means))


def _can_be(mean: str, means: Mapping[str, str]) -> bool:
    if mean.startswith(CREW):
        return mean.removeprefix(CREW) in {str(crew.id) for crew in crew_rows.every()}
    return mean in ("", NEW, NONE) or (mean.startswith(AS) and not means.get(mean[len(AS):], "").startswith(AS))


def _be(text: str, mean: str) -> None:
    """One that is no crew of ours is kept as one that is offered nowhere, so that nobody is asked of it again."""
    if mean.startswith(CREW):
        name_crew(who(), int(mean.removeprefix(CREW)), [text], clock.now())
        return
    name = mean.removeprefix(AS) if mean.startswith(AS) else text
    holder = crew_rows.holder_of(crew_key(name))
    if holder is None:
        holder = add_crew(who(), {"name": name, "active": mean != NONE}, clock.now()).id
    if name != text:
        name_crew(who(), holder, [text], clock.now())


def _said(means: Mapping[str, str]) -> Iterator[str]:
    names = {f"{CREW}{crew.id}": crew.name for crew in crew_rows.every()}
    by_mean: dict[str, list[str]] = {}
    for text, mean in means.items():
        by_mean.setdefault(mean, []).append(text)
    for mean, texts in by_mean.items():
        said = f"{quoted(texts)} {plural(len(texts), 'is', 'are')}"
        ends = {NEW: "on the list", NONE: "no crew of ours"}.get(mean)
        crew = names.get(mean) or mean.removeprefix(AS)
        yield f"{said} {ends}." if ends else f"{said} {crew} from now on, in every house."


def _asked() -> Iterator[Asked]:
    for group in _groups():
        for at, (text, label) in enumerate(_by_key(group.texts)):
            home = "" if at == 0 or group.crew else group.name
            likely = f"{CREW}{group.crew.id}" if group.crew else f"{AS}{home}" if home else (
                NEW if len(_by_key(group.texts)) > 1 else "")
            yield Asked(text, label, _choices(home or None, text), likely)


def _by_key(texts: list[Written]) -> list[tuple[str, str]]:
    """Ways to write one name are one, under that which most plans have; that with its others, and how often."""
    found: dict[str, list[Written]] = {}
    for one in sorted(texts, key=lambda one: -one.many):
        found.setdefault(crew_key(one.text), []).append(one)
    return [(same[0].text, f"{listed(f'“{one.text}”, {_often(one)}' for one in same)}") for same in found.values()]


def _often(one: Written) -> str:
    return f"{counted(one.many, 'time')} in {counted(one.houses, 'house')}"


def _choices(home: str | None, text: str) -> Choices:
    twin = [(f"{AS}{home}", f"The same as “{home}”")] if home else []
    crews = [(f"{CREW}{crew.id}", crew.name) for crew in crew_rows.every()]
    return [("", "Say it later"), (NEW, f"A new crew: {text}"), *twin, *crews, (NONE, "No crew of ours")]


def _groups() -> list[Group]:
    """Each with a crew on the list that is like it, if there is one."""
    crews = crew_rows.known()
    unknown: dict[str, list[Written]] = {}
    for one in crew_rows.unknown(set(crews)):
        unknown.setdefault(crew_key(one.text), []).append(one)
    found = []
    for keys in likely_twins([*crews, *unknown]):
        texts = [one for key in keys for one in unknown.get(key, ())]
        if texts:
            found.append(Group(texts, next((crews[key] for key in keys if key in crews), None)))
    return sorted(found, key=lambda group: -sum(one.many for one in group.texts))
