"""Figures for whoever watches the service, in Prometheus's text format. They count, and tell of nobody: labels are
routes as they stand in the source, classes of status, states and names of lines.

Workers count into files of a common folder (the client's multiprocess mode), which is emptied at each start; what the
database and the disk say is asked when it is read. The client looks where to count when it is imported, so it is after
`share_figures`.
"""

from collections.abc import Iterator

from prometheus_client import CollectorRegistry, Counter, Histogram, generate_latest, multiprocess, values
from prometheus_client.core import CounterMetricFamily, GaugeMetricFamily, Metric
from prometheus_client.exposition import CONTENT_TYPE_LATEST
from prometheus_client.registry import Collector

from portal.running.last_tick import last_tick
from portal.running.readiness import Line
from portal.running.shared_figures import shared_folder
from portal.settings import Settings
from portal.store.reading.figures import approvals_kept, letters_by_state

_SECONDS = (0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10)


class Figures:
    """Of one process; what it answers is of all workers, where they share."""

    def __init__(self) -> None:
        self._own = CollectorRegistry()
        self._requests = Counter(
            "portal_requests", "Requests answered", ["route", "status"], registry=self._own
        )
        self._seconds = Histogram(
            "portal_request_seconds", "Seconds until an answer was made", ["part"], buckets=_SECONDS,
            registry=self._own,
        )
        self._publishing = Histogram(
            "portal_publishing_seconds", "Seconds that publishing a page took", buckets=_SECONDS, registry=self._own
        )
        self._failures = Counter(
            "portal_publishing_failures", "Pages that could not be published", registry=self._own
        )

    def answered(self, route: str, part: str, status: int, seconds: float) -> None:
        self._requests.labels(route, f"{status // 100}xx").inc()
        self._seconds.labels(part).observe(seconds)

    def published(self, seconds: float, done: bool) -> None:
        self._publishing.observe(seconds)
        if not done:
            self._failures.inc()

    def text(self, lines: list[Line], settings: Settings) -> tuple[bytes, str]:
        """All figures, and their media type."""
        counted, folder = self._own, shared_folder()
        if folder and values.ValueClass is not values.MutexValue:
            counted = CollectorRegistry()
            multiprocess.MultiProcessCollector(counted, folder)
        asked = CollectorRegistry()
        asked.register(_Asked(lines, settings))
        return generate_latest(counted) + generate_latest(asked), CONTENT_TYPE_LATEST


class _Asked(Collector):
    """What is asked of the database and the disk; what can't be asked now is left out."""

    def __init__(self, lines: list[Line], settings: Settings) -> None:
        self._lines, self._settings = {line.name: line for line in lines}, settings

    def collect(self) -> Iterator[Metric]:
        in_order = GaugeMetricFamily("portal_in_order", "1: this line of /up/ready is in order", labels=["line"])
        for line in self._lines.values():
            in_order.add_metric([line.name], float(line.ok))
        yield in_order
        for name, line_name, words in (
            ("portal_pages_behind", "pages", "Published pages that do not show the last change"),
            ("portal_tick_age_seconds", "tick", "Since the last portal tick ended"),
            ("portal_oldest_due_letter_seconds", "letters", "For how long the oldest letter has been due"),
            ("portal_backup_age_seconds", "backup", "Age of the newest backup"),
            ("portal_disk_free_bytes", "disk", "Free where PORTAL_DATA lies"),
        ):
            value = self._lines[line_name].value
            if value is not None:
                yield GaugeMetricFamily(name, words, value=value)
        last = last_tick(self._settings)
        failed = len(last.failed) if last else 0
        yield GaugeMetricFamily("portal_tick_failed_parts", "Parts of the last portal tick that failed", value=failed)
        if self._lines["database"].ok:
            yield from self._counted()

    def _counted(self) -> Iterator[Metric]:
        yield CounterMetricFamily("portal_approvals", "Approvals acknowledged, ever", value=approvals_kept())
        letters = GaugeMetricFamily("portal_letters", "Letters of the outbox by state", labels=["state"])
        for state, count in letters_by_state().items():
            letters.add_metric([state], count)
        yield letters
