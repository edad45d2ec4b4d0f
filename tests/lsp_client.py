"""A client of the Language Server Protocol for tests: plain JSON-RPC over a process's streams.

It is written from the protocol's specification (version 3.17, base protocol), not from the
library that the server uses, so that it checks both.
"""

import json
import queue
import subprocess
import sys
import tempfile
import threading

PATIENCE = 60


class Client:
    def __init__(self, *, encodings=None):
        self.complaints = tempfile.TemporaryFile()  # noqa: SIM115 - closed with the client
        self.process = subprocess.Popen(
            [sys.executable, "-m", "translator", "serve-editor"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=self.complaints,
        )
        self._answers = queue.Queue()
        self._told = queue.Queue()
        self._number = 0
        self._listener = threading.Thread(target=self._listen, daemon=True)
        self._listener.start()
        general = {} if encodings is None else {"general": {"positionEncodings": encodings}}
        self.hello = self.ask("initialize", processId=None, rootUri=None, capabilities=general)
        self.tell("initialized")

    def _listen(self):
        stream = self.process.stdout
        while True:
            length = None
            while (line := stream.readline().strip()) != b"":
                name, _, value = line.partition(b":")
                if name.lower() == b"content-length":
                    length = int(value)
            if length is None:
                return
            message = json.loads(stream.read(length))
            (self._answers if "id" in message and "method" not in message else self._told).put(
                message
            )

    def _send(self, **message):
        data = json.dumps({"jsonrpc": "2.0", **message}).encode()
        self.process.stdin.write(b"Content-Length: %d\r\n\r\n" % len(data) + data)
        self.process.stdin.flush()

    def ask(self, method, **params):
        self._number += 1
        self._send(id=self._number, method=method, params=params)
        answer = self._answers.get(timeout=PATIENCE)
        assert answer["id"] == self._number
        assert "error" not in answer, answer
        return answer["result"]

    def tell(self, method, **params):
        self._send(method=method, params=params)

    def told(self, method):
        """Return the next notification of a kind; others before it are passed over."""
        while True:
            message = self._told.get(timeout=PATIENCE)
            if message["method"] == method:
                return message["params"]

    def open(self, uri, text):
        document = {"uri": uri, "languageId": "bmk", "version": 1, "text": text}
        self.tell("textDocument/didOpen", textDocument=document)
        return self.diagnostics()

    def change(self, uri, text, version):
        self.tell(
            "textDocument/didChange",
            textDocument={"uri": uri, "version": version},
            contentChanges=[{"text": text}],
        )
        return self.diagnostics()

    def diagnostics(self):
        return self.told("textDocument/publishDiagnostics")

    def at(self, method, uri, line, column):
        place = {"line": line, "character": column}
        return self.ask(f"textDocument/{method}", textDocument={"uri": uri}, position=place)

    def of(self, method, uri, **params):
        return self.ask(f"textDocument/{method}", textDocument={"uri": uri}, **params)

    def close(self):
        self.ask("shutdown")
        self.tell("exit")
        code = self.process.wait(timeout=PATIENCE)
        self._listener.join(timeout=PATIENCE)
        self.complaints.seek(0)
        assert self.complaints.read() == b""
        for stream in (self.process.stdin, self.process.stdout, self.complaints):
            stream.close()
        return code
