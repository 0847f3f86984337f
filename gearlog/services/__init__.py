"""What a user can do, in their verbs. Screens and verbs get a Book and nothing else."""
