//! Stock lengths that a book asks of the price book: what a blank cell stands for.

use super::book::{Found, PriceBook};
use super::offers::longest;
use crate::program::{Input, Schema, Value};
use crate::quantity::Number;

/// Lets blank cells of fields with `stock of` stand for the longest stock of their code that is in force. A code that has
/// none, or one beyond the limits of the field, leaves the field as the book states it.
///
/// To be called before rows are read: what a blank cell stands for is settled there.
pub fn take_stock(schema: &mut Schema, book: &PriceBook) {
    for input in schema.fields.iter_mut().filter_map(|f| f.input.as_mut()) {
        let stock = input.stock_of.as_deref().and_then(|code| stock_of(book, code));
        if let Some(stock) = stock.filter(|mm| allows(input, mm)) {
            input.default = Some(Value::Number(stock));
        }
    }
}

/// The longest stock of a code in mm.
fn stock_of(book: &PriceBook, code: &str) -> Option<Number> {
    match book.price(code) {
        Found::Row(row) => longest(book, &[row]),
        Found::Choices(rows) => longest(book, &rows),
        _ => None,
    }
}

fn allows(input: &Input, mm: &Number) -> bool {
    let above = |(least, inclusive): (Number, bool)| *mm > least || (inclusive && *mm == least);
    let below = |(most, inclusive): (Number, bool)| *mm < most || (inclusive && *mm == most);
    input.low.is_none_or(above) && input.high.is_none_or(below)
}
