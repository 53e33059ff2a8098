"""The record of a project: its entries as they were hashed, its head, receipts, and proofs that it only grew."""

from typing import Any

from flask import Response, json
from marshmallow import RAISE, Schema, fields, validate

from portal.acts.keeping import own_keys
from portal.acts.keeping.receipts import growth, receipt_for, signed_head
from portal.acts.refusals import PricesLeftOut
from portal.api.http.paging import reads_on
from portal.api.http.resource import under_project
from portal.api.http.sender import who
from portal.record.log.heads import Signer
from portal.request.services import services
from portal.store.engine.database import read as reading
from portal.store.rows import record_rows
from portal.store.rows.editable import project_row

blueprint = under_project("record", "What was asked, shown, approved, released and changed. Only ever added to.")


class AfterQuery(Schema):
    class Meta:
        unknown = RAISE

    after = fields.Integer(load_default=0, validate=validate.Range(0, 10**9))
    limit = fields.Integer(load_default=200, validate=validate.Range(1, 1000))


class EntrySchema(Schema):
    sequence = fields.Integer()
    hash = fields.String()
    entry = fields.Dict()


class HeadSchema(Schema):
    sequence = fields.Integer()
    hash = fields.String(allow_none=True)


class RootSchema(Schema):
    project = fields.Integer()
    size = fields.Integer()
    root = fields.String()
    at = fields.String()


class SignedHeadSchema(Schema):
    """The tree's root over all entries, under an Ed25519 signature."""

    head = fields.Nested(RootSchema)
    public_key = fields.String()
    signature = fields.String()


class RecordSchema(Schema):
    entries = fields.List(fields.Nested(EntrySchema))
    head = fields.Nested(HeadSchema)
    signed_head = fields.Nested(SignedHeadSchema, allow_none=True)


class ReceiptSchema(SignedHeadSchema):
    """A receipt file, to the byte: keep it as it was sent."""

    receipt = fields.Integer()
    entry = fields.Dict()
    proof = fields.List(fields.String())


class SizesQuery(Schema):
    class Meta:
        unknown = RAISE

    first = fields.Integer(required=True, validate=validate.Range(0))
    second = fields.Integer(required=True, validate=validate.Range(0))


class Hex(fields.Field[bytes]):
    """Bytes inside, lower-case hex digits outside."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(metadata={"type": "string"}, **kwargs)

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> str:
        return bytes(value).hex()


class GrowthSchema(Schema):
    """That the record of `second` entries begins with that of `first` (RFC 9162, 2.1.4)."""

    first = fields.Integer()
    second = fields.Integer()
    first_root = Hex()
    second_root = Hex()
    proof = fields.List(Hex())


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.arguments(AfterQuery, location="query")
@blueprint.response(200, RecordSchema)
@reads_on
def every(query: dict[str, Any], project_id: int) -> Any:
    """Entries after the sequence number `after`, the newest one's sequence and hash, and the signed head."""
    _for_readers_of_prices()
    with reading():
        project_row(project_id)
        rows = record_rows.some(project_id, query["after"], query["limit"])
        newest = record_rows.edge(project_id).last
        signed = signed_head(project_id, _signer())
    size = newest.sequence if newest else 0
    return {
        "entries": [{"sequence": s, "hash": h, "entry": json.loads(c)} for s, h, c in rows],
        "head": {"sequence": size, "hash": newest.hash if newest else None},
        "signed_head": signed,
    }, rows[-1][0] if rows else size, size


@blueprint.route("/<int:sequence>/receipt", endpoint="receipt", methods=["GET"])
@blueprint.response(200, ReceiptSchema)
def receipt(project_id: int, sequence: int) -> Any:
    """One entry with its proof and the signed head: the bytes of the receipt file."""
    _for_readers_of_prices()
    return Response(receipt_for(project_id, sequence, _signer()).file, content_type="application/json")


@blueprint.route("/consistency", endpoint="consistency", methods=["GET"])
@blueprint.arguments(SizesQuery, location="query")
@blueprint.response(200, GrowthSchema)
def consistency(query: dict[str, Any], project_id: int) -> Any:
    _for_readers_of_prices()
    return growth(project_id, query["first"], query["second"])


def _for_readers_of_prices() -> None:
    """With all else known, a price that is left out could be found by trying it on any hash of its entry."""
    if not who().reads_sums:
        raise PricesLeftOut()


def _signer() -> Signer:
    return own_keys.signer(services().settings)
