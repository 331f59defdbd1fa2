book "Millrace house rules (invented)"  edition "2026.1"
use "hardlid ceilings"

-- House rules of an invented company, to show what a company's own book looks like: what it reads beside the rooms'
-- usual columns, what it replaces in the built-in ceilings book, one function of its own, one labor of its own.
-- Every figure marked "invented" is made up. Put your own tested tables and rates in their place.

rows rooms
    finish  text  heading "Finish"  otherwise "Level 4"
end

-- What every bid of this company says; a Job sheet that says otherwise wins.
rows job
    excludes      text  heading "Excludes" or "Exclusions"
                        otherwise "Painting, insulation, blocking, access doors; devices by others; work out of hours"
    stocking      text  heading "Stocking"      otherwise "By us from the curb, one load for each delivery"
    clean_up      text  heading "Clean-up"      otherwise "Our scrap to the contractor's container on the same floor"
    price_stands  text  heading "Price stands"  otherwise "60 days from the day of the bid"
end

-- ---- tested spans: the built-in table knows one layer only; this company has tested two

replace table tested_span  "Clear span of a tee, wall to wall"  source "house table, invented for this demo"  accepted "Three layers are not tested: such a room is stopped."
    spacing length, up to | board length, exact, otherwise 5/8" | layers count, exact, otherwise 1 | limit length
    16"                   | 5/8"                                | 1                                | 8'-6"
    24"                   | 5/8"                                | 9223372036854775808                                | 7'-6"
    16"                   | 5/8"                                | 2                                | 7'-0"
    24"                   | 5/8"                                | 2                                | 6'-0"
end

-- ---- the rolling tower: over 10 ft the crew works from it, and moving it takes time

define tower_moves(floor area, reach area otherwise 60 sf) count  =  round_up(floor / reach)
    "Times that the rolling tower is moved to reach a whole ceiling."
    source "house rule, invented"

-- ---- a finish of level 5 is skimmed all over

table finish_factor  "Hours of hanging and finishing board against level 4"  source "house table, invented"
    finish text, exact | factor number
    "Level 1"          | 1
    "Level 2"          | 1
    "Level 4"          | 1
    "Level 5"          | 1.25
end

for rooms
    high  "Over 10 ft"  =  ceiling_height > 10' when ceiling_height is given, no otherwise

    replace check hangs_free  strongbacks = 0 or hang <= 4'  else warns
        "Wires {hang} long: over 4 ft this company braces them. Ask before you bid."
        source "house rule, invented"

    replace item tabs  "Tabbed angle"  code "TA"  need tabbed  waste 5%
        source "house rule, invented"

    replace labor hang_board  "Hang and finish board"  code "L-BRD"  need board_area
                                                       height ceiling_height  difficulty difficulty
                                                       factor work_factor * finish_factor(finish)

    labor tower  "Move the rolling tower"  code "L-TWR"  need tower_moves(floor: gross)  only when high
end

for soffits
    replace item soffit_board  "Soffit board"  code board_code(kind: board_kind, thickness: board)  need face * layers
                                               waste 15%
        source "house the, invented"
end

for job
    replace dividing  parts by level  alternates by alternate deducting deducted  deliveries by delivery
end

-- ---- examples, each worked by hand

example "two layers over a corridor"
    -- The run is 6'-6", within the 7'-0" of two layers at 16 in. o.c.: no strongback.
    -- At 24 in. o.c. two layers reach only 6'-0", so the tees go at 16 in.: 24 ft is 288 in., 18 spaces, 17 tees.
    -- Board: 24 x 6.5 = 156 sf, twice.
    rooms  id "1"  length 24'  width 6'-6"  layers 2
    shows  strongbacks = 0   spacing = 16"   limit = 7'   tees = 17   board_area = 312 sf
end

example "two layers, a sixteenth over the tested span"
    -- 7'-0 1/16" is over 7'-0": one strongback, and each half, 3'-6 1/32", is within 6'-0" at 24 in. o.c.
    rooms  id "1"  length 12'  width 7'  layers 2
    shows  strongbacks = 1   spacing = 24"   tees = 5
end

example "one layer, 10 by 12 ft, in SDC D"
    -- The run is 10 ft: one strongback, parts of 5 ft, tees at 24 in.: 12 ft is 6 spaces, 5 tees, at 2 to 10 ft.
    -- Free ends: wires from the first tee at 2 ft to the last at 10 ft, 8 ft at 3 ft o.c.: 3 spaces, 4 wires.
    rooms  id "1"  length 12'  width 10'  sdc D
    shows  strongbacks = 1   part = 5'   spacing = 24"   tees = 5   last_tee = 2'   wires = 4
end

example "the tower under a high ceiling"
    -- 30 x 20 = 600 sf, and rule tower reaches 60 sf from one place: 10 moves; one square foot more is one move more.
    rooms  id "1"  length 30'  width 20'  ceiling_height 12'
    shows  high = yes   gross = 600 sf   tower_moves(floor: 600 sf) = 10   tower_moves(floor: 601 sf) = 11
end

example "an ordinary ceiling needs no tower"
    -- No height is given, so it is none over 10 ft.
    rooms  id "1"  length 10'  width 10'
    shows  high = no   finish = "Level 4"
end
