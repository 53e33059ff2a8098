"""The page that checks a receipt, as a file: what its policy allows, and the way by hand that it holds."""

import re
from base64 import b64encode
from hashlib import sha256

from portal.pages.environment import content_policy
from portal.pages.evidence.check_receipt_page import receipt_check_policy, render_receipt_check, script
from portal.record.log.entry_kinds import KINDS
from portal.store.facts import FirmFact
from tests.web.plain import parsed, text_of

FIRM = FirmFact("Brackwater Remodeling", "218-555-0142", "", "9 Foundry Street", "", ["BC-000000"])


def test_its_policy_allows_its_own_script_and_style_and_no_request() -> None:
    html, policy = render_receipt_check(FIRM), receipt_check_policy()
    run = re.findall(r"<script>(.*?)</script>", html, re.DOTALL)
    styles = re.findall(r"<style>(.*?)</style>", html, re.DOTALL)
    assert len(run) == len(styles) == 1
    for kind, (text,) in (("script", run), ("style", styles)):
        assert f"{kind}-src 'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'" in policy
    assert policy.startswith("default-src 'none';") and "'self'" not in policy and "unsafe" not in policy
    assert policy.replace("'", "&#39;") in html
    assert "script-src" not in content_policy(), "no other page has one"


def test_it_is_one_file_that_leads_nowhere_but_to_us() -> None:
    html = render_receipt_check(FIRM)
    assert set(re.findall(r'(?:src|href|action)="([^"]*)"', html)) == {"data:,", "tel:2185550142"}


def test_it_knows_every_kind_of_entry_and_shows_the_way_by_hand() -> None:
    html = render_receipt_check(FIRM)
    said = text_of(parsed(html))
    for command in ("python3", "sha256sum entry.json", "openssl pkeyutl -verify", "tail -c 32 key.der"):
        assert command in said
    assert "keys.py" not in said, "only what is about one receipt"
    assert all(f'"{kind}": ' in html for kind in KINDS)


def test_the_script_stands_in_it_to_the_letter() -> None:
    assert f"<script>{script()}</script>" in render_receipt_check(FIRM)
