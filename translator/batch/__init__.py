"""Whole deliveries: finding input files, settings, file names, whole-or-nothing writing."""
