"""gearlog: a gear log and splice planner for a working tree climber."""

__version__ = "0.1.0"
