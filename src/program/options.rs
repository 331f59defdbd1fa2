//! Options: several ways to build a row, of which one is taken.

use super::declare::{Declarations, Declared, plain_words};
use super::native::NativeArgument;
use super::node::{Op, Phase};
use super::resolve::{Resolver, Scope};
use super::schema::{Choice, FieldId, KindId, Options, Schema, Type};
use super::segments::Segment;
use crate::notation::tree::{Name, OptionsLine};
use crate::problem::nearest::nearest;
use crate::quantity::Unit;
use crate::source::Text;
use crate::source::texts::fold;
use std::collections::BTreeSet;
use std::sync::Arc;

/// As many options as one row may have: it is worked out under each of them.
const MAX_OPTIONS: usize = 40;

impl Declarations {
    /// Declares the options of a kind, or replaces a lower book's.
    pub(super) fn options(&mut self, text: &Arc<Text>, layer: usize, kind: KindId, line: &OptionsLine) {
        let rows = self.schema.kind(kind);
        if rows.parent.is_some() || rows.single {
            let (the, are) = if rows.single { ("the ", "is") } else { ("", "are") };
            let what = format!("Options stand for rows that belong to no others; {the}{} {are} not such.", rows.name);
            return self.problem(text, line.name.span, "options misplaced", what, "options in 'for rooms'".to_owned());
        }
        let before = self.options.as_ref().map(|o| o.what.name.name.clone());
        if let Some(name) = before.filter(|name| *name != line.name.name) {
            let what = format!("There are already options called '{name}'; a job has one set of them.");
            let fix = format!("replace options {name}");
            return self.problem(text, line.name.span, "name already used", what, fix);
        }
        let old = self.options.as_ref().map(|o| o.stand(|line| line.name.span));
        let again = old.is_some();
        if !self.may_declare(text, layer, kind, &line.name, line.replace, "options", old) {
            return;
        }
        if line.options.len() > MAX_OPTIONS {
            let what = format!("There are {} options; {MAX_OPTIONS} is the most.", line.options.len());
            return self.problem(text, line.span, "too many options", what, "fewer of them".to_owned());
        }
        for (i, option) in line.options.iter().enumerate() {
            if line.options[..i].iter().any(|o| fold(&o.name.name) == fold(&option.name.name)) {
                let what = format!("The option '{}' stands here twice.", option.name.name);
                self.problem(text, option.name.span, "name already used", what, "take one of them out".to_owned());
            }
        }
        let Some(field) = self.option_field(text, kind, line, again) else { return };
        let choices = line.options.iter().map(|o| Choice {
            name: o.name.name.clone(),
            label: o.label.clone().unwrap_or_else(|| plain_words(&o.name.name)),
            when: None,
        });
        let choices: Vec<Choice> = choices.collect();
        for choice in &choices {
            if !self.option_names.contains(&choice.name) {
                self.option_names.push(choice.name.clone());
            }
        }
        self.schema.options = Some(Options {
            kind,
            field,
            choices,
            named_by: None,
            showing: Vec::new(),
            text: Arc::clone(text),
            span: line.span,
        });
        self.options = Some(Declared { what: line.clone(), text: Arc::clone(text), layer });
    }

    /// The column that holds the option a row stands under.
    fn option_field(&mut self, text: &Arc<Text>, kind: KindId, line: &OptionsLine, again: bool) -> Option<FieldId> {
        let name = &line.name;
        let id = match self.by_name[kind.0 as usize].get(&name.name).copied() {
            Some(id) if again => id,
            Some(_) => {
                let what = format!("'{}' is already a field of {}.", name.name, self.schema.kind(kind).name);
                self.problem(text, name.span, "name already used", what, "another name for the options".to_owned());
                return None;
            }
            None => self.add_field(kind, &name.name, Type::Text, Unit::none(), text, line.span),
        };
        let field = &mut self.schema.fields[id.0 as usize];
        if let Some(label) = &line.label {
            field.label.clone_from(label);
        }
        field.note.clone_from(&line.note);
        field.source.clone_from(&line.source);
        Some(id)
    }

    /// A field of a kind by the name that options give it.
    fn field_for_options(&mut self, text: &Arc<Text>, kind: KindId, name: &Name) -> Option<FieldId> {
        let found = self.by_name[kind.0 as usize].get(&name.name).copied();
        if found.is_none() {
            let names = self.by_name[kind.0 as usize].keys().map(String::as_str);
            let mut names: Vec<&str> = names.collect();
            names.sort_unstable();
            let fix = nearest(&name.name, names).unwrap_or("a field of these rows").to_owned();
            let what = format!("{} have nothing called '{}'.", plain_words(&self.schema.kind(kind).name), name.name);
            self.problem(text, name.span, "unknown name", what, fix);
        }
        found
    }

    /// Finds the field that names an option, once every book's fields are known; it accepts the options' names.
    pub(super) fn settle_options(&mut self) {
        let (Some(declared), Some(options)) = (self.options.clone(), self.schema.options.clone()) else { return };
        let Some(name) = &declared.what.named_by else { return };
        let Some(id) = self.field_for_options(&declared.text, options.kind, name) else { return };
        let field = &mut self.schema.fields[id.0 as usize];
        let names: Vec<String> = options.choices.iter().map(|c| c.name.clone()).collect();
        match &mut field.input {
            Some(input) if field.ty == Type::Text && (input.may_be_blank || input.default.is_some()) => {
                // a name that is no option of this job is refused where it stands
                input.one_of.retain(|m| names.iter().any(|n| fold(n) == fold(m)));
                if input.one_of.is_empty() {
                    input.one_of = names;
                }
                if let Some(options) = &mut self.schema.options {
                    options.named_by = Some(id);
                }
            }
            _ => {
                let what = format!("'{}' names an option, so it is a text that is read and may be blank.", name.name);
                let fix = format!("{} text may be blank", name.name);
                self.problem(&declared.text, name.span, "wrong type", what, fix);
            }
        }
    }
}

impl Resolver {
    /// Conditions of options, and what is shown beside them.
    pub fn all_options(&mut self) {
        let (Some(declared), Some(mut options)) = (self.d.options.clone(), self.d.schema.options.clone()) else {
            return;
        };
        let kind = options.kind;
        let scope = Scope { kind, text: Arc::clone(&declared.text), locals: None, quiet: false };
        for (choice, part) in options.choices.iter_mut().zip(&declared.what.options) {
            let Some(when) = &part.when else { continue };
            let Some(reg) = self.yes_no(&scope, when) else { continue };
            if self.d.emit.node(reg).phase != Phase::Rows {
                let what = format!("Whether '{}' may be taken depends on which option is taken.", choice.name);
                let fix = "a condition on the row alone, or a check";
                self.refuse(&scope, when.span, "option depends on itself", what, fix);
                continue;
            }
            choice.when = Some(self.hidden_field(kind, reg, &scope.text, when.span));
        }
        for name in &declared.what.showing {
            if let Some(id) = self.d.field_for_options(&declared.text, kind, name) {
                options.showing.push(id);
            }
        }
        self.d.schema.options = Some(options);
    }
}

/// What [`super::Program::rows_alone`] tells.
pub(super) fn rows_are_alone(schema: &Schema, segments: &[Segment]) -> bool {
    let Some(options) = &schema.options else { return false };
    let belongs = |kind: KindId| schema.belongs(kind, options.kind);
    let (own, others): (Vec<&Segment>, Vec<&Segment>) =
        segments.iter().filter(|s| s.phase == Phase::Options).partition(|s| belongs(s.kind));
    let shared: BTreeSet<FieldId> = others.iter().flat_map(|s| &s.outputs).map(|(field, _)| *field).collect();
    let of_all = |kind: &KindId| schema.kind(*kind).parent.is_none();
    let alone = |op: &Op| match op {
        Op::Field(field) | Op::Parent(field) => !shared.contains(field),
        Op::Fold { kind, .. } => !of_all(kind),
        Op::Native(_, arguments) => {
            !arguments.iter().any(|a| matches!(a, NativeArgument::Rows(kind, _) if of_all(kind)))
        }
        _ => true,
    };
    own.iter().flat_map(|s| &s.steps).all(|step| alone(&step.op))
}
