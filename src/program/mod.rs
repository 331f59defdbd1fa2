//! Tree to checked program: names, types and dimensions, order and cycles, slots instead of names.

pub mod schema;

pub use schema::*;
