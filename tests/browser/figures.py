"""What a page weighs for whoever looks at it: words, screens, small targets, letters, bytes."""

import gzip
from collections.abc import Mapping
from typing import Any

from playwright.sync_api import Page

# What is seen before anything is unfolded. Words that only a screen reader hears are not seen.
SEEN = """unfolded => {
  const copy = document.body.cloneNode(true);
  for (const fold of unfolded ? [] : copy.querySelectorAll('details:not([open])'))
    for (const inside of [...fold.children]) if (inside.tagName !== 'SUMMARY') inside.remove();
  for (const hidden of copy.querySelectorAll('.vh, .unseen, .paper, script, style, title, desc, option, template'))
    hidden.remove();
  return copy.textContent.split(/\\s+/).filter(word => /[\\p{L}\\p{N}]/u.test(word)).length;
}"""
# Links inside guidance are excepted (WCAG 2.2, 2.5.8).
SMALL = """least => [...document.querySelectorAll('a[href], button, input, select, textarea, summary, label.opt')]
  .filter(e => e.type !== 'hidden' && e.getClientRects().length && !e.closest('.prose, .vh, svg'))
  .map(e => e.closest('label') || e)
  .map(e => [e, e.getBoundingClientRect()])
  .filter(([, box]) => box.width < least - .5 || box.height < least - .5)
  .map(([e, box]) => `${Math.round(box.width)}x${Math.round(box.height)} ${e.outerHTML.slice(0, 90)}`)"""
LETTERS = """() => {
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const found = new Set();
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const holder = node.parentElement;
    if (!node.textContent.trim() || holder.closest('svg, .vh, style, title, option')) continue;
    if (!holder.getClientRects().length) continue;
    const size = parseFloat(getComputedStyle(holder).fontSize);
    if (size < 15.9) found.add(`${size} ${holder.outerHTML.slice(0, 90)}`);
  }
  return [...found];
}"""


def figures_of(page: Page) -> dict[str, Any]:
    """Of the page in a window: `words` before anything is unfolded and `all_words`, `screens` of the window's height,
    targets under 44 px, letters under 16 px, and `bytes` as they are sent (gzip -9)."""
    html = page.request.get(page.url).text()
    return {
        "words": page.evaluate(SEEN, False), "all_words": page.evaluate(SEEN, True),
        "screens": round(page.evaluate("document.documentElement.scrollHeight / innerHeight"), 2),
        "small_targets": page.evaluate(SMALL, 44), "small_letters": page.evaluate(LETTERS),
        "bytes": len(gzip.compress(html.encode(), 9)),
    }  # fmt: skip


def bottom_of(page: Page, selector: str) -> float:
    """Where the first such element ends, in px from the top of the page."""
    end: float = page.locator(selector).first.evaluate("e => e.getBoundingClientRect().bottom + scrollY")
    return end


def line(name: str, found: Mapping[str, Any]) -> str:
    """A line of a table."""
    seen = {key: len(value) if isinstance(value, list) else value for key, value in found.items()}
    return f"{name}: " + ", ".join(f"{key} {value}" for key, value in seen.items())
