"""The command line: the same services without screens."""
