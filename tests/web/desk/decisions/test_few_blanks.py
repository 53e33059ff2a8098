"""Asking with few blanks: what stands open is counted, all faults come at once, and nothing that was typed is lost."""

from io import BytesIO
from xml.etree.ElementTree import Element

from portal.acts.firm.sizes import keep_firm_size, keep_size
from portal.demo.dimensions import DECK
from portal.store.rows import decision_rows
from portal.store.tables import Decision, KeptSize
from tests.acts.keeping.pictures.drawn import flat, saved
from tests.drawn import TWO, key_of
from tests.house import NOW, House
from tests.web.desk.decisions.test_layout_decisions import NEW, look, typed
from tests.web.desk.decisions.test_picking import SHOP, TOP
from tests.web.plain import X
from tests.web.signed_in import Desk

WORDS = "/desk/projects/7/decisions/new"
SINK = {"what": "sink", "name": "Single bowl", "source": "its maker's sheet",
        "values": {"cutout_width": "30 in", "cutout_depth": "16 in"}}
FAUCET = {"what": "faucet", "name": "One hole", "source": "its maker's sheet",
          "values": {name: text for name, text in DECK["faucet"].items() if name != "name"}}


def open_inputs(element: Element) -> list[str]:
    """The inputs that one sees without opening anything."""
    if element.tag == f"{X}details" and element.get("open") is None:
        return []
    own = element.tag in (f"{X}input", f"{X}select", f"{X}textarea") and element.get("type") != "hidden"
    return [*([element.get("name") or ""] if own else []), *(name for one in element for name in open_inputs(one))]


def test_holes_in_a_usual_top_are_asked_with_at_most_12_inputs(manager: Desk, house: House) -> None:
    for size in (TOP, SINK, FAUCET):
        keep_size(house.office, house.project, dict(size), now=NOW)
    keep_firm_size(house.manager, dict(SHOP))
    found = open_inputs(manager.open(f"{NEW}?kind=deck").form())
    assert len(found) == len(set(found)) == 11
    picks = {f"pick.{row.what}.{part}": str(row.id) for row in KeptSize.select() for part in (
        {"top": "top", "sink": "cutout", "faucet": "faucet", "shop": "minimums"}[row.what],)}
    lengths = {name: text for name, text in typed("deck", DECK).items() if name in found}
    manager.post(manager.typed() | picks | lengths | {"step": "look"})
    assert "The layouts, best first" in manager.says
    assert len(open_inputs(manager.form())) <= 12


def test_a_question_in_words_shows_8_inputs(manager: Desk) -> None:
    assert len(open_inputs(manager.open(WORDS).form())) == 8


def test_a_script_that_looks_blames_nobody_and_keeps_nothing(manager: Desk) -> None:
    look(manager, "deck", DECK, step="draw", **{
        "dimensions.top.depth": "", "dimensions.cutout.width": "",
        "keep.top.top": "house", "keep.top.top.name": "Wall", "keep.top.top.source": "Sam"})
    assert "Still to give, or not clear yet: The top: Depth, front to back The sink cut-out: Width" in manager.says
    assert {"#dimensions.top.depth", "#dimensions.cutout.width"} <= manager.ways
    assert "The sink’s sizes 16 in, 1 in; some still needed" in manager.says
    assert "What it comes to: 2 to give" in manager.says, "on a phone the whole stands below the picture"
    assert not [one for one in manager.page.iter() if one.get("aria-invalid")]
    assert not KeptSize.select().count()
    look(manager, "deck", DECK, step="draw")
    assert f"{TWO}: fits." in manager.says and "What it comes to: 2 fit" in manager.says
    assert "offer" not in manager.typed()


def test_all_faults_are_said_at_once_and_the_question_is_not_lost(manager: Desk) -> None:
    look(manager, "deck", DECK)
    wrong = {"dimensions.top.width": "1-3", "dimensions.faucet.hole": "wide", "dimensions.minimums.source": ""}
    sent = manager.typed() | wrong | {
        "step": "ask", "lead_days": "soon", "question": "Which holes?", "offer": [key_of(TWO)],
        f"layouts.{key_of(TWO)}.cost_cents": "45"}
    told = manager.client.post(manager.path, data=sent, headers={"X-By-Script": "1"}).get_json()
    assert "The faucet: Diameter of its hole: This" in told["reason"], "a phone that had no network keeps the reason"
    manager.post(sent, 422)
    assert all(manager.wrong(name) for name in (*wrong, "lead_days"))
    assert {f"#{name}" for name in (*wrong, "lead_days")} <= manager.ways
    assert "The faucet: Diameter of its hole" in manager.says, "a list of faults says whose hole it is"
    kept = manager.typed()
    assert kept["question"].strip() == "Which holes?" and kept[f"layouts.{key_of(TWO)}.cost_cents"] == "45"
    mended = {name: typed("deck", DECK)[name] for name in wrong}
    manager.post(kept | mended | {"step": "look", "lead_days": "2"})
    assert manager.typed()["offer"] == [key_of(TWO)]


def test_another_pick_takes_out_what_the_first_one_filled(manager: Desk, house: House) -> None:
    keep_size(house.office, house.project, dict(SINK), now=NOW)
    keep_size(house.office, house.project, SINK | {"name": "Wide", "values": {"cutout_width": "33 in"}}, now=NOW)
    first, second = (str(row.id) for row in KeptSize.select().order_by(KeptSize.id))
    manager.open(f"{NEW}?kind=deck")
    manager.post(manager.typed() | {"step": "fill", "pick.sink.cutout": first})
    manager.post(manager.typed() | {"step": "fill", "pick.sink.cutout": second})
    filled = manager.typed()
    assert (filled["dimensions.cutout.width"], filled["dimensions.cutout.depth"]) == ("33 in", "")


def test_a_photo_that_was_chosen_need_not_be_chosen_again(manager: Desk) -> None:
    manager.open(WORDS)
    photo = (BytesIO(saved(flat(64, 48), "JPEG")), "grout.jpg")
    manager.post(manager.typed() | {"options.0.title": "Warm gray", "options.0.sent": photo}, 422)
    (name,) = manager.typed()["options.0.photos"]
    manager.send(question="Which grout?")
    (option,) = decision_rows.revision(Decision.get(Decision.number == 6).id, 1).options
    assert [one["name"] for one in option["photos"]] == [name]
