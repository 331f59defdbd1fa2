//! Books and how they are laid out, written by hand from the rules of the layout.

use super::{holds, tree};
use hardlid::notation::tidy;
use hardlid::source::Text;

/// A book comes out as stated; `wanted` is the tidy text.
fn comes_to(given: &str, wanted: &str) {
    let done = holds(given);
    assert!(done == wanted, "is:\n{done}\nshould be:\n{wanted}");
}

#[test]
fn fields_stand_in_columns_with_an_empty_cell_where_they_say_nothing() {
    comes_to(
        "
rows rooms from \"Rooms\"

  id text heading \"Room\" or \"Rm\" key
  length length   heading \"Length\"    above 0 otherwise 12'
     -- how high


  hang length   may be blank
     \"Down to the tees.\"   source   practice

end",
        "rows rooms  from \"Rooms\"
    id      text    heading \"Room\" or \"Rm\"  key
    length  length  heading \"Length\"        above 0  otherwise 12'
    -- how high

    hang  length  may be blank
        \"Down to the tees.\"
        source practice
end
",
    );
}

#[test]
fn tables_stand_in_columns_and_numbers_of_one_kind_by_their_point() {
    comes_to(
        "table t \"T\" source practice
  name text,exact|gap length|area area | rate $/ft
  \"a\"|8'-6\"|900 sf|$4.85/ft    -- the first
  \"long name\" | 12'|12.5 sf|$12/ft
  -- the last row
  \"b\" | 1/2\" | 1 sf | $0.5/ft
end",
        "table t  \"T\"  source practice
    name text, exact | gap length | area area | rate $/ft
    \"a\"              | 8'-6\"      | 900 sf    |  $4.85/ft  -- the first
    \"long name\"      | 12'        |  12.5 sf  | $12/ft
    -- the last row
    \"b\"              | 1/2\"       |   1 sf    |  $0.5/ft
end
",
    );
}

/// 4 + 2 are the first word and its gap; a choice with two conditions has a line for each of its three answers.
#[test]
fn a_choice_of_three_has_a_line_for_each() {
    comes_to(
        "for rooms
a = 24\" when part<=8' , 16\"   when part <= 9', 12\"   otherwise
longer_name \"Label\" = x when y, z otherwise shown to 1/8\"
end",
        "for rooms
    a                     =  24\" when part <= 8',
                             16\" when part <= 9',
                             12\" otherwise
    longer_name  \"Label\"  =  x when y, z otherwise  shown to 1/8\"
end
",
    );
}

#[test]
fn spaces_stand_about_operators_and_not_in_brackets() {
    comes_to(
        "for job
a = ( x+y ) *-z / f ( n : 3 , m:- - 2 )^2
b = 8'-6\"-x
c = 10 %of a
d = 2 ft ^ 2
e = sum   of rooms(long*wide)where not turned
f = 5 / 8\"
g = 12ga wire + 2.5psf
end",
        "for job
    a  =  (x + y) * -z / f(n: 3, m: - -2)^2
    b  =  8'-6\" - x
    c  =  10% of a
    d  =  2 ft ^ 2
    e  =  sum of rooms (long * wide) where not turned
    f  =  5 / 8\"
    g  =  12 ga wire + 2.5 psf
end
",
    );
}

#[test]
fn definitions_take_one_line_or_have_their_body_below() {
    comes_to(
        "define   f(a length,b length otherwise a) length = a+b \"What it is.\" \"And more.\" source practice
define governs(tested length, bending length) text = \"tested span\" when tested <= bending,
  \"bending\" when bending <= 0', \"neither\" otherwise",
        "define f(a length, b length otherwise a) length  =  a + b
    \"What it is.\"
    \"And more.\"
    source practice
define governs(tested length, bending length) text
    =  \"tested span\" when tested <= bending,
       \"bending\"     when bending <= 0',
       \"neither\"     otherwise
",
    );
}

/// It takes more than 120 characters even on a line of its own.
#[test]
fn a_long_sum_begins_its_lines_with_its_signs() {
    comes_to(
        "for rooms
    long = first_of_the_long_names_here + second_of_the_long_names_here + third_of_the_long_names_here + fourth_one * fifth_one
end",
        "for rooms
    long  =  first_of_the_long_names_here
             + second_of_the_long_names_here
             + third_of_the_long_names_here
             + fourth_one * fifth_one
end
",
    );
}

#[test]
fn a_long_call_fills_lines_below_its_bracket() {
    comes_to(
        "for rooms
    frame = lay_out(shape: shape, scheme: scheme, spacing: spacing, supports: supports, limit: limit, wire_every: wire_every, first_end: ends)
end",
        "for rooms
    frame  =  lay_out(shape: shape, scheme: scheme, spacing: spacing, supports: supports, limit: limit,
                      wire_every: wire_every, first_end: ends)
end
",
    );
}

#[test]
fn items_checks_and_options() {
    comes_to(
        "for rooms
  item tee \"Tee\" code \"ST\" cut tees, each run waste 5% source practice
  replace labor frame_the_room code \"L\" need tees*run rate 0.011 hr/ft only when x
  check span part<=limit else stops \"Too far.\" source practice
  options way straight,braced
  options scheme \"Scheme\"   straight \"Wall to wall\", grid \"Hung\" only when hang>=4\"
   named by wanted showing wires,part
  cutting kerf saw
end",
        "for rooms
    item tee                      \"Tee\"  code \"ST\"  cut tees, each run  waste 5%
        source practice
    replace labor frame_the_room         code \"L\"   need tees * run  rate 0.011 hr/ft  only when x
    check span  part <= limit  else stops
        \"Too far.\"
        source practice
    options way straight, braced
    options scheme \"Scheme\"
        straight  \"Wall to wall\",
        grid      \"Hung\"  only when hang >= 4\"
        named by wanted
        showing wires, part
    cutting  kerf saw
end
",
    );
}

#[test]
fn examples_stand_in_columns_where_their_lines_are_alike() {
    comes_to(
        "example \"e\"
rooms id 101 length 20 ft width 14'
openings long 4' wide 2' many 10
openings long 10' wide 2'-6\" many 2
shows a=1 b_longer = 2
shows long_one = 1 c = 3
end",
        "example \"e\"
    rooms     id 101  length 20 ft  width 14'
    openings  long 4'   wide 2'     many 10
    openings  long 10'  wide 2'-6\"  many 2
    shows     a = 1          b_longer = 2
    shows     long_one = 1   c = 3
end
",
    );
}

/// Comments stay where they are: between statements, at the ends of lines, between arguments, before operators, in tables,
/// before and behind an end.
#[test]
fn comments_stay() {
    comes_to(
        "-- first

book \"B\"   -- the name
-- before rows
rows rooms --the rooms
  -- about x
  x number    -- is x
     -- and more of x
              -- on its own
  long_name number   -- in column
              -- goes on
  -- last
end -- of rooms
for rooms
 a = f(x, -- the first
   -- the second
   y) +   -- a sign
   z
     -- after a
 -- before the end

end


-- the very last


",
        "-- first

book \"B\"  -- the name
-- before rows
rows rooms  --the rooms
    -- about x
    x          number  -- is x
    -- and more of x
    -- on its own
    long_name  number  -- in column
    -- goes on
    -- last
end  -- of rooms
for rooms
    a  =  f(x,  -- the first
            -- the second
            y)  -- a sign
          + z
    -- after a
    -- before the end
end

-- the very last
",
    );
}

#[test]
fn a_comment_that_goes_on_below_one_at_the_end_of_a_line_stays_in_its_column() {
    comes_to(
        "rows rooms
  x number    -- is x
              -- and more of x
  long_name number   -- in column
                     -- goes on
end",
        "rows rooms
    x          number  -- is x
                       -- and more of x
    long_name  number  -- in column
                       -- goes on
end
",
    );
}

/// `5 height` would be five of a unit called height.
#[test]
fn a_word_that_would_be_read_as_a_unit_begins_a_line() {
    comes_to(
        "for rooms
  labor a code \"A\" need 5
    height h
end
example \"e\"
  shows a = 5
    count of rooms = 3 b = 5   c = 2
end",
        "for rooms
    labor a  code \"A\"  need 5
             height h
end
example \"e\"
    shows  a = 5
           count of rooms = 3   b = 5   c = 2
end
",
    );
}

#[test]
fn line_ends_and_the_mark_at_the_start_of_a_file_are_normal() {
    comes_to(
        "\u{feff}book \"B\"\r\n\r\n\r\nrows rooms\r\n\tx number\r\nend\r\n",
        "book \"B\"\n\nrows rooms\n    x  number\nend\n",
    );
    comes_to("", "");
    comes_to("\n\n  \n", "");
    comes_to("--a", "--a\n");
}

#[test]
fn a_book_with_mistakes_is_refused_with_all_of_them() {
    let problems = tidy(&Text::new("the book", "rows rooms\n  x\nend\nend\n")).unwrap_err();
    assert_eq!(problems.len(), 2);
    // names are not looked at: this book does not compile, and is laid out
    assert!(tree("for rooms\n a = nowhere\nend").is_some());
    comes_to("for rooms\n a=nowhere\nend", "for rooms\n    a  =  nowhere\nend\n");
}

/// A statement near the limit grows by the spaces about its signs: 9,000 characters come to more than 16 KB.
#[test]
fn a_statement_that_would_be_too_long_is_refused() {
    let many: String = (0..7_000).map(|_| ",a").collect();
    let text = Text::new("the book", &format!("for job\n telling a{many}\nend\n"));
    let problems = tidy(&text).unwrap_err();
    assert_eq!(problems[0].kind, "statement too large");
}
