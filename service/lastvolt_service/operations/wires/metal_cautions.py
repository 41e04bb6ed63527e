"""What can go wrong with a conductor that is not of stranded copper."""

from lastvolt_service.rows import Texts, are, negate, some

SOLID = "A solid conductor breaks where a vehicle shakes it: use stranded wire."
NOT_COPPER = (
    "Aluminium creeps and corrodes under a terminal: use terminals that are made for it, and look "
    "at them again."
)


def of_metal(material: Texts, construction: Texts) -> tuple[str, ...]:
    """Warn of solid wire, and of metal that needs terminals of its own."""
    return (
        *((SOLID,) if some(are(construction, "solid")) else ()),
        *((NOT_COPPER,) if some(negate(are(material, "copper"))) else ()),
    )
