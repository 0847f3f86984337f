"""The log on disk: a journal under TinyDB that loses nothing it has acknowledged."""

from gearlog.storage.locations import FOLDER_VARIABLE, log_folder, own_methods_folder, own_rules_folder
from gearlog.storage.session import Glance, glance, memory_store, open_store, utc_now
from gearlog.storage.store import Store

__all__ = [
    "FOLDER_VARIABLE",
    "Glance",
    "Store",
    "glance",
    "log_folder",
    "memory_store",
    "open_store",
    "own_methods_folder",
    "own_rules_folder",
    "utc_now",
]
