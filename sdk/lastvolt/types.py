"""Types of what goes into a call and of what comes out, made from the OpenAPI document.

What goes in is a plain dict at run time. Every quantity's name ends in its unit, which a plain
number is in; text may name another: ``length_m="15 ft"``. Temperatures are in degC. What comes out
is a frozen dataclass, derived from `lastvolt.answers.Model`.
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lastvolt._generated.types import *  # noqa: F403  all of them, and nothing else
else:
    from lastvolt._generated import types as _types

    __all__ = _types.__all__

    def __getattr__(name):
        return getattr(_types, name)

    def __dir__():
        return __all__
