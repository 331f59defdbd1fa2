//! A small reader of markup tags, for looking a part over before a format crate reads it.

/// One tag of a markup text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Tag<'a> {
    /// Its name, prefix included.
    pub(super) name: &'a str,
    /// Its attributes as they stand.
    pub(super) attributes: &'a str,
    /// Whether it opens, closes or stands alone.
    pub(super) kind: TagKind,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum TagKind {
    Open,
    Close,
    Alone,
}

/// The tags of a text in their order. Comments, sections of raw text and declarations of a document type are
/// `Err`: workbooks are written without them, and they can hide tags.
pub(super) fn tags(text: &str) -> impl Iterator<Item = Result<Tag<'_>, ()>> {
    let mut rest = text;
    std::iter::from_fn(move || {
        loop {
            let start = rest.find('<')?;
            let body = &rest[start + 1..];
            let Some(end) = tag_end(body) else {
                rest = "";
                return Some(Err(()));
            };
            rest = &body[end + 1..];
            let inside = &body[..end];
            if inside.starts_with('?') {
                continue;
            }
            if inside.starts_with('!') {
                return Some(Err(()));
            }
            let (inside, kind) = if let Some(name) = inside.strip_prefix('/') {
                (name, TagKind::Close)
            } else if let Some(alone) = inside.strip_suffix('/') {
                (alone, TagKind::Alone)
            } else {
                (inside, TagKind::Open)
            };
            let (name, attributes) = inside.split_once(|c: char| c.is_ascii_whitespace()).unwrap_or((inside, ""));
            return Some(Ok(Tag { name, attributes, kind }));
        }
    })
}

/// Where a tag ends: the first `>` outside quotes.
fn tag_end(body: &str) -> Option<usize> {
    let mut quote = None;
    for (i, b) in body.bytes().enumerate() {
        match (quote, b) {
            (None, b'>') => return Some(i),
            (None, b'"' | b'\'') => quote = Some(b),
            (Some(q), b) if q == b => quote = None,
            _ => {}
        }
    }
    None
}

impl<'a> Tag<'a> {
    /// The value of an attribute as it stands, entities not resolved.
    pub(super) fn attribute(&self, name: &str) -> Option<&'a str> {
        let mut rest = self.attributes;
        loop {
            let (key, after) = rest.split_once('=')?;
            let after = after.trim_start();
            let quote = after.chars().next().filter(|c| matches!(c, '"' | '\''))?;
            let (value, next) = after[1..].split_once(quote)?;
            if key.trim() == name {
                return Some(value);
            }
            rest = next;
        }
    }

    /// The name without its prefix.
    pub(super) fn local(&self) -> &'a str {
        self.name.rsplit_once(':').map_or(self.name, |(_, local)| local)
    }
}

/// The five named entities and nothing else; others stay as they are.
pub(in crate::workbook) fn unescape(text: &str) -> String {
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&apos;", "'").replace("&amp;", "&")
}
