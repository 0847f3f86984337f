"""For developers: the demo log, the README's screenshots."""
