//! `hardlid work 'EXPRESSION'`

use super::{Ended, books, failed, out};
use crate::engine::examples::{value_text, work_out};
use crate::notation::read_expression;
use crate::program::{Type, Value};
use crate::quantity::show::show;
use crate::source::Text;
use crate::system::Outside;
use serde_json::json;
use std::path::PathBuf;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hardlid work \"10'-3 1/2\\\" * 3\"\n  hardlid work \"tee_count(along: 20', spacing: 24\\\")\"\n  \
                        hardlid work --rules house.lid \"offcut(whole: 41', stock: 10')\"\n\nThe trade's functions and tables are at hand; \
                        a rule book's own come with --rules."
)]
pub struct Arguments {
    /// The expression, in the notation of the rule books.
    #[arg(allow_hyphen_values = true)]
    expression: String,
    /// A rule book whose names the expression may use.
    #[arg(long, value_name = "BOOK.lid")]
    rules: Option<PathBuf>,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    let json = arguments.json;
    let text = Text::new("the expression", &arguments.expression);
    let expr = match read_expression(&text) {
        Ok(expr) => expr,
        Err(problems) => return failed(&problems, json),
    };
    let asked = Some((&text, &expr));
    let program = match books::program(arguments.rules.as_deref(), "hardlid trade", asked, outside) {
        Ok((program, _)) => program,
        Err(problems) => return failed(&problems, json),
    };
    match work_out(&program) {
        Err(problem) => failed(&[problem], json),
        Ok((value, ty, style)) => {
            let shown = value_text(&value, ty, &style);
            if !json {
                out::line(&shown);
                return Ended::Done;
            }
            let (exact, unit) = exact(&value, ty);
            let rounded = match (&value, ty.dimension()) {
                (Value::Number(n), Some(d)) => show(n, d, &style).rounded,
                _ => false,
            };
            out::value(
                &json!({ "shown": shown, "rounded": rounded, "value": exact, "unit": unit, "type": ty.words() }),
            );
            Ended::Done
        }
    }
}

/// The value in base units, as exact decimal text, with the base unit's name.
fn exact(value: &Value, ty: Type) -> (serde_json::Value, String) {
    match value {
        Value::Number(n) => {
            let dimension = ty.dimension().unwrap_or_default();
            let text = n.exact_decimal().map_or_else(
                || {
                    let (above, below) = n.parts();
                    format!("{above}/{below}")
                },
                |d| d.normalize().to_string(),
            );
            (json!(text), dimension.base_text())
        }
        Value::Text(t) => (json!(&**t), String::new()),
        Value::YesNo(v) => (json!(v), String::new()),
        Value::Date(d) => (json!(d.to_string()), String::new()),
    }
}
