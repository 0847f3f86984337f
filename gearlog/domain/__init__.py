"""What a gear log knows: items, ropes, splices, events and the rules that need nothing but these."""
