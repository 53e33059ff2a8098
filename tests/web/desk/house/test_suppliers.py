"""Suppliers at the desk, and with whom an order stands; a household is told nothing of it."""

from portal.store.tables import Delivery, PlannedOrder
from tests.house import House
from tests.served import ApiClient, bearer_for
from tests.web.signed_in import Desk


def test_an_order_names_its_supplier_with_the_phone_and_the_page_does_not(office: Desk, house: House) -> None:
    office.open("/desk/suppliers/").open("new").send(name="Pell Harbor Stone", phone="218-555-0190", lead_days="10")
    assert "From the order to the door: 10 working days." in office.says
    here = f"/desk/projects/{house.project}/"
    office.open(f"{here}deliveries/new").send(
        item="Edge strip", expected_on="2026-12-16", supplier="Pell Harbor Stone", order_number="A-4711",
        ordered_on="2026-12-02",
    )  # fmt: skip
    assert "Pell Harbor Stone, order A-4711, ordered Wed Dec 2" in office.open(f"{here}deliveries/").says
    number = Delivery.get(Delivery.item == "Edge strip").id
    way = f"projects/{house.project}/deliveries/{number}"
    ours = ApiClient(office.client, bearer_for(house, "office")).get(way).json
    theirs = ApiClient(office.app.test_client(), bearer_for(house, "homeowner")).get(way).json
    assert (ours["supplier"], ours["order_number"]) == ("Pell Harbor Stone", "A-4711")
    assert (theirs["supplier"], theirs["order_number"], theirs["ordered_on"]) == (None, "", None)
    with office.client.get(f"/p/{house.links['homeowner']}/") as page:
        told = page.get_data(as_text=True)
    assert "Edge strip" in told and "Pell Harbor Stone" not in told and "A-4711" not in told
    with office.client.get(f"/p/{house.links['homeowner']}/record/record.json") as record:
        assert "Edge strip" in record.text and "A-4711" not in record.text


def test_what_the_plan_wants_says_by_when_to_order_it(office: Desk, house: House) -> None:
    office.open("/desk/suppliers/new").send(name="Pell Harbor Stone", lead_days="60")
    row = PlannedOrder.create(project=house.project, item="A vanity", phases=[house.phases["vanity"]])
    here = f"/desk/projects/{house.project}/"
    assert "Order by" not in office.open(here).says
    office.open(f"{here}orders/{row.id}/supplier").send(supplier="Pell Harbor Stone")
    assert "With Pell Harbor Stone, who take 60 working days." in office.says
    assert "Pell Harbor Stone take 60 working days." in office.open(here).says and "Order by" in office.says
