"""Pictures of a plan in plain characters: the rope as it lies, the finished splice by its shape, the filling."""
