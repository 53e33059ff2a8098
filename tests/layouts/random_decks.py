"""Random new tops, in sixteenths of an inch: many of their layouts pass, and not by much."""

from typing import Any

from hypothesis import strategies as st

from portal.layouts.length import Length

Json = dict[str, Any]
_SIDES = {"left": "right", "right": "left", "either": "either"}


def inches(count: int) -> str:
    return f"{count // 16}-{count % 16}/16 in"


def between(least: float, most: float) -> st.SearchStrategy[str]:
    return st.integers(round(least * 16), round(most * 16)).map(inches)


def perhaps(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


def told(**values: Any) -> Json:
    """What is known of a part."""
    return {name: value for name, value in values.items() if value is not None}


@st.composite
def tops(draw: st.DrawFn) -> Json:
    """Dimensions of a deck, as JSON. The top is from 40 to 70 in wide, the cut-out ends 17 to 19 in from the front."""
    wide, cut, back = (draw(st.integers(least * 16, most * 16)) for least, most in ((40, 70), (14, 30), (17, 19)))
    left = draw(st.integers(4 * 16, wide - cut - 4 * 16))
    sides = {"left_side": inches(max(left - 24, 0)), "right_side": inches(left + cut + 24)}
    return told(
        top=told(width=inches(wide), depth="25-1/2 in", thickness="30 mm", splash=draw(perhaps(between(0, 1)))),
        cutout={"from_left": inches(left), "from_front": "2-1/2 in", "width": inches(cut), "depth": inches(back - 40),
                "corner_radius": draw(between(0, 3))},
        bowls=draw(perhaps(st.just(_two_bowls(left, cut, back)))), cabinet=draw(perhaps(st.just(sides))),
        underneath=draw(st.lists(_obstacles(left, cut), max_size=2)), faucet=draw(_faucets()),
        accessories=draw(_accessories()), minimums=draw(_minimums()),
        place=told(center_line=inches(left + cut // 2 + draw(st.integers(-48, 48))),
                   pitch=draw(perhaps(between(3, 5)))))


def _two_bowls(left: int, width: int, back: int) -> list[Json]:
    """Side by side, 1 in between them, the right one a little shallower."""
    half = (width - 16) // 2
    return [told(from_left=inches(left), from_front="2-1/2 in", width=inches(half), depth=inches(back - 40)),
            told(from_left=inches(left + half + 16), from_front="4 in", width=inches(width - half - 16),
                 depth=inches(back - 80), corner_radius="1 in")]


@st.composite
def _obstacles(draw: st.DrawFn, left: int, width: int) -> Json:
    at = told(from_left=inches(draw(st.integers(left, left + width))), from_front=draw(between(17, 24.5)))
    if draw(st.booleans()):
        return at | told(name="pipe", diameter=draw(between(0.5, 2)))
    return at | told(name="clip", width=draw(between(0.5, 2)), depth=draw(between(0.5, 1)))


@st.composite
def _faucets(draw: st.DrawFn) -> Json:
    outer, spread = draw(st.integers(7 * 16, 10 * 16)), draw(st.integers(0, 16))
    return told(
        holes=draw(st.sampled_from(["1", "3", "1 or 3"])), hole=draw(between(1, 1.5)), base=draw(between(1.5, 2.25)),
        thickest_top="2 in", outer_to_outer=inches(outer), outer_least=draw(perhaps(st.just(inches(outer - spread)))),
        outer_most=draw(perhaps(st.just(inches(outer + spread)))), swing=draw(perhaps(between(1, 2.5))),
        lever_swing=draw(perhaps(between(1, 2.5))), clearance_behind=draw(perhaps(between(1, 2.5))),
        reach=draw(perhaps(between(4, 20))))


@st.composite
def _accessories(draw: st.DrawFn) -> list[Json]:
    uses = draw(st.lists(st.sampled_from(["soap", "filtered_water", "air_gap", "air_switch"]), max_size=3, unique=True))
    return [told(name=use.replace("_", " "), use=use, hole=draw(between(1, 1.5)), flange=draw(between(1.5, 2.25)),
                 may_omit=False, side=draw(st.sampled_from([*_SIDES])),
                 reach=draw(perhaps(between(4, 8))) if use in ("soap", "filtered_water") else None) for use in uses]


@st.composite
def _minimums(draw: st.DrawFn) -> Json:
    return told(
        between_holes=draw(between(0.5, 2)), to_cutout=draw(between(0.5, 1.5)), to_back=draw(between(0.5, 1.5)),
        to_edge=draw(between(1, 3)), to_cabinet_side=draw(between(0, 1)), to_underneath=draw(between(0, 0.5)),
        into_bowl=draw(perhaps(between(0.5, 2))), slop=draw(perhaps(between(0, 0.25))), source="an invented sheet")


@st.composite
def old_tops(draw: st.DrawFn) -> Json:
    """The same with three or four holes in them, behind the cut-out and no two in one another, and caps for what stays
    open."""
    made = draw(tops())
    slots = draw(st.lists(st.integers(2, 18), min_size=3, max_size=4, unique=True))
    places = [inches(slot * 32 + draw(st.integers(0, 8))) for slot in slots]
    holes = [told(from_left=at, from_front=draw(between(19.75, 24)), diameter=draw(between(1, 1.5))) for at in places]
    return made | told(existing_holes=holes, cap=draw(perhaps(between(1, 3).map(lambda width: {"width": width}))),
                       accessories=[item | {"may_omit": True} for item in made["accessories"]])


def mirrored(made: Json) -> Json:
    """The same top with left for right."""
    width = Length.parse(made["top"]["width"])

    def across(part: Json) -> Json:
        taken = Length.parse(part.get("width", "0 in"))
        return part | {"from_left": (width - Length.parse(part["from_left"]) - taken).text}

    def turned(place: str) -> str:
        return (width - Length.parse(place)).text

    cabinet = made.get("cabinet")
    return told(**made | {
        "cutout": across(made["cutout"]), "underneath": [across(area) for area in made["underneath"]],
        "existing_holes": [across(hole) for hole in made["existing_holes"]] if "existing_holes" in made else None,
        "bowls": [across(bowl) for bowl in made["bowls"]] if "bowls" in made else None,
        "cabinet": cabinet and {"left_side": turned(cabinet["right_side"]), "right_side": turned(cabinet["left_side"])},
        "accessories": [item | {"side": _SIDES[item["side"]]} for item in made["accessories"]],
        "place": made["place"] | {"center_line": turned(made["place"]["center_line"])}})
