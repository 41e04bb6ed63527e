"""Pictures of answers, as SVG."""
