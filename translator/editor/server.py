"""The language server: an editor asks over standard input and output, and is answered.

The library that speaks the protocol is only imported here, once a server is asked for.
"""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from translator import __version__
from translator.editor.columns import Columns, Spot, Stretch
from translator.editor.completion import offers_after
from translator.editor.hover import hover_text
from translator.editor.look import Look, look_at, source_of
from translator.editor.outline import Entry, outline
from translator.editor.tidy import tidied
from translator.errors import WorkError
from translator.findings import Finding, Severity

if TYPE_CHECKING:
    from lsprotocol import types
    from pygls.lsp.server import LanguageServer
    from pygls.workspace import TextDocument

NAME: Final = "backmark"
_UNSAVED: Final = "unsaved.bmk"


def server() -> "LanguageServer":
    """Return a server that is ready to be started.

    Raises:
        WorkError: when the library that it needs is not installed.
    """
    try:
        from lsprotocol import types
        from pygls.lsp.server import LanguageServer
    except ImportError as error:
        raise WorkError(
            "the language server needs the library pygls, which is not installed: pip install pygls"
        ) from error
    # Whole texts, not changes of them: the library counts more line ends than an editor does.
    kind = types.TextDocumentSyncKind.Full
    made = LanguageServer(NAME, __version__, text_document_sync_kind=kind)
    answers = _Answers(made, types)
    made.feature(types.TEXT_DOCUMENT_DID_OPEN)(_function(answers.opened))
    made.feature(types.TEXT_DOCUMENT_DID_CHANGE)(_function(answers.changed))
    made.feature(types.TEXT_DOCUMENT_DID_SAVE)(_function(answers.saved))
    made.feature(types.TEXT_DOCUMENT_DID_CLOSE)(_function(answers.closed))
    made.feature(types.TEXT_DOCUMENT_HOVER)(_function(answers.hover))
    made.feature(types.TEXT_DOCUMENT_DOCUMENT_SYMBOL)(_function(answers.symbols))
    made.feature(types.TEXT_DOCUMENT_COMPLETION)(_function(answers.complete))
    made.feature(types.TEXT_DOCUMENT_FORMATTING)(_function(answers.format))
    return made


def _function(method: Callable[[Any], Any]) -> Callable[[Any], Any]:
    """Return a method as a function: the library marks what it is given, and methods take none."""

    def answer(params: Any) -> Any:  # noqa: ANN401 - any message of the protocol
        return method(params)

    return answer


class _Answers:
    """The answers of one server; each text is looked at once for each of its versions."""

    def __init__(self, own: "LanguageServer", types: Any) -> None:  # noqa: ANN401 - a module
        self._server = own
        self._types = types
        self._looks: dict[str, tuple[int | None, Look]] = {}

    # ------------------------------------------------------------ what a person does

    def opened(self, params: "types.DidOpenTextDocumentParams") -> None:
        """Tell what is wrong with a text that was opened."""
        self._publish(params.text_document.uri)

    def changed(self, params: "types.DidChangeTextDocumentParams") -> None:
        """Tell what is wrong with a text that was changed."""
        self._publish(params.text_document.uri)

    def saved(self, params: "types.DidSaveTextDocumentParams") -> None:
        """Look at all open texts again: they may use the one that was saved."""
        self._looks.clear()
        for uri in [*self._server.workspace.text_documents, params.text_document.uri]:
            self._publish(uri)

    def closed(self, params: "types.DidCloseTextDocumentParams") -> None:
        """Forget a text, and what was told about it."""
        uri = params.text_document.uri
        self._looks.pop(uri, None)
        told = self._types.PublishDiagnosticsParams(uri=uri, diagnostics=[])
        self._server.text_document_publish_diagnostics(told)

    # ------------------------------------------------------------ what an editor asks

    def hover(self, params: "types.HoverParams") -> "types.Hover | None":
        """Answer what stands under the pointer."""
        look, columns = self._look(params.text_document.uri)
        text, about = hover_text(look, *columns.place(_spot(params.position)))
        if not text:
            return None
        kind = self._types.MarkupKind.Markdown
        place = None if about is None else self._range(columns.stretch(about))
        return self._types.Hover(  # type: ignore[no-any-return]
            contents=self._types.MarkupContent(kind=kind, value=text), range=place
        )

    def symbols(self, params: "types.DocumentSymbolParams") -> "list[types.DocumentSymbol]":
        """Answer with the outline."""
        look, columns = self._look(params.text_document.uri)
        return [self._symbol(entry, columns) for entry in outline(look.tree)]

    def complete(self, params: "types.CompletionParams") -> "types.CompletionList":
        """Answer with what may stand at a place."""
        columns = self._columns(self._document(params.text_document.uri))
        here = _spot(params.position)
        found = offers_after(columns.before(here))
        line, column = columns.place(here)
        typed = columns.stretch((line, column - len(found.typed), line, column))
        kinds = {
            "keyword": self._types.CompletionItemKind.Keyword,
            "value": self._types.CompletionItemKind.Value,
        }
        items = [
            self._types.CompletionItem(
                label=offer.text,
                kind=kinds[offer.kind],
                detail=offer.detail or None,
                sort_text=f"{number:04}",
                filter_text=offer.text,
                text_edit=self._types.TextEdit(range=self._range(typed), new_text=offer.text),
            )
            for number, offer in enumerate(found.offers)
        ]
        return self._types.CompletionList(  # type: ignore[no-any-return]
            is_incomplete=False, items=items
        )

    def format(self, params: "types.DocumentFormattingParams") -> "list[types.TextEdit] | None":
        """Answer with the text in the one layout; not at all while it has faults."""
        document = self._document(params.text_document.uri)
        try:
            result = tidied(source_of(_path(document), document.source))
        except WorkError as error:
            self._say(str(error))
            return None
        if result.data is None:
            self._say("The text has faults of the spelling: it is not laid out anew.")
            return None
        text = result.data.decode("utf-8")
        if text == document.source:
            return []
        whole = Stretch(Spot(0, 0), self._columns(document).end)
        return [self._types.TextEdit(range=self._range(whole), new_text=text)]

    # ------------------------------------------------------------ within

    def _document(self, uri: str) -> "TextDocument":
        return self._server.workspace.get_text_document(uri)

    def _columns(self, document: "TextDocument") -> Columns:
        encoding = self._server.workspace.position_encoding
        return Columns(document.source, str(getattr(encoding, "value", encoding) or "utf-16"))

    def _look(self, uri: str) -> tuple[Look, Columns]:
        document = self._document(uri)
        version, look = self._looks.get(uri, (None, None))
        if look is None or version != document.version or look.text != document.source:
            look = look_at(_path(document), document.source)
            self._looks[uri] = (document.version, look)
        return look, self._columns(document)

    def _publish(self, uri: str) -> None:
        look, columns = self._look(uri)
        diagnostics = [self._diagnostic(each, uri, look, columns) for each in look.findings]
        version = self._document(uri).version
        told = self._types.PublishDiagnosticsParams(
            uri=uri, version=version, diagnostics=diagnostics
        )
        self._server.text_document_publish_diagnostics(told)

    def _related(
        self, finding: Finding, uri: str, look: Look, columns: Columns
    ) -> "Iterator[types.DiagnosticRelatedInformation]":
        for each in finding.related:
            path = each.span.path
            if path in look.used and Path(path).is_absolute():
                place = Path(path).as_uri(), Columns(look.used[path], columns.encoding)
            elif path == finding.span.path:
                place = uri, columns
            else:
                continue
            where = self._range(place[1].stretch(each.span))
            yield self._types.DiagnosticRelatedInformation(
                location=self._types.Location(uri=place[0], range=where), message=each.message
            )

    def _diagnostic(
        self, finding: Finding, uri: str, look: Look, columns: Columns
    ) -> "types.Diagnostic":
        severities = self._types.DiagnosticSeverity
        weights = {
            Severity.ERROR: severities.Error,
            Severity.WARNING: severities.Warning,
            Severity.NOTE: severities.Information,
        }
        is_waived = finding.waived is not None
        related = [*self._related(finding, uri, look, columns)]
        message = f"{finding.message} (waived: {finding.waived})" if is_waived else finding.message
        return self._types.Diagnostic(  # type: ignore[no-any-return]
            range=self._range(columns.stretch(finding.span)),
            message=message,
            severity=severities.Hint if is_waived else weights[finding.severity],
            code=finding.rule,
            source=NAME,
            related_information=related or None,
        )

    def _symbol(self, entry: Entry, columns: Columns) -> "types.DocumentSymbol":
        kinds = self._types.SymbolKind
        kind = {"part": kinds.Object, "leg": kinds.Field, "family": kinds.Function}[entry.kind]
        return self._types.DocumentSymbol(  # type: ignore[no-any-return]
            name=entry.name,
            detail=entry.detail or None,
            kind=kind,
            range=self._range(columns.stretch(entry.whole)),
            selection_range=self._range(columns.stretch(entry.head)),
            children=[self._symbol(inner, columns) for inner in entry.inner],
        )

    def _range(self, stretch: Stretch) -> "types.Range":
        begin, end = (self._types.Position(line=s.line, character=s.column) for s in stretch)
        return self._types.Range(start=begin, end=end)  # type: ignore[no-any-return]

    def _say(self, message: str) -> None:
        kind = self._types.MessageType.Warning
        told = self._types.ShowMessageParams(type=kind, message=message)
        self._server.window_show_message(told)


def _spot(position: "types.Position") -> Spot:
    return Spot(position.line, position.character)


def _path(document: "TextDocument") -> str:
    """Return where a document is or would be saved, as findings print it."""
    is_file = document.uri.startswith("file:")
    return Path(document.path).as_posix() if is_file else _UNSAVED
