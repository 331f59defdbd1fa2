//! Names are lower case: a capital letter belongs to the words of a column and to units, `D` and `M`.

use super::Declarations;
use crate::notation::tree::{Book, ForLine, Name, Part};

/// Every name that a book gives to something.
fn names(book: &Book) -> impl Iterator<Item = &Name> {
    book.parts.iter().flat_map(|part| -> Vec<&Name> {
        match part {
            Part::Use(_) | Part::Example(_) => Vec::new(),
            Part::Rows(block) => [&block.name].into_iter().chain(block.fields.iter().map(|f| &f.name)).collect(),
            Part::Table(block) => [&block.name].into_iter().chain(block.columns.iter().map(|c| &c.name)).collect(),
            Part::Define(define) => {
                [&define.name].into_iter().chain(define.parameters.iter().map(|p| &p.name)).collect()
            }
            Part::For(_, lines) => lines
                .iter()
                .flat_map(|line| match line {
                    ForLine::Formula(formula) => vec![&formula.name],
                    ForLine::Check(check) => vec![&check.name],
                    ForLine::Item(item) => vec![&item.name],
                    ForLine::Cutting(_) | ForLine::Buying(_) | ForLine::Dividing(_) | ForLine::Telling(_) => Vec::new(),
                    ForLine::Options(line) => {
                        [&line.name].into_iter().chain(line.options.iter().map(|o| &o.name)).collect()
                    }
                })
                .collect(),
        }
    })
}

impl Declarations {
    /// Refuses names with capital letters; they serve all the same, so that one slip costs one message.
    pub(super) fn lower_case(&mut self, book: &Book) {
        for name in names(book).filter(|n| n.name.contains(|c: char| c.is_uppercase())) {
            let what = format!("'{}' has a capital letter; names are lower case.", name.name);
            self.problem(&book.text, name.span, "name not lower case", what, name.name.to_lowercase());
        }
    }
}
