"""What those see who keep the service running: logs, metrics, traces. Never a body, never a key."""
