//! A document in the one standard layout.

use super::page::Page;
use crate::notation::tidy;
use crate::source::Span;
use gen_lsp_types::TextEdit;

/// The change that lays a document out; none where it is tidy, or has mistakes: it is left as it is then, as on the command
/// line. Lines at its beginning and end that stay are not part of the change.
pub(super) fn format(page: &Page) -> Vec<TextEdit> {
    let old = &page.text.text;
    let Ok(new) = tidy(&page.text) else { return Vec::new() };
    if *old == new {
        return Vec::new();
    }
    let same = |a: &mut dyn Iterator<Item = &str>, b: &mut dyn Iterator<Item = &str>| {
        let mut lengths = 0;
        while let (Some(a), Some(b)) = (a.next(), b.next()) {
            if a != b {
                break;
            }
            lengths += a.len();
        }
        lengths
    };
    let head = same(&mut old.split_inclusive('\n'), &mut new.split_inclusive('\n'));
    let (rest, new_rest) = (&old[head..], &new[head..]);
    let tail = same(&mut rest.split_inclusive('\n').rev(), &mut new_rest.split_inclusive('\n').rev());
    let range = page.range(Span::new(head, old.len() - tail));
    vec![TextEdit { range, new_text: new_rest[..new_rest.len() - tail].to_owned() }]
}
