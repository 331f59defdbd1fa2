book "hardlid board"  edition "2"

-- Board and finish: what it may span, screws, tape, compound, sheets, control joints, rips.
-- Every figure names its source: a published one, one written from memory and marked so, or "practice".

table board_framing  "Framing spacing of one layer of board"  source "ASTM C840, GA-216; from memory"
    board length, exact | laid text, exact, otherwise "across" | spacing length
    1/2"                | across                               | 24"
    1/2"                | along                                | 16"
    5/8"                | across                               | 24"
    5/8"                | along                                | 16"
end

-- ---- for each 1,000 sf of board

define board_screws(board area) count  =  round_up(board * (1000 ea / 1000 sf))
    "Screws for a board area."
    source "Estimating in Building Construction, ch. 16: 1,000 screws for 1,000 sf"

define joint_tape(board area) length  =  board * (380 ft / 1000 sf)
    "Joint tape for a board area."
    source "Estimating in Building Construction, ch. 16: 380 lf for 1,000 sf"

define joint_compound(board area) volume  =  board * (5 gal / 1000 sf)
    "Ready-mixed joint compound for a board area."
    source "Estimating in Building Construction, ch. 16: 5 gal for 1,000 sf"

define compound_along(joints length) volume  =  joints * (5 gal / 380 ft)
    "Ready-mixed joint compound for joints whose length is known, with what covers the screws beside them."
    source "Estimating in Building Construction, ch. 16: 5 gal and 380 lf of tape for the same 1,000 sf"

-- ---- tee by tee

define line_screws(run length, lines count, every length otherwise 12", edge length otherwise 3/8") count
    =  lines * (round_up((run - 2 * edge) / every) + 1)
    "Screws into so many lines of framing, the first and the last set in from the edge of the board."
    source "ASTM C840: 12 in. o.c. in ceilings, 3/8 in. from edges; from memory"

define usable_sheet(long length, spacing length) length  =  round_down(long, to: spacing)
    "What is left of a sheet laid across the tees when its end is trimmed to the last tee's center."
    source practice

define sheet_count(run length, along length, long length, spacing length, wide length otherwise 4') count
    =  pieces(need: round_up(run / wide) * along, stock: usable_sheet(long: long, spacing: spacing))
    "Sheets laid across the tees of a rectangle, row by row, a row begun with what the last one left."
    source practice

define rip_area(trim length, tall length otherwise 1-13/16") area  =  trim * tall
    "Board in rips that stand on the flange of the tees around an opening, as high as the tee."
    source practice

-- ---- control joints

table control_joint  "How far a ceiling may go without a control joint"  source "ASTM C840, GA-216; from memory"
    relief yes/no, exact, otherwise no | every length | area area
    no                                 | 30'          |  900 sf
    yes                                | 50'          | 2500 sf
end

define control_joints(long length, wide length, relief yes/no otherwise no) length
    =  (round_up(long / control_joint_every(relief: relief)) - 1) * wide
       + (round_up(wide / control_joint_every(relief: relief)) - 1) * long
    "Control joints that cut a rectangle into fields within the limit each way, and so within the limit of area."
    source "ASTM C840, GA-216; from memory"

-- ---- examples, each worked by hand

example "1,200 sf of board"
    shows  board_screws(1200 sf) = 1200   joint_tape(1200 sf) = 456'   joint_compound(1200 sf) = 6 gal
end

example "joints of 190 ft"
    -- Half of 380 ft, so half of 5 gal.
    shows  compound_along(190 ft) = 2.5 gal
end

example "screws along the tees"
    -- 12 ft less two edges of 3/8 in. is 143.25 in.: 12 spaces of 12 in., 13 screws, on 5 tees.
    shows  line_screws(run: 12', lines: 5) = 65
end

example "sheets over a 14 by 20 ft room"
    -- 14 ft is 3.5 rows of 4 ft, so 4, of 20 ft: 80 ft. Of 12 ft sheets at 24 in.: 6.7, so 7. A 10 ft sheet is worth
    -- 9'-4" at 16 in. o.c. (7 spaces): 80 / 9.33 = 8.57, so 9.
    shows  sheet_count(run: 14', along: 20', long: 12', spacing: 24") = 7
    shows  sheet_count(run: 14', along: 20', long: 10', spacing: 16") = 9
           usable_sheet(long: 10', spacing: 16") = 9'-4"
    shows  usable_sheet(long: 9', spacing: 24") = 8'
end

example "rips around a 4 by 2 ft light"
    -- 12 ft of 1-13/16 in.: 144 x 1.8125 = 261 sq in., 1.8125 sf.
    shows  rip_area(12') = 1.8125 sf
end

example "framing of board laid along it, and the field of a control joint"
    shows  board_framing(board: 1/2", laid: "along") = 16"   control_joint_every(relief: yes) = 50'
           control_joint_area(relief: no) = 900 sf
end

example "control joints"
    -- A corridor of 46'-6" takes one across its 6 ft. 61 by 31 ft takes two of 31 ft and one of 61 ft: 123 ft; with
    -- relief one of 31 ft.
    shows  control_joints(long: 46'-6", wide: 6') = 6'   control_joints(long: 30', wide: 30') = 0 ft
    shows  control_joints(long: 61', wide: 31') = 123'   control_joints(long: 61', wide: 31', relief: yes) = 31'
end
