"""``backmark rules``: what is checked, why, and by whose figures."""

import click

from translator.commands._console import say


@click.command("rules", short_help="List the rules, or explain one.")
@click.argument("name", required=False)
def rules(name: str | None) -> int:
    """List the rules, or print the text, source and examples of one."""
    from translator.errors import UnknownNameError
    from translator.rules import rules as all_rules
    from translator.rules._catalogue import entry

    known = {rule.name: rule for rule in all_rules()}
    if name is None:
        widest = max(map(len, known))
        say("\n".join(f"{r.name:<{widest}}  {r.severity:<7}  {r.title}" for r in known.values()))
        return 0
    if name not in known:
        raise UnknownNameError(f"there is no rule {name!r}; there are {', '.join(known)}")
    say(entry(known[name]))
    return 0


COMMAND = rules
