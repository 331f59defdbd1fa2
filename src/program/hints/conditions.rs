//! Checks that say nothing, branches that nothing reaches, conditions that change nothing.

use super::super::schema::FieldId;
use super::Looking;
use super::cases::{all, always};
use std::sync::Arc;

impl Looking<'_> {
    pub(super) fn conditions(&mut self) {
        self.checks();
        self.choices();
        self.only_when();
    }

    fn holds(&self, field: FieldId) -> Option<bool> {
        always(self.r, &self.fuel, self.r.node_of(field)?)
    }

    fn checks(&mut self) {
        let checks = self.r.d.schema.checks.iter().filter(|c| Arc::ptr_eq(&c.text, &self.text));
        let known: Vec<_> = checks.filter_map(|c| Some((c.name.clone(), c.span, self.holds(c.holds)?))).collect();
        for (name, span, holds) in known {
            let (kind, what) = if holds {
                ("check always holds", format!("The check {name} cannot fail: it holds whatever the rows say."))
            } else {
                ("check never holds", format!("The check {name} always fails, whatever the rows say."))
            };
            self.hint(kind, span, what, "a condition that looks at the rows, or accepted \"…\" with the reason");
        }
    }

    /// Conditions of choices that are never the first to hold.
    fn choices(&mut self) {
        let own = self.r.used.choices.iter().filter(|c| Arc::ptr_eq(&c.text, &self.text));
        let mut found = Vec::new();
        for choice in own {
            // of an example, which states what it shows
            let last = choice.otherwise;
            if self.about(last).is_none() {
                continue;
            }
            let conditions: Vec<_> = choice.conditions.iter().map(|(reg, _)| *reg).collect();
            let firsts: Vec<Option<usize>> = match all(self.r, &self.fuel, &conditions) {
                Some(all) => all.iter().map(|held| held.iter().position(|h| *h)).collect(),
                None => continue,
            };
            for (i, (_, span)) in choice.conditions.iter().enumerate() {
                if !firsts.contains(&Some(i)) {
                    found.push(match i {
                        0 => {
                            let what = "This branch is never reached: its condition never holds.";
                            (*span, what, "take it out, or a condition that can hold")
                        }
                        _ => {
                            let what =
                                "This branch is never reached: its condition cannot hold where those before it do not.";
                            (*span, what, "take it out, or put it before the condition that covers it")
                        }
                    });
                }
            }
            if !firsts.contains(&None) {
                let what =
                    "What stands under 'otherwise' is never reached: the conditions before it leave nothing over.";
                found.push((last, what, "let the last case be the one under 'otherwise'"));
            }
        }
        for (span, what, fix) in found {
            self.hint("branch never reached", span, what.to_owned(), fix);
        }
    }

    /// Items and options that are always or never taken.
    fn only_when(&mut self) {
        let schema = &self.r.d.schema;
        let mut found = Vec::new();
        for item in schema.items.iter().filter(|i| Arc::ptr_eq(&i.text, &self.text)) {
            if let Some(holds) = item.when.and_then(|f| self.holds(f)) {
                found.push((item.span, item.name.clone(), holds));
            }
        }
        if let Some(options) = schema.options.as_ref().filter(|o| Arc::ptr_eq(&o.text, &self.text)) {
            for choice in &options.choices {
                if let Some(holds) = choice.when.and_then(|f| self.holds(f)) {
                    found.push((options.span, choice.name.clone(), holds));
                }
            }
        }
        for (span, name, holds) in found {
            let (what, fix) = if holds {
                (format!("'only when' of {name} changes nothing: its condition always holds."), "leave 'only when' out")
            } else {
                (format!("'{name}' is never taken: its condition never holds."), "a condition that can hold")
            };
            self.hint("condition without effect", span, what, fix);
        }
    }
}
