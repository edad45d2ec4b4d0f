"""What changed between two states of a part, a folder or a release, in shop words."""
