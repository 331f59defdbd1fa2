//! `hardlid editor`

use super::Ended;
use crate::editor::serve;
use crate::system::Outside;
use std::io::{BufReader, stdin, stdout};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  hardlid editor\n\nAn editor starts it for files that end in .lid and speaks the Language Server Protocol with it, over standard input and output. \
                        It tells mistakes and hints while a book is typed, in the words of hardlid try; what a name is, with its value in the first example that leans on it; \
                        what can stand at a place; where a name is declared and said. It gives names other ones, lays a book out, and lists what it declares. \
                        Books that a book uses are read from disk, or as they are open in the editor.\n\n\
                        Exit 0: the editor shut it down and ended it; 1: the editor went away without that."
)]
pub struct Arguments {
    /// What editors say to every server of their kind; it is what happens anyway.
    #[arg(long, hide = true)]
    stdio: bool,
}

pub fn run(_: &Arguments, outside: &dyn Outside) -> Ended {
    if serve(BufReader::new(stdin()), &mut stdout(), outside) { Ended::Done } else { Ended::WithStops }
}
