"""The one door to the disk: journal, snapshot, lock, backups."""
