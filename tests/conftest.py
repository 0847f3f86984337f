"""What all tests share."""

from __future__ import annotations

from hypothesis import settings

# A slow or shared machine must not fail a property, and a test run leaves no folder behind.
settings.register_profile("gearlog", deadline=None, database=None)
settings.load_profile("gearlog")
