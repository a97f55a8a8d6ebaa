"""What a watchman asks for."""

from api.worker.presence import beat
from tests.api.service import Running, pieces_request


def test_ready_needs_a_worker(either: Running) -> None:
    """A service whose plans nobody makes is not ready, and says why."""
    assert either.client.get("/healthz").json() == {"status": "alive"}
    waiting = either.client.get("/readyz")
    assert (waiting.status_code, waiting.json()["database"]) == (503, "ready")
    beat(either.store, "one", 1)
    assert either.client.get("/readyz").json() == {"database": "ready", "worker": "ready"}


def test_metrics_count_without_naming_anything(either: Running) -> None:
    """Routes, states and workers; never an id, a tag or a job."""
    plan = either.send(pieces_request({610: 1}, job="SECRET")).json()["id"]
    either.client.get(f"/v1/plans/{plan}")
    text = either.client.get("/metrics").text
    assert 'nesting_requests_total{method="GET",route="/v1/plans/{plan_id}",status="200"} 1' in text
    assert 'nesting_plans{state="queued"} 1' in text
    assert "nesting_workers 0" in text
    assert plan not in text
    assert "SECRET" not in text
