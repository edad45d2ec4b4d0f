"""Run the command line under watch: any reach for the network or another program ends the run.

Used by ``test_no_network.py``: ``python tests/guard.py check PATH``. The interpreter itself
reports what it is about to do (``sys.addaudithook``), so no module can get round it.
"""

import sys

FORBIDDEN = (
    *("socket.connect", "socket.bind", "socket.sendto", "socket.sendmsg", "socket.getaddrinfo"),
    *("socket.gethostbyname", "socket.gethostbyaddr", "urllib.", "http.client.", "ftplib."),
    *("smtplib.", "imaplib.", "poplib.", "nntplib.", "telnetlib.", "subprocess.Popen"),
    *("os.system", "os.exec", "os.posix_spawn", "os.spawn", "os.startfile", "pty.spawn"),
    *("pickle.find_class", "webbrowser.open", "code.__new__"),
)
"""Beginnings of the names of events that end a run."""

UNPICKLED_BETWEEN_OWN_PROCESSES = "pickle.find_class"
STATUS = 97
LOCAL = 1
"""AF_UNIX: pipes between own processes."""


def watch(*, may_unpickle: bool) -> None:
    """End this process, and those it forks, with ``STATUS`` when something forbidden is begun."""
    import os

    def hook(event: str, args: tuple[object, ...]) -> None:
        if may_unpickle and event == UNPICKLED_BETWEEN_OWN_PROCESSES:
            return
        if event == "socket.__new__" and args[1] == LOCAL:
            return
        if event == "socket.__new__" or event.startswith(FORBIDDEN):
            os.write(2, f"FORBIDDEN {event} {args!r:.300}\n".encode())
            os._exit(STATUS)

    sys.addaudithook(hook)


if __name__ == "__main__":
    between, *arguments = sys.argv[1:]
    watch(may_unpickle=between == "pool")
    if arguments[:1] == ["-c"]:
        exec(compile(arguments[1], "<given>", "exec"))  # noqa: S102 - what a test gives it
    else:
        from translator.commands import main

        sys.argv[1:] = arguments
        main()
