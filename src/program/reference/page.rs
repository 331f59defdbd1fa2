//! All words as one page of Markdown: `grammar/REFERENCE.md`, and the page of a company's own book.

use super::{Family, Shown, Word};
use std::fmt::Write as _;

/// The page. It names books and no lines of them, so that it changes only when what it tells does.
#[must_use]
pub fn page(words: &[Word]) -> String {
    let mut out = String::from(
        "# Reference\n\n\
         Every function, table, unit and statement that a rule book can use, from the places where they are declared, by\n\
         `hardlid words --page`. Nothing here is written by hand, and every example runs as a test. What a house book adds is\n\
         told by `hardlid words --page --rules house.lid`.\n",
    );
    let mut families: Vec<Family> = words.iter().map(|w| w.family).collect();
    families.dedup();
    // what any book can use comes before what the rows of one have
    families.sort_by_key(|f| f.of_rows());
    out.push('\n');
    for family in &families {
        let count = words.iter().filter(|w| w.family == *family).count();
        let anchor = family.heading().to_lowercase().replace(' ', "-");
        let _ = writeln!(out, "- [{}](#{anchor}): {count}", family.heading());
    }
    for family in families {
        let _ = writeln!(out, "\n## {}", family.heading());
        let of = words.iter().filter(|w| w.family == family);
        match family {
            Family::Units => units(&mut out, of),
            Family::Types => types(&mut out, of),
            family if family.of_rows() => rows(&mut out, of),
            _ => of.for_each(|word| section(&mut out, word)),
        }
    }
    out
}

fn section(out: &mut String, word: &Word) {
    let _ = writeln!(out, "\n### {}\n\n```text\n{}\n```\n", word.name, word.form);
    if !word.summary.is_empty() {
        let _ = writeln!(out, "{}\n", word.summary);
    }
    if let Some(body) = word.details.strip_prefix("= ") {
        let _ = writeln!(out, "It is `{body}`.\n");
    } else if !word.details.is_empty() {
        let _ = writeln!(out, "{}\n", word.details);
    }
    for argument in &word.takes {
        let left_out = match argument.left_out.as_deref() {
            None => String::new(),
            Some("") => "; may be left out".to_owned(),
            Some(default) => format!("; `{default}` when left out"),
        };
        let _ = writeln!(out, "- takes `{}`: {}{left_out}", argument.name, argument.takes);
    }
    if !word.gives.is_empty() {
        let _ = writeln!(out, "- gives: {}", word.gives);
    }
    if let Some(source) = &word.source {
        let _ = writeln!(out, "- source: {source}");
    }
    if let Some((book, _)) = &word.stated {
        let _ = writeln!(out, "- stated in: {book}");
    }
    for example in &word.examples {
        let _ = writeln!(out, "- {}", shown(example));
    }
    if let Some((expression, why)) = &word.refused {
        let _ = writeln!(out, "- refused: `{expression}` (“{why}”)");
    }
    if let Some(book) = word.book {
        let _ = writeln!(out, "```lid\n{}\n```", book.trim_end());
    }
}

fn shown(example: &Shown) -> String {
    let within = example.within.as_ref().map(|name| format!(", in the example “{name}”")).unwrap_or_default();
    format!("example: `{}` gives `{}`{within}", example.expression, example.gives)
}

/// Words whose form says most of it.
fn rows<'w>(out: &mut String, words: impl Iterator<Item = &'w Word>) {
    out.push_str("\n| name | is | as the book states it |\n| --- | --- | --- |\n");
    for word in words {
        let gives = if word.gives.is_empty() { String::new() } else { format!(" Gives: {}.", word.gives) };
        let source = word.source.as_ref().map(|s| format!(" Source: {s}.")).unwrap_or_default();
        let examples: String =
            word.examples.iter().map(|e| format!(" {}.", shown(e).replacen("example", "Example", 1))).collect();
        let stated = word.stated.as_ref().map(|(book, _)| format!(" Stated in {book}.")).unwrap_or_default();
        let is = format!("{}{gives}{source}{examples}{stated}", word.summary).replace('|', "\\|");
        let _ = writeln!(out, "| {} | {is} | `{}` |", word.name, word.form.replace('|', "\\|"));
    }
}

fn types<'w>(out: &mut String, words: impl Iterator<Item = &'w Word>) {
    out.push_str(
        "\nBesides these, every unit is a type: `psf`, `$/ft`, `hr/ea`, `in^4`.\n\n| type | is |\n| --- | --- |\n",
    );
    for word in words {
        let _ = writeln!(out, "| `{}` | {} |", word.name, word.summary);
    }
}

fn units<'w>(out: &mut String, words: impl Iterator<Item = &'w Word>) {
    out.push_str("\nCase counts. `sq` and `cu` before a length, `^2` and `²` after it, make areas and volumes.\n");
    out.push_str("\n| unit | is | measures | for example |\n| --- | --- | --- | --- |\n");
    for word in words {
        let names: Vec<String> = word.names().map(|n| format!("`{n}`")).collect();
        let examples: Vec<String> = word.examples.iter().map(|e| format!("`{}`", e.expression)).collect();
        let _ = writeln!(out, "| {} | {} | {} | {} |", names.join(", "), word.summary, word.gives, examples.join(", "));
    }
}
