//! A row as if it named another of its options: so that a scheme that lost can be asked about as well.

use super::tell::RowOf;
use crate::engine::column::Holds;
use crate::engine::run::input_fields;
use crate::engine::{ColumnBuilder, Inputs};
use crate::problem::Problem;
use crate::problem::nearest::nearest;
use crate::program::Program;
use crate::source::texts::fold;
use std::sync::Arc;

/// Makes a row name one of its options, by name or label; gives back the label.
///
/// # Errors
/// No options, none of that name, or none that a row may name.
pub fn name_option(
    program: &Program,
    inputs: &mut Inputs,
    (kind, row): RowOf,
    wanted: &str,
) -> Result<String, Problem> {
    let schema = &program.schema;
    let Some(options) = schema.options.as_ref().filter(|o| o.kind == kind) else {
        let what = "These rows have no options, so there is none to ask about.";
        return Err(Problem::stop("no options", what).fix("leave --under out"));
    };
    let same = |text: &str| fold(&text.replace('_', " ")) == fold(&wanted.replace('_', " "));
    let Some(choice) = options.choices.iter().find(|c| same(&c.name) || same(&c.label)) else {
        let names = || options.choices.iter().flat_map(|c| [c.label.as_str(), c.name.as_str()]);
        let labels: Vec<&str> = options.choices.iter().map(|c| c.label.as_str()).collect();
        let what = format!("No option is called that; they are {}.", labels.join(", "));
        let near = nearest(wanted, names()).map_or_else(|| "one of these".to_owned(), str::to_owned);
        return Err(Problem::stop("unknown name", what).fix(near));
    };
    let at = options.named_by.and_then(|field| input_fields(program, kind).iter().position(|f| *f == field));
    let table = inputs.tables.iter_mut().find(|t| t.kind == kind);
    let (Some(at), Some(table)) = (at, table) else {
        let what = "The rules have no column by which a row names its option, so none can be asked for.";
        return Err(Problem::stop("no options", what).fix("named by a text that may be blank, in 'options'"));
    };
    let name = Arc::make_mut(&mut inputs.texts).intern(&choice.name);
    let mut column = ColumnBuilder::new(Holds::Texts);
    for other in 0..table.rows {
        let (chunk, within) = table.columns[at].locate(other);
        match chunk.fault(within) {
            _ if other == row => column.push_text(name),
            Some(fault) => column.push_fault(fault.site),
            None => column.push_text(chunk.text(within).unwrap_or(0)),
        }
    }
    table.columns[at] = column.finish();
    Ok(choice.label.clone())
}
