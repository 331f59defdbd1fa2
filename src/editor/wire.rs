//! Messages on a stream: a head that says how long each is, and its JSON.

use lsp_server::Message;
use serde_json::Value;
use std::io::{self, BufRead, Read as _, Write};

/// Most bytes of one message: a book has 4 MB at most, and JSON may write each of its bytes as six.
const MOST: u64 = 64 << 20;
/// Most bytes of a line of a head.
const MOST_HEAD: u64 = 4 << 10;

/// What came in.
#[derive(Debug)]
pub(super) enum Came {
    /// A message.
    Message(Message),
    /// Something of a length that is known, and no message: what is wrong with it.
    Other(String),
}

/// The next message; nothing where the stream ends, or where it cannot be told any more where a message begins.
pub(super) fn read(input: &mut impl BufRead) -> Option<Came> {
    let length = head(input)?;
    if length > MOST {
        let skipped = io::copy(&mut input.take(length), &mut io::sink()).ok()?;
        return (skipped == length).then(|| Came::Other(format!("A message is longer than {MOST} bytes.")));
    }
    let mut bytes = Vec::new();
    input.take(length).read_to_end(&mut bytes).ok()?;
    if (bytes.len() as u64) < length {
        return None;
    }
    Some(message(&bytes).unwrap_or_else(|why| Came::Other(format!("This is no message of the protocol: {why}."))))
}

fn message(bytes: &[u8]) -> Result<Came, serde_json::Error> {
    let value: Value = serde_json::from_slice(bytes)?;
    // who names a question waits for an answer
    let named = value.get("id").is_some();
    Ok(match serde_json::from_value(value)? {
        Message::Notification(n) if named => Came::Other(format!("{} has a name that no answer can have.", n.method)),
        message => Came::Message(message),
    })
}

/// The length that a head states.
fn head(input: &mut impl BufRead) -> Option<u64> {
    let mut length = None;
    loop {
        let mut line = Vec::new();
        input.take(MOST_HEAD).read_until(b'\n', &mut line).ok()?;
        let line = std::str::from_utf8(&line).ok()?.strip_suffix('\n')?.trim_end();
        if line.is_empty() {
            return length;
        }
        let (name, value) = line.split_once(':')?;
        if name.trim().eq_ignore_ascii_case("Content-Length") {
            length = Some(value.trim().parse().ok()?);
        }
    }
}

/// Writes a message.
///
/// # Errors
/// A stream that nobody reads any more.
pub(super) fn write(output: &mut dyn Write, message: Message) -> io::Result<()> {
    let mut output = output;
    message.write(&mut output)
}

/// Answers what is no message, and so has no name to be answered by.
///
/// # Errors
/// As [`write`].
pub(super) fn write_unread(output: &mut dyn Write, why: &str) -> io::Result<()> {
    const PARSE_ERROR: i32 = lsp_server::ErrorCode::ParseError as i32;
    let error = serde_json::json!({ "code": PARSE_ERROR, "message": why });
    let text = serde_json::json!({ "jsonrpc": "2.0", "id": null, "error": error }).to_string();
    write!(output, "Content-Length: {}\r\n\r\n{text}", text.len())?;
    output.flush()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(mut input: &[u8]) -> Vec<String> {
        let mut out = Vec::new();
        while let Some(came) = read(&mut input) {
            out.push(match came {
                Came::Message(Message::Notification(n)) => n.method,
                other => format!("{other:?}").chars().take(12).collect(),
            });
        }
        out
    }

    #[test]
    fn what_is_no_message_is_passed_over() {
        let exit = "content-length:  17\r\nX: y\r\n\r\n{\"method\":\"exit\"}";
        let odd = "Content-Length: 2\r\n\r\n[]";
        assert_eq!(
            all(format!("{odd}{exit}{odd}{exit}").as_bytes()),
            ["Other(\"This ", "exit", "Other(\"This ", "exit"]
        );
    }

    #[test]
    fn a_stream_without_order_ends() {
        for input in ["", "\r\n", "Content-Length: x\r\n\r\n", "nonsense\r\n\r\n", "Content-Length: 9\r\n\r\n{}"] {
            assert!(all(input.as_bytes()).is_empty(), "{input}");
        }
        assert!(all(b"Content-Length: 18446744073709551615\r\n\r\n{}").is_empty());
        assert!(all(&vec![b'x'; 100_000]).is_empty());
    }
}
