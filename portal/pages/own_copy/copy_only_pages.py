"""The pages that only the copy has: what is in it, products and colors, care, and how to check the record."""

from collections.abc import Iterator, Sequence

from markupsafe import Markup

from portal.content import Piece, parse
from portal.pages.environment import render
from portal.pages.handover_words import handover_sentences
from portal.pages.home.approved import approved_by
from portal.pages.own_copy.material import Material
from portal.pages.own_copy.offline import CONTENTS, PROOF
from portal.record.papers.copy_paths import wording_page
from portal.words.dates import day_words, local


def copy_only_pages(material: Material, care: Sequence[Piece], checking: Piece) -> Iterator[tuple[str, str]]:
    """Yield (path, HTML) of each."""
    snapshot = material.snapshot
    firm, project, photos = snapshot.firm, snapshot.project, _photos(material)
    yield CONTENTS, render(
        "own_copy/contents.html", firm, project=project, as_of=material.as_of_words, decisions=snapshot.decisions,
        care=care, handovers=handover_sentences(snapshot), entries=len(material.entries),
        wordings=sorted((parse(version, text).title, wording_page(version))
                        for version, text in material.wordings.items()),
        photos=len(photos),
    )
    yield PROOF, render("own_copy/proof_files.html", firm, entries=len(material.entries))
    if photos:
        yield "photos.html", render("own_copy/photos.html", firm, photos=photos)
    for version, text in material.wordings.items():
        shown = parse(version, text)
        yield wording_page(version), render(
            "own_copy/piece.html", firm, piece=shown, html=Markup(shown.html), back=f"../{CONTENTS}",
            file=f"{version}.md",
        )
    yield "products.html", render(
        "own_copy/products.html", firm, project=project, chosen=_chosen(material), deliveries=_deliveries(material)
    )
    for piece in (*care, checking):
        path = f"{piece.name}.html" if piece is checking else f"care/{piece.name}.html"
        back = CONTENTS if piece is checking else f"../{CONTENTS}"
        html = Markup(piece.html)  # allow-listed by portal.words.prose
        yield path, render("own_copy/piece.html", firm, piece=piece, html=html, back=back, file="")


def _photos(material: Material) -> list[dict[str, str]]:
    """Of updates the newest first, each with its day; then those of what was open at a hand-over."""
    snapshot = material.snapshot
    found = [
        {"name": photo.name, "words": photo.caption,
         "when": f"{day_words(local(update.at, material.zone).date())}{': ' if photo.caption else ''}"}
        for update in snapshot.updates for photo in update.photos
    ]  # fmt: skip
    listed = {one["name"] for one in found}
    items = (item for handover in snapshot.handovers for item in handover.items if item.photo)
    found += [{"name": one.photo, "words": one.item, "when": ""} for one in items if one.photo not in listed]
    known = {one["name"] for one in found}
    return found + [{"name": name, "words": "", "when": ""} for name in snapshot.photo_names if name not in known]


def _chosen(material: Material) -> list[dict[str, object]]:
    return [
        {
            "number": decision.number, "question": decision.question,
            "room": material.snapshot.room_name(decision.room_id), "option": option["title"],
            "by": approved_by(decision.approvals, material.snapshot.people, material.zone),
        }
        for decision in material.snapshot.decisions
        if decision.state == "approved" and decision.approvals
        and (option := decision.option(decision.approvals[0].option))
    ]


def _deliveries(material: Material) -> list[dict[str, str]]:
    return [
        {
            "item": delivery.item, "note": delivery.note,
            "when": f"arrived {day_words(local(delivery.arrived_at, material.zone).date())}"
            if delivery.arrived_at is not None else f"expected {day_words(delivery.expected_on)}",
        }
        for delivery in material.snapshot.deliveries
    ]
