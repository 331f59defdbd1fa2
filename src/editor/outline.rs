//! What a book declares, as a tree: blocks, and what stands in them.

use super::page::Page;
use crate::notation::split::split;
use crate::notation::tree::{Define, ForLine, LineKind, Name, Part};
use crate::source::{Span, Text};
use gen_lsp_types::{DocumentSymbol, Range, SymbolKind};
use serde_json::{Value, json};
use std::sync::Arc;

/// The outline of a document: a tree, or a list for editors that take none.
pub(super) fn outline(page: &Page, uri: &str, tree: bool) -> Value {
    let (book, _) = page.tree();
    let blocks = blocks(&page.text);
    let reading = Reading { page, blocks };
    let symbols: Vec<DocumentSymbol> = book.parts.iter().filter_map(|part| reading.part(part)).collect();
    if tree {
        return json!(symbols);
    }
    let mut flat = Vec::new();
    for symbol in symbols {
        let one = |s: &DocumentSymbol, within: Option<&str>| json!({ "name": s.name, "kind": s.kind, "location": { "uri": uri, "range": s.range }, "containerName": within });
        flat.push(one(&symbol, None));
        flat.extend(symbol.children.iter().flatten().map(|child| one(child, Some(&symbol.name))));
    }
    json!(flat)
}

/// Statements outside blocks, and blocks to their `end`.
fn blocks(text: &Arc<Text>) -> Vec<Span> {
    let (sections, _) = split(text);
    let ended = |section: &crate::notation::split::Section| {
        let last = section.body.as_ref().map(|body| body.last().map_or(section.head.end, |l| l.end));
        let Some(last) = last else { return section.head.end };
        // `end` stands alone on its line; remarks and empty lines may stand before it
        let mut line = text.line(last) + 1;
        while line <= text.line_count() {
            let range = text.line_range(line);
            match text.text[range.clone()].split("--").next().unwrap_or("").trim() {
                "end" => return range.start + text.text[range.clone()].trim_end().len(),
                "" => line += 1,
                _ => break,
            }
        }
        last
    };
    sections.iter().map(|s| Span::new(s.head.start, ended(s))).collect()
}

struct Reading<'p> {
    page: &'p Page,
    blocks: Vec<Span>,
}

impl Reading<'_> {
    /// The block or statement that a place stands in.
    fn around(&self, span: Span) -> Span {
        let holds = |block: &&Span| block.start <= span.start && span.end <= block.end;
        self.blocks.iter().find(holds).copied().unwrap_or(span)
    }

    fn symbol(&self, name: &str, detail: &str, kind: SymbolKind, whole: Span, at: Span) -> DocumentSymbol {
        let range: Range = self.page.range(whole.to(at));
        // the protocol takes no empty name
        let name = if name.is_empty() { "(nothing)".to_owned() } else { name.to_owned() };
        let detail = (!detail.is_empty()).then(|| detail.to_owned());
        DocumentSymbol::new(name, detail, kind, None, None, range, self.page.range(at), None)
    }

    fn block(
        &self,
        name: &str,
        detail: &str,
        kind: SymbolKind,
        at: Span,
        inside: Vec<DocumentSymbol>,
    ) -> DocumentSymbol {
        let symbol = self.symbol(name, detail, kind, self.around(at), at);
        DocumentSymbol { children: (!inside.is_empty()).then_some(inside), ..symbol }
    }

    fn named(&self, name: &Name, detail: &str, kind: SymbolKind, whole: Span) -> DocumentSymbol {
        self.symbol(&name.name, detail, kind, whole, name.span)
    }

    fn part(&self, part: &Part) -> Option<DocumentSymbol> {
        Some(match part {
            Part::Use(_) => return None,
            Part::Rows(block) => {
                let fields = block.fields.iter();
                let fields = fields.map(|f| self.named(&f.name, &f.ty.text, SymbolKind::Field, f.span)).collect();
                self.block(
                    &format!("rows {}", block.name.name),
                    block.sheet.as_deref().unwrap_or_default(),
                    SymbolKind::Class,
                    block.name.span,
                    fields,
                )
            }
            Part::Table(table) => {
                let columns = table.columns.iter();
                let columns = columns
                    .map(|c| self.named(&c.name, &c.ty.text, SymbolKind::Field, c.name.span.to(c.ty.span)))
                    .collect();
                self.block(
                    &format!("table {}", table.name.name),
                    table.title.as_deref().unwrap_or_default(),
                    SymbolKind::Array,
                    table.name.span,
                    columns,
                )
            }
            Part::Define(Define { name, note, .. }) => self.block(
                &format!("define {}", name.name),
                note.as_deref().unwrap_or_default(),
                SymbolKind::Function,
                name.span,
                Vec::new(),
            ),
            Part::For(rows, lines) => {
                let inside = lines.iter().filter_map(|line| self.line(line)).collect();
                self.block(&format!("for {}", rows.name), "", SymbolKind::Namespace, rows.span, inside)
            }
            Part::Example(example) => {
                self.block(&format!("example {}", example.name), "", SymbolKind::Event, example.span, Vec::new())
            }
        })
    }

    fn line(&self, line: &ForLine) -> Option<DocumentSymbol> {
        let text = |label: &Option<String>| label.clone().unwrap_or_default();
        Some(match line {
            ForLine::Formula(f) => self.named(&f.name, &text(&f.label), SymbolKind::Variable, f.span),
            ForLine::Check(c) => DocumentSymbol {
                name: format!("check {}", c.name.name),
                ..self.named(&c.name, "", SymbolKind::Boolean, c.span)
            },
            ForLine::Item(i) => {
                let word = if i.what == LineKind::Labor { "labor" } else { "item" };
                DocumentSymbol {
                    name: format!("{word} {}", i.name.name),
                    ..self.named(&i.name, &text(&i.label), SymbolKind::Object, i.span)
                }
            }
            ForLine::Options(o) => {
                let options = o.options.iter();
                let options =
                    options.map(|p| self.named(&p.name, &text(&p.label), SymbolKind::EnumMember, p.name.span));
                DocumentSymbol {
                    name: format!("options {}", o.name.name),
                    children: Some(options.collect()),
                    ..self.named(&o.name, &text(&o.label), SymbolKind::Enum, o.span)
                }
            }
            ForLine::Cutting(_) | ForLine::Buying(_) | ForLine::Dividing(_) | ForLine::Telling(_) => return None,
        })
    }
}
