from tests.paper.recording import recorders

__all__ = ["recorders"]
