"""Whole folders: which files belong to a delivery, and how outputs are named and written."""
