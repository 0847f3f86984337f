"""When gear is due: the next examination and the end of life."""
