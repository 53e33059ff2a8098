"""The page as a whole: one file, valid, small, without a word or a request from elsewhere."""

import gzip
import re
from base64 import b64encode
from hashlib import sha256
from html import unescape

import pytest

from portal.acts.household.handovers import offer_handover
from portal.store import tables
from tests.house import NOW, House, at
from tests.pages.reading import page_of, words_of
from tests.unguarded import unguard

HOSTILE = '"><script>alert(1)</script><img src=x onerror=alert(1)>\'&{{ 7*7 }}'
FIRST_FLIGHT = 14_600  # bytes of ten TCP segments, RFC 6928


def test_it_says_house_time_and_whom_to_call(house: House) -> None:
    page = page_of(house)
    header = page.root.find(".//header")
    assert header is not None and words_of(header) == "14 Brackwater Remodeling Okafor house Call"
    assert "14 Tamarack Lane. As of Wed Dec 2, 7:30 am" in page.text
    footer = words_of(page.root.find(".//footer"))
    assert "218-555-0142" in footer and "Monday to Friday, 7:30 am to 4:30 pm" in footer
    assert page.links()[:2] == ["#tonight", "tel:2185550142"]


def test_the_project_may_have_a_telephone_of_its_own(house: House) -> None:
    tables.Project.update(phone="218-555-0199", office_hours="at any hour").execute()
    page = page_of(house)
    footer = words_of(page.root.find(".//footer"))
    assert "218-555-0199" in footer and "at any hour" in footer and "tel:2185550142" not in page.links()


def test_its_sections_come_in_the_order_of_urgency(house: House) -> None:
    titles = [words_of(title) for title in page_of(house).root.iter("h2")]
    assert titles == [
        "Today to Thursday", "What we need from you: 3", "What we owe you: 1", "Two weeks ahead", "Room by room",
        "Tell us something",
    ]


def test_it_parses_strictly_on_each_day_and_for_an_empty_project(house: House) -> None:
    for day in ("2026-11-15", "2026-12-02", "2026-12-05", "2027-03-01"):
        page_of(house, at(f"{day}T12:00"))
    page_of(house, project=house.other_project)


def test_it_has_one_main_heading_and_a_language(house: House) -> None:
    root = page_of(house).root
    assert len(list(root.iter("h1"))) == 1 and root.get("lang") == "en"


def test_its_links_are_relative_so_that_they_work_under_every_address(house: House) -> None:
    addresses = page_of(house).links() + [image.get("src", "") for image in page_of(house).root.iter("img")]
    assert addresses
    elsewhere = ("tel:", "mailto:")
    assert [a for a in addresses if re.match(r"/|[a-z]+:", a) and not a.startswith(elsewhere)] == []


def test_what_leads_within_the_page_leads_somewhere(house: House) -> None:
    page = page_of(house)
    ids = {one.get("id") for one in page.root.iter() if one.get("id")}
    anchors = [link.removeprefix("#") for link in page.links() if link.startswith("#")]
    assert anchors and set(anchors) <= ids


def test_care_and_warranty_stand_on_the_page_once_something_is_handed_over(house: House) -> None:
    assert "Care of what is new" not in page_of(house).text
    offer_handover(house.manager, house.project, phase=house.phases["floor"], note="", items=[], now=NOW)
    fold = page_of(house).fold("Care of what is new")
    assert "Care of grout and sealant" in fold and "The warranty is what the contract says." in fold
    assert "guide/grout-and-sealant/" in page_of(house).links()


def test_it_asks_nothing_of_anyone_else(house: House) -> None:
    html = page_of(house).html
    assert "http://" not in html and "https://" not in html and "<script" not in html and "@import" not in html


def test_its_policy_allows_its_own_style_and_no_other(house: House) -> None:
    html = page_of(house).html
    (style,) = re.findall(r"<style>(.*?)</style>", html, re.DOTALL)
    digest = b64encode(sha256(style.encode()).digest()).decode()
    (found,) = re.findall(r'Content-Security-Policy" content="([^"]*)"', html)
    policy = unescape(found)
    assert f"'sha256-{digest}'" in policy and "default-src 'none'" in policy
    assert "script-src" not in policy and "unsafe" not in policy
    assert " style=" not in html


def test_it_fits_into_the_first_flight_of_packets(house: House) -> None:
    assert len(gzip.compress(page_of(house).html.encode(), 9)) < FIRST_FLIGHT


def test_it_names_the_change_and_the_date_that_it_shows(house: House) -> None:
    tables.Project.update(changed=17).where(tables.Project.id == house.project).execute()
    assert '<meta name="change" content="17 2026-12-02">' in page_of(house).html


def test_the_same_state_at_the_same_time_gives_the_same_bytes(house: House) -> None:
    assert page_of(house).html == page_of(house).html


def test_an_empty_project_says_so_in_each_section(house: House) -> None:
    page = page_of(house, project=house.other_project)
    assert "Today, Wednesday: nobody . No visit is booked yet." in page.text
    assert "Nothing from you. Thank you." in page.section("What we need from you")
    assert "What we owe you" not in page.text
    assert "Thu Dec 3 to Tue Dec 15 Nobody comes" in page.section("Two weeks ahead")
    assert "The plan of the work is not made yet." in page.text
    assert "Approved:" not in page.text
    assert "All done" not in page.text


@pytest.mark.parametrize(
    ("table", "field"),
    [
        (tables.Project, "name"), (tables.Project, "address"), (tables.Room, "name"), (tables.Phase, "name"),
        (tables.Revision, "question"), (tables.Visit, "purpose"), (tables.Visit, "crew"), (tables.Delivery, "item"),
        (tables.Delivery, "note"), (tables.QuestionBack, "text"), (tables.Photo, "caption"), (tables.Approval, "name"),
        (tables.Firm, "name"), (tables.Firm, "phone"), (tables.Firm, "office_hours"), (tables.Staff, "name"),
    ],
)  # fmt: skip
def test_hostile_words_stay_words(house: House, table: type[tables.Table], field: str) -> None:
    """Whatever a person writes is shown as they wrote it, and nothing of it becomes part of the page."""
    row = table.select().first()
    unguard(table._meta.table_name)
    wanted = table._meta.primary_key > 0 if field == "note" else table._meta.primary_key == row.id
    table.update({field: HOSTILE}).where(wanted).execute()
    page = page_of(house, NOW)
    assert "<script" not in page.html and "<img src=x" not in page.html
    assert all(image.get("onerror") is None for image in page.root.iter("img"))
    shown = page.text + " ".join(image.get("alt", "") for image in page.root.iter("img"))
    assert "{{ 7*7 }}" in shown


def test_every_symbol_on_the_page_has_its_shape_once(house: House) -> None:
    html = page_of(house).html
    used, shapes = re.findall(r'<use href="#([\w-]+)"', html), re.findall(r'<symbol id="([\w-]+)"', html)
    assert "s-phone" in used and sorted(set(used)) == shapes
