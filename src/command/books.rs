//! Reads rule books with the layers that they use.

use crate::notation::tree::Expr;
use crate::problem::{Problem, Weight};
use crate::program::{Program, compile, library};
use crate::source::Text;
use crate::system::Outside;
use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;
use std::path::Path;
use std::sync::Arc;

/// Largest rule book file, in bytes.
const BOOK_LIMIT: u64 = 8 * 1024 * 1024;

/// The SHA-256 of bytes, in hex.
pub fn digest(bytes: &[u8]) -> String {
    let mut out = String::with_capacity(64);
    for byte in Sha256::digest(bytes) {
        let _ = write!(out, "{byte:02x}");
    }
    out
}

/// Compiles a rule book file, or a built-in book when there is none.
///
/// # Errors
/// An unreadable file; every mistake of the book.
pub fn program(
    rules: Option<&Path>,
    built_in: &str,
    asked: Option<(&Arc<Text>, &Expr)>,
    outside: &dyn Outside,
) -> Result<(Program, Vec<Problem>), Vec<Problem>> {
    let digest_text = |text: &str| digest(text.as_bytes());
    let (layers, mut problems) = match rules {
        None => library::built_in(built_in, &digest_text),
        Some(path) => {
            let bytes = outside.read(path, BOOK_LIMIT).map_err(|p| vec![p])?;
            let name =
                path.file_name().map_or_else(|| path.display().to_string(), |n| n.to_string_lossy().into_owned());
            let text = String::from_utf8(bytes).map_err(|_| {
                let what = format!("{name} is not a text in UTF-8.");
                vec![Problem::stop("unreadable book", what).in_file(name.as_str()).fix("save it as plain text, UTF-8")]
            })?;
            library::with_layers(&Text::new(name.as_str(), &text), &name, &digest_text)
        }
    };
    // a statement that was not understood leaves a hole: the rest is still checked, so that one run tells all
    let holes = problems.iter().any(|p| p.weight == Weight::Stop);
    match compile(layers, asked, crate::natives()) {
        Ok((program, more)) if !holes => {
            problems.extend(more);
            Ok((program, problems))
        }
        Ok((_, more)) => {
            problems.extend(more);
            crate::problem::in_source_order(&mut problems);
            Err(problems)
        }
        Err(more) => {
            problems.extend(more);
            crate::problem::in_source_order(&mut problems);
            Err(problems)
        }
    }
}
