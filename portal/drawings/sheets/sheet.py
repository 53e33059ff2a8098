"""What stands on a drilling sheet, in plain values: whose house, which revision, who approved it, where to drill."""

from dataclasses import dataclass

from portal.drawings.scenes.scene import Box, SceneError

STONE_CAUTIONS: tuple[str, ...] = (
    "The maker's sheet for each fixture and the local code come first. Where this sheet differs, stop and call.",
    # 29 CFR 1926.1153(c)(1) Table 1: water or a shroud with dust collector for drills and saws in stone.
    "Stone dust harms the lungs for good. Drill and cut with water, or with a shroud and a HEPA dust collector.",
    "Wear eye and ear protection, and a fitted N95 mask or better. The firm's silica plan comes first.",
    "Shut off the water and gas that you work next to. Keep power away from water, on a ground-fault outlet.",
    "Circuits near the cut are switched off first, by someone licensed to do so.",
    "Stone is heavy and breaks at cut-outs and holes. Lift it on edge with enough people. Support it while drilling.",
)

WOOD_CAUTIONS: tuple[str, ...] = (
    "The maker's sheet for each pull comes first. Measure the pull in your hand: a metric pull isn't its inch name.",
    "Wear eye protection. Catch the dust. Back the front with scrap so that the drill doesn't tear the face.",
    # 40 CFR 745.83: homes built before 1978, where paint is disturbed.
    "House built before 1978 and the paint is old: stop until the lead-safe rules are settled.",
)


@dataclass(frozen=True)
class Sheet:
    """All words of a drilling sheet; lengths and times are written out already, in the house's own time.

    `approved_by` is empty unless all who must approve this option of this revision have; `superseded_by` is the number
    of a later one. Either way every page is overprinted. `columns` and `rows` are the table of coordinates. `template`
    is the part of the scene (mm) to print at 1:1; without it, the parts around the holes. `work`, `caption`, `sizes`
    and `first` are as in `Coordinates`. `type_at` is where the short check code may be typed, for whoever can't scan
    `page_url`.
    """

    house: str
    room: str
    decision: int
    revision: int
    question: str
    option: str
    check_code: str
    page_url: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    approved_by: str = ""
    approved_at: str = ""
    superseded_by: int | None = None
    measured_from: str = ""
    checks: tuple[str, ...] = ()
    title: str = "Drilling sheet"
    cautions: tuple[str, ...] = STONE_CAUTIONS
    call: str = ""
    template: Box | None = None
    work: str = ""
    caption: str = ""
    sizes: tuple[str, ...] = ()
    first: tuple[str, ...] = ()
    type_at: str = ""

    def __post_init__(self) -> None:
        for name in ("house", "room", "question", "option", "check_code", "page_url"):
            if not getattr(self, name).strip():
                raise SceneError(f"Sheet.{name} is empty: the crew must see it")
        if bool(self.approved_by.strip()) != bool(self.approved_at.strip()):
            raise SceneError("Sheet.approved_by and Sheet.approved_at belong together: give both or neither")
        if not self.cautions:
            raise SceneError("Sheet.cautions is empty: give at least what the maker's sheet and local code say first")
        if any(len(row) != len(self.columns) for row in self.rows):
            raise SceneError("Sheet.rows: every row needs one cell for each of Sheet.columns")

    @property
    def overprint(self) -> str:
        """What goes over every page in large letters; empty when this revision is approved and the latest."""
        if self.superseded_by is not None:
            return f"SUPERSEDED BY REVISION {self.superseded_by} - DO NOT CUT OR DRILL"
        return "" if self.approved_by else "NOT APPROVED - DO NOT CUT OR DRILL"

    @property
    def may_be_cut(self) -> bool:
        return not self.overprint

    @property
    def approval(self) -> str:
        """Who approved what, or that it is not approved, in one sentence."""
        if not self.approved_by:
            return "This option of this revision is not approved."
        return f"Approved by {self.approved_by}, {self.approved_at}."

    @property
    def name(self) -> str:
        """The sheet in one line: house, room, decision, revision, check code."""
        return (
            f"{self.house}, {self.room}. Decision {self.decision}, revision {self.revision}. "
            f"Check code {self.check_code}"
        )

    def notes(self) -> tuple[str, ...]:
        """The lines that belong under a drawing file made from the same revision."""
        work = (f"To do: {self.option}", self.work, *self.sizes)
        lines = (self.overprint, self.name, *work, self.approval, self.page_url)
        return tuple(line for line in lines if line)
