"""The demo's house after some more days, and its copy taken apart."""

import io
import json
import zipfile

from portal.acts.decisions.answers import approve, withdraw
from portal.acts.decisions.asking import ask_again
from portal.acts.household.handovers import offer_handover
from portal.acts.keeping.photos import keep_photo
from portal.acts.plan.starting import finish_phase
from portal.copying import own_copy
from portal.demo.pictures import drawn
from tests.demo_house import DemoHouse
from tests.house import NOW

Files = dict[str, bytes]


def unpacked(data: bytes) -> Files:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def copy_of(demo: DemoHouse, now: int = NOW) -> Files:
    return unpacked(own_copy(demo.project, demo.settings, now))


def lived_in(demo: DemoHouse) -> None:
    told = demo.told
    maren = told.household[0]
    approve(maren, demo.project, told.decisions[0], revision=1, option="a", name="Maren Okafor", now=NOW)
    withdraw(maren, demo.project, told.decisions[0], reason="Let us think", now=NOW)
    ask_again(told.manager, demo.project, told.decisions[0], {"question": "One hole or two?", "reason": "Asked"}, NOW)
    finish_phase(told.manager, demo.project, told.phases["cabinets"], now=NOW)
    kept = keep_photo(demo.settings.photos_of(1), drawn("cabinets"), "scratch.jpg")
    items = [{"item": "A scratch on the left door", "who": "Carpenters", "photo": kept}]
    offer_handover(told.manager, demo.project, phase=told.phases["cabinets"], note="Please look", items=items, now=NOW)


def wording_of(files: Files) -> str:
    return f"wording/{json.loads(files['decisions/1/shown-1.json'])['guidance']}.md"
