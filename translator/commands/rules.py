"""``backmark rules``: what is checked, why, and by whose figures."""

import difflib
from collections.abc import Iterable

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
        raise UnknownNameError(_unknown(name, known))
    say(entry(known[name]))
    return 0


COMMAND = rules


def _unknown(name: str, known: Iterable[str]) -> str:
    """Say what to look at in place of a name that is no rule's."""
    near = difflib.get_close_matches(name, known, n=3)
    like = f"; much like it: {', '.join(near)}" if near else ""
    return (
        f"there is no rule {name!r}{like}; what a reader or a writer finds is explained in its"
        " own message; `backmark rules` lists the rules"
    )
