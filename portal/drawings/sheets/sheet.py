"""What stands on a drilling sheet, in plain values: whose house, which revision, who approved it, where to drill."""

from dataclasses import dataclass

from portal.drawings.scenes.scene import SceneError
from portal.words.drawn import sheet_words as words


@dataclass(frozen=True)
class Sheet:
    """All words of a drilling sheet; lengths and times are written out already, in the house's own time.

    `approved_by` is empty unless all who must approve this option of this revision have; `superseded_by` is the number
    of a later one. Either way every page is overprinted. `cautions`: what keeps the crew safe, from content/cautions.
    `columns` and `rows` are the table of coordinates. `work`, `caption`, `sizes`, `first`, `remarks`, `details`,
    `found` and `dont` are as in `Coordinates`; `not_checked` as in a layout. `fails`: the rules that the layout breaks,
    each in a few words and in full; `despite`: by whom and why it is offered all the same;
    `today`: what the checks of today find that was not said when it was asked.
    `type_at` is where the short check code may be typed, for whoever can't scan `page_url`.
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
    cautions: tuple[str, ...]
    approved_by: str = ""
    approved_at: str = ""
    superseded_by: int | None = None
    measured_from: str = ""
    checks: tuple[str, ...] = ()
    title: str = words.DRILLING_SHEET
    call: str = ""
    work: str = ""
    caption: str = ""
    sizes: tuple[str, ...] = ()
    first: tuple[str, ...] = ()
    type_at: str = ""
    remarks: tuple[str, ...] = ()
    details: tuple[tuple[str, str], ...] = ()
    found: tuple[tuple[str, str], ...] = ()
    dont: str = words.DONT_DRILL
    not_checked: tuple[str, ...] = ()
    fails: tuple[tuple[str, str], ...] = ()
    despite: str = ""
    today: str = ""

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
    def overprint(self) -> tuple[str, ...]:
        """Say what goes over every page in large letters; nothing when this revision is approved, the latest, and
        breaks no rule."""
        fails = (words.fails([short for short, _ in self.fails]),) if self.fails else ()
        if self.superseded_by is not None:
            return (words.superseded(self.superseded_by), *fails)
        return fails if self.approved_by else (words.NOT_APPROVED, *fails)

    @property
    def may_be_cut(self) -> bool:
        """Say whether the crew may work by it: approved, the latest, and breaking no rule unless somebody answers for
        it by name."""
        return bool(self.approved_by) and self.superseded_by is None and (not self.fails or bool(self.despite))

    @property
    def barred(self) -> str:
        """Say in a word why a machine must not cut by it, as it ends the name of a layer; empty when it may."""
        if self.may_be_cut:
            return ""
        return words.NOT_APPROVED_LAYER if not self.approved_by or self.superseded_by is not None else words.FAILS

    @property
    def failing(self) -> tuple[str, ...]:
        """Say in full which rules it breaks, who offers it all the same, and what the checks of today find."""
        sentences = tuple(words.fails_in_full(sentence) for _, sentence in self.fails)
        return tuple(filter(None, (*sentences, self.despite, self.today)))

    @property
    def approval(self) -> str:
        """Say who approved what, or that it is not approved, in one sentence."""
        return words.approved(self.approved_by, self.approved_at) if self.approved_by else words.NOT_YET

    @property
    def name(self) -> str:
        """Name the sheet in one line: house, room, decision, revision, check code."""
        return words.sheet_name(self.house, self.room, self.decision, self.revision, self.check_code)

    def notes(self) -> tuple[str, ...]:
        """Give the lines that belong under a drawing file made from the same revision."""
        work = (words.to_do(self.option), self.work, *self.sizes)
        lines = (*self.overprint, self.name, *work, self.approval, *self.failing, self.page_url)
        return tuple(line for line in lines if line)
