"""Rules: one fault one module, each ending in a RULE record."""

from functools import cache

from translator.rules._rule import Example, Rule, Violation

__all__ = ["Example", "Rule", "Violation", "rules"]


@cache
def rules() -> tuple[Rule, ...]:
    """Return all rules by name, found by walking this room.

    Raises:
        RoomError: when a module's file name is not its rule's name.
    """
    from translator import rules as room
    from translator.errors import RoomError
    from translator.rooms import members

    found = members(room, "RULE", Rule)
    for rule in found:
        module = rule.check.__module__.rpartition(".")[2]
        if module != rule.name.replace("-", "_"):
            raise RoomError(f"the rule {rule.name} lives in the module {module}")
    return found
