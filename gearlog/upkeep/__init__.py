"""When an item is due, and how long it may live. Pure."""
