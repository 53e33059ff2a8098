"""A decision with drawings, from the tape measure to the household: worked out, looked at, asked, drawn anew."""

from playwright.sync_api import expect

from portal.demo.dimensions import DECK
from tests.browser.conftest import OpenWindow
from tests.browser.own_house import OwnHouse
from tests.drawn import deck_question

Way = tuple[int, bool]


def test_other_dimensions_are_drawn_anew_and_the_old_approval_no_longer_counts(
    own: OwnHouse, desk_of: OpenWindow, either_way: Way
) -> None:
    asked = own.ask(**deck_question(holds=[own.add_phase("Drill the holes")]))
    own.approve(asked["id"], asked["options"][0]["key"])
    window = desk_of("manager", *either_way)
    page = window.page
    page.goto(f"{own.desk}decisions/{asked['id']}/")
    page.get_by_role("link", name="Ask it again with other dimensions or drawings").click()
    for fold in ("What was measured", "Where it goes"):
        page.locator("summary", has_text=fold).click()
    page.get_by_label("Row of holes from the front edge").fill("22-1/8 in")
    window.press("Work the layouts out again")
    expect(page.get_by_role("heading", name="The layouts, best first")).to_be_visible()
    expect(page.get_by_label("Row of holes from the front edge")).to_have_value("22-1/8 in")
    assert own.decision(asked["id"])["revision"] == 1  # looking changes nothing
    assert window.overflow() <= 0
    page.get_by_role("button", name="Ask it again").click()
    expect(page.get_by_role("status")).to_be_visible()
    page.goto(f"{own.link}decisions/1/")
    expect(page.get_by_role("radio")).not_to_have_count(0)
    expect(page.get_by_role("main")).to_contain_text("22-1/8 in from the front edge")
    assert own.decision(asked["id"])["state"] == "asked"


def test_a_length_that_can_not_be_read_is_marked_and_the_rest_stays(own: OwnHouse, desk_of: OpenWindow) -> None:
    asked = own.ask(**deck_question())
    page = desk_of("manager", javascript=False).page
    page.goto(f"{own.desk}decisions/{asked['id']}/layouts")
    for fold in ("What was measured", "Where it goes"):
        page.locator("summary", has_text=fold).click()
    row = page.get_by_label("Row of holes from the front edge")
    row.fill("22 and a bit")
    page.get_by_role("button", name="Work the layouts out again").click()
    expect(page.get_by_role("alert")).to_be_visible()
    expect(row).to_have_value("22 and a bit")
    expect(row).to_have_attribute("aria-invalid", "true")
    expect(page.get_by_label("Its center line from the left end")).to_have_value("47-1/2 in")


def test_lengths_that_contradict_others_are_marked_together_and_mended_one_leaves_the_rest(
    own: OwnHouse, desk_of: OpenWindow, way: Way
) -> None:
    asked = own.ask(**deck_question())
    window = desk_of("manager", *way)
    page = window.page
    page.goto(f"{own.desk}decisions/{asked['id']}/layouts")
    wrong = {"cutout.width": ("90 in", "runs past the right end"), "faucet.base": ("1 in", "smaller than its hole"),
             "cabinet.right_side": ("9 in", "is not right of")}
    page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = true")
    for field, (length, _) in wrong.items():
        page.locator(f"[name='dimensions.{field}']").fill(length)
    window.press("Work the layouts out again")
    while wrong:
        inputs = {field: page.locator(f"[name='dimensions.{field}']") for field in wrong}
        expect(page.locator("[aria-invalid]")).to_have_count(len(wrong))
        for field, (_, said) in wrong.items():
            expect(inputs[field]).to_be_visible()
            expect(inputs[field]).to_have_attribute("aria-invalid", "true")
            expect(page.locator(f"[id='dimensions.{field}-wrong']")).to_contain_text(said)
        window.shot(f"{len(wrong)}-lengths-that-contradict")
        assert window.overflow() <= 0
        field, _ = wrong.popitem()
        part, name = field.split(".")
        inputs[field].fill(DECK[part][name])
        window.press("Work out the layouts")
    expect(page.get_by_role("heading", name="The layouts, best first")).to_be_visible()


def test_a_length_that_is_typed_is_drawn_at_once(own: OwnHouse, desk_of: OpenWindow) -> None:
    page = desk_of("manager").page
    page.goto(f"{own.desk}decisions/layouts?kind=deck")
    picture = page.locator("#sketch > svg")
    before = picture.inner_html()
    for label, length in (("The top: Width", "96 in"), ("The top: Depth, front to back", "25-1/2 in")):
        page.get_by_label(label).press_sequentially(length)
    expect(page.locator("#comes")).to_contain_text("Still to give, or not clear yet: The sink cut-out")
    assert picture.inner_html() != before
    expect(page.get_by_label("The top: Width")).to_have_value("96 in")
    expect(page.locator("[aria-invalid]")).to_have_count(0)


def test_a_drawing_says_in_words_what_it_shows(own: OwnHouse, window_onto: OpenWindow, either_way: Way) -> None:
    own.ask(**deck_question())
    page = window_onto(own.base, *either_way).page
    page.goto(f"{own.link}decisions/1/")
    page.get_by_text("The measured drawings").click()
    drawings = page.get_by_role("figure").filter(has_text="The top seen from above")
    expect(drawings).to_have_count(2)
    for drawing in drawings.all():
        expect(drawing).to_contain_text("A, faucet: 1-3/8 in hole, to drill, 47-1/2 in from the left end")
        box = drawing.locator("svg").bounding_box()
        assert box and box["width"] <= page.viewport_size["width"] - 16 and box["height"] > 100  # type: ignore[index]
