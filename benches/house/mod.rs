//! Houses with many rules: fifty formulas a book, in books that stand on each other, with tables, definitions, choices, checks,
//! items and examples, and what each book replaces of the one below it.

use std::fmt::Write as _;

/// Formulas of one book.
pub const FORMULAS: usize = 50;

/// How many books hold 2,000 formulas.
pub const OF_2000: usize = 2000 / FORMULAS;

/// What a book is called, by its place from the lowest up: also as a file.
pub fn name(n: usize) -> String {
    format!("part-{n:02}.lid")
}

/// The books with their names, the lowest first.
pub fn books(many: usize) -> Vec<(String, String)> {
    (0..many).map(|n| (name(n), book(n))).collect()
}

const ROWS: &str = "\
rows rooms  from \"Rooms\"
    id      text    heading \"Room\"  key
    length  length  heading \"Length\"  above 0
    width   length  heading \"Width\"   above 0
    height  length  heading \"Height\"  from 6' to 40'  otherwise 9'
    sdc     text    heading \"SDC\"     one of A B C D E F  otherwise B
    layers  count   heading \"Layers\"  from 1 to 3     otherwise 1
    load    psf     heading \"Load\"    at least 0 psf  otherwise 2.5 psf
    rate    $/ft    heading \"Rate\"    otherwise $0.31/ft
    spaced  length  heading \"Spacing wanted\"  may be blank
end

rows openings  from \"Openings\"  belong to rooms by \"Room\"
    long  length  above 0
    wide  length  above 0
    many  count   otherwise 1
end

";

/// One book: it uses the one below, and replaces a formula, a table, a check and an item of it.
pub fn book(n: usize) -> String {
    let mut out = format!("book \"House rules, part {n}\"  edition \"2026.{n}\"\n");
    if n > 0 {
        let _ = writeln!(out, "use \"{}\"\n", name(n - 1));
    } else {
        out += ROWS;
    }
    let _ = write!(
        out,
        "table span_{n}  \"Tested clear span, part {n}\"  source practice\n    spacing length, up to | layers count, exact | limit length\n"
    );
    for (i, spacing) in ["12\"", "16\"", "24\"", "600 mm"].iter().enumerate().take(3) {
        for layers in 1..=3 {
            let _ = writeln!(out, "    {spacing} | {layers} | {}'-{}\"", 12 - 2 * i - layers, (n + layers) % 12);
        }
    }
    let _ = write!(
        out,
        "end\n\ndefine left_{n}(whole length, stock length otherwise 12') length  =  round_up(whole, to: stock) - whole  source practice\n    \
         \"What is left of the last stock piece.\"\ndefine grade_{n}(load psf) text  =  \"light\" when load <= {}.5 psf, \"ordinary\" when load <= {} psf, \"heavy\" otherwise  source practice\n\n",
        1 + n % 3,
        4 + n % 3
    );
    if n > 0 {
        let low = n - 1;
        let _ = write!(
            out,
            "replace table span_{low}  source practice\n    spacing length, up to | layers count, exact | limit length\n    16\" | 1 | 9'\n    16\" | 2 | 8'\n    \
             16\" | 3 | 7'\n    24\" | 1 | 8'\n    24\" | 2 | 7'\n    24\" | 3 | 6'\nend\n\n"
        );
    }
    let _ =
        write!(out, "for openings\n    around_{n}  \"Around, {n}\"  =  2 * (long + wide) * many\nend\n\nfor rooms\n");
    if n > 0 {
        let _ = writeln!(out, "    replace waste_{0}  =  7.5%  source practice", n - 1);
    }
    let _ = writeln!(out, "    waste_{n}  \"Waste, {n}\"  =  5%  source practice");
    // runs of ten formulas that stand on each other and on the run before
    for run in 0..(FORMULAS - 2) / 8 {
        let id = format!("{n}_{run}");
        let below = match (run, n) {
            (0, 0) => "width".to_owned(),
            (0, _) => format!("part_{}_5", n - 1),
            _ => format!("part_{n}_{}", run - 1),
        };
        let _ = write!(
            out,
            "    space_{id}  \"Spacing {id}\"  =  spaced when spaced is given, 24\" when {below} <= span_{n}(spacing: 24\", layers: layers), 16\" otherwise  source practice\n    \
             tees_{id}   \"Tees {id}\"     =  round_up(longer(length, width) / space_{id}) - 1\n    \
             part_{id}   \"Part {id}\"     =  shorter(length, width) / {}\n    \
             area_{id}   \"Area {id}\"     =  length * width - sum of openings (long * wide * many)\n    \
             hung_{id}   \"Hung {id}\"     =  area_{id} * load * 1.{run}\n    \
             cost_{id}   \"Cost {id}\"     =  round_near(tees_{id} * part_{id} * rate, to: $0.01)\n    \
             case_{id}   \"Case {id}\"     =  1 when sdc is one of A B, 2 when sdc is C, 3 when grade_{n}(load) is \"heavy\", 4 otherwise\n    \
             rest_{id}   \"Rest {id}\"     =  left_{n}(part_{id} * tees_{id}, stock: 12')\n",
            run + 2
        );
    }
    let _ = writeln!(out, "    last_{n}  \"Last {n}\"  =  length - tees_{n}_0 * space_{n}_0");
    let _ = write!(
        out,
        "\n    check span_{n}  part_{n}_0 <= span_{n}(spacing: space_{n}_0, layers: layers)  else warns  source practice\n        \
         \"A tee would span {{part_{n}_0}}.\"\n    check rest_{n}  rest_{n}_1 <= 12'  else notes  source practice\n\n    \
         item tee_{n}    \"Tee {n}\"    code \"ST\"     cut tees_{n}_0, each part_{n}_0\n    \
         item wire_{n}   \"Wire {n}\"   code \"HW\"     need tees_{n}_1 * 18\"  waste waste_{n}  source practice\n    \
         labor hang_{n}  \"Hang {n}\"   code \"L-BRD\"  need area_{n}_2  rate 0.018 hr/sf  only when case_{n}_0 > 1  source practice\n"
    );
    if n > 0 {
        let low = n - 1;
        let _ = write!(
            out,
            "    replace check rest_{low}  rest_{low}_1 <= 10'  else notes  source practice\n    \
             replace item wire_{low}  \"Wire {low}\"  code \"HW\"  need tees_{low}_1 * 24\"  source practice\n"
        );
    }
    // the lowest book is asked whether 14 ft can be spanned, the others whether a seventh of it can: 20 ft are 15 spaces or 10
    let (tees, spacing) = if n == 0 { (14, 16) } else { (9, 24) };
    let _ = write!(
        out,
        "end\n\nexample \"14 by 20, {n}\"\n    rooms     id \"1\"  length 20'  width 14'  sdc C\n    openings  long 4'  wide 2'\n    \
         shows     tees_{n}_0 = {tees}  space_{n}_0 = {spacing}\"  part_{n}_0 = 7'  case_{n}_0 = 2  area_{n}_1 = 272 sf\nend\n\n\
         example \"alone, {n}\"\n    shows  left_{n}(20') = 4'  left_{n}(20', stock: 10') = 0'\nend\n"
    );
    out
}
