//! What a book can say: one record for each statement, clause and value that is more than a function or a unit.
//!
//! The reading itself is in the grammar; this is its face. Each example is a whole book, and runs as a test.

/// A statement, clause or value of the notation.
#[derive(Debug)]
pub struct Statement {
    /// What it is looked up by: its first word.
    pub name: &'static str,
    /// How it is written.
    pub form: &'static str,
    /// One sentence, or two.
    pub summary: &'static str,
    /// A book that uses it; its examples come out.
    pub example: &'static str,
}

/// The sheets that examples read: what a file is called, and its text.
pub const SHEETS: &[(&str, &str)] = &[("standards.csv", "Spacing (in),Clear span\n16,8'-6\"\n24,7'-6\"\n")];

/// Rooms with a length and a width, which most examples are about.
macro_rules! about_rooms {
    ($($rest:literal),+) => {
        concat!(
            "rows rooms  from \"Rooms\"\n",
            "    id      text    heading \"Room\"  key\n",
            "    length  length  above 0\n",
            "    width   length  above 0\n",
            "end\n\n",
            $($rest),+
        )
    };
}

/// Statements outside blocks and of blocks, then clauses, then values.
pub const STATEMENTS: &[Statement] = &[
    Statement {
        name: "book",
        form: "book \"Title\"  edition \"2026.1\"",
        summary: "Names the book; title and edition stand in every workbook that it prices.",
        example: "book \"House rules\"  edition \"2026.1\"\nuse \"hardlid ceilings\"\n",
    },
    Statement {
        name: "use",
        form: "use \"hardlid trade\", use \"../standards/spans.lid\"",
        summary: "Brings the names of a lower book in: a built-in one by its name, another by its path from this book.",
        example: "book \"Small rooms\"\nuse \"hardlid trade\"\n\n\
                  example \"a tee every 24 in.\"\n\
                  \x20   -- 20 ft is 10 spaces of 2 ft, so 9 tees.\n\
                  \x20   shows  tee_count(along: 20', spacing: 24\") = 9\nend\n",
    },
    Statement {
        name: "edition",
        form: "use \"hardlid trade\"  edition at least \"3\"",
        summary: "Which edition of a used book will do: one, 'from … to …', 'at least' or 'at most'. Another is refused. Editions stand in the order of the numbers in them: 2026.2 before 2026.10.",
        example: "use \"hardlid trade\"  edition at least \"1\"\n\n\
                  example \"a tee every 24 in.\"\n    shows  tee_count(along: 20', spacing: 24\") = 9\nend\n",
    },
    Statement {
        name: "units",
        form: "units metric",
        summary: "Lengths are shown in mm and m instead of feet and inches.",
        example: "units metric\n\nexample \"a foot\"\n    shows  (1 ft) = 304.8 mm\nend\n",
    },
    Statement {
        name: "rows",
        form: "rows rooms  from \"Rooms\" … end",
        summary: "A kind of row and the sheet it is read from; a line for each input column. Rows of the job are names and values.",
        example: about_rooms!(
            "for rooms\n    floor  \"Floor\"  =  length * width\nend\n\n",
            "example \"a closet\"\n    rooms  id \"1\"  length 4'  width 2'\n    shows  floor = 8 sf\nend\n"
        ),
    },
    Statement {
        name: "heading",
        form: "length  length  heading \"Length\" or \"L\"  above 0",
        summary: "Headings that name a column, and what it accepts: key, above, below, at least, at most, from … to, one of, may be blank, otherwise.",
        example: "rows rooms  from \"Rooms\"\n\
                  \x20   id      text    heading \"Room\" or \"Rm\"  key\n\
                  \x20   length  length  heading \"Length\" or \"L\"  above 0\n\
                  \x20   kind    text    one of regular rated     otherwise regular\n\
                  \x20   layers  count   from 1 to 3              otherwise 1\n\
                  \x20   remark  text    may be blank\nend\n\n\
                  for rooms\n    sheets  \"Sheets\"  =  layers * round_up(length / 4')\nend\n\n\
                  example \"what a blank cell stands for\"\n    rooms  id \"1\"  length 10'\n    shows  sheets = 3   kind = regular\nend\n",
    },
    Statement {
        name: "stock of",
        form: "tee_stock  length  stock of \"ST\"  otherwise 12'",
        summary: "A blank cell stands for the longest stock length of that code on offer in the price book; without a price book for what 'otherwise' says.",
        example: "rows job  from \"Job\"\n    tee_stock  length  heading \"Tee stock\"  stock of \"ST\"  otherwise 12'\nend\n\n\
                  example \"no price book, nothing on sheet Job\"\n    shows  tee_stock = 12'\nend\n",
    },
    Statement {
        name: "belong to",
        form: "rows openings  from \"Openings\"  belong to rooms by \"Room\" … end",
        summary: "Rows that belong to rows of another kind.",
        example: about_rooms!(
            "rows openings  from \"Openings\"  belong to rooms by \"Room\"\n",
            "    long  length  above 0\n    wide  length  above 0\nend\n\n",
            "for rooms\n    face  \"Ceiling face\"  =  length * width - sum of openings (long * wide)\nend\n\n",
            "example \"one light\"\n    rooms     id \"1\"  length 10'  width 8'\n",
            "    openings  long 4'  wide 2'\n    shows  face = 72 sf\nend\n"
        ),
    },
    Statement {
        name: "table",
        form: "table wire_spacing \"Title\"  source practice … end",
        summary: "A table that is called like a function. A column matches exact, up to (the next row at or above), from (the last row at or below) or between (in proportion); the others are what it gives.",
        example: "table tile_rate  \"Hours to lay a tile\"  source practice\n\
                  \x20   kind text, exact | long length, up to | hours hr/ea\n\
                  \x20   plain            | 2'                 | 0.05 hr/ea\n\
                  \x20   plain            | 4'                 | 0.08 hr/ea\nend\n\n\
                  example \"a tile of 3 ft\"\n    shows  tile_rate(kind: \"plain\", long: 3') = 0.08 hr/ea\nend\n",
    },
    Statement {
        name: "from sheet",
        form: "table spans  from sheet \"Spans\" of \"standards.xlsx\" … end",
        summary: "A table whose rows stand on a sheet of a workbook, named by its path from this book; columns are found by their headings. A number without a unit takes that of its heading.",
        example: concat!(
            "table clear_span  \"Clear span\"  from sheet \"Spans\" of \"standards.csv\"  source \"our report 12\"\n",
            "    spacing length, up to | limit length, heading \"Limit\" or \"Clear span\"\nend\n\n",
            "example \"between two rows of the sheet\"\n    shows  clear_span(20\") = 7'-6\"\nend\n"
        ),
    },
    Statement {
        name: "define",
        form: "define offcut(whole length, stock length) length = …",
        summary: "A function of the company's own. A parameter may have a value for when it is left out: 'past length otherwise 12\"'.",
        example: "define offcut(whole length, stock length otherwise 10') length  =  round_up(whole, to: stock) - whole\n\
                  \x20   \"What is left of the last stock piece.\"\n    source practice\n\n\
                  example \"24 ft of 10 ft pieces\"\n    shows  offcut(whole: 24') = 6'   offcut(whole: 24', stock: 16') = 8'\nend\n",
    },
    Statement {
        name: "replace",
        form: "replace table tested_span … end",
        summary: "Takes the place of a table, definition, formula, check, item or labor of a lower book, of the same type. The sheet Rules lists what replaced what.",
        example: "use \"hardlid trade\"\n\n\
                  replace table deck_gap  \"How far below the deck a clip holds\"  source \"house list\"\n\
                  \x20   clip text, exact, otherwise \"deck\" | reach length\n\
                  \x20   deck                               | 4\"\nend\n\n\
                  example \"our own clip\"\n    shows  deck_gap(clip: \"deck\") = 4\"\nend\n",
    },
    Statement {
        name: "replace rows of",
        form: "replace rows of table tested_span … end",
        summary: "Rows in place of those of a lower table that have the same keys; all other rows stay.",
        example: "use \"hardlid trade\"\n\n\
                  replace rows of table tested_span  source \"our own test, report 12\"\n\
                  \x20   spacing length | limit length\n\
                  \x20   24\"            | 7'\nend\n\n\
                  example \"ours at 24 in., the book's at 16 in.\"\n    shows  tested_span(spacing: 24\") = 7'   tested_span(spacing: 16\") = 8'-6\"\nend\n",
    },
    Statement {
        name: "for",
        form: "for rooms … end",
        summary: "What is worked out, checked, bought and done for each row of a kind; 'for job' for the job.",
        example: about_rooms!(
            "for rooms\n    floor  \"Floor\"  =  length * width\nend\n\n",
            "for job\n    floors  \"All floors\"  =  sum of rooms (floor)\nend\n\n",
            "example \"a closet\"\n    rooms  id \"1\"  length 4'  width 2'\n    shows  floor = 8 sf\nend\n"
        ),
    },
    Statement {
        name: "formula",
        form: "tees \"Tees\" = tee_count(along: along, spacing: spacing)  shown to 1/8\"",
        summary: "A name, a label, and what it is; 'shown to' and 'shown in' change how it is printed, never its value.",
        example: about_rooms!(
            "for rooms\n    third  \"A third\"  =  length / 3  shown to 1/8\"\nend\n\n",
            "example \"a third of 10 ft\"\n    rooms  id \"1\"  length 10'  width 8'\n    shows  (third * 3) = 10'\nend\n"
        ),
    },
    Statement {
        name: "check",
        form: "check span  part <= limit  else stops \"… {part} …\"",
        summary: "A condition that should hold, else the row stops, or warns, or notes.",
        example: about_rooms!(
            "for rooms\n    check long  length >= width  else warns\n",
            "        \"The length {length} is less than the width {width}.\"\nend\n"
        ),
    },
    Statement {
        name: "item",
        form: "item board  code \"GB-58\"  need net_board * layers  waste 10%",
        summary: "What is bought for each row: need, or cut … each …, or lump; 'only when' a condition holds.",
        example: about_rooms!(
            "for rooms\n    item board  \"Board\"  code \"GB-58\"  need length * width  waste 10%  source practice\n",
            "    item angle  \"Angle\"  code \"PA\"     need 2 * (length + width)  only when width > 2'\n",
            "    item tee    \"Tees\"   code \"ST\"     cut 3, each width\nend\n"
        ),
    },
    Statement {
        name: "labor",
        form: "labor frame  code \"L-TEE\"  need tees * run  rate 0.011 hr/ft",
        summary: "What is done for each row; the rate may stand in the price book instead. Hours are quantity times rate, times 'factor' where it is stated. 'height' and 'difficulty' say which of several Labor rows of the code serves.",
        example: "rows rooms  from \"Rooms\"\n    id      text    heading \"Room\"  key\n    length  length  above 0\n    high    length  may be blank\nend\n\n\
                  for rooms\n\
                  \x20   labor angle  \"Set angle\"  code \"L-ANG\"  need length  rate 0.02 hr/ft  source practice\n\
                  \x20   labor tees   \"Set tees\"   code \"L-TEE\"  need length  height high  factor 1.1\nend\n",
    },
    Statement {
        name: "spliced",
        form: "item back  code \"SB\"  cut lines, each along  spliced lap 4\" least 10\"",
        summary: "Pieces longer than every stock length may be made of parts: each laps the one before, none is shorter than 'least', and 'scrap' is a piece of the same stock over each joint. Without it such a piece stops its row.",
        example: about_rooms!(
            "for rooms\n    item back  \"Strongback\"  code \"SB\"  cut 1, each length  spliced lap 4\" least 10\"  source practice\nend\n"
        ),
    },
    Statement {
        name: "cutting",
        form: "cutting  by level  kerf saw_kerf  keep 12\"",
        summary: "How pieces are cut from stock, in 'for job': what is cut together (by a text of the rooms, or by rooms; the whole job when it is not said), the width of a saw cut, the least offcut that is kept.",
        example: about_rooms!(
            "for rooms\n    item tee  \"Tees\"  code \"ST\"  cut 3, each width\nend\n\n",
            "for job\n    cutting  by rooms  kerf 1/8\"  keep 12\"  source practice\nend\n"
        ),
    },
    Statement {
        name: "buying",
        form: "buying  first from preferred_supplier  only from \"North Yard\"  charging bought when by_the_piece",
        summary: "Whose prices serve, in 'for job': of suppliers the cheapest, but one may go first where it sells a thing, or serve alone; a blank text says nothing. The bid charges what is used; with 'charging bought' a line of the job brings it to what whole pieces and packs cost. 'headings by' and 'codes by' name tables of two texts, theirs and ours, by which a yard's own price list is read.",
        example: about_rooms!(
            "rows job  from \"Job\"\n    yard  text  heading \"Yard\"  may be blank\nend\n\n",
            "table yard_codes  \"The yard's codes\"  source \"the yard's list\"\n",
            "    theirs text, exact | ours text\n    \"77-120\"           | \"ST\"\nend\n\n",
            "for job\n    buying  first from yard  charging bought  codes by yard_codes\nend\n"
        ),
    },
    Statement {
        name: "dividing",
        form: "dividing  parts by level  alternates by alternate deducting deducted  deliveries by level",
        summary: "How a bid is divided, in 'for job': the text of the rooms by which it is priced in parts that add up to the total to the cent, the one that names a room's alternate (its rooms are priced apart and are not in the bid; where the yes or no after 'deducting' holds they are in it, and the alternate takes them out), and the one by which deliveries are told apart. A blank text says nothing.",
        example: "rows rooms  from \"Rooms\"\n\
                  \x20   id         text    heading \"Room\"  key\n\
                  \x20   level      text    may be blank\n\
                  \x20   alternate  text    may be blank\n\
                  \x20   deducted   yes/no  otherwise no\nend\n\n\
                  for job\n    dividing  parts by level  alternates by alternate deducting deducted  deliveries by level\nend\n",
    },
    Statement {
        name: "telling",
        form: "telling  includes, excludes, price_stands, board_kind, assembly, deck",
        summary: "What the bid tells, in 'for job', in this order: texts of the job as they are, and texts of the rooms as the different ones there are, with the number of rooms. What is blank is not told.",
        example: "rows job  from \"Job\"\n    excludes  text  heading \"Excludes\"  may be blank\nend\n\n\
                  rows rooms  from \"Rooms\"\n    id    text  heading \"Room\"  key\n    deck  text  may be blank\nend\n\n\
                  for job\n    telling  excludes, deck\nend\n",
    },
    Statement {
        name: "options",
        form: "options scheme \"Scheme\"\n    straight \"Wall to wall\",\n    grid \"Hung grid\"  only when hang >= 4\"\n    named by wanted\n    showing wires, part",
        summary: "Ways to build a row: it is worked out and priced under each, and the cheapest that passes its checks is taken; formulas ask 'scheme is grid'.",
        example: "rows rooms  from \"Rooms\"\n\
                  \x20   id      text    heading \"Room\"  key\n\
                  \x20   run     length  above 0\n\
                  \x20   wanted  text    may be blank\nend\n\n\
                  for rooms\n\
                  \x20   options scheme  \"Scheme\"\n\
                  \x20       straight    \"Wall to wall\",\n\
                  \x20       strongback  \"Over a strongback\"  only when run >= 6'\n\
                  \x20       named by wanted\n\
                  \x20       showing part\n\
                  \x20   part  \"Longest part\"  =  run when scheme is straight, run / 2 otherwise\n\
                  \x20   check span  part <= 8'  else stops  \"A tee would span {part}.\"  source practice\nend\n\n\
                  example \"too wide for one span\"\n    rooms  id \"1\"  run 12'\n    shows  scheme = strongback   part = 6'\nend\n",
    },
    Statement {
        name: "example",
        form: "example \"14 by 20\"\n    rooms length 20' width 14'\n    shows tees = 9\nend",
        summary: "A worked case that runs as a test of the book.",
        example: about_rooms!(
            "for rooms\n    around  \"Around\"  =  2 * (length + width)\nend\n\n",
            "example \"around 20 by 14 ft\"\n    rooms  id \"1\"  length 20'  width 14'\n    shows  around = 68'\nend\n"
        ),
    },
    Statement {
        name: "source",
        form: "source \"ASTM C840\"",
        summary: "Where a figure or rule comes from; 'practice' for common practice without a source.",
        example: "define joint_tape(board area) length  =  board * (380 ft / 1000 sf)\n\
                  \x20   \"Joint tape for a board area.\"\n\
                  \x20   source \"Estimating in Building Construction, ch. 16: 380 lf for 1,000 sf\"\n\n\
                  example \"500 sf\"\n    shows  joint_tape(500 sf) = 190'\nend\n",
    },
    Statement {
        name: "accepted",
        form: "accepted \"A house book may say otherwise.\"",
        summary: "Why what 'hardlid try' hints at is in order here; what it hints at about this statement is then told no more.",
        example: "table sheet_weight  \"What a sheet weighs\"  accepted \"Our own scale.\"\n\
                  \x20   long length, exact | weight weight\n\
                  \x20   8'                 | 70 lb\nend\n\n\
                  example \"a sheet of 8 ft\"\n    shows  sheet_weight(8') = 70 lb\nend\n",
    },
    Statement {
        name: "when",
        form: "24\" when part <= 7'-6\", 16\" otherwise",
        summary: "A choice: the first condition that holds decides; 'otherwise' is always there.",
        example: "define spacing_for(part length) length  =  24\" when part <= 7'-6\", 16\" otherwise\n    source practice\n\n\
                  example \"either side of the limit\"\n    shows  spacing_for(7'-6\") = 24\"   spacing_for(8') = 16\"\nend\n",
    },
    Statement {
        name: "sum of",
        form: "sum of openings (long * wide) where many > 1",
        summary: "Children brought together: sum, count, least, most, any, all, with a condition after 'where'; the sum of none is 0, the least of none is missing.",
        example: about_rooms!(
            "rows openings  from \"Openings\"  belong to rooms by \"Room\"\n",
            "    long  length  above 0\n    wide  length  above 0\nend\n\n",
            "for rooms\n    cut_out  \"Cut out\"  =  sum of openings (long * wide) where long > 1'\n",
            "    longest  \"Longest\"  =  most of openings (long)\nend\n\n",
            "example \"a light and a sprinkler head\"\n    rooms     id \"1\"  length 14'  width 8'\n",
            "    openings  long 4'  wide 2'\n    openings  long 3\"  wide 3\"\n",
            "    shows  cut_out = 8 sf   longest = 4'   (count of openings where wide < 1') = 1\nend\n"
        ),
    },
    Statement {
        name: "lines",
        form: "sum of lines (cost) where kind is material",
        summary: "The priced lines, in 'for job': each has a kind (material or labor), a code, an item, a cost and hours.",
        example: about_rooms!(
            "for rooms\n    item board  \"Board\"  code \"GB-58\"  need length * width\nend\n\n",
            "for job\n    material  \"Material\"  =  sum of lines (cost) where kind is material\n",
            "    total     \"Total\"     =  material + sum of lines (cost) where kind is labor\nend\n"
        ),
    },
    Statement {
        name: "is given",
        form: "spaced when spaced is given, 24\" otherwise",
        summary: "Whether a cell is filled in; a blank is missing, never zero.",
        example: "rows rooms  from \"Rooms\"\n    id      text    heading \"Room\"  key\n    spaced  length  may be blank\nend\n\n\
                  for rooms\n    spacing  \"Spacing\"  =  spaced when spaced is given, 24\" otherwise  source practice\nend\n\n\
                  example \"nothing is asked for\"\n    rooms  id \"1\"\n    shows  spacing = 24\"\nend\n",
    },
    Statement {
        name: "is one of",
        form: "3' when sdc is one of D E F, 4' otherwise",
        summary: "Whether a text is one of several words.",
        example: "define wire_apart(sdc text) length  =  3' when sdc is one of D E F, 4' otherwise\n    source practice\n\n\
                  example \"D and B\"\n    shows  wire_apart(\"D\") = 3'   wire_apart(\"B\") = 4'\nend\n",
    },
    Statement {
        name: "of",
        form: "10% of material",
        summary: "A part of something; a percent is never added to anything but a percent.",
        example: "example \"a tenth\"\n    shows  (10% of 240 sf) = 24 sf\nend\n",
    },
    Statement {
        name: "length",
        form: "8'-6\"",
        summary: "Feet and inches without spaces are one length, 10'-3 1/2\"; with spaces on both sides of the sign, 8' - 6\", they are a difference.",
        example: "example \"one length, and a difference\"\n    shows  (8'-6\" * 2) = 17'   (8' - 6\") = 7'-6\"\nend\n",
    },
    Statement {
        name: "money",
        form: "$4.85, $312/MLF",
        summary: "Dollars, or dollars for each of a unit; exact until a rule rounds it or a line is priced.",
        example: "example \"7 ft at 11 1/2 cents a foot\"\n    shows  (7 ft * $0.115/ft) = $0.805   (250 ft * $312/MLF) = $78.00\nend\n",
    },
    Statement {
        name: "percent",
        form: "7.5%",
        summary: "A part of something, for 'of' and '*': 110% of x is a tenth more than x.",
        example: "example \"a tenth more\"\n    shows  (110% of 40 lb) = 44 lb\n    shows  (5% + 2.5%) = 7.5%\nend\n",
    },
    Statement {
        name: "gauge",
        form: "12 ga wire, 25 ga sheet",
        summary: "A thickness by gauge. Wire and sheet have gauges of their own, so a bare gauge is refused.",
        example: "use \"hardlid loads\"\n\nexample \"two gauges of one number\"\n\
                  \x20   shows  wire_diameter(12 ga wire) = 0.1055 in   sheet_thickness(12 ga sheet) = 0.1017 in\nend\n",
    },
    Statement {
        name: "remark",
        form: "-- a remark",
        summary: "From two hyphens to the end of the line, for whoever reads the book.",
        example: "-- What this house does otherwise.\nuse \"hardlid ceilings\"\n",
    },
];
