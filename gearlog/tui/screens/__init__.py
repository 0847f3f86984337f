"""One file and one .tcss a screen."""
