//! `grammar/lid.tmLanguage.json`: up to date, complete, and coloring books as they are meant, by an engine of such grammars.

use super::of_this_version;
use hardlid::notation::keywords::lines;
use hardlid::notation::read_expression;
use hardlid::notation::statements::STATEMENTS;
use hardlid::notation::tree::Node;
use hardlid::program::reference::{Family, textmate::textmate};
use hardlid::program::{library, types::TYPES};
use hardlid::quantity::unit::UNITS;
use hardlid::source::Text;
use std::collections::BTreeSet;
use syntaxmate::{GrammarRegistry, Tokenizer, TokenizerOptions};

const STORED: &str = include_str!("../../grammar/lid.tmLanguage.json");

/// A piece of a line, and the innermost of its scopes past that of the whole book; empty where it has none.
type Piece = (String, String);

/// The pieces of a book, line by line; spaces between them are left out.
fn colored(book: &str) -> Vec<Vec<Piece>> {
    let mut registry = GrammarRegistry::new();
    let root = registry.add_json(STORED).unwrap();
    let mut tokenizer = Tokenizer::new(&registry, root, TokenizerOptions::default()).unwrap();
    let mut state = tokenizer.initial_state();
    book.lines()
        .map(|line| {
            let of = tokenizer.tokenize_line(line, &mut state).unwrap().require_complete().unwrap();
            let piece = |t: &syntaxmate::Token| {
                let scope = t.scopes().skip(1).last().unwrap_or("").trim_end_matches(".lid").to_owned();
                (line[t.range()].to_owned(), scope)
            };
            of.tokens().iter().map(piece).filter(|(text, _)| !text.trim().is_empty()).collect()
        })
        .collect()
}

#[test]
fn the_grammar_is_up_to_date() {
    let made = serde_json::to_string_pretty(&textmate(&of_this_version())).unwrap() + "\n";
    assert!(
        made == STORED.replace("\r\n", "\n"),
        "out of date: cargo run -- words --textmate > grammar/lid.tmLanguage.json"
    );
}

#[test]
fn every_pattern_is_sound_and_every_include_leads_somewhere() {
    let mut registry = GrammarRegistry::new();
    registry.add_json(STORED).unwrap();
    registry.validate().unwrap();
    registry.validate_regexes().unwrap();
    assert!(registry.add_json(r#"{"scopeName":"source.x","patterns":[{"match":"(a"}]}"#).is_ok());
    assert!(registry.validate_regexes().is_err(), "a pattern that is not sound is found");
}

/// A book that holds a bit of everything. Under each line stand its pieces that have a scope, in order, by what they are.
const BOOK: &[(&str, &[(&str, &str)])] = &[
    (
        "book \"House: 16\\\" o.c.\"  edition \"1\"",
        &[
            ("book", "keyword.control"),
            ("\"House: 16", "string.quoted.double"),
            ("\\\"", "constant.character.escape"),
            (" o.c.\"", "string.quoted.double"),
            ("edition", "keyword.other.clause"),
            ("\"1\"", "string.quoted.double"),
        ],
    ),
    (
        "use \"hardlid ceilings\"   -- the built-in one",
        &[
            ("use", "keyword.control"),
            ("\"hardlid ceilings\"", "string.quoted.double"),
            ("-- the built-in one", "comment.line.double-dash"),
        ],
    ),
    ("", &[]),
    (
        "define offcut(whole length, stock length otherwise 10') length  =  round_up(whole, to: stock) - whole",
        &[
            ("define", "keyword.control"),
            ("offcut", "entity.name.function"),
            ("whole", "variable.parameter"),
            ("length", "storage.type"),
            ("stock", "variable.parameter"),
            ("length", "storage.type"),
            ("otherwise", "keyword.operator.word"),
            ("10'", "constant.numeric.length"),
            ("length", "storage.type"),
            ("=", "keyword.operator"),
            ("round_up", "support.function"),
            ("whole", "variable.other"),
            ("to", "variable.parameter"),
            ("stock", "variable.other"),
            ("-", "keyword.operator"),
            ("whole", "variable.other"),
        ],
    ),
    (
        "    \"What is left.\"  source practice",
        &[
            ("\"What is left.\"", "string.quoted.double"),
            ("source", "keyword.other.clause"),
            ("practice", "string.unquoted"),
        ],
    ),
    (
        "rows rooms  from \"Rooms\"",
        &[
            ("rows", "keyword.control"),
            ("rooms", "entity.name.type"),
            ("from", "keyword.other.clause"),
            ("\"Rooms\"", "string.quoted.double"),
        ],
    ),
    // a column may be called by a word of the notation
    (
        "    length  length  heading \"Length\"  from 1' to 40'-6 1/2\"  otherwise 8'",
        &[
            ("length", "variable.other.declaration"),
            ("length", "storage.type"),
            ("heading", "keyword.other.clause"),
            ("\"Length\"", "string.quoted.double"),
            ("from", "keyword.other.clause"),
            ("1'", "constant.numeric.length"),
            ("to", "keyword.other.clause"),
            ("40'-6 1/2\"", "constant.numeric.length"),
            ("otherwise", "keyword.other.clause"),
            ("8'", "constant.numeric.length"),
        ],
    ),
    (
        "    cost    $/ft    may be blank  shown in in",
        &[
            ("cost", "variable.other.declaration"),
            ("$/ft", "storage.type"),
            ("may", "keyword.other.clause"),
            ("be", "keyword.other.clause"),
            ("blank", "keyword.other.clause"),
            ("shown", "keyword.other.clause"),
            ("in", "keyword.other.clause"),
            ("in", "keyword.other.unit"),
        ],
    ),
    ("end", &[("end", "keyword.control")]),
    (
        "replace table span  \"Span\"  accepted \"Tested.\"",
        &[
            ("replace", "keyword.control"),
            ("table", "keyword.control"),
            ("span", "entity.name.function"),
            ("\"Span\"", "string.quoted.double"),
            ("accepted", "keyword.other.clause"),
            ("\"Tested.\"", "string.quoted.double"),
        ],
    ),
    (
        "    spacing length, up to | board length, exact, otherwise 5/8\" | limit length",
        &[
            ("spacing", "variable.parameter"),
            ("length", "storage.type"),
            ("up", "keyword.other.clause"),
            ("to", "keyword.other.clause"),
            ("|", "punctuation.separator.column"),
            ("board", "variable.parameter"),
            ("length", "storage.type"),
            ("exact", "keyword.other.clause"),
            ("otherwise", "keyword.other.clause"),
            ("5/8\"", "constant.numeric.length"),
            ("|", "punctuation.separator.column"),
            ("limit", "variable.parameter"),
            ("length", "storage.type"),
        ],
    ),
    (
        "    16\"                   | 5/8\"                                | 8'-6\"",
        &[
            ("16\"", "constant.numeric.length"),
            ("|", "punctuation.separator.column"),
            ("5/8\"", "constant.numeric.length"),
            ("|", "punctuation.separator.column"),
            ("8'-6\"", "constant.numeric.length"),
        ],
    ),
    ("end", &[("end", "keyword.control")]),
    ("for rooms", &[("for", "keyword.control"), ("rooms", "entity.name.type")]),
    (
        "    run  \"Tee run\"  =  length when length <= width,",
        &[
            ("run", "variable.other.declaration"),
            ("\"Tee run\"", "string.quoted.double"),
            ("=", "keyword.operator"),
            ("length", "variable.other"),
            ("when", "keyword.operator.word"),
            ("length", "variable.other"),
            ("<=", "keyword.operator"),
            ("width", "variable.other"),
        ],
    ),
    (
        "                       sum of openings (long * 50%) otherwise",
        &[
            ("sum", "keyword.other.aggregate"),
            ("of", "keyword.operator.word"),
            // nobody's function: a kind of rows, with what is added up
            ("openings", "entity.name.function.call"),
            ("long", "variable.other"),
            ("*", "keyword.operator"),
            ("50%", "constant.numeric.percent"),
            ("otherwise", "keyword.operator.word"),
        ],
    ),
    // a formula may be called as a statement is
    (
        "    check  =  2 psf * 3.5 ft",
        &[
            ("check", "variable.other.declaration"),
            ("=", "keyword.operator"),
            ("2", "constant.numeric.quantity"),
            ("psf", "keyword.other.unit"),
            ("*", "keyword.operator"),
            ("3.5", "constant.numeric.quantity"),
            ("ft", "keyword.other.unit"),
        ],
    ),
    (
        "    check span  run <= 8'-6\"  else stops",
        &[
            ("check", "keyword.control"),
            ("span", "variable.other.declaration"),
            ("run", "variable.other"),
            ("<=", "keyword.operator"),
            ("8'-6\"", "constant.numeric.length"),
            ("else", "keyword.other.clause"),
            ("stops", "keyword.other.clause"),
        ],
    ),
    (
        "        \"A tee would span {run}.\"",
        &[
            ("\"A tee would span ", "string.quoted.double"),
            ("{run}", "variable.other.placeholder"),
            (".\"", "string.quoted.double"),
        ],
    ),
    (
        "    replace labor frame  \"Frame\"  code \"L\"  need run  height height  rate 0.011 hr/ft",
        &[
            ("replace", "keyword.control"),
            ("labor", "keyword.control"),
            ("frame", "variable.other.declaration"),
            ("\"Frame\"", "string.quoted.double"),
            ("code", "keyword.other.clause"),
            ("\"L\"", "string.quoted.double"),
            ("need", "keyword.other.clause"),
            ("run", "variable.other"),
            ("height", "keyword.other.clause"),
            ("height", "variable.other"),
            ("rate", "keyword.other.clause"),
            ("0.011", "constant.numeric.quantity"),
            ("hr/ft", "keyword.other.unit"),
        ],
    ),
    (
        "    wire  =  wire_diameter(12 ga wire) when sdc is one of D E F, $312.50/MLF * 2 MLF otherwise",
        &[
            ("wire", "variable.other.declaration"),
            ("=", "keyword.operator"),
            ("wire_diameter", "support.function"),
            ("12", "constant.numeric.gauge"),
            ("ga wire", "keyword.other.unit"),
            ("when", "keyword.operator.word"),
            ("sdc", "variable.other"),
            ("is", "keyword.operator.word"),
            ("one", "keyword.operator.word"),
            ("of", "keyword.operator.word"),
            ("D", "variable.other"),
            ("E", "variable.other"),
            ("F", "variable.other"),
            ("$312.50", "constant.numeric.money"),
            ("MLF", "keyword.other.unit"),
            ("*", "keyword.operator"),
            ("2", "constant.numeric.quantity"),
            ("MLF", "keyword.other.unit"),
            ("otherwise", "keyword.operator.word"),
        ],
    ),
    // the 'end' is missing: the next block begins all the same
    ("for job", &[("for", "keyword.control"), ("job", "entity.name.type")]),
    (
        "    cutting  by level  kerf 1/8\"",
        &[
            ("cutting", "keyword.control"),
            ("by", "keyword.other.clause"),
            ("level", "variable.other"),
            ("kerf", "keyword.other.clause"),
            ("1/8\"", "constant.numeric.length"),
        ],
    ),
    ("end", &[("end", "keyword.control")]),
    ("example \"one\"", &[("example", "keyword.control"), ("\"one\"", "string.quoted.double")]),
    (
        "    rooms  id \"1\"  length 20'  relief yes  due 2026-11-25",
        &[
            ("rooms", "entity.name.type"),
            ("\"1\"", "string.quoted.double"),
            ("20'", "constant.numeric.length"),
            ("yes", "constant.language.yes-no"),
            ("2026-11-25", "constant.numeric.date"),
        ],
    ),
    (
        "    shows  run = 14'",
        &[
            ("shows", "keyword.control"),
            ("run", "variable.other"),
            ("=", "keyword.operator"),
            ("14'", "constant.numeric.length"),
        ],
    ),
    ("end", &[("end", "keyword.control")]),
];

#[test]
fn chosen_lines_are_colored_as_they_are_meant() {
    let book: Vec<&str> = BOOK.iter().map(|(line, _)| *line).collect();
    let mut wrong = Vec::new();
    for ((line, wanted), pieces) in BOOK.iter().zip(colored(&book.join("\n"))) {
        let scoped: Vec<(&str, &str)> =
            pieces.iter().filter(|(_, s)| !s.is_empty()).map(|(t, s)| (t.trim_start(), s.as_str())).collect();
        let wanted: Vec<(&str, &str)> = wanted.iter().map(|(t, s)| (t.trim_start(), *s)).collect();
        if scoped != wanted {
            let differs = scoped.iter().zip(&wanted).find(|(a, b)| a != b);
            wrong.push(format!("{line}\n   first: {differs:?}\n   all: {scoped:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What is colored as a figure in our own books is a figure to the program, a text is a text, and a unit a unit.
#[test]
fn figures_and_texts_of_the_built_in_books_are_figures_and_texts() {
    let mut seen = BTreeSet::new();
    for book in library::BUILT_IN.iter().map(|b| b.text).chain([include_str!("../../workbooks/demo-rules.lid")]) {
        for (line, pieces) in book.lines().zip(colored(book)) {
            // a text may be in parts, by its escapes and names in braces
            let mut whole = String::new();
            for (at, (text, scope)) in pieces.iter().enumerate() {
                let part_of_text = scope.starts_with("string.quoted")
                    || scope.starts_with("constant.character")
                    || scope == "variable.other.placeholder";
                if part_of_text {
                    whole.push_str(text);
                } else if scope.starts_with("constant.numeric") {
                    let unit = pieces.get(at + 1).filter(|(_, s)| s == "keyword.other.unit");
                    let figure = match unit {
                        Some((unit, _)) if scope == "constant.numeric.money" => format!("{text}/{unit}"),
                        Some((unit, _)) => format!("{text} {unit}"),
                        None => text.clone(),
                    };
                    let read = read_expression(&Text::new("a figure", &figure));
                    assert!(matches!(read.map(|e| e.node), Ok(Node::Literal(_))), "{figure} of {line}");
                    seen.insert(scope.clone());
                }
            }
            if !whole.is_empty() {
                let texts = whole.replace("\\\"", "").matches('"').count();
                assert!(texts.is_multiple_of(2), "a text is open at the end of {line}");
            }
            // nothing that is a figure or a text was left without a color
            for (text, scope) in &pieces {
                assert!(
                    !scope.is_empty()
                        || !text.contains(|c: char| c.is_ascii_digit() || c == '"')
                        || text.contains('_')
                        || is_name(text),
                    "{text} of {line}"
                );
            }
        }
    }
    let wanted = ["length", "quantity", "number", "percent", "money", "gauge"];
    for kind in wanted {
        assert!(seen.contains(&format!("constant.numeric.{kind}")), "no {kind} was seen");
    }
}

/// Names may hold digits.
fn is_name(text: &str) -> bool {
    text.trim().split(|c: char| !c.is_ascii_alphanumeric()).all(|w| !w.starts_with(|c: char| c.is_ascii_digit()))
}

/// Every word that the program declares is one to the grammar, where it stands as it should.
#[test]
fn every_declared_word_is_colored() {
    let scope = |book: &str, piece: &str| -> BTreeSet<String> {
        let of = colored(book).into_iter().flatten().filter(|(text, _)| text == piece);
        of.map(|(_, scope)| scope).collect()
    };
    let mut functions = 0;
    for word in of_this_version() {
        use Family::{LanguageFunctions, NativeFunctions, TradeFunctions, TradeTables};
        if matches!(word.family, TradeFunctions | TradeTables | NativeFunctions | LanguageFunctions) {
            for name in word.names() {
                let book = format!("for job\n    a  =  {name}(1)\nend\n");
                assert!(scope(&book, name).contains("support.function"), "{name}");
                functions += 1;
            }
        }
    }
    assert!(functions > 100);
    for name in UNITS.iter().flat_map(|u| u.names).filter(|n| **n != "in." && **n != "each") {
        assert_eq!(
            scope(&format!("for job\n    a  =  2 {name}\nend\n"), name),
            ["keyword.other.unit".to_owned()].into()
        );
    }
    for (name, ..) in TYPES {
        assert!(
            scope(&format!("rows rooms\n    a  {name}  may be blank\nend\n"), name).contains("storage.type"),
            "{name}"
        );
    }
    // each example of a statement is a book that uses it
    for statement in STATEMENTS {
        let colored = colored(statement.example);
        for word in statement.name.split(' ').filter(|w| !VALUES.contains(w)) {
            let keyword = |(text, scope): &Piece| text == word && scope.starts_with("keyword");
            assert!(colored.iter().flatten().any(keyword), "{word} of {}", statement.name);
        }
    }
}

/// Statements that are explained by another name than their word.
const VALUES: &[&str] = &["formula", "length", "money", "percent", "gauge", "remark", "lines"];

/// Every word that the grammar of the notation states stands in a pattern; every rule of a line is one that is known here.
#[test]
fn nothing_of_the_notation_is_left_out() {
    let notation = include_str!("../../grammar/notation.pest");
    let parts: Vec<&str> = notation
        .lines()
        .filter(|l| !l.trim_start().starts_with("//"))
        .flat_map(|l| l.split('"').skip(1).step_by(2))
        .collect();
    let lower = |w: &&str| w.len() > 1 && w.bytes().all(|b| b.is_ascii_lowercase());
    // these two begin nothing: the grammar names them so that they are no unit after a figure
    let words: BTreeSet<&str> = parts.into_iter().filter(lower).filter(|w| !["note", "per"].contains(w)).collect();
    assert!(words.len() > 80, "{}", words.len());
    for word in words {
        let stands = STORED.match_indices(word).any(|(at, _)| {
            let around = (STORED[..at].chars().next_back(), STORED[at + word.len()..].chars().next());
            let apart = |c: Option<char>| c.is_some_and(|c| !c.is_ascii_alphanumeric() && c != '_');
            apart(around.0) && apart(around.1)
        });
        assert!(stands, "{word} stands in no pattern");
    }
    let known = "book_line units_line use_line define_line rows_head for_head table_head example_head field_line table_columns \
                 table_row formula_line check_line item_line cutting_line buying_line dividing_line telling_line options_line \
                 shows_line row_line expr_line";
    let rules: BTreeSet<&str> = lines().collect();
    assert_eq!(rules, known.split_whitespace().collect());
}
