//! The protocol: what comes in, in its order, and what goes out.

use super::desk::{Desk, OWN_SCHEME, Pile, Stands, built_in_uri, key, path_of};
use super::goto::Refused;
use super::meaning::Meanings;
use super::problems::{ByFile, by_file, check};
use super::sound::Sound;
use super::wire::{self, Came};
use super::{complete, format, goto, hover, outline};
use crate::problem::Problem;
use crate::system::Outside;
use gen_lsp_types::{
    Diagnostic, DidChangeTextDocumentParams, DidCloseTextDocumentParams, DidOpenTextDocumentParams, Position,
    TextDocumentContentChangeEvent, TextDocumentIdentifier, TextDocumentPositionParams,
};
use lsp_server::{ErrorCode, Message, Notification, Request, RequestId, Response};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use std::cell::OnceCell;
use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::io::{BufRead, Write};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::rc::Rc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, TryRecvError, channel};
use std::thread;
use std::time::Duration;

/// How long nobody types before books are looked at that use what was changed, and long examples are run: the next key
/// would wait for that.
const PAUSE: Duration = Duration::from_millis(100);

/// Serves an editor until it says that it ends, or its stream does. Whether it ended as the protocol wants it: shut down,
/// then told to exit.
#[must_use]
pub fn serve(input: impl BufRead + Send + 'static, output: &mut dyn Write, outside: &dyn Outside) -> bool {
    let (sender, receiver) = channel();
    thread::spawn(move || {
        let mut input = input;
        while let Some(came) = wire::read(&mut input) {
            let last = matches!(&came, Came::Message(Message::Notification(n)) if n.method == "exit");
            if sender.send(came).is_err() || last {
                break;
            }
        }
    });
    Server::new(outside, output).run(&receiver)
}

/// What the editor can do with what it gets.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Client {
    /// It fills in what a completion leaves open.
    pub(super) snippets: bool,
    /// It asks for the text of addresses that are no files.
    contents: bool,
    /// It tells when files change, if it is asked to.
    watches: bool,
    /// It takes a tree of symbols.
    pub(super) tree: bool,
    /// It shows Markdown.
    pub(super) markdown: bool,
}

impl Client {
    fn of(parameters: &Value) -> Self {
        let is =
            |path: &str| parameters.pointer(&format!("/capabilities/{path}")).and_then(Value::as_bool) == Some(true);
        let kinds = parameters.pointer("/capabilities/textDocument/hover/contentFormat").and_then(Value::as_array);
        Self {
            snippets: is("textDocument/completion/completionItem/snippetSupport"),
            contents: parameters.pointer("/capabilities/workspace/textDocumentContent").is_some(),
            watches: is("workspace/didChangeWatchedFiles/dynamicRegistration"),
            tree: is("textDocument/documentSymbol/hierarchicalDocumentSymbolSupport"),
            markdown: kinds.is_some_and(|kinds| kinds.iter().any(|k| k == "markdown")),
        }
    }
}

/// How far a conversation has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Phase {
    /// Nothing is agreed on yet.
    Waiting,
    Serving,
    /// It is over, but for the word to exit.
    Shut,
}

/// A book with all that it uses, as it is now, with what its names mean.
pub(super) struct View {
    pub(super) uri: String,
    pub(super) pile: Pile,
    meanings: OnceCell<Meanings>,
}

impl View {
    pub(super) fn meanings(&self) -> &Meanings {
        let books = || self.pile.sources.iter().map(|s| &s.book);
        self.meanings.get_or_init(|| Meanings::of(books(), crate::natives()))
    }
}

/// What is kept of an open book.
#[derive(Default)]
struct Kept {
    /// As it is, with the number of the change that it is as of.
    view: Option<(u64, Rc<View>)>,
    /// As it was when it last had no mistakes.
    sound: Option<Sound>,
    /// What was last found.
    told: ByFile,
    /// Problems that were found before its examples are run.
    before_examples: Option<Vec<Problem>>,
}

struct Server<'o> {
    output: &'o mut dyn Write,
    phase: Phase,
    client: Client,
    desk: Desk<'o>,
    kept: BTreeMap<String, Kept>,
    /// Counts the changes.
    changes: u64,
    /// Books that were changed themselves, the next one to be looked at first.
    changed: VecDeque<String>,
    /// Books that others were changed for: they are looked at when nobody types.
    waiting: VecDeque<String>,
    /// Whether nothing has come for a while.
    resting: bool,
    /// What the editor shows now, by address.
    shown: BTreeMap<String, Vec<Diagnostic>>,
    /// Whether the editor has stopped to read.
    gone: bool,
}

/// What a request comes to, or why it comes to nothing.
type Answer = Result<Value, (ErrorCode, String)>;

/// Parameters of requests that ask about a document.
#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct OfDocument {
    text_document: TextDocumentIdentifier,
}

#[derive(Deserialize)]
struct AddressOnly {
    uri: String,
}

#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct NewName {
    new_name: String,
}

impl<'o> Server<'o> {
    fn new(outside: &'o dyn Outside, output: &'o mut dyn Write) -> Self {
        Self {
            output,
            phase: Phase::Waiting,
            client: Client::default(),
            desk: Desk::new(outside),
            kept: BTreeMap::new(),
            changes: 0,
            changed: VecDeque::new(),
            waiting: VecDeque::new(),
            resting: false,
            shown: BTreeMap::new(),
            gone: false,
        }
    }

    fn run(mut self, came: &Receiver<Came>) -> bool {
        loop {
            // what came in goes before what is to be looked at: an editor that types on gets no old news
            let next = match came.try_recv() {
                Ok(next) => Some(next),
                Err(TryRecvError::Empty) if self.look_at_changed() => continue,
                Err(TryRecvError::Empty) if self.resting && self.look_at_waiting() => continue,
                Err(TryRecvError::Empty) if self.resting => came.recv().ok(),
                Err(TryRecvError::Empty) => match came.recv_timeout(PAUSE) {
                    Ok(next) => Some(next),
                    Err(RecvTimeoutError::Timeout) => {
                        self.resting = true;
                        continue;
                    }
                    Err(RecvTimeoutError::Disconnected) => None,
                },
                Err(TryRecvError::Disconnected) => None,
            };
            self.resting = false;
            match next {
                Some(Came::Message(Message::Request(request))) => self.request(request),
                Some(Came::Message(Message::Notification(n))) if n.method == "exit" => {
                    return self.phase == Phase::Shut;
                }
                Some(Came::Message(Message::Notification(n))) => self.notification(n),
                // answers to what was asked of the editor
                Some(Came::Message(Message::Response(_))) => {}
                Some(Came::Other(why)) => self.gone |= wire::write_unread(self.output, &why).is_err(),
                None => return false,
            }
            if self.gone {
                return false;
            }
        }
    }

    fn send(&mut self, message: impl Into<Message>) {
        self.gone |= wire::write(self.output, message.into()).is_err();
    }

    fn request(&mut self, request: Request) {
        let Request { id, method, params } = request;
        let answer = match (self.phase, method.as_str()) {
            (Phase::Waiting, "initialize") => Ok(self.initialize(&params)),
            (Phase::Waiting, _) => Err((ErrorCode::ServerNotInitialized, "Nothing is agreed on yet.".to_owned())),
            (Phase::Serving, "shutdown") => {
                self.phase = Phase::Shut;
                Ok(Value::Null)
            }
            (Phase::Shut, _) | (_, "initialize") => {
                Err((ErrorCode::InvalidRequest, format!("{method} has no place here.")))
            }
            (Phase::Serving, method) => {
                // whatever goes wrong in one answer, the next one is another matter
                let asked = catch_unwind(AssertUnwindSafe(|| self.answer(method, params)));
                asked.unwrap_or_else(|_| Err((ErrorCode::InternalError, format!("{method} could not be answered."))))
            }
        };
        self.respond(id, answer);
    }

    fn respond(&mut self, id: RequestId, answer: Answer) {
        self.send(match answer {
            Ok(value) => Response::new_ok(id, value),
            Err((code, message)) => Response::new_err(id, code as i32, message),
        });
    }

    fn initialize(&mut self, parameters: &Value) -> Value {
        self.phase = Phase::Serving;
        self.client = Client::of(parameters);
        let folders = parameters.get("workspaceFolders").and_then(Value::as_array);
        let named = folders.into_iter().flatten().filter_map(|f| f.get("uri")?.as_str());
        let root = parameters.get("rootUri").and_then(Value::as_str);
        self.desk.folders = named.chain(root).filter_map(path_of).collect();
        json!({
            "capabilities": {
                "positionEncoding": "utf-16",
                "textDocumentSync": { "openClose": true, "change": 2, "save": true },
                "hoverProvider": true,
                "completionProvider": { "triggerCharacters": ["(", "\"", " "] },
                "definitionProvider": true,
                "referencesProvider": true,
                "renameProvider": { "prepareProvider": true },
                "documentFormattingProvider": true,
                "documentSymbolProvider": true,
                "workspace": { "textDocumentContent": { "schemes": [OWN_SCHEME] } },
            },
            "serverInfo": { "name": "hardlid", "version": env!("CARGO_PKG_VERSION") },
        })
    }

    fn answer(&mut self, method: &str, parameters: Value) -> Answer {
        match method {
            "textDocument/hover" => self
                .at(parameters, |s, view, offset| Ok(json!(hover::hover(view, s.sound(&view.uri), s.client, offset)))),
            "textDocument/completion" => self.at(parameters, |s, view, offset| {
                Ok(json!(complete::complete(view, s.sound(&view.uri), s.client, &s.desk, offset)))
            }),
            "textDocument/definition" => self.at(parameters, |s, view, offset| {
                let uri = |stands: &Stands| match stands {
                    Stands::At(uri) => Some(uri.clone()),
                    Stands::BuiltIn(name) => s.client.contents.then(|| built_in_uri(name)),
                };
                Ok(json!(goto::definition(view, offset, &uri)))
            }),
            "textDocument/references" => {
                let declared = parameters.pointer("/context/includeDeclaration").and_then(Value::as_bool);
                self.at(parameters, |s, view, offset| {
                    let others = s.views_around(&view.uri);
                    Ok(json!(goto::references(view, &others, offset, declared != Some(false))))
                })
            }
            "textDocument/prepareRename" => self.at(parameters, |_, view, offset| {
                goto::nameable(view, offset)
                    .map(|(range, name)| json!({ "range": range, "placeholder": name }))
                    .map_err(refused)
            }),
            "textDocument/rename" => {
                let NewName { new_name } = read(parameters.clone())?;
                self.at(parameters, |s, view, offset| {
                    let others = s.views_around(&view.uri);
                    let edits = goto::rename(view, &others, offset, &new_name).map_err(refused)?;
                    Ok(json!({ "changes": edits }))
                })
            }
            "textDocument/formatting" => {
                let OfDocument { text_document } = read(parameters)?;
                let open = self.desk.get(&text_document.uri.0).ok_or_else(|| unknown(&text_document.uri.0))?;
                Ok(json!(format::format(&open.page)))
            }
            "textDocument/documentSymbol" => {
                let OfDocument { text_document } = read(parameters)?;
                let open = self.desk.get(&text_document.uri.0).ok_or_else(|| unknown(&text_document.uri.0))?;
                Ok(outline::outline(&open.page, &open.uri, self.client.tree))
            }
            "workspace/textDocumentContent" => {
                let AddressOnly { uri } = read(parameters)?;
                let text = Desk::built_in_text(&uri).ok_or_else(|| unknown(&uri))?;
                Ok(json!({ "text": text }))
            }
            _ => Err((ErrorCode::MethodNotFound, format!("{method} is not served here."))),
        }
    }

    /// Answers what is asked about a place in an open document.
    fn at(&mut self, parameters: Value, answer: impl FnOnce(&mut Self, &View, usize) -> Answer) -> Answer {
        let asked: TextDocumentPositionParams = read(parameters)?;
        let uri = asked.text_document.uri.0;
        let view = self.view(&uri).ok_or_else(|| unknown(&uri))?;
        let offset = view.offset(asked.position);
        answer(self, &view, offset)
    }

    fn sound(&self, uri: &str) -> Option<&Sound> {
        self.kept.get(&key(uri))?.sound.as_ref()
    }

    /// An open book as it is now.
    fn view(&mut self, uri: &str) -> Option<Rc<View>> {
        let open = self.desk.get(uri)?;
        let kept = self.kept.entry(key(uri)).or_default();
        if let Some((_, view)) = kept.view.as_ref().filter(|(change, _)| *change == self.changes) {
            return Some(Rc::clone(view));
        }
        let view = Rc::new(View::of(&self.desk, &open.uri, &open.page));
        kept.view = Some((self.changes, Rc::clone(&view)));
        Some(view)
    }

    /// The other books that stand around a document, each with all that it uses.
    fn views_around(&mut self, uri: &str) -> Vec<Rc<View>> {
        let around = self.desk.around(uri);
        let others = around.into_iter().filter(|(other, _)| key(other) != key(uri));
        others.map(|(other, page)| Rc::new(View::of(&self.desk, &other, &page))).collect()
    }

    fn notification(&mut self, notification: Notification) {
        if self.phase != Phase::Serving {
            return;
        }
        let Notification { method, params } = notification;
        // what cannot be read cannot be answered either
        let _ = catch_unwind(AssertUnwindSafe(|| self.told(&method, params)));
    }

    fn told(&mut self, method: &str, parameters: Value) {
        match method {
            "initialized" if self.client.watches => {
                let watcher = json!({ "watchers": [{ "globPattern": "**/*.lid" }] });
                let method = "workspace/didChangeWatchedFiles";
                let registration = json!({ "id": "books", "method": method, "registerOptions": watcher });
                let parameters = json!({ "registrations": [registration] });
                let id = RequestId::from("books".to_owned());
                self.send(Request::new(id, "client/registerCapability".to_owned(), parameters));
            }
            "textDocument/didOpen" => {
                let Ok(DidOpenTextDocumentParams { text_document }) = read(parameters) else { return };
                self.desk.put(&text_document.uri.0, text_document.version, text_document.text);
                self.changed(&text_document.uri.0);
            }
            "textDocument/didChange" => {
                let Ok(DidChangeTextDocumentParams { text_document, content_changes }) = read(parameters) else {
                    return;
                };
                let uri = text_document.text_document_identifier.uri.0;
                for change in content_changes {
                    let Some(open) = self.desk.get(&uri) else { return };
                    let raw = match change {
                        TextDocumentContentChangeEvent::TextDocumentContentChangePartial(part) => {
                            open.page.changed(Some(part.range), &part.text)
                        }
                        TextDocumentContentChangeEvent::TextDocumentContentChangeWholeDocument(whole) => whole.text,
                    };
                    self.desk.put(&uri, text_document.version, raw);
                }
                self.changed(&uri);
            }
            "textDocument/didClose" => {
                let Ok(DidCloseTextDocumentParams { text_document }) = read(parameters) else { return };
                let uri = text_document.uri.0;
                self.desk.close(&uri);
                let told = self.kept.remove(&key(&uri)).map(|kept| kept.told).unwrap_or_default();
                self.forget(&key(&uri));
                told.keys().for_each(|uri| self.show(uri));
                self.changed(&uri);
            }
            "textDocument/didSave" | "workspace/didChangeWatchedFiles" => {
                self.changes += 1;
                let all: Vec<String> = self.desk.all().map(|open| key(&open.uri)).collect();
                all.into_iter().for_each(|key| self.wait_for(key));
            }
            _ => {}
        }
    }

    /// A document has changed: it is looked at next, and then those that use it.
    fn changed(&mut self, uri: &str) {
        self.changes += 1;
        let own = key(uri);
        let uses = |kept: &Kept| {
            let view = kept.view.as_ref().map(|(_, view)| view);
            view.is_none_or(|view| view.pile.layers.iter().any(|l| matches!(&l.stands, Stands::At(u) if key(u) == own)))
                || view.is_some_and(|view| !view.pile.problems.is_empty())
        };
        let others: Vec<String> =
            self.kept.iter().filter(|(k, kept)| **k != own && uses(kept)).map(|(k, _)| k.clone()).collect();
        self.forget(&own);
        if self.desk.get(uri).is_some() {
            self.changed.push_front(own);
        }
        others.into_iter().for_each(|key| self.wait_for(key));
    }

    fn wait_for(&mut self, key: String) {
        if !self.changed.contains(&key) && !self.waiting.contains(&key) {
            self.waiting.push_back(key);
        }
    }

    /// Takes a book out of those that are to be looked at.
    fn forget(&mut self, key: &str) {
        self.changed.retain(|k| k != key);
        self.waiting.retain(|k| k != key);
    }

    /// Looks at one book that was changed itself; whether there was one.
    fn look_at_changed(&mut self) -> bool {
        let Some(key) = self.changed.pop_front() else { return false };
        self.look(&key);
        true
    }

    fn look(&mut self, key: &str) {
        let uri = self.desk.all().find(|open| super::desk::key(&open.uri) == key).map(|open| open.uri.clone());
        if let Some(view) = uri.and_then(|uri| self.view(&uri)) {
            let _ = catch_unwind(AssertUnwindSafe(|| self.look_at(key, &view)));
        }
    }

    /// Looks at one book that waits, or runs examples that do; whether there was anything to do.
    fn look_at_waiting(&mut self) -> bool {
        if let Some(key) = self.waiting.pop_front() {
            self.look(&key);
            return true;
        }
        let waits = self.kept.iter().find(|(_, kept)| kept.before_examples.is_some()).map(|(key, _)| key.clone());
        let Some(kept) = waits.as_ref().and_then(|key| self.kept.get_mut(key)) else { return false };
        let mut problems = kept.before_examples.take().unwrap_or_default();
        if let (Some(sound), Some((_, view))) = (&kept.sound, &kept.view) {
            problems.extend(sound.run_examples());
            let told = by_file(&view.pile, &problems);
            self.tell(&waits.unwrap_or_default(), told);
        }
        true
    }

    fn look_at(&mut self, key: &str, view: &View) {
        let came = check(&view.pile);
        let told = by_file(&view.pile, &came.problems);
        let kept = self.kept.entry(key.to_owned()).or_default();
        kept.before_examples = came.waits.then_some(came.problems);
        if let Some(program) = came.program {
            kept.sound = Some(Sound::new(program, view.pile.sources.clone()));
        }
        self.tell(key, told);
    }

    /// Takes what was found in a book and those that it uses, and shows what is new of it.
    fn tell(&mut self, key: &str, told: ByFile) {
        let kept = self.kept.entry(key.to_owned()).or_default();
        let before = std::mem::replace(&mut kept.told, told);
        let own = self.desk.all().find(|open| super::desk::key(&open.uri) == key).map(|open| open.uri.clone());
        // its own file comes last: who hears of it has heard all
        let files: BTreeSet<String> = before.into_keys().chain(kept.told.keys().cloned()).collect();
        for uri in files.into_iter().filter(|uri| Some(uri) != own.as_ref()).chain(own.clone()) {
            self.show(&uri);
        }
    }

    /// Shows what all open books have to say of a file, where that is news.
    fn show(&mut self, uri: &str) {
        let mut all: Vec<Diagnostic> = Vec::new();
        for diagnostic in self.kept.values().flat_map(|kept| kept.told.get(uri)).flatten() {
            let same = |other: &Diagnostic| other.range == diagnostic.range && other.message == diagnostic.message;
            if !all.iter().any(same) {
                all.push(diagnostic.clone());
            }
        }
        all.sort_by_key(|d| (d.range.start, d.range.end));
        let open = self.desk.get(uri);
        let known = self.shown.get(uri);
        // an open document hears of each look, so that an editor knows that all is told
        if open.is_none() && (known == Some(&all) || (known.is_none() && all.is_empty())) {
            return;
        }
        let parameters = json!({ "uri": uri, "version": open.map(|o| o.version), "diagnostics": all });
        let parameters = match open {
            Some(_) => parameters,
            None => json!({ "uri": uri, "diagnostics": all }),
        };
        if all.is_empty() {
            self.shown.remove(uri)
        } else {
            self.shown.insert(uri.to_owned(), all)
        };
        self.send(Notification::new("textDocument/publishDiagnostics".to_owned(), parameters));
    }
}

impl View {
    fn of(desk: &Desk<'_>, uri: &str, page: &std::sync::Arc<super::page::Page>) -> Self {
        Self { uri: uri.to_owned(), pile: desk.pile(uri, page), meanings: OnceCell::new() }
    }

    fn offset(&self, position: Position) -> usize {
        self.pile.layers.last().map_or(0, |top| top.page.offset(position))
    }
}

/// The parameters of a request.
fn read<T: DeserializeOwned>(parameters: Value) -> Result<T, (ErrorCode, String)> {
    serde_json::from_value(parameters).map_err(|why| (ErrorCode::InvalidParams, why.to_string()))
}

fn unknown(uri: &str) -> (ErrorCode, String) {
    (ErrorCode::InvalidParams, format!("{uri} is not open here."))
}

fn refused(Refused(why): Refused) -> (ErrorCode, String) {
    (ErrorCode::RequestFailed, why)
}
