"""Run the program: ``python -m gearlog``."""

from gearlog.cli.main import run

run()
