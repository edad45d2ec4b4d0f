"""A verdict as text: one module a format, each ending in a REPORT record."""

from functools import cache

from translator.reports._report import Report, ReportOptions, RuleInfo

__all__ = ["Report", "ReportOptions", "RuleInfo", "reports"]


@cache
def reports() -> tuple[Report, ...]:
    """Return all reports, found by walking this room."""
    from translator import reports as room
    from translator.rooms import members

    return members(room, "REPORT", Report)
