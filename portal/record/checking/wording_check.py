"""Whether the words that were shown are those whose version the record and the questions name.

A version is the SHA-256 of the Markdown, in hex. Earlier versions of the product named the first 16 digits and did not
keep the words, so those may be missing; no others.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from portal.record.log.canonical import read
from portal.record.verdict import Fault
from portal.words.capitals import first_upper
from portal.words.plurals import each_of

_WHOLE = 64


def guidance_of(shown: bytes | str) -> str | None:
    """Find the version of the guidance that what was shown (canonical JSON) names.

    None where it names none, or can't be read.
    """
    try:
        said = read(shown if isinstance(shown, bytes) else shown.encode())
    except ValueError:
        return None
    version = said.get("guidance") if isinstance(said, dict) else None
    return version if isinstance(version, str) else None


def versions_named(entries: Iterable[dict[str, Any]], shown: Iterable[bytes | str]) -> set[str]:
    """Collect the versions that revisions name in what was shown, and consents in their entries (contents)."""
    agreed = [entry["body"].get("wording") for entry in entries if entry["kind"] == "consent_given"]
    return {version for version in (*agreed, *map(guidance_of, shown)) if isinstance(version, str)}


def check_wordings(named: Iterable[str], hashes: Mapping[str, str]) -> list[str]:
    """Check that the words of each version are there unchanged; returns what holds, nothing where there are none.

    `named`: the versions that were shown. `hashes`: the SHA-256 (hex) of the words that are there, by version. Raises
    Fault.
    """
    there = 0
    for version in sorted(named):
        code = hashes.get(version)
        if code is None and len(version) == _WHOLE:
            raise Fault(f"the words that were shown as version {version[:12]} are missing.")
        if code is not None and (not version or not code.startswith(version)):
            raise Fault(f"the words that were shown as version {version[:12]} were changed: they have another hash.")
        there += code is not None
    each = first_upper(each_of(there, "version"))
    return [f"{each} of guidance and consent has the hash that it is named by."] if there else []
