"""The page that checks a receipt in the browser, from a disk and behind its address: it finds every change, says what
`portal verify` says, against published values too, and asks nobody."""

import json
import zipfile
from base64 import b64encode
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from portal.pages.evidence.check_receipt_page import render_receipt_check, script
from portal.record.checking.verification import verify_receipt
from portal.record.log.canonical import canonical
from portal.record.log.entry_kinds import KINDS
from portal.record.log.heads import Head, key_name
from portal.record.log.merkle import leaf_hash
from portal.record.log.proofs import verify_inclusion
from portal.store.facts import FirmFact
from tests.browser.conftest import OpenWindow
from tests.browser.own_house import OwnHouse
from tests.published.test_rfc8032 import VECTORS
from tests.published.test_rfc8785 import FILES, INLINE
from tests.published.test_rfc9162 import HASHES, INCLUSION, ROOTS, flipped, misshapen
from tests.record.chains import SECOND_SIGNER, SIGNER, told

RECORD = told()
FIRM = FirmFact("Brackwater Remodeling", "218-555-0142", "", "9 Foundry Street", "", [])
SAYS = """async ([files, kinds]) => {
  const said = [];
  for (const file of files) {
    const bytes = Uint8Array.from(atob(file), (sign) => sign.charCodeAt(0));
    try { await checkReceipt(bytes, kinds); said.push(true); }
    catch (wrong) { if (!(wrong instanceof Fault)) throw wrong; said.push(false); }
  }
  return said;
}"""
CHANGED = """async ([file, kinds]) => {
  const bytes = Uint8Array.from(atob(file), (sign) => sign.charCodeAt(0)), unnoticed = [];
  const look = async (other, name) => {
    try { await checkReceipt(other, kinds); unnoticed.push(name); }
    catch (wrong) { if (!(wrong instanceof Fault)) throw wrong; }
  };
  for (let at = 0; at < bytes.length; at++) {
    for (let bit = 0; bit < 8; bit++) {
      const other = bytes.slice();
      other[at] ^= 1 << bit;
      await look(other, `${at}, bit ${bit}`);
    }
    const less = bytes.slice(0, at), more = bytes.slice(at);
    await look(joined(less, bytes.slice(at + 1)), `${at} left out`);
    await look(joined(less, [32], more), `a space before ${at}`);
    await look(joined(less, more.slice(0, 1), more), `${at} twice`);
  }
  for (const end of [[10], [0], [239, 187, 191]]) await look(joined(bytes, end), "at the end");
  await look(joined([239, 187, 191], bytes), "a mark of the order of bytes");
  return unnoticed;
}"""


def sent(data: bytes) -> str:
    return b64encode(data).decode()


@pytest.fixture
def disk(chromium: Browser, tmp_path: Path) -> Iterator[Page]:
    """The page as a file on a disk, without a network."""
    context = chromium.new_context(viewport={"width": 390, "height": 844}, offline=True)
    page, asked = context.new_page(), list[str]()
    context.on("request", lambda request: asked.append(request.url))
    context.on("weberror", lambda error: asked.append(f"script error: {error.error}"))
    file = tmp_path / "check-a-receipt.html"
    file.write_text(render_receipt_check(FIRM), encoding="utf-8")
    page.goto(file.as_uri())
    yield page
    context.close()
    assert [one for one in asked if one != file.as_uri() and not one.startswith("data:")] == []


def holds(page: Page, *files: bytes) -> list[bool]:
    found: list[bool] = page.evaluate(SAYS, [[sent(file) for file in files], KINDS])
    return found


def choose(page: Page, *files: bytes) -> None:
    named = [{"name": f"receipt-{n}.json", "mimeType": "application/json", "buffer": b} for n, b in enumerate(files)]
    page.get_by_label("Choose the receipt").set_input_files(named)  # type: ignore[arg-type]


def test_a_receipt_is_chosen_on_a_page_from_a_disk(disk: Page) -> None:
    choose(disk, RECORD.receipt(5).file, RECORD.receipt(5).file.replace(b'"option":"b"', b'"option":"a"'))
    expect(disk.locator("#result section")).to_have_count(2)
    good, bad = disk.locator("#result section").all()
    expect(good).to_contain_text("It holds under this key")
    expect(good).to_contain_text(key_name(SIGNER.public_key))
    expect(good).to_contain_text("If not, this proves nothing")
    for words in ("Márta Löwe", "2026-11-03, 19:12:44 UTC", KINDS["approved"], "22ca-3933-7803"):
        expect(good).to_contain_text(words)
    expect(bad.get_by_role("heading")).to_have_text("It does not hold")
    expect(bad).to_contain_text("The proof does not lead from the entry to the root.")


def test_a_receipt_is_dropped_on_it(disk: Page) -> None:
    drop = """([data, type]) => {
      const moved = new DataTransfer();
      moved.items.add(new File([Uint8Array.from(atob(data), (sign) => sign.charCodeAt(0))], "receipt-1.json"));
      document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: moved, bubbles: true, cancelable: true }));
    }"""
    disk.evaluate(drop, [sent(RECORD.receipt(1).file), ""])
    expect(disk.locator("#result")).to_contain_text("It holds under this key")


@pytest.mark.parametrize("sequence", [1, 3, 9])
def test_no_byte_of_a_receipt_can_be_another(disk: Page, sequence: int) -> None:
    """1 has a proof of four hashes, 3 a clock that was set back and half-pairs of signs, 9 a proof of one."""
    receipt = RECORD.receipt(sequence).file
    assert holds(disk, receipt) == [True]
    assert disk.evaluate(CHANGED, [sent(receipt), KINDS]) == []


def forged(sequence: int = 5, **changed: Any) -> bytes:
    """Canonical, with fields replaced by their path (`__` between): what only the meaning of it can give away."""
    value = json.loads(RECORD.receipt(sequence).file)
    for path, new in changed.items():
        *way, name = path.split("__")
        inner = value
        for step in way:
            inner = inner[step]
        if new is None:
            inner.pop(name, None)
        else:
            inner[name] = new
    return canonical(value)


def own_key(sequence: int = 5, **changed: Any) -> bytes:
    """By somebody else's key, over a tree of this one entry: all fits but the key."""
    value = json.loads(forged(sequence, **changed))
    entry = value["entry"]
    head = Head(entry.get("project", 3), 1, leaf_hash(canonical(entry)).hex(), "2026-11-05T09:00:01Z")
    return canonical(value | {"proof": [], **SECOND_SIGNER.signed(head).content})


ODD = [
    b"", b"{}", b"[]", b"null", b"1", b'"receipt"', b"\xff\xfe", b"[" * 100_000, forged(receipt=2), forged(receipt="1"),
    forged(proof=["zz"]), forged(proof={}), forged(proof=[]), forged(proof=[7]), forged(more=1), forged(entry=None),
    forged(entry__more=1), forged(entry__kind="nothing"), forged(entry__kind="__proto__"),
    forged(entry__kind="constructor"), forged(entry__at="2026-11-03"), forged(entry__clock_moved=True),
    forged(entry__clock_moved=False), forged(entry__actor__name=None), forged(entry__sequence=0),
    forged(entry__sequence=-1), forged(entry__sequence=4), forged(entry__project=4), forged(entry__body=[]),
    forged(head__size=5), forged(head__size=0), forged(head__size=2**53 - 1), forged(head__size=1e300),
    forged(head__size=9.5), forged(head__root="0" * 64), forged(head__root="A" * 64), forged(head__project=4),
    forged(head__at="2026-11-05T09:00:02Z"), forged(head__more=1), forged(public_key="0" * 64),
    forged(public_key="f" * 64), forged(signature="0" * 128), forged(signature="0" * 127), forged(toString=1),
    own_key(1, entry__sequence=1), own_key(1, entry__sequence=2), own_key(1, entry__body={"__proto__": {"a": 1}}),
    own_key(1, entry__body={"text": "😀 \u2028 \x7f é e\u0301", "mm": 1e21, "less": 1e-7, "big": 2**53 - 1}),
    own_key(1, entry__at="2026-13-45T99:99:99.123456Z"), own_key(1, entry__previous="not a hash"),
    own_key(3, entry__sequence=1), own_key(1, entry__actor__name=["a", "list"]), own_key(1, entry__actor__more=1),
    RECORD.receipt(2).file.replace(b'"Is', b'"\\u0049s'), RECORD.receipt(1).file.replace(b"34.925", b"34.9250"),
    RECORD.receipt(1).file.replace(b'{"entry"', b'{"entry":1,"entry"'),
    own_key(1, entry__body={"x": "y"}).replace(b'"y"', b'"\\ud83d"'), own_key(1).replace(b"34.925", b"1e400"),
    own_key(1).replace(b"34.925", b"-0"), own_key(1).replace(b"34.925", b"9007199254740993"),
]  # fmt: skip


def test_it_says_of_each_receipt_what_portal_verify_says(disk: Page) -> None:
    real = [RECORD.receipt(number).file for number in range(1, 10)]
    real += [told(count=count).receipt(1, signer=SECOND_SIGNER).file for count in range(1, 10)]
    crossed = [canonical(json.loads(one) | {"entry": json.loads(other)["entry"]}) for one in real for other in real[:9]]
    files = [*real, *ODD, *crossed]
    verdicts = [verify_receipt(file).ok for file in files]
    assert holds(disk, *files) == verdicts
    assert verdicts.count(True) > 20 and verdicts.count(False) > 60


def test_every_receipt_of_a_real_house_holds(own: OwnHouse, window_onto: OpenWindow, disk: Page) -> None:
    own.approve(own.ask()["id"])
    page = window_onto(own.base).page
    page.goto(f"{own.link}copy/")
    with page.expect_download() as download:
        page.get_by_role("button", name="Take my copy").click()
    with zipfile.ZipFile(BytesIO(Path(download.value.path()).read_bytes())) as copy:
        files = [copy.read(name) for name in copy.namelist() if name.endswith("/receipt.json")]
        shown = copy.read("check-a-receipt.html")
    assert len(files) > 3 and holds(disk, *files) == [True] * len(files)
    answer = page.goto("/check/receipt/")
    assert answer and answer.body() == shown, "one file, wherever it lies"
    choose(page, files[-1])
    expect(page.locator("#result")).to_contain_text("It holds under this key")


LESS = {
    "plain http": "Object.defineProperty(crypto, 'subtle', { value: undefined })",
    "no Ed25519": "crypto.subtle.importKey = () => Promise.reject(new DOMException('no', 'NotSupportedError'))",
    "fails": "crypto.subtle.digest = () => Promise.reject(new DOMException('no', 'OperationError'))",
}


@pytest.mark.parametrize("less", LESS)
def test_a_browser_that_can_not_says_so_and_shows_the_way_by_hand(disk: Page, less: str) -> None:
    disk.add_init_script(LESS[less])
    disk.reload()
    if less == "plain http":
        expect(disk.get_by_text("This browser can’t check it here.")).to_be_visible()
        expect(disk.get_by_label("Choose the receipt")).to_be_hidden()
    else:
        choose(disk, RECORD.receipt(5).file)
        expect(disk.locator("#result")).to_contain_text("That says nothing about the receipt.")
        assert "It holds" not in disk.inner_text("#result") and "does not hold" not in disk.inner_text("#result")
    expect(disk.get_by_text("openssl pkeyutl -verify")).to_be_visible()


def test_without_a_script_the_way_by_hand_is_there(window_onto: OpenWindow, demo: dict[str, Any]) -> None:
    page = window_onto(demo["base"], javascript=False).page
    page.goto("/check/receipt/")
    expect(page.get_by_text("Your browser runs no script here.")).to_be_visible()
    expect(page.get_by_label("Choose the receipt")).to_be_hidden()
    page.get_by_text("Check it by hand", exact=True).click()
    expect(page.get_by_text("openssl pkeyutl -verify")).to_be_visible()


def test_no_other_page_may_run_a_script(window_onto: OpenWindow, demo: dict[str, Any]) -> None:
    page = window_onto(demo["base"]).page
    own, other = page.request.get("/check/receipt/"), page.request.get("/check/")
    assert "script-src 'sha256-" in own.headers["content-security-policy"]
    assert "script-src" not in other.headers["content-security-policy"]
    assert "connect-src" not in own.headers["content-security-policy"], "left to default-src 'none'"
    assert own.headers["content-security-policy"].startswith("default-src 'none';")


def test_signatures_are_those_of_rfc_8032(disk: Page) -> None:
    """RFC 8032, 7.1: all five, and with any bit of the signature turned."""
    tried = """async (vectors) => {
      const said = [];
      for (const [, key, message, signature] of vectors) {
        said.push(await signed(bytesOf(key), bytesOf(signature), bytesOf(message)));
        for (let bit = 0; bit < 512; bit++) {
          const turned = bytesOf(signature);
          turned[bit >> 3] ^= 1 << (bit & 7);
          if (await signed(bytesOf(key), turned, bytesOf(message))) said.push(bit);
        }
      }
      return said;
    }"""
    assert disk.evaluate(tried, VECTORS) == [True] * 5


def test_hashes_are_those_of_fips_180_4(disk: Page) -> None:
    """The examples for SHA-256 of FIPS 180-4 (one block, two blocks; from memory, as hashlib has them, too)."""
    two = "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"
    hashed = "async (text) => hex(await sha256(new TextEncoder().encode(text)))"
    assert [disk.evaluate(hashed, text) for text in ("abc", two)] == [
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
    ]


def test_proofs_are_those_of_rfc_9162(disk: Page) -> None:
    """The published proofs of tests/published/test_rfc9162.py, and broken ones, as the program judges them."""
    tries = [
        (leaf, index, size, proof, ROOTS[width])
        for place, width, published in INCLUSION
        for leaf in (HASHES[place], HASHES[0])
        for proof in (published, *list(flipped(published))[::61], *misshapen(published, ROOTS[width]))
        for index, size in ((place, width), (place + 1, width), (place ^ 2, width), (place, width * 2), (-1, width))
        if all(len(one) == 32 for one in proof)
    ]
    found = disk.evaluate(
        """async (tries) => {
          const said = [];
          for (const [leaf, index, size, proof, root] of tries) {
            const made = await rootFrom(bytesOf(leaf), index, size, proof.map(bytesOf));
            said.push(made !== null && same(made, bytesOf(root)));
          }
          return said;
        }""",
        [[leaf.hex(), index, size, [one.hex() for one in proof], root.hex()]
         for leaf, index, size, proof, root in tries],
    )  # fmt: skip
    assert found == [verify_inclusion(leaf, index, size, proof, root) for leaf, index, size, proof, root in tries]
    assert found.count(True) >= len(INCLUSION)


def test_the_script_is_small_and_reads_as_it_lies_there() -> None:
    text = script()
    assert len(text) < 12_000 and max(map(len, text.splitlines())) <= 120
    for word in ("fetch", "XMLHttp", "import(", "http:", "https:", "innerHTML", "eval(", "localStorage", "cookie"):
        assert word not in text, word
    assert f"<script>{text}</script>" in render_receipt_check(FIRM)


def test_values_are_written_as_rfc_8785_has_them(disk: Page) -> None:
    """The test data of its author, and the examples of the RFC: tests/published/test_rfc8785.py."""
    texts = [text for _, text, _, _ in FILES] + [text for text, _ in INLINE]
    found = disk.evaluate("(texts) => texts.map((text) => canonical(JSON.parse(text)))", texts)
    assert [made.encode() for made in found] == [canonical(json.loads(text)) for text in texts]
    assert found[len(FILES):] == [made for _, made in INLINE]
