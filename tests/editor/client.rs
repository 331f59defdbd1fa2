//! An editor: it starts the built program and speaks the protocol with it over pipes.

use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::{BufReader, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

/// How long an answer is waited for: it is never that long, but for a program that hangs.
const PATIENCE: Duration = Duration::from_secs(60);

/// A running server, with a folder of books.
pub struct Client {
    child: Child,
    input: Option<ChildStdin>,
    came: Receiver<Value>,
    asked: i32,
    folder: PathBuf,
    /// What the server has shown last, by address.
    shown: BTreeMap<String, Value>,
    versions: BTreeMap<String, i32>,
}

/// What one message holds; nothing at the end of the stream.
fn read(from: &mut impl std::io::BufRead) -> Option<Value> {
    let mut length = 0;
    loop {
        let mut line = String::new();
        if from.read_line(&mut line).ok()? == 0 {
            return None;
        }
        if line.trim().is_empty() {
            break;
        }
        if let Some(n) = line.strip_prefix("Content-Length:") {
            length = n.trim().parse().unwrap();
        }
    }
    let mut bytes = vec![0; length];
    from.read_exact(&mut bytes).ok()?;
    Some(serde_json::from_slice(&bytes).unwrap())
}

impl Client {
    /// Starts the program for a folder, without a word said yet.
    pub fn silent(program: &str, folder: &Path) -> Self {
        let mut child = Command::new(program)
            .arg("editor")
            .current_dir(folder)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut output = BufReader::new(child.stdout.take().unwrap());
        let (sender, came) = channel();
        std::thread::spawn(move || {
            while let Some(message) = read(&mut output) {
                if sender.send(message).is_err() {
                    break;
                }
            }
        });
        let input = child.stdin.take();
        let (shown, versions) = Default::default();
        Self { child, input, came, asked: 0, folder: folder.to_path_buf(), shown, versions }
    }

    /// Starts it and agrees on what an ordinary editor can do.
    pub fn new(program: &str, folder: &Path) -> Self {
        let mut client = Self::silent(program, folder);
        let capabilities = json!({
            "textDocument": {
                "completion": { "completionItem": { "snippetSupport": true } },
                "hover": { "contentFormat": ["plaintext"] },
                "documentSymbol": { "hierarchicalDocumentSymbolSupport": true },
            },
            "workspace": { "textDocumentContent": {} },
        });
        let root = client.uri("").trim_end_matches('/').to_owned();
        client.ask("initialize", &json!({ "processId": null, "rootUri": root, "capabilities": capabilities }));
        client.tell("initialized", &json!({}));
        client
    }

    /// The address of a file of the folder.
    pub fn uri(&self, name: &str) -> String {
        format!("file://{}/{}", self.folder.display(), name.replace(' ', "%20"))
    }

    /// Bytes as they are.
    pub fn send_bytes(&mut self, bytes: &[u8]) {
        let input = self.input.as_mut().unwrap();
        // a server that has ended reads no more
        let _ = input.write_all(bytes).and_then(|()| input.flush());
    }

    fn send(&mut self, message: &Value) {
        let text = message.to_string();
        self.send_bytes(format!("Content-Length: {}\r\n\r\n{text}", text.len()).as_bytes());
    }

    pub fn tell(&mut self, method: &str, parameters: &Value) {
        self.send(&json!({ "jsonrpc": "2.0", "method": method, "params": parameters }));
    }

    /// The next message; what it shows of files is kept.
    pub fn next(&mut self) -> Value {
        let message = self.came.recv_timeout(PATIENCE).expect("the server says nothing");
        if message["method"] == "textDocument/publishDiagnostics" {
            let uri = message["params"]["uri"].as_str().unwrap().to_owned();
            self.shown.insert(uri, message["params"].clone());
        }
        message
    }

    /// The whole answer to a question.
    pub fn answer(&mut self, method: &str, parameters: &Value) -> Value {
        self.asked += 1;
        let id = self.asked;
        self.send(&json!({ "jsonrpc": "2.0", "id": id, "method": method, "params": parameters }));
        loop {
            let message = self.next();
            if message["id"] == id {
                return message;
            }
        }
    }

    /// What a question gives.
    pub fn ask(&mut self, method: &str, parameters: &Value) -> Value {
        let answer = self.answer(method, parameters);
        assert!(answer["error"].is_null(), "{method}: {answer}");
        answer["result"].clone()
    }

    /// Why a question is refused.
    pub fn refused(&mut self, method: &str, parameters: &Value) -> String {
        let answer = self.answer(method, parameters);
        answer["error"]["message"].as_str().unwrap_or_else(|| panic!("{method}: {answer}")).to_owned()
    }

    /// Opens a book with a text, and waits until it has been looked at.
    pub fn open(&mut self, name: &str, text: &str) {
        let uri = self.uri(name);
        self.versions.insert(uri.clone(), 1);
        let document = json!({ "uri": uri, "languageId": "lid", "version": 1, "text": text });
        self.tell("textDocument/didOpen", &json!({ "textDocument": document }));
        self.looked_at(name);
    }

    /// Changes a book: the whole text, or parts by their ranges.
    pub fn change(&mut self, name: &str, changes: &Value) {
        let uri = self.uri(name);
        let version = self.versions.entry(uri.clone()).or_insert(1);
        *version += 1;
        let parameters = json!({ "textDocument": { "uri": uri, "version": *version }, "contentChanges": changes });
        self.tell("textDocument/didChange", &parameters);
        self.looked_at(name);
    }

    /// Waits until the newest text of a book has been looked at.
    pub fn looked_at(&mut self, name: &str) {
        let uri = self.uri(name);
        let version = self.versions[&uri];
        while self.shown.get(&uri).is_none_or(|shown| shown["version"] != version) {
            self.next();
        }
    }

    /// What is shown of a file: line from 1, the marked text by columns in UTF-16 from 0, severity, message.
    pub fn problems(&self, name: &str) -> Vec<(u64, u64, u64, u64, String)> {
        let Some(shown) = self.shown.get(&self.uri(name)) else { return Vec::new() };
        let one = |d: &Value| {
            let at = |end: &str, part: &str| d["range"][end][part].as_u64().unwrap();
            assert_eq!((d["source"].as_str(), at("start", "line")), (Some("hardlid"), at("end", "line")));
            let message = d["message"].as_str().unwrap().to_owned();
            (
                at("start", "line") + 1,
                at("start", "character"),
                at("end", "character"),
                d["severity"].as_u64().unwrap(),
                message,
            )
        };
        shown["diagnostics"].as_array().unwrap().iter().map(one).collect()
    }

    /// A place in a book: the document and a position.
    pub fn at(&self, name: &str, line: u32, character: u32) -> Value {
        json!({ "textDocument": { "uri": self.uri(name) }, "position": { "line": line, "character": character } })
    }

    /// Shuts the server down and ends it; its exit code.
    pub fn end(mut self) -> i32 {
        self.ask("shutdown", &Value::Null);
        self.tell("exit", &Value::Null);
        self.ended()
    }

    /// The exit code of a server that has ended, or ends as nothing more comes; what it said on standard error is told.
    pub fn ended(mut self) -> i32 {
        self.input = None;
        let status = self.child.wait().unwrap();
        let mut said = String::new();
        self.child.stderr.take().unwrap().read_to_string(&mut said).unwrap();
        assert_eq!(said, "");
        status.code().unwrap()
    }
}

impl Drop for Client {
    fn drop(&mut self) {
        self.input = None;
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
