"""The durable queue's working side: claims plans, has them solved, keeps what comes of it."""
