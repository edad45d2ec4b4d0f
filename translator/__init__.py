"""Part files in; findings, open JSON and leg drawings out."""

__version__ = "0.1.0"
