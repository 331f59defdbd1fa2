//! Books of the right words in the right places: rows, definitions, tables, formulas, choices, checks, items and examples.
//! Most are sound; what is drawn without a look at types now and then is not.

use super::case::Case;
use super::dice::Dice;
use std::fmt::Write as _;

/// What a value is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ty {
    Number,
    Count,
    Percent,
    Length,
    Area,
    Weight,
    Plf,
    Psf,
    Money,
    Rate,
    Hours,
    YesNo,
    Text,
    Date,
}

use Ty::{Area, Count, Date, Hours, Length, Money, Number, Percent, Plf, Psf, Rate, Text, Weight, YesNo};

const TYPES: [Ty; 14] = [Number, Count, Percent, Length, Area, Weight, Plf, Psf, Money, Rate, Hours, YesNo, Text, Date];
const LENGTHS: [&str; 12] =
    ["8'-6\"", "5/8\"", "16\"", "24\"", "12'", "10'-3 1/2\"", "600 mm", "2.4 m", "8½\"", "4 ft", "1/2\"", "18\""];
const WORDS: [&str; 8] = ["regular", "rated", "A", "B", "grid", "free", "moisture", "north"];

impl Ty {
    fn name(self) -> &'static str {
        match self {
            Number => "number",
            Count => "count",
            Percent => "percent",
            Length => "length",
            Area => "area",
            Weight => "weight",
            Plf => "plf",
            Psf => "psf",
            Money => "money",
            Rate => "$/ft",
            Hours => "hours",
            YesNo => "yes/no",
            Text => "text",
            Date => "date",
        }
    }

    fn is_ordered(self) -> bool {
        !matches!(self, YesNo | Text)
    }

    fn is_sum(self) -> bool {
        !matches!(self, YesNo | Text | Date | Percent | Count)
    }
}

/// A literal of a type.
pub fn literal(dice: &mut Dice, ty: Ty) -> String {
    let n = dice.below(40);
    match ty {
        Number => format!("{}{}", n, dice.pick(&["", ".5", ".25", ".125", "000"])),
        Count => format!("{}", n / 8),
        Percent => format!("{}%", dice.pick(&["5", "10", "7.5", "100", "0"])),
        Length => dice.pick(&LENGTHS).to_owned(),
        Area => format!("{} {}", n + 1, dice.pick(&["sf", "sqm", "CSF", "sf"])),
        Weight => format!("{} {}", n + 1, dice.pick(&["lb", "lb"])),
        Plf => format!("{}.5 plf", n),
        Psf => format!("{}.{} psf", n / 4, dice.below(10)),
        Money => format!("${}.{:02}", n, dice.below(100)),
        Rate => format!("${}.{:02}/{}", n, dice.below(100), dice.pick(&["ft", "MLF", "m", "CLF"])),
        Hours => format!("{} hr", n),
        YesNo => dice.pick(&["yes", "no"]).to_owned(),
        Text => format!("\"{}\"", dice.pick(&WORDS)),
        Date => dice.pick(&["2026-11-25", "2024-02-29", "2026-03-01"]).to_owned(),
    }
}

/// The literal of no amount of a type of numbers.
fn nothing(ty: Ty) -> &'static str {
    match ty {
        Percent => "0%",
        Length => "0'",
        Area => "0 sf",
        Weight => "0 lb",
        Plf => "0 plf",
        Psf => "0 psf",
        Money => "$0",
        Rate => "$0/ft",
        Hours => "0 hr",
        _ => "0",
    }
}

/// A cell of a table, or what a row of an example says: as a literal, texts without quotes.
fn cell(dice: &mut Dice, ty: Ty) -> String {
    if ty == Text { dice.pick(&WORDS).to_owned() } else { literal(dice, ty) }
}

#[derive(Clone, Debug)]
struct Kind {
    name: String,
    parent: Option<usize>,
    inputs: Vec<(String, Ty)>,
    fields: Vec<(String, Ty)>,
}

#[derive(Clone, Debug)]
struct Item {
    kind: usize,
    name: String,
    layer: usize,
    labor: bool,
}

#[derive(Clone, Debug)]
struct Function {
    name: String,
    parameters: Vec<(String, Ty, bool)>,
    gives: Ty,
}

/// What the books that are made so far declare.
#[derive(Clone, Debug, Default)]
struct Known {
    kinds: Vec<Kind>,
    functions: Vec<Function>,
    options: Vec<String>,
    names: usize,
    items: Vec<Item>,
    formulas: Vec<(usize, String, Ty, usize)>,
}

/// Where an expression stands.
#[derive(Clone, Copy)]
enum Of<'a> {
    Kind(usize),
    /// What is read of a kind, and nothing that is worked out.
    Inputs(usize),
    Parameters(&'a [(String, Ty, bool)]),
    Nothing,
}

struct Maker<'d> {
    dice: &'d mut Dice,
    known: Known,
    /// How much an expression may still grow.
    left: usize,
    /// How many of the functions it may call.
    callable: usize,
}

/// Books of one number.
pub fn case(dice: &mut Dice) -> Case {
    let mut maker = Maker { dice, known: Known::default(), left: 0, callable: usize::MAX };
    let layers = if maker.dice.one_in(3) { 2 + maker.dice.below(3) } else { 1 };
    let mut shelf: Vec<(String, String)> = Vec::new();
    let built_in =
        maker.dice.pick(&[None, None, Some("hardlid trade"), Some("hardlid loads"), Some("hardlid ceilings")]);
    for layer in 0..layers {
        let mut uses: Vec<String> =
            shelf.iter().map(|(name, _)| name.clone()).filter(|_| maker.dice.below(3) > 0).collect();
        if let Some((last, _)) = shelf.last()
            && !uses.contains(last)
        {
            uses.push(last.clone());
        }
        uses.extend(built_in.filter(|_| layer == 0).map(str::to_owned));
        if maker.dice.one_in(40) {
            uses.push(maker.dice.pick(&["layer 0", "layer 3", "hardlid boards", "House"]).to_owned());
        }
        let text = maker.book(layer, &uses, built_in == Some("hardlid ceilings"));
        shelf.push((format!("layer {layer}"), text));
    }
    let top = shelf.pop().map(|(_, t)| t).unwrap_or_default();
    Case { shelf, top }
}

impl Maker<'_> {
    fn name(&mut self, stem: &str) -> String {
        self.known.names += 1;
        // words of the notation are names where they can stand
        let odd = ["length", "count", "item", "height", "sum", "cost", "rate", "key", "one"];
        if self.dice.one_in(60) {
            return format!("{}_{}", self.dice.pick(&odd), self.known.names);
        }
        format!("{stem}{}", self.known.names)
    }

    fn book(&mut self, layer: usize, uses: &[String], ceilings: bool) -> String {
        let mut out = format!("book \"Book {layer}\"  edition \"{}\"\n", 1 + self.dice.below(9));
        for name in uses {
            let _ = writeln!(out, "use \"{name}\"");
        }
        if self.dice.one_in(8) {
            out += "units metric\n";
        }
        if layer == 0 && !ceilings {
            self.kinds(&mut out);
        }
        for _ in 0..self.dice.below(4) {
            self.define(&mut out);
        }
        for _ in 0..self.dice.below(3) {
            self.table(&mut out);
        }
        if ceilings {
            self.on_ceilings(&mut out);
        }
        let mut order: Vec<usize> = (0..self.known.kinds.len()).collect();
        // children first, so that their parents may add them up; now and then the other way round
        order.sort_by_key(|k| self.known.kinds[*k].parent.is_none());
        if self.dice.one_in(4) {
            order.reverse();
        }
        for kind in order {
            self.block(kind, layer, &mut out);
        }
        if self.dice.below(4) > 0 {
            self.job(layer, ceilings, &mut out);
        }
        for _ in 0..self.dice.below(4) {
            self.example(&mut out);
        }
        out
    }

    fn kinds(&mut self, out: &mut String) {
        let all = [
            ("rooms", "Rooms", None),
            ("openings", "Openings", Some(0)),
            ("bays", "Bays", Some(0)),
            ("cuts", "Cuts", Some(1)),
        ];
        let some = 1 + self.dice.below(all.len());
        for (name, sheet, parent) in &all[..some] {
            let from = if self.dice.one_in(80) { String::new() } else { format!("  from \"{sheet}\"") };
            let belongs =
                parent.map(|p: usize| format!("  belong to {} by \"{}\"", all[p].0, all[p].1)).unwrap_or_default();
            let _ = writeln!(out, "rows {name}{from}{belongs}");
            let mut inputs = Vec::new();
            // what others belong to has a key
            out.push_str("    id text key\n");
            for _ in 0..1 + self.dice.below(7) {
                let ty = self.dice.pick(&TYPES);
                let field = self.name("f");
                let clauses = self.input_clauses(ty);
                let _ = writeln!(out, "    {field} {}{clauses}", ty.name());
                inputs.push((field, ty));
            }
            out.push_str("end\n");
            self.known.kinds.push(Kind { name: (*name).to_owned(), parent: *parent, fields: inputs.clone(), inputs });
        }
    }

    fn input_clauses(&mut self, ty: Ty) -> String {
        let mut out = String::new();
        if self.dice.one_in(4) {
            let _ = write!(out, "  heading \"Heading {}\" or \"H{}\"", self.known.names, self.known.names);
        }
        if ty == Text && self.dice.one_in(2) {
            let _ = write!(out, "  one of {}", WORDS[..if self.dice.one_in(20) { 3 } else { WORDS.len() }].join(" "));
        }
        let mut limited = false;
        if ty.is_ordered() && ty != Date {
            let (mut a, b) = (literal(self.dice, ty), literal(self.dice, ty));
            let limit = self.dice.below(8);
            // mostly limits that some value keeps
            if limit == 2 && !self.dice.one_in(20) {
                a = nothing(ty).to_owned();
            }
            limited = limit < 4;
            match limit {
                0 => out += &format!("  above {a}"),
                1 => out += &format!("  at least {a}"),
                2 => out += &format!("  from {a} to {b}"),
                3 => out += &format!("  below {b}"),
                _ => {}
            }
        }
        match self.dice.below(5) {
            0 => out += "  may be blank",
            // a value that the limits may refuse is a mistake of its own
            1 if !limited || self.dice.one_in(20) => out += &format!("  otherwise {}", cell(self.dice, ty)),
            _ => {}
        }
        if ty == Length && self.dice.one_in(20) {
            out += "  shown in mm";
        }
        out
    }

    fn define(&mut self, out: &mut String) {
        let replace = self.dice.one_in(6) && !self.known.functions.is_empty();
        let function = if replace {
            let at = self.dice.below(self.known.functions.len());
            // those that stand before it do not call it
            self.callable = if self.dice.one_in(30) { usize::MAX } else { at };
            self.known.functions[at].clone()
        } else {
            let count = 1 + self.dice.below(4);
            let parameters: Vec<(String, Ty, bool)> =
                (0..count).map(|i| (format!("p{i}"), self.dice.pick(&TYPES), i > 0 && self.dice.one_in(3))).collect();
            Function { name: self.name("d"), parameters, gives: self.dice.pick(&TYPES) }
        };
        let mut parts = Vec::new();
        for (name, ty, default) in &function.parameters {
            let default = if *default { format!(" otherwise {}", literal(self.dice, *ty)) } else { String::new() };
            parts.push(format!("{name} {}{default}", ty.name()));
        }
        let body = self.whole(Of::Parameters(&function.parameters), function.gives);
        self.callable = usize::MAX;
        let is_table = function.name.starts_with('t');
        let word = if replace && !is_table {
            "replace define"
        } else if replace {
            "replace table"
        } else {
            "define"
        };
        if is_table {
            return;
        }
        let told = self.told();
        let _ =
            writeln!(out, "{word} {}({}) {}  =  {body}{told}", function.name, parts.join(", "), function.gives.name());
        if !replace {
            self.known.functions.push(function);
        }
    }

    /// What may stand after a rule.
    fn told(&mut self) -> String {
        let mut out = String::new();
        if self.dice.one_in(3) {
            out += self.dice.pick(&["  source practice", "  source \"a handbook, table 3\""]);
        }
        if self.dice.one_in(25) {
            out += "  accepted \"as it is\"";
        }
        if self.dice.one_in(6) {
            out += "\n        \"What it is for.\"";
        }
        out
    }

    fn table(&mut self, out: &mut String) {
        let keys: Vec<(String, Ty, &str)> = (0..1 + self.dice.below(3))
            .map(|i| {
                let ty = self.dice.pick(&[Text, Text, Length, Count, Number, Psf]);
                let how = if ty == Text { "exact" } else { self.dice.pick(&["exact", "exact", "up to", "from"]) };
                (format!("k{i}"), ty, how)
            })
            .collect();
        let mut keys = keys;
        // rows between which a value lies are looked for last
        if let Some((_, ty, how)) = keys.last_mut()
            && *ty != Text
            && self.dice.one_in(4)
        {
            *how = "between";
        }
        // and between two texts lies nothing
        let between = keys.iter().any(|(_, _, how)| *how == "between");
        let gives = self.dice.pick(&[Length, Number, if between { Length } else { Text }, Money, Count, Weight]);
        let name = self.name("t");
        let _ = writeln!(out, "table {name} \"A table\"{}", self.dice.pick(&["", "  source practice"]));
        let columns: Vec<String> = keys.iter().map(|(k, ty, how)| format!("{k} {}, {how}", ty.name())).collect();
        let _ = writeln!(out, "    {} | got {}", columns.join(" | "), gives.name());
        let rows = if self.dice.one_in(30) { 400 } else { 1 + self.dice.below(6) };
        for row in 0..rows {
            let cells: Vec<String> = keys
                .iter()
                .enumerate()
                .map(|(i, (_, ty, _))| match ty {
                    Text if row >= WORDS.len() => format!("w{row}"),
                    Text => WORDS[(row + i) % WORDS.len()].to_owned(),
                    Length => format!("{}\"", (row + 1) * 8),
                    Psf => format!("{}.5 psf", row + 1),
                    _ => format!("{}", row + 1),
                })
                .collect();
            let _ = writeln!(out, "    {} | {}", cells.join(" | "), cell(self.dice, gives));
        }
        out.push_str("end\n");
        let parameters = keys.into_iter().map(|(k, ty, _)| (k, ty, false)).collect();
        self.known.functions.push(Function { name, parameters, gives });
    }

    fn block(&mut self, kind: usize, layer: usize, out: &mut String) {
        let _ = writeln!(out, "for {}", self.known.kinds[kind].name);
        if layer == 0 && kind == 0 && self.dice.one_in(4) {
            let ways: Vec<String> = (0..2 + self.dice.below(2)).map(|i| format!("way_{i}")).collect();
            let told: Vec<String> = ways
                .iter()
                .map(|w| {
                    let only = if self.dice.one_in(4) {
                        format!(" only when {}", self.part(Of::Kind(kind), YesNo))
                    } else {
                        String::new()
                    };
                    format!("{w} \"Way {w}\"{only}")
                })
                .collect();
            let _ = writeln!(out, "    options way \"Way\" {}", told.join(", "));
            self.known.options = ways;
        }
        for _ in 0..self.dice.below(7) {
            let own: Vec<(String, Ty)> =
                self.known.formulas.iter().filter(|f| f.0 == kind && f.3 < layer).map(|f| (f.1.clone(), f.2)).collect();
            let replaced = if layer > 0 && !own.is_empty() && self.dice.one_in(3) {
                Some(own[self.dice.below(own.len())].clone())
            } else {
                None
            };
            let ty = replaced.as_ref().map_or_else(|| self.dice.pick(&TYPES), |f| f.1);
            let name = replaced.as_ref().map_or_else(|| self.name("g"), |f| f.0.clone());
            let word = if replaced.is_some() { "replace " } else { "" };
            let label = if self.dice.one_in(2) { format!(" \"Label {name}\"") } else { String::new() };
            let body = self.whole(if replaced.is_some() { Of::Inputs(kind) } else { Of::Kind(kind) }, ty);
            let told = self.told();
            let _ = writeln!(out, "    {word}{name}{label}  =  {body}{told}");
            if replaced.is_none() {
                self.known.kinds[kind].fields.push((name.clone(), ty));
                self.known.formulas.push((kind, name, ty, layer));
            } else {
                // once
                self.known.formulas.retain(|f| f.1 != name);
            }
        }
        for _ in 0..self.dice.below(3) {
            let name = self.name("c");
            let condition = self.part(Of::Kind(kind), YesNo);
            let shown = self.known.kinds[kind].fields.last().map(|f| f.0.clone()).unwrap_or_default();
            let message = if self.dice.one_in(2) { format!("\n        \"It is {{{shown}}}.\"") } else { String::new() };
            let _ = writeln!(
                out,
                "    check {name} {condition} else {}{message}",
                self.dice.pick(&["stops", "warns", "notes"])
            );
        }
        for _ in 0..self.dice.below(4) {
            self.item(kind, layer, out);
        }
        out.push_str("end\n");
    }

    fn item(&mut self, kind: usize, layer: usize, out: &mut String) {
        // of a lower book, and of it once
        let lower = self.known.items.iter().position(|i| i.kind == kind && i.layer < layer);
        let replace = lower.is_some() && self.dice.one_in(3);
        let replaced = lower.filter(|_| replace).map(|at| self.known.items.remove(at));
        // what is bought takes the place of what is bought, save now and then
        let labor = match &replaced {
            Some(old) if !self.dice.one_in(20) => old.labor,
            _ => self.dice.one_in(3),
        };
        let name = replaced.map_or_else(|| self.name("i"), |old| old.name);
        let word = if replace { "replace " } else { "" };
        let of = Of::Kind(kind);
        let code = self.dice.pick(&["\"ST\"", "\"HW\"", "\"GB\"", "\"XX\"", "\"AN\""]);
        let mut line = if labor {
            let need = self.dice.pick(&[Area, Length, Count]);
            let by = match need {
                Area => "sf",
                Length => "ft",
                _ => "ea",
            };
            let need = self.part(of, need);
            let rate = if self.dice.one_in(2) {
                format!(" rate 0.0{} hr/{by}", 1 + self.dice.below(9))
            } else {
                String::new()
            };
            format!("labor {name} code \"L-BRD\" need {need}{rate}")
        } else if self.dice.one_in(3) {
            let (count, each) = (self.part(of, Count), self.part(of, Length));
            format!("item {name} code {code} cut {count}, each {each}")
        } else {
            let ty = self.dice.pick(&[Length, Area, Count, Weight]);
            format!("item {name} \"Thing {name}\" code {code} need {}", self.part(of, ty))
        };
        if self.dice.one_in(3) {
            line += &format!(" waste {}", literal(self.dice, Percent));
        }
        if self.dice.one_in(5) {
            line += &format!(" only when {}", self.part(of, YesNo));
        }
        let _ = writeln!(out, "    {word}{line}");
        if !replace {
            self.known.items.push(Item { kind, name, layer, labor });
        }
    }

    fn job(&mut self, layer: usize, ceilings: bool, out: &mut String) {
        out.push_str("for job\n");
        for i in 0..self.dice.below(4) {
            let name = format!("j{layer}_{i}");
            let body = match self.dice.below(5) {
                0 => "sum of lines (cost)".to_owned(),
                1 => format!("sum of lines (cost) where kind is {}", self.dice.pick(&["material", "labor"])),
                2 => format!("{} of sum of lines (cost)", literal(self.dice, Percent)),
                3 if !self.known.kinds.is_empty() => {
                    let kind = self.known.kinds[0].name.clone();
                    format!("count of {kind}")
                }
                _ => self.whole(Of::Nothing, Money),
            };
            let _ = writeln!(out, "    {name} \"Figure {i}\"  =  {body}");
        }
        if layer == 0 && !ceilings {
            if self.dice.one_in(3) {
                let _ = writeln!(
                    out,
                    "    cutting kerf {} keep {}",
                    self.dice.pick(&["0\"", "1/8\"", "3 mm"]),
                    self.dice.pick(&["12\"", "0\"", "1'"])
                );
            }
            if self.dice.one_in(4) {
                out.push_str("    total \"Total\"  =  sum of lines (cost)\n");
            }
        }
        out.push_str("end\n");
    }

    /// A book that stands on the built-in ceilings.
    fn on_ceilings(&mut self, out: &mut String) {
        let lines = [
            "    replace spacing \"Spacing\"  =  16\"  source practice\n",
            "    own_area \"Own area\"  =  length * width\n",
            "    check own_span  length <= 40' else warns \"It is {length}.\"  source practice\n",
            "    item own_bead \"Bead\" code \"CB\" need length + width  only when layers > 1\n",
            "    labor own_work code \"L-TEE\" need length  rate 0.02 hr/ft\n",
            "    replace item tape  \"Tape\" code \"JT\" need length\n",
            "    replace check span  length <= 20' else stops\n",
            "    own_way  =  1 when sdc is A, 2 when sdc is one of B C, 3 otherwise\n",
        ];
        out.push_str("for rooms\n");
        let mut shows = vec!["length = 12'", "width = 8'"];
        self.known.names += 1;
        let own = format!("own{}_", self.known.names);
        for line in lines {
            if self.dice.one_in(4) {
                out.push_str(&line.replace("own_", &own));
            }
        }
        out.push_str("end\n");
        if self.dice.one_in(4) {
            shows.push("tees = 5");
        }
        let length = literal(self.dice, Length);
        let _ = writeln!(
            out,
            "example \"of the ceilings\"\n    rooms id \"1\" length {length} width 8' sdc B\n    shows {}\nend",
            self.dice.pick(&shows)
        );
    }

    fn example(&mut self, out: &mut String) {
        let name = self.known.names;
        let _ = writeln!(out, "example \"case {name}\"");
        let mut shown = Vec::new();
        if self.dice.below(3) > 0 {
            for kind in 0..self.known.kinds.len() {
                let of = self.known.kinds[kind].clone();
                for row in 0..self.dice.below(3) {
                    let _ = write!(out, "    {}", of.name);
                    let _ = write!(out, "  id \"{row}\"");
                    for (field, ty) in &of.inputs {
                        if self.dice.below(6) > 0 {
                            let _ = write!(out, "  {field} {}", cell(self.dice, *ty));
                        }
                    }
                    out.push('\n');
                    if row > 0 && kind == 0 {
                        break;
                    }
                }
                if kind == 0 {
                    shown.extend(of.fields.clone());
                }
            }
        }
        for _ in 0..1 + self.dice.below(3) {
            if !shown.is_empty() && self.dice.below(3) > 0 {
                let (name, ty) = shown[self.dice.below(shown.len())].clone();
                let _ = writeln!(out, "    shows {name} = {}", literal(self.dice, ty));
            } else {
                let ty = self.dice.pick(&TYPES);
                let _ = writeln!(out, "    shows ({}) = {}", self.whole(Of::Nothing, ty), literal(self.dice, ty));
            }
        }
        out.push_str("end\n");
    }

    /// An expression of a statement.
    fn whole(&mut self, of: Of<'_>, ty: Ty) -> String {
        self.left = 4 + self.dice.below(26);
        if self.dice.one_in(5) {
            let cases = 1 + self.dice.below(4);
            let mut out = String::new();
            for _ in 0..cases {
                let (value, when) = (self.value(of, ty, 2), self.value(of, YesNo, 2));
                let _ = write!(out, "{value} when {when}, ");
            }
            return out + &self.value(of, ty, 2) + " otherwise";
        }
        let deep = 1 + self.dice.below(4);
        let ty = if self.dice.one_in(120) { self.dice.pick(&TYPES) } else { ty };
        self.value(of, ty, deep)
    }

    /// An expression of a clause, with brackets around a choice: after a clause another comes.
    fn part(&mut self, of: Of<'_>, ty: Ty) -> String {
        let whole = self.whole(of, ty);
        if whole.ends_with(" otherwise") { format!("({whole})") } else { whole }
    }

    fn leaf(&mut self, of: Of<'_>, ty: Ty) -> String {
        let names: Vec<String> = match of {
            Of::Kind(at) => {
                let mut all = self.known.kinds[at].fields.clone();
                if let Some(parent) = self.known.kinds[at].parent {
                    let parent = &self.known.kinds[parent];
                    // formulas of a parent may add its children up, and then a ring is closed
                    all.extend(if self.dice.one_in(60) { parent.fields.clone() } else { parent.inputs.clone() });
                }
                all.into_iter().filter(|f| f.1 == ty).map(|f| f.0).collect()
            }
            Of::Inputs(at) => self.known.kinds[at].inputs.iter().filter(|f| f.1 == ty).map(|f| f.0.clone()).collect(),
            Of::Parameters(all) => all.iter().filter(|p| p.1 == ty).map(|p| p.0.clone()).collect(),
            Of::Nothing => Vec::new(),
        };
        if names.is_empty() || self.dice.one_in(4) {
            literal(self.dice, ty)
        } else {
            names[self.dice.below(names.len())].clone()
        }
    }

    fn value(&mut self, of: Of<'_>, ty: Ty, deep: usize) -> String {
        if deep == 0 || self.left == 0 {
            return self.leaf(of, ty);
        }
        self.left -= 1;
        let deep = deep - 1;
        let pick = self.dice.below(12);
        if pick == 0 {
            let (a, c, b) = (self.value(of, ty, deep), self.value(of, YesNo, deep), self.value(of, ty, deep));
            return format!("({a} when {c}, {b} otherwise)");
        }
        if pick == 1 && !self.known.functions.is_empty() {
            let all: Vec<usize> = (0..self.known.functions.len().min(self.callable))
                .filter(|i| self.known.functions[*i].gives == ty)
                .collect();
            if !all.is_empty() {
                let function = self.known.functions[all[self.dice.below(all.len())]].clone();
                let mut parts = Vec::new();
                for (name, ty, default) in &function.parameters {
                    if !default || self.dice.one_in(2) {
                        parts.push(format!("{name}: {}", self.value(of, *ty, deep)));
                    }
                }
                return format!("{}({})", function.name, parts.join(", "));
            }
        }
        if pick == 2
            && let Of::Kind(at) = of
        {
            let children: Vec<usize> =
                (0..self.known.kinds.len()).filter(|k| self.known.kinds[*k].parent == Some(at)).collect();
            if !children.is_empty() {
                let child = children[self.dice.below(children.len())];
                return self.over_children(child, ty, deep);
            }
        }
        match ty {
            YesNo => self.yes_no(of, deep),
            Text | Date => self.leaf(of, ty),
            Percent => self.leaf(of, ty),
            Count => match self.dice.below(5) {
                0 => format!("round_up({})", self.value(of, Number, deep)),
                1 => format!("round_up({} / {})", self.value(of, Length, deep), self.value(of, Length, deep)),
                2 => format!("({} + {})", self.value(of, Count, deep), self.value(of, Count, deep)),
                3 => format!("({} * {})", self.value(of, Count, deep), self.value(of, Count, deep)),
                _ => self.leaf(of, ty),
            },
            _ => self.sum(of, ty, deep),
        }
    }

    fn sum(&mut self, of: Of<'_>, ty: Ty, deep: usize) -> String {
        let a = self.value(of, ty, deep);
        match self.dice.below(12) {
            0 => format!("({a} + {})", self.value(of, ty, deep)),
            1 => format!("({a} - {})", self.value(of, ty, deep)),
            2 => format!("({a} * {})", self.value(of, Number, deep)),
            3 => format!("({a} / {})", self.value(of, Number, deep)),
            4 => format!("shorter({a}, {})", self.value(of, ty, deep)),
            5 => format!("longer({a}, {})", self.value(of, ty, deep)),
            6 => format!("({} of {a})", self.value(of, Percent, deep)),
            7 => format!("(-{a})"),
            8 => format!(
                "{}({a}, to: {})",
                self.dice.pick(&["round_up", "round_down", "round_near", "round_even"]),
                literal(self.dice, ty)
            ),
            _ => match ty {
                Area => format!("({} * {})", self.value(of, Length, deep), self.value(of, Length, deep)),
                Length => format!("({} / {})", self.value(of, Area, deep), self.value(of, Length, deep)),
                Money => format!("({} * {})", self.value(of, Rate, deep), self.value(of, Length, deep)),
                Plf => format!("({} * {})", self.value(of, Psf, deep), self.value(of, Length, deep)),
                Weight => format!("({} * {})", self.value(of, Plf, deep), self.value(of, Length, deep)),
                Number => match self.dice.below(3) {
                    0 => format!("({}) ^ {}", a, self.dice.pick(&["2", "3", "-1", "0", "6"])),
                    1 => format!("square_root({a})"),
                    _ => format!("({} / {})", self.value(of, Length, deep), self.value(of, Length, deep)),
                },
                Rate => format!("({} / {})", self.value(of, Money, deep), self.value(of, Length, deep)),
                _ => a,
            },
        }
    }

    fn yes_no(&mut self, of: Of<'_>, deep: usize) -> String {
        match self.dice.below(9) {
            0 => format!("({} and {})", self.value(of, YesNo, deep), self.value(of, YesNo, deep)),
            1 => format!("({} or {})", self.value(of, YesNo, deep), self.value(of, YesNo, deep)),
            2 => format!("(not {})", self.value(of, YesNo, deep)),
            3 => format!("({} is {})", self.leaf(of, Text), literal(self.dice, Text)),
            4 => format!("({} is one of {})", self.leaf(of, Text), WORDS[..1 + self.dice.below(4)].join(" ")),
            5 => {
                let ty = self.dice.pick(&TYPES);
                format!("({} is given)", self.leaf(of, ty))
            }
            6 if !self.known.options.is_empty() && matches!(of, Of::Kind(_)) => {
                let at = self.dice.below(self.known.options.len());
                format!("(way is {})", self.known.options[at])
            }
            _ => {
                let ty = self.dice.pick(&[Number, Length, Area, Money, Count, Psf, Date]);
                let how = self.dice.pick(&["<", "<=", ">", ">=", "=", "is not"]);
                format!("({} {how} {})", self.value(of, ty, deep), self.value(of, ty, deep))
            }
        }
    }

    fn over_children(&mut self, child: usize, ty: Ty, deep: usize) -> String {
        let name = self.known.kinds[child].name.clone();
        let of = Of::Kind(child);
        let only = if self.dice.one_in(3) { format!(" where {}", self.value(of, YesNo, deep)) } else { String::new() };
        match ty {
            YesNo => format!("({} of {name} ({}))", self.dice.pick(&["any", "all"]), self.value(of, YesNo, deep)),
            Count => format!("(count of {name}{only})"),
            _ if ty.is_sum() => {
                let how = self.dice.pick(&["sum", "sum", "least", "most"]);
                format!("({how} of {name} ({}){only})", self.value(of, ty, deep))
            }
            _ if ty == Percent => format!("(least of {name} ({}){only})", self.value(of, ty, deep)),
            _ => self.leaf(Of::Nothing, ty),
        }
    }
}
