//! A language server for rule books: the only room that knows the protocol by which editors ask.
//!
//! `wire` reads and writes messages, `server` takes them in their order; `desk` has the books that are open and those that
//! they use, `page` a text in the editor's places and in bytes. `problems` tells what is wrong, by the same compiler as every
//! command; `meaning` knows what each name means, from the trees alone,
//! `context` where a place stands, from the words alone, and `goto`, `hover`, `complete`, `outline` and
//! `format` answer by it.

mod complete;
mod context;
mod desk;
mod format;
mod goto;
mod hover;
mod meaning;
mod outline;
mod page;
mod problems;
mod server;
mod sound;
mod wire;

pub use server::serve;
