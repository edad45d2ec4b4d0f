"""Frozen sets: what a release holds, its manifest, and the proof that it is untouched."""
