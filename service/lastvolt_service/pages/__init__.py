"""Pages for people: templates, style, scripts, and the formulas behind each operation."""
