"""networkx as independent oracle on random networks, and the identities of the float definitions."""

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import Phase, Plan, Predecessor
from tests.planning.houses import CREW_WEEK
from tests.published.examples import ALWAYS, START

CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")


@st.composite
def networks(draw: st.DrawFn, waits: bool = False, idle: bool = True) -> tuple[Phase, ...]:
    """Shuffled ids, so that the order of the table is not the order of the work. `idle`: some have no work."""
    count = draw(st.integers(1, 14))
    ids = draw(st.permutations(range(1, count + 1)))
    phases = []
    for place, number in enumerate(ids):
        follows = draw(st.sets(st.sampled_from(ids[:place]), max_size=3)) if place else set()
        links = tuple(Predecessor(other, draw(st.integers(0, 5_000)) if waits else 0) for other in sorted(follows))
        work = draw(st.sampled_from([0] * idle + [1, 25, 240, 510, 1_530]))
        phases.append(Phase(number, f"p{number}", work, work, work, after=links))
    return tuple(draw(st.permutations(phases)))


def longest(phases: tuple[Phase, ...], waits: bool = False) -> "nx.DiGraph[str]":
    """Start node -> every phase -> end node; an edge carries the work of the phase that it leaves, and the wait."""
    work = {phase.id: phase.likely for phase in phases}
    graph: nx.DiGraph[str] = nx.DiGraph()
    for phase in phases:
        graph.add_edge("start", phase.id, weight=0)
        graph.add_edge(phase.id, "end", weight=work[phase.id])
        for link in phase.after:
            graph.add_edge(link.phase, phase.id, weight=work[link.phase] + (link.wait if waits else 0))
    return graph


def distance(graph: "nx.DiGraph[str]", first: object, last: object) -> int:
    """Length of the longest path."""
    between = {first, last} | (nx.descendants(graph, first) & nx.ancestors(graph, last))
    return int(nx.dag_longest_path_length(graph.subgraph(between)))


@given(phases=networks(waits=True))
@settings(max_examples=60, deadline=None)
def test_early_and_late_dates_are_longest_paths(phases: tuple[Phase, ...]) -> None:
    """Day and night, waits are lengths like work: everything is a longest path of networkx."""
    found = schedule(Plan(phases, ALWAYS, START), START)
    graph = longest(phases, waits=True)
    end = distance(graph, "start", "end")
    assert found.finish - START == end
    for row in found.phases:
        assert row.early_start - START == distance(graph, "start", row.phase)
        assert row.late_start - START == end - distance(graph, row.phase, "end")
        assert row.total_float == row.late_start - row.early_start


@given(phases=networks(idle=False))
@settings(max_examples=30, deadline=None)
def test_critical_paths_are_the_longest_paths(phases: tuple[Phase, ...]) -> None:
    """All of them: networkx lists every path from start to end, and we keep the longest."""
    found = schedule(Plan(phases, ALWAYS, START), START)
    graph = longest(phases)
    work = {phase.id: phase.likely for phase in phases}
    paths = [tuple(path[1:-1]) for path in nx.all_simple_paths(graph, "start", "end")]
    top = max(sum(work[phase] for phase in path) for path in paths)
    expected = {path for path in paths if sum(work[phase] for phase in path) == top}
    if found.all_paths_shown:
        assert set(found.critical_paths) == expected
    else:
        assert set(found.critical_paths) < expected


@given(phases=networks(waits=True), calendar=st.sampled_from([ALWAYS, CREW]), now=st.integers(0, 20_000))
@settings(max_examples=60, deadline=None)
def test_free_float_lies_between_nothing_and_total_float(
    phases: tuple[Phase, ...], calendar: WorkCalendar, now: int
) -> None:
    """TF = LF(j) - ES(i) - d, FF = ES(j) - EF(i,j), 0 <= FF <= TF (engineering-council course note "56CPM")."""
    found = schedule(Plan(phases, calendar, START), START + now)
    for row in found.phases:
        assert 0 <= row.free_float <= row.total_float
        assert row.early_start >= START + now
        assert row.late_finish <= found.finish or row.total_float == 0
        assert calendar.count(row.early_finish, row.late_finish) == row.total_float


@given(phases=networks(waits=True), delay=st.integers(0, 3_000), data=st.data())
@settings(max_examples=50, deadline=None)
def test_a_delay_moves_the_finish_by_what_exceeds_the_float(
    phases: tuple[Phase, ...], delay: int, data: st.DataObject
) -> None:
    """Late answer identity, max(0, d - TF): check-values section 1.2; exact where time runs day and night."""
    found = schedule(Plan(phases, ALWAYS, START), START)
    row = data.draw(st.sampled_from(found.phases))
    moved = tuple(
        Phase(p.id, p.name, p.low, p.likely, p.high, after=p.after, not_before=row.early_start + delay)
        if p.id == row.phase else p for p in phases
    )
    late = schedule(Plan(moved, ALWAYS, START), START)
    assert late.finish - found.finish == max(0, delay - row.total_float)


@given(phases=networks(waits=True), data=st.data())
@settings(max_examples=50, deadline=None)
def test_total_float_is_exactly_what_a_phase_may_lose_on_a_crew_calendar(
    phases: tuple[Phase, ...], data: st.DataObject
) -> None:
    """On its late start the finish stays; a working minute later it does not. Cures and nights included."""
    found = schedule(Plan(phases, CREW, START), START)
    row = data.draw(st.sampled_from([row for row in found.phases if found.plan.by_id[row.phase].likely]
                                    or list(found.phases)))

    def finish_when_started(moment: int) -> int:
        moved = tuple(
            Phase(p.id, p.name, p.low, p.likely, p.high, after=p.after, not_before=moment)
            if p.id == row.phase else p for p in phases
        )
        return schedule(Plan(moved, CREW, START), START).finish

    assert finish_when_started(row.late_start) == found.finish
    if found.plan.by_id[row.phase].likely:
        assert finish_when_started(row.late_start + 1) > found.finish
