"""Lengths as people spell them: read exactly, written as a drafter would."""
