book "hardlid ceilings"  edition "4"
use "hardlid trade"

-- What is read, worked out, checked, bought and done for flat ceilings and soffits, for jobs without rules of their own.
-- A company's book may begin with: use "hardlid ceilings", and replace what its own rules say otherwise.
-- Span checks are an estimating aid: the manufacturer's tested tables, local codes and licensed practice govern.

rows job  from "Job"
    project       text     heading "Project" or "Job"                                                    may be blank
    location      text     heading "Location" or "Address"                                               may be blank
    bid_to        text     heading "Bid to" or "Customer"                                                may be blank
    drawings      text     heading "Drawings" or "Drawings dated"                                        may be blank
    addenda       text     heading "Addenda"                                                             may be blank
    price_stands  text     heading "Price stands" or "Price valid"                                       may be blank
    includes      text     heading "Includes" or "Inclusions"                                            may be blank
    excludes      text     heading "Excludes" or "Exclusions"                                            may be blank
    lifts         text     heading "Lifts and scaffold" or "Lifts" or "Scaffold"                         may be blank
    stocking      text     heading "Stocking"                                                            may be blank
    clean_up      text     heading "Clean-up" or "Cleaning up"                                           may be blank
    flatness      text     heading "Flatness"  otherwise "Framing within 1/8 in. of plane"
        source "GA: framing within 1/8 in. of plane"
    tax           percent  heading "Sales tax" or "Tax"                                 from 0% to 100%  otherwise 0%
    tax_on        text     heading "Tax on"  one of material material_and_freight all  otherwise material
    freight       percent  heading "Freight"                                            from 0% to 100%  otherwise 0%
    escalation    percent  heading "Escalation a month"                                 from 0% to 100%  otherwise 0%
    months        number   heading "Months to the middle of the work"                   from 0 to 240    otherwise 0
    contingency   percent  heading "Contingency"                                        from 0% to 100%  otherwise 0%
    overhead      percent  heading "Overhead"                                           from 0% to 100%  otherwise 0%
    profit        percent  heading "Profit" or "Profit (markup)" or "Profit as markup"  from 0% to 500%  otherwise 0%
    margin        percent  heading "Margin" or "Profit (margin)" or "Profit as margin"  at least 0%  below 100%
                           may be blank
    bond          percent  heading "Bond"                                               from 0% to 100%  otherwise 0%
    price_tax     percent  heading "Tax in the price"  at least 0%  below 100%  otherwise 0%
        "A tax that is a part of the price itself."

    -- the house's own ways; a blank section is said in the checks, never guessed
    tee_section         text     heading "Tee section"                             may be blank
    strongback_section  text     heading "Strongback section"                      may be blank
    deflection_ratio    number   heading "Deflection ratio"       from 120 to 720  otherwise 240
    close_wires         yes/no   heading "Close wire spacing"                      otherwise no
    tab_stock           length   heading "Tabbed angle stock"     at least 1'      stock of "TA"  otherwise 10'
    angle_stock         length   heading "Plain angle stock"      at least 1'      stock of "PA"  otherwise 10'
    strongback_stock    length   heading "Strongback stock"       at least 4'      stock of "SB"  otherwise 16'
    channel_stock       length   heading "Channel stock"          at least 4'      stock of "CR"  otherwise 16'
    furring_stock       length   heading "Furring stock"          at least 4'      stock of "FC"  otherwise 12'
    least_angle         length   heading "Least piece of angle"   at least 0"      otherwise 1/2"
        "Plain angle may stop short of a wall's end by less; no such sliver is cut, and no face so short takes angle."
        source practice
    end_clearance       length   heading "End clearance"          at least 0"      otherwise 1/8"
        "What a tee is cut shorter than its clear run, both ends together."
        source practice
    furring_section     text     heading "Furring section"                         otherwise "087F125-18"
    saw_kerf            length   heading "Saw cut"                at least 0"      otherwise 0"
        "What a saw takes with each cut; nothing where tees and angle are cut with snips."
    least_offcut        length   heading "Least offcut"           at least 0"      otherwise 12"
        "A shorter offcut is scrap."
        source practice
    first_supplier      text     heading "Preferred supplier"                      may be blank
    only_supplier       text     heading "Buy only from"                           may be blank
    charge_bought       yes/no   heading "Charge what is bought"                   otherwise no
    screws_by_spacing   yes/no   heading "Screws by spacing"                       otherwise no
    buy_headers         yes/no   heading "Buy headers"                             otherwise no
    tee_stock           length   heading "Tee stock"              at least 4'      stock of "ST"  may be blank
        "A longer tee is spliced: over a strongback that it reaches past, else with a scrap. Blank, it is the price book's longest."
    sheet_lengths       text     heading "Sheet lengths"                           otherwise "8', 9', 10', 12', 14'"
    sheet_width         length   heading "Sheet width"            at least 2'      otherwise 4'
    board_waste         percent  heading "Board waste"            from 0% to 100%  otherwise 5%
        source "Estimating in Building Construction, example 16-3: 5%"
    heavy_over          weight   heading "Heavy fixtures over"    above 0          otherwise 56 lb
        source "ASTM E580, from memory"
end

rows rooms  from "Rooms"
    id          text    heading "Room" or "Rm" or "Room no." or "Room number"  key
    name        text    heading "Name" or "Room name" or "Description"                                 may be blank
    level       text    heading "Level" or "Floor"                                                     may be blank
    length      length  heading "Length" or "L"                         above 0                        may be blank
    width       length  heading "Width" or "W"                          above 0                        may be blank
    perimeter   text    heading "Perimeter"                                                            may be blank
        "The room whole, in place of length and width: 20' E, 14' N, 20' W, 14' S, or corner points."
    tees_run    text    heading "Tees run"  one of short long north south east west  otherwise short
    wanted      text    heading "Scheme wanted" or "Framing scheme"                                    may be blank
    sdc         text    heading "SDC" or "Seismic category"             one of A B C D E F             otherwise B
    surrounded  yes/no  heading "Surrounded by walls" or "Surrounded"                                  otherwise yes
    board       length  heading "Board" or "Board thickness"            above 0                        otherwise 5/8"
        shown in in
    board_kind  text    heading "Board kind" or "Board type"            one of regular rated moisture  otherwise regular
    layers      count   heading "Layers"                                from 1 to 3                    otherwise 1
    assembly    text    heading "Rated assembly" or "Fire rating"                                      may be blank
    wall        text    heading "Wall kind" or "Walls"                  one of stud masonry concrete   otherwise stud
    deck        text    heading "Deck kind" or "Deck"  one of concrete metal wood steel  otherwise concrete
    insulation  psf     heading "Insulation weight" or "Insulation"     at least 0 psf                 otherwise 0 psf
    extras      psf     heading "Other load" or "Extra load"            at least 0 psf                 otherwise 0 psf
    relief      yes/no  heading "Perimeter relief"                                                     otherwise no
    spaced      length  heading "Spacing wanted" or "Tee spacing"       above 0                        may be blank
    ends        text    heading "Strongback ends" or "Ends"             one of free fixed              otherwise free
    far_end     text    heading "Far strongback end"                    one of free fixed              may be blank
        "The end at the far wall, east or north, where it is not as the other."
    hang        length  heading "Drop" or "Hanger length"               above 0                        otherwise 18"
    ceiling_height  length  heading "Ceiling height" or "Height"        above 0                        may be blank
        "Which of several Labor rows of a code serves, with the difficulty; blank takes a row without a height."
    difficulty  text    heading "Difficulty"                                                           may be blank
    phase       text    heading "Phase"                                                                may be blank
    delivery    text    heading "Delivery"                                                             may be blank
    alternate   text    heading "Alternate"                                                            may be blank
        "The room is priced apart, in the alternate of that name, and is not in the bid."
    deducted    yes/no  heading "Deducted" or "Deduct"                                                 otherwise no
        "Yes: the room is in the bid, and its alternate takes it out."
end

rows openings  from "Openings"  belong to rooms by "Room" or "Rm" or "Room no."
    what        text    heading "Opening" or "Kind"                                may be blank
    long        length  heading "Long" or "Length"             above 0
    wide        length  heading "Wide" or "Width"              above 0
    many        count   heading "Many" or "Count" or "Qty"                         otherwise 1
    turned      yes/no  heading "Turned" or "Across the tees"                      otherwise no
    flush       text    heading "Flushed with" or "Trim"       one of angle board  otherwise angle
    weighs      weight  heading "Fixture weight" or "Weight"   above 0             may be blank
    heavy       yes/no  heading "Heavy" or "Heavy fixture"                         otherwise no
    from_west   length  heading "From west"                                        may be blank
    from_south  length  heading "From south"                                       may be blank
        "Its south-west corner in the room, where the drawings give it; the length of a room runs east."
end

rows jogs  from "Jogs"  belong to rooms by "Room" or "Rm" or "Room no."
    wall      text    heading "Wall or corner" or "Wall"
        "south, east, north, west, a corner such as NE, or the number of a side. The length of a room runs east."
    offset    length  heading "Offset"     at least 0"    otherwise 0"
        "Along the wall from its west or south end."
    width     length  heading "Width"      above 0
    depth     length  heading "Depth"      above 0
    way       text    heading "In or out"  one of in out  otherwise in
    off_wall  length  heading "Off wall"   at least 0"    otherwise 0"
        "How far a free column stands off its wall."
end

rows soffits  from "Soffits"  belong to rooms by "Room" or "Rm" or "Room no."
    reach       length  heading "Run" or "Length"         above 0
    drop        length  heading "Drop" or "Height"        above 0
    return      length  heading "Return" or "Depth"       above 0
    spaced      length  heading "Tee spacing"             above 0           otherwise 24"
    layers      count   heading "Layers"                  from 1 to 3       otherwise 1
    along_wall  text    heading "Along wall" or "Wall"                      may be blank
        "The ceiling ends at a soffit that names its wall: south, east, north, west, or the number of a side."
    offset      length  heading "Offset"                  at least 0"       otherwise 0"
        "Along that wall from its west or south end."
    one_end     text    heading "One end" or "Start"      one of wall free  otherwise wall
    other_end   text    heading "Other end" or "Far end"  one of wall free  otherwise wall
end

rows sums  from "Lump sums"
    what          text    heading "What" or "Sum"
    amount        money   heading "Amount"
    stands_alone  yes/no  heading "Allowance"  otherwise no
        "Yes: an allowance, stated in the price without mark-ups. No: a lump sum of the direct cost."
end

-- ---- what serves which board, wall and deck: codes of the price book

-- One code serves every length of sheet; where the yard's codes tell lengths apart, add a row from each length on.
table board_code  "Board by kind and thickness"  source "codes of the price book; put your own in their place"
    kind text, exact | thickness length, exact | sheet length, from, otherwise 12' | code text
    regular          | 1/2"                    | 1'                                | "GB-12"
    regular          | 5/8"                    | 1'                                | "GB-58"
    rated            | 1/2"                    | 1'                                | "GB-12C"
    rated            | 5/8"                    | 1'                                | "GB-58X"
    moisture         | 1/2"                    | 1'                                | "GB-12M"
    moisture         | 5/8"                    | 1'                                | "GB-58M"
end

table wall_fastening  "Screws to studs, pins to concrete, anchors to masonry"  source practice
    wall text, exact | code text
    stud             | "SF"
    concrete         | "PN"
    masonry          | "AN"
end

table deck_fixing  "What a wire and an angle are fixed with"  source practice
    deck text, exact | anchor text | fastening text
    concrete         | "WA"        | "PN"
    metal            | "WA-M"      | "SF"
    wood             | "WA-W"      | "SW"
    steel            | "WA-S"      | "PN"
end

table deck_words  "Anchors by kind of deck, in words"  source practice
    deck text, exact | words text
    concrete         | "anchors with pins in concrete"
    metal            | "anchors screwed to metal deck"
    wood             | "anchors screwed to wood"
    steel            | "anchors clamped or shot to steel"
end

-- ---- openings: framed with pieces of tee, flushed with plain angle or rips of board

for openings
    across         "Across the tees"  =  long when turned, wide otherwise
        "The long side lies along the tees unless the opening is turned."
    beside         "Along the tees"   =  wide when turned, long otherwise
    open_area      "Open area"        =  long * wide * many
    placed         "Placed"           =  from_west is given and from_south is given
    cut            "Tees cut"         =  many * cut_tees(across: across, spacing: spacing)
        "By its size, where it stands as well as it can. One that has its place is framed where it is, as the plan shows."
    headers        "Headers"          =  2 * many
    header         "Header length"    =  header_length(across: across, spacing: spacing)
    sides          "Trimmers"         =  many * trimmers(across: across, spacing: spacing)
    pieces_of_tee  "Tee in headers and trimmers"  =  headers * header + sides * beside
    screws         "Opening screws"   =  many * opening_screws(cut: cut_tees(across: across, spacing: spacing),
                                                               trimmers: trimmers(across: across, spacing: spacing))
    trim           "Opening trim"     =  trim_length(long: long, wide: wide, many: many)

    check opening_in_room  shorter(long, wide) <= run and longer(long, wide) <= along  else stops
        "An opening of {long} by {wide} does not lie in a room of {run} by {along}."
    check placed_once  not placed or many = 1  else warns
        "An opening with a place stands there once, and {many} are counted; give each its own row."
    check heavy_fixture  not heavy and (weighs is not given or weighs <= heavy_over)  else notes
        "The fixture in the opening of {long} by {wide} is heavy: hang it from structure by itself, not from the ceiling."
        source "ASTM E580, from memory"
end

-- ---- soffits: a drop and a return, held by the walls alone

for soffits
    free_ends      "Free ends"       =  (1 when one_end is free, 0 otherwise) + (1 when other_end is free, 0 otherwise)
    face           "Soffit face"     =  soffit_board(run: reach, drop: drop, return: return, free_ends: free_ends)
    lines          "Soffit tees"     =  tee_count(along: reach, spacing: spaced) + 2
    return_limit   "Tested return"   =  tested_span(spacing: spaced, board: board, layers: layers)
    soffit_screws  "Framing screws"  =  3 * lines + (lines when free_ends > 0, 0 otherwise)
        "One at the head of each drop tee, one at its foot, one at the bend; with a free end one more at the wall."
        source practice
    corner         "Corner bead"     =  reach + free_ends * (drop + return)
    saved          "Supports saved against channel"  =  soffit_supports(run: reach, return: return)
        "Channel and furring would be hung every 4 ft; a return within the tested span is not hung at all."
        source practice

    check soffit_wall  along_wall is given  else notes
        "The soffit of {reach} names no wall of its room: the ceiling is priced above it as well."
    check soffit_return  return <= return_limit  else stops
        "A soffit return of {return} is over the tested {return_limit} at {spaced} o.c. without support to structure."
        source practice

    item drop_tee      "Soffit drop tee"               code "ST"      cut lines, each drop
    item return_tee    "Soffit return tee"             code "ST"      cut lines, each return
    item soffit_tabs   "Tabbed angle at soffit wall"   code "TA"      need reach
    item soffit_angle  "Plain angle at soffit"         code "PA"      need 2 * reach
    item end_angle     "Plain angle at free ends"      code "PA"      need free_ends * (drop + return)
    item bend_screws   "Framing screws at soffit"      code "SF"      need soffit_screws
    item soffit_wall   "Fastenings at soffit wall"     code wall_fastening(wall)  need wall_screws(along: reach)
    item soffit_deck   "Fastenings at structure"       code deck_fixing_fastening(deck)  need wall_screws(along: reach)
    item soffit_board  "Soffit board"                  code board_code(kind: board_kind, thickness: board)
                                                       need face * layers  waste board_waste
    item face_screws   "Board screws at soffit"        code "SB-114"  need board_screws(face * layers)
    item soffit_tape   "Joint tape at soffit"          code "JT"      need joint_tape(face)
    item soffit_compound  "Joint compound at soffit"   code "JC"      need joint_compound(face)
    item bead          "Corner bead"                   code "CB"      need corner
    labor soffit       "Frame soffit"                  code "L-SOF"   need reach
                                                       height ceiling_height  difficulty difficulty  factor work_factor
    labor soffit_hang  "Hang and finish soffit board"  code "L-BRD"   need face * layers
                                                       height ceiling_height  difficulty difficulty  factor work_factor
end

-- ---- rooms

for rooms
    shape                     =  room_shape(length: length, width: width, perimeter: perimeter, jogs: jogs,
                                            soffits: soffits)
    run     "Tee run"         =  tee_run(shape, tees: tees_run)
        "Tees run across the short side, unless the row says otherwise."
    along   "Tee wall"        =  tee_wall(shape, tees: tees_run)
    gross   "Ceiling area"    =  shape_area(shape)
    weight  "Ceiling weight"  =  board_weight(thickness: board, layers: layers, kind: board_kind) + insulation + extras

    -- how far tees may go: the tested span, and bending and deflection where the section is known
    lines_needed  "Supports needed"
        =  support_lines(
               run: run,
               limit: span_limit(tested: tested_span(spacing: 16", board: board, layers: layers), load: weight,
                                 spacing: 16", section: tee_section, ratio: deflection_ratio))
        "As many as keep each part of the run within what a tee may span at 16 in. o.c."
        source practice

    near  "Within reach of clips"  =  hang <= deck_gap()
        "So near to the deck clips hold strongbacks, tees and tabbed mains, and no wire is tied."
        source practice

    -- the ways to frame the room: each is worked out and priced, and the cheapest whose checks pass is taken. Where no tested
    -- span is known, so that no tee can be chosen, channel with furring is taken only if the row names it.
    options scheme "Scheme"
        wall_to_wall   "Wall to wall",
        strongbacks    "Over strongbacks"      only when lines_needed > 0,
        ties           "Tied at mid-span"      only when lines_needed > 0,
        hung_grid      "Hung grid"             only when not near,
        channel        "Channel with furring"  only when not near and (wanted is given or lines_needed >= 0),
        tight_to_deck  "Tight to the deck"     only when lines_needed > 0 and near
        named by wanted
        showing spacing, wires

    supports     "Supports"        =  lines_needed when scheme is one of strongbacks ties tight_to_deck, 0 otherwise
    strongbacks  "Strongbacks"     =  supports when scheme is strongbacks, 0 otherwise
    part         "Clear span"      =  4' when scheme is hung_grid,
                                      36" when scheme is channel,
                                      run / (supports + 1) otherwise
        "Cross tees of a hung grid span from main to main, furring from channel to channel."
    spacing      "Tee spacing"
        =  spaced when spaced is given,
           24" when scheme is channel,
           24"
               when part <= span_limit(tested: tested_span(spacing: 24", board: board, layers: layers), load: weight,
                                       spacing: 24", section: tee_section, ratio: deflection_ratio),
           16" otherwise
        shown in in
    tested       "Tested span"     =  part when scheme is channel,
                                      tested_span(spacing: spacing, board: board, layers: layers) otherwise
        "Furring goes from runner to runner, and is held to what its section may carry so far."
    limit        "Governing span"  =  tested when scheme is channel,
                                      span_limit(tested: tested, load: weight, spacing: spacing, section: tee_section,
                                                 ratio: deflection_ratio) otherwise
    governed_by  "Governed by"
        =  "distance of runners" when scheme is channel,
           "tested span" when tee_section is not given,
           governs(
               tested: tested, bending: bending_limit(load: weight, spacing: spacing, sx: section_sx_eff(tee_section)),
               deflection: simple_span_limit(load: weight, spacing: spacing, ix: section_ix_eff(tee_section),
                                             ratio: deflection_ratio)) otherwise

    -- strongbacks and their wires
    wire_every   "Wire spacing"                     =  4' when scheme is one of hung_grid channel,
                                                       closed_spacing(every: wire_spacing(sdc: sdc), weight: weight,
                                                                      part: part, capacity: hanger_capacity(deck: deck))
                                                           when close_wires,
                                                       wire_spacing(sdc: sdc) otherwise
    last_end     "Far end"                          =  far_end when far_end is given, ends otherwise
    -- A hung grid has plain angle on all its walls, and every end that lies on it is screwed: its tees lock into slots of
    -- their own mains, and need no tabs. Cross tees are whole between mains, and cut at a wall, short of it by half the end
    -- clearance; mains run from wall to wall, and have the whole clearance of a tee.
    frame
        =  lay_out(shape: shape, scheme: scheme, spacing: spacing, supports: supports, limit: limit,
                   wire_every: wire_every, first_end: ends, last_end: last_end, tees: tees_run, tee_stock: tee_stock,
                   tabbed_stock: tab_stock, plain_stock: angle_stock, strongback_stock: strongback_stock,
                   channel_stock: channel_stock, furring_stock: furring_stock, clearance: end_clearance,
                   least_angle: least_angle, clipped: near, openings: openings)
    tees         "Tees"                             =  laid_count(frame, of: "tee")
    last_tee     "Last space"                       =  last_space(along: along, spacing: spacing)
    wires        "Hanger wires"                     =  laid_count(frame, of: "wire") + laid_count(frame, of: "tie")
    anchors      "Anchors"                          =  deck_words(deck)    when wires > 0,
                                                       "clips to the deck" when clips > 0,
                                                       "nothing hung"      otherwise
    clips        "Deck clips"                       =  laid_count(frame, of: "clip")
    on_a_wire    "Load on a wire"
        =  wire_load(weight: weight, part: part, every: wire_every) when scheme is strongbacks,
           wire_load(weight: weight, part: part, every: spacing) when scheme is ties,
           weight * part * wire_every when scheme is one of hung_grid channel,
           0 lb otherwise
        "10/8 of the ceiling between a wire and its neighbors where a tee runs on over it."
    splices      "Strongback splices"               =  laid_count(frame, of: "lap") when strongbacks > 0, 0 otherwise
    grid_saved   "Wires saved against a hung grid"  =  hung_grid_wires(shape, tees: tees_run) - wires
    shots_saved  "Fixings saved against furring"
        =  fixings_saved(run: run, along: along, spacing: spacing, clips: clips) when clips > 0 and is_rectangle(shape),
           0 otherwise
        "Furring channel shot to an uneven deck takes a fixing every 24 in."

    -- perimeter, openings, board
    tabbed      "Tabbed angle"         =  laid_length(frame, of: "tabbed angle")
    tab_pieces  "Tabbed angle pieces"  =  laid_count(frame, of: "tabbed angle")
        "Pieces that stand on the bearing walls, closing pieces among them."
    plain       "Plain angle"          =  laid_length(frame, of: "plain angle")
    open_area   "Openings"             =  sum of openings (open_area)
    face_area   "Ceiling face"         =  gross - open_area
    board_area  "Board"                =  face_area * layers
    trim        "Opening trim"         =  sum of openings (trim) where flush is angle
    rips        "Opening rips"         =  rip_area(trim: sum of openings (trim) where flush is board)

    -- A rectangle is laid sheet by sheet, and what its sheets waste is bought with them: no waste is added. Openings are
    -- cut out of the sheets and save none, nor joints or screws, unless one has its place and a piece of board would lie
    -- wholly in it; what is cut out gives the rips. A room with jogs or columns goes by its face and the house's waste.
    boards                          =  lay_board(frame, layers: layers, lengths: sheet_lengths, wide: sheet_width,
                                                 joints_every: control_joint_every(relief: relief))
    sheet         "Sheet length"    =  board_length(boards, of: "sheet")
        "The standard length that wastes least in this room."
    sheets        "Sheets"          =  board_count(boards, of: "sheet") when laid_by_sheet(boards), 0 otherwise
    reckoned      "Board layout"    =  "sheet by sheet" when sheets > 0, "by area" otherwise
        "How the board of the room was worked out; what is bought is the item's to say."
    board_bought  "Board, as laid"  =  sheets * sheet * sheet_width when sheets > 0, board_area otherwise
        "Whole sheets where they are laid out; elsewhere the board itself, before waste."
    taped         "Joints taped"    =  board_length(boards, of: "edge joint")
                                       + board_length(boards, of: "end joint")
                                       + board_length(boards, of: "wall joint") when sheets > 0,
                                       joint_tape(face_area) otherwise
        "Joints of sheets in the last layer, and the corner of ceiling and walls."
    joints        "Control joints"  =  board_length(boards, of: "control joint")

    -- Hours are quantity x rate x factor. The rate is the Labor row's for the room's height and difficulty; a house that
    -- knows how its hours grow states the factor: replace work_factor "Work factor" = 1.15 when difficulty is hard, 1 otherwise
    work_factor  =  1

    seismic  "Seismic"  =  "not hung" when wires = 0,
                           "not asked in SDC A and B" when sdc is one of A B,
                           "surrounded and connected: exempt" when surrounded,
                           "144 sf or less: exempt" when gross <= 144 sf,
                           "1,000 sf or less: no lateral bracing" when gross <= 1000 sf,
                           "lateral bracing" otherwise
        source "ASCE 7 13.5.6, ASTM E580"

    check span  scheme is channel or part <= limit  else stops
        "A tee would span {part}; at {spacing} o.c. it may span {limit}, by {governed_by}."
        source practice
    check furring_carries  scheme is not channel
                           or tee_load(weight: weight, spacing: spacing) <= furring_load(
                                                                                span: 36",
                                                                                runners: channel_runners(run),
                                                                                section: furring_section,
                                                                                ratio: deflection_ratio)  else stops
        "Furring {furring_section} {spacing} o.c. would carry {tee_load(weight: weight, spacing: spacing)}; over {part} from runner to runner that is too much."
        source "SSMA Product Technical Guide 2022"
    check dead_load  weight <= dead_load_limit("gypsum")  else stops
        "The ceiling weighs {weight}; a hung ceiling of gypsum board may weigh 10 psf."
        source "ASTM C1858-17a"
    check main_tees_carry  scheme is not hung_grid
                           or grid_class(tee_load(weight: weight, spacing: 4')) is not "none"  else warns
        "Main tees 4 ft o.c. would carry {tee_load(weight: weight, spacing: 4')}; the heavy class of main runners carries 16 lb a foot."
        source "ASTM C635-17 4.1; 16 lb a foot from memory"
    check insulation_rests  insulation = 0 psf
                            or insulation <= insulation_limit(board: board, spacing: spacing)  else warns
        "Insulation of {insulation} is more than {board} board on tees {spacing} o.c. may carry unsupported."
        source "insulation handbook"
    check board_spans  spacing <= board_framing(board: board)  else warns
        "Tees at {spacing} o.c. are too far apart for one layer of {board} board laid across them."
        source "ASTM C840, GA-216; from memory"
    check size  shorter(run, along) >= 6"  else warns
        "The room is {run} by {along}: look at the units of its length and width."
        accepted "No rule of the trade: no room is that narrow."
    check one_shape  perimeter is not given
                     or length is not given
                     or width is not given
                     or (longer(length, width) = longer(run, along)
                         and shorter(length, width) = shorter(run, along))  else warns
        "The perimeter is {run} by {along}; length and width say {length} by {width}, and are not looked at."
    check layout  laid_notes(frame, of: "warning") = 0  else warns
        "{laid_words(frame, of: warning)}"
        source practice
    check wire_capacity  on_a_wire <= hanger_capacity(deck: deck)  else warns
        "A wire or clip would carry {on_a_wire} at {wire_every} o.c.; its connection may carry {hanger_capacity(deck: deck)}. Close the spacing, or tie the tees."
        source "CBC Standard 25-2 (1998), as quoted"
    check strongback_bends  strongbacks = 0
                            or strongback_section is not given
                            or greatest_moment(load: on_a_wire / wire_every, span: wire_every, spans: 2)
                               <= moment_capacity(section_sx_eff(strongback_section))  else stops
        "A strongback with wires {wire_every} o.c. bends more than its section may, under {on_a_wire} a wire."
        source "SSMA Product Technical Guide 2022"
    check openings_fit  open_area <= gross  else stops
        "The openings take {open_area} of a ceiling of {gross}."
    check wires_tied  wires = 0 or not near  else warns
        "Wires {hang} long are too short to be tied. Down to {deck_gap()} clips hold strongbacks, tees and tabbed mains."
        source practice
    check hangs_free  wires = 0 or hang <= 10'  else warns
        "Wires {hang} long: look at bracing and at what is above."
        source practice
    check rated_board  assembly is not given or board_kind is rated  else warns
        "The room is scheduled as a rated assembly, {assembly}; its board is {board_kind}."
    check seismic_free  seismic is not "lateral bracing"
                        and seismic is not "1,000 sf or less: no lateral bracing"  else notes
        "A hung ceiling of {gross} in SDC {sdc} that walls do not surround: it is not exempt from seismic force design."
        source "ASCE 7 13.5.6 exception; ASTM E580-09a 1.6"
    check seismic_braced  sdc is one of A B or wires = 0 or gross <= 1000 sf  else notes
        "Over 1,000 sf hung in SDC {sdc}: where it is not exempt, lateral bracing 12 ft o.c. both ways, 6 ft or less from walls."
        source "ASTM E580; CBC Standard 25-2 (1998)"

    item tee          "Span tee"               code "ST"  cut laid_pieces(frame, of: "tee")  spliced least 5" scrap 10"
        source practice
    item header       "Headers and trimmers"   code "ST"     need (sum of openings (pieces_of_tee) where not placed)
                                                                  + laid_length(frame, of: "placed opening piece")
                                               only when buy_headers
    item tabs         "Tabbed angle"           code "TA"     cut laid_pieces(frame, of: "tabbed angle")
    item angle        "Plain angle"            code "PA"     cut laid_pieces(frame, of: "plain angle")  spliced
    item strongback   "Strongback"             code "SB"     cut laid_pieces(frame, of: "strongback")  spliced lap 4"
        source practice
    item main         "Main tee"               code "MT"     cut laid_pieces(frame, of: "main")  spliced
    item cross_tee    "Cross tee"              code "CT"     cut laid_pieces(frame, of: "cross tee")
    item tabbed_main  "Tabbed main"            code "TM"     cut laid_pieces(frame, of: "tabbed main")  spliced
    item clip         "Deck clip"              code "DC"     need clips
    item channel      "Cold-rolled channel"    code "CR"     cut laid_pieces(frame, of: "channel")  spliced lap 12"
        source "UFGS 09200A"
    item furring      "Furring channel"        code "FC"     cut laid_pieces(frame, of: "furring")  spliced lap 8"
        source "UFGS 09200A"
    item furring_tie  "Furring ties"           code "FT"
                                               need laid_count(frame, of: "crossing tie")
                                                    + (2 * laid_count(frame, of: "lap") when scheme is channel,
                                                       0 otherwise)
    item wire         "Hanger wire"            code "HW-12"  need wires * hang
    item anchor       "Wire anchor"            code deck_fixing_anchor(deck)  need wires
    item wall_screw   "Fastenings at walls"    code wall_fastening(wall)
                                               need laid_count(frame, of: "wall fastener")
                                                    + laid_count(frame, of: "strongback") * ((1 when ends is fixed,
                                                                                              0 otherwise)
                                                                                             + (1
                                                                                                    when last_end
                                                                                                         is "fixed",
                                                                                                0 otherwise))
    item clip_fixing  "Fastenings of deck clips"  code deck_fixing_fastening(deck)  need clips
    item frame_screw  "Framing screws"         code "SF"     need (sum of openings (screws) where not placed)
                                                                  + laid_count(frame, of: "placed opening screw")
                                                                  + laid_count(frame, of: "tee end screw")
                                                                  + splices
                                                                  + 4 * laid_count(frame, of: "scrap splice")
                                                                  + 2 * laid_count(frame, of: "splice over strongback")
    item board        "Gypsum board"           code board_code(kind: board_kind, thickness: board, sheet: sheet)
                                               need board_bought  waste (0% when sheets > 0, board_waste otherwise)
    item screws       "Board screws"           code "SB-114"  need board_count(boards, of: "screw")
                                                                       when sheets > 0 or screws_by_spacing,
                                                                   board_screws(board_area) otherwise
    item tape         "Joint tape"             code "JT"     need taped
    item compound     "Joint compound"         code "JC"     need compound_along(taped)
    item joint        "Control joint"          code "CJ"     need joints
    item opening      "Plain angle at openings"  code "PA"   need trim
    item rip          "Rips of board at openings"  code board_code(kind: board_kind, thickness: 5/8", sheet: sheet)
                                                   need (0 sf when sheets > 0, rips otherwise)
    labor frame       "Frame tees"             code "L-TEE"  need laid_length(frame, of: "tee")
                                               height ceiling_height  difficulty difficulty  factor work_factor
    labor support     "Hang strongbacks"       code "L-SB"   need laid_length(frame, of: "strongback") - splices * 4"
                                               height ceiling_height  difficulty difficulty  factor work_factor
    labor tie         "Tie tees to structure"  code "L-TIE"  need laid_count(frame, of: "tie")
                                                                  + (clips when scheme is ties, 0 otherwise)
                                               height ceiling_height  difficulty difficulty  factor work_factor
    labor grid        "Hang main and cross tees"  code "L-GRID"  need gross
                                                  height ceiling_height  difficulty difficulty  factor work_factor
                                                  only when scheme is hung_grid
    labor channels    "Hang channel and furring"  code "L-CHN"  need gross
                                                  height ceiling_height  difficulty difficulty  factor work_factor
                                                  only when scheme is channel
    labor deck        "Clip tabbed mains"      code "L-DECK"  need laid_length(frame, of: "tabbed main")
                                               height ceiling_height  difficulty difficulty  factor work_factor
    labor cut_in      "Frame openings"         code "L-OPN"  need sum of openings (many)
                                               height ceiling_height  difficulty difficulty  factor work_factor
    labor hang_board  "Hang and finish board"  code "L-BRD"  need board_area
                                               height ceiling_height  difficulty difficulty  factor work_factor
end

-- Tees longer than stock are joined with a scrap of 10 in., half of it on each part; strongbacks, channel and furring lap
-- (practice; UFGS 09200A); angle and mains go on end to end (practice). Nothing else is spliced.

for job
    cutting  kerf saw_kerf  keep least_offcut
    buying  first from first_supplier  only from only_supplier  charging bought when charge_bought

    dividing  parts by phase  alternates by alternate deducting deducted  deliveries by delivery

    telling  includes, excludes, lifts, stocking, clean_up, flatness, price_stands, board_kind, assembly, anchors

    -- the build-up, in this order: each mark-up is rounded to the cent, and stands on what is named in it
    material            "Material"            =  sum of lines (cost) where kind is material
    labor               "Labor"               =  sum of lines (cost) where kind is labor
    lump_sums           "Lump sums"           =  sum of sums (amount) where not stands_alone
    freight_amount      "Freight"             =  round_near(freight of material, to: $0.01)
    tax_amount          "Sales tax"
        =  round_near(tax of material, to: $0.01) when tax_on is material,
           round_near(tax of (material + freight_amount), to: $0.01) when tax_on is material_and_freight,
           round_near(tax of (material + labor + lump_sums + freight_amount), to: $0.01) otherwise
    direct              "Direct cost"         =  material + labor + lump_sums + freight_amount + tax_amount
    escalation_amount   "Escalation"          =  round_near(months * (escalation of direct), to: $0.01)
        source "FEMA CEF Part E: months to the middle of the work x monthly factor x subtotal, simple"
    contingency_amount  "Contingency"         =  round_near(contingency of direct, to: $0.01)
    overhead_amount     "Overhead"
        =  round_near(overhead of (direct + escalation_amount + contingency_amount), to: $0.01)
    before_profit       "Cost with overhead"  =  direct + escalation_amount + contingency_amount + overhead_amount
    profit_amount       "Profit"              =  round_near(before_profit * margin / (100% - margin), to: $0.01)
                                                     when margin is given,
                                                 round_near(profit of before_profit, to: $0.01) otherwise
    allowances          "Allowances"          =  sum of sums (amount) where stands_alone
    bond_amount         "Bond"                =  round_near(bond of (before_profit + profit_amount + allowances),
                                                            to: $0.01)
    price_tax_amount    "Tax in the price"
        =  round_near((before_profit + profit_amount + allowances + bond_amount) * price_tax / (100% - price_tax),
                      to: $0.01)
    total               "Total"
        =  before_profit + profit_amount + allowances + bond_amount + price_tax_amount

    check tee_section_known  tee_section is given  else notes
        "Tees were held against the tested table alone; their bending and deflection were not checked, since no tee section is named."
    check strongback_section_known  strongback_section is given  else notes
        "The bending of strongbacks between their wires was not checked, since no strongback section is named."
    check one_profit  profit = 0% or margin is not given  else warns
        "Both Profit ({profit}) and Margin ({margin}) are given; Margin serves. Leave one of them out."
end

-- ---- examples, each worked by hand

example "what serves which board, wall and deck"
    shows  board_code(kind: "rated", thickness: 5/8") = "GB-58X"   wall_fastening(wall: "masonry") = "AN"
    shows  deck_fixing_anchor(deck: "wood") = "WA-W"   deck_words(deck: "steel") = "anchors clamped or shot to steel"
end

example "14 by 20 ft, one strongback, free ends"
    rooms  id "101"  length 20'  width 14'
    shows  strongbacks = 1   part = 7'   spacing = 24"   tees = 9   wires = 5   grid_saved = 10
end

example "the same with fixed ends, at 16 in., and in SDC D"
    rooms  id "101"  length 20'  width 14'  ends fixed
    shows  wires = 4
end

example "19 ft in SDC D, both ends free"
    -- The last tee is 12 in. off the far wall: 228 - 24 - 12 = 192 in. at 36 is 5.3, 6 spaces, 7 wires.
    rooms  id "101"  length 19'  width 14'  sdc D
    shows  wires = 7
end

example "the far end fixed"
    -- Its first wire may be 36 in. off: 228 - 24 - 36 = 168 in. is 4.7, 5 spaces, 6 wires.
    rooms  id "101"  length 19'  width 14'  sdc D  far_end fixed
    shows  wires = 6
end

example "17 ft, the near end fixed"
    -- 8 tees, the last 12 in. off: 204 - 36 - 12 = 156 in. at 36 is 4.3, 5 spaces, 6 wires.
    rooms  id "101"  length 17'  width 14'  sdc D  ends fixed  far_end free
    shows  wires = 6
end

example "17 ft, the far end fixed"
    -- 204 - 24 - 36 = 144 in. at 36 is 4 spaces, 5 wires.
    rooms  id "101"  length 17'  width 14'  sdc D  far_end fixed
    shows  wires = 5
end

example "the same at 16 in. o.c."
    rooms  id "101"  length 20'  width 14'  spaced 16"
    shows  tees = 14   wires = 6
end

example "the same in SDC D"
    rooms  id "101"  length 20'  width 14'  sdc D
    shows  wires = 7
end

example "a room with two openings"
    rooms     id "102"  length 12'  width 7'
    openings  long 4'  wide 2'  many 2
    openings  long 2'  wide 2'
    shows     strongbacks = 0   spacing = 24"   open_area = 20 sf   board_area = 64 sf   trim = 32'
end

example "board laid out over 14 by 20 ft"
    -- Tees 24 in. o.c., rows of 4, 4, 4 and 2 ft. Of 10 ft sheets: 10 + 10 ft, and begun with half of one 4 + 10 + 6 ft.
    -- Three rows: five whole, and 6 + 4 ft from a sixth; the 2 ft row, 10 and 6 + 4 ft, is ripped from one: 7 sheets, no
    -- waste. Joints: 3 x 20 ft along, ends 4 + 8 + 4 + 2 x 2 ft, and 68 ft of walls. On a tee 47-1/4 in. at 12 in.: 5 screws,
    -- 3 in the last row. 9 tees, 2 walls, and each joint once more: 12 + 13 + 12 lines of 5 and 13 of 3: 224 screws.
    rooms  id "1"  length 20'  width 14'
    shows  reckoned = "sheet by sheet"   sheet = 10'   sheets = 7   board_bought = 280 sf   taped = 148'
           board_count(boards, of: "screw") = 224
end

example "the same where the house stocks 12 ft sheets"
    -- 12 + 8 ft, and 6 + 12 + 2 ft. Three rows: 12 three times, 8 + 2, 8, and 6 ft: 6 sheets. The 2 ft row: strips of 12 and
    -- of 6 + 2 ft from one: 7 of 48 sf.
    rooms  id "1"  length 20'  width 14'
    job    sheet_lengths "12'"
    shows  sheet = 12'   sheets = 7   board_bought = 336 sf   board_area = 280 sf
end

example "an opening in which a sheet falls out"
    -- The second row's 10 ft piece lies from 4 to 14 ft, between 4 and 8 ft of the run.
    rooms     id "1"  length 20'  width 14'
    openings  long 10'  wide 4'  from_west 4'  from_south 4'
    shows     sheet = 10'   sheets = 6
end

example "a cut-off that gives the last row"
    -- 6 ft of a 12 ft sheet are the first row, and the other 6 ft give the 12 in. strip.
    rooms  id "1"  length 6'  width 5'
    shows  sheet = 12'   sheets = 1   board_bought = 48 sf
end

example "board of an L, by area"
    -- 20 x 14 less 8 x 8 ft: 216 sf.
    rooms  id "1"  perimeter "20' E, 6' N, 8' W, 8' N, 12' W, 14' S"
    shows  reckoned = "by area"   sheets = 0   board_bought = 216 sf
end

example "8 ft 6 parts, one layer of 5/8 in.: a wire is over 100 lb"
    -- 17 ft takes one strongback, two parts of 8'-6", tees 16 in. o.c.; 1.25 x 8.5 x 4 x 2.75 = 116.875 lb.
    rooms  id "1"  length 20'  width 17'
    shows  strongbacks = 1   spacing = 16"   weight = 2.75 psf   on_a_wire = 116.875 lb
end

example "the same where the house closes its wires"
    -- 4 ft x 100 / 116.875 = 3.42 ft, down to 3 ft: 87.65625 lb. Free ends, first tee 16 in., 240 = 14 x 16 + 16 in.:
    -- 208 in. at 36 in. is 5.8, 6 spaces, 7 wires.
    rooms  id "1"  length 20'  width 17'
    job    close_wires yes
    shows  wire_every = 3'   wires = 7   on_a_wire = 87.65625 lb
end

example "a section that bends too much under 5/8 in. board"
    -- 2.75 psf at 16 in. is 3 2/3 plf, .30556 lb/in.: the cube root of 384 x 29.5e6 x .0086 / (5 x .30556 x 240) =
    -- 265,693 is 64.3 in., well below 8'-6"; bending is the root of 8 x 316.17 / .30556 = 8,278, 91.0 in.
    -- A run of 10 ft is 120 in.: one strongback, parts of 5 ft.
    rooms  id "1"  length 12'  width 10'
    job    tee_section "087F125-18"
    shows  strongbacks = 1   part = 5'   spacing = 16"   governed_by = deflection   tested = 8'-6"
end

example "two layers and insulation"
    -- 2 x 2.75 + 1.5 = 7 psf; the tested table has no row for two layers, so nothing more is known.
    rooms  id "1"  length 12'  width 7'  layers 2  insulation 1.5 psf
    shows  weight = 7 psf   board_area = 168 sf   face_area = 84 sf
end

example "what is asked in an earthquake"
    -- 40 x 30 ft is 1,200 sf; hung in SDC D, and not surrounded.
    rooms  id "1"  length 40'  width 30'  sdc D  surrounded no
    shows  strongbacks = 3   seismic = "lateral bracing"   joints = 30'
end

example "lights of 4 by 2 ft, along the tees and turned"
    -- Tees 24 in. o.c. Along them: 2 ft across cuts one tee each, headers of 4 ft, two trimmers of 4 ft; three lights:
    -- 3 x 2 x (2 + 2 + 1) = 30 screws, 3 x (2 x 4 + 2 x 4) = 48 ft of tee. Turned: 4 ft across cuts two, headers of 6 ft.
    rooms     id "1"  length 14'  width 7'
    openings  long 4'  wide 2'  many 3
    shows     (sum of openings (cut)) = 3   (sum of openings (headers)) = 6   (most of openings (header)) = 4'
    shows     (sum of openings (sides)) = 6   (sum of openings (screws)) = 30   (sum of openings (pieces_of_tee)) = 48'
              trim = 36'
end

example "a light turned across the tees"
    rooms     id "1"  length 14'  width 7'
    openings  long 4'  wide 2'  turned yes
    shows     (sum of openings (cut)) = 2   (most of openings (header)) = 6'   (sum of openings (screws)) = 12
end

example "an opening flushed with rips of board"
    -- 12 ft of rips 1-13/16 in. high are 1.8125 sf.
    rooms     id "1"  length 14'  width 7'
    openings  long 4'  wide 2'  flush board
    shows     trim = 0 ft   rips = 1.8125 sf
end

example "a soffit with one free end"
    -- 16'-8" is 200 in.: 9 spaces of 24 in., 8 tees and one at each end. 3 x 10 screws, and 10 at the wall.
    -- Bead: 200 + 14 + 24 = 238 in. Channel would take 200 / 48, so 5 supports.
    rooms    id "1"  length 17'  width 7'
    soffits  reach 16'-8"  drop 14"  return 2'  other_end free
    shows    (sum of soffits (lines)) = 10   (sum of soffits (soffit_screws)) = 40   (sum of soffits (corner)) = 19'-10"
    shows    (sum of soffits (saved)) = 5
end

example "a soffit along the south wall takes its place from the ceiling"
    -- 20 x 14 ft less 16 2/3 x 2 ft: 246 2/3 sf.
    rooms    id "1"  length 20'  width 14'
    soffits  reach 16'-8"  drop 14"  return 2'  other_end free  along_wall "south"
    shows    (gross * 3) = 740 sf
end

example "a soffit from wall to wall"
    -- The ceiling is 18 x 14 ft, and its tees are counted from the soffit: 9 spaces of 24 in.
    rooms    id "1"  length 20'  width 14'
    soffits  reach 14'  drop 14"  return 2'  along_wall "west"
    shows    gross = 252 sf   along = 18'   tees = 8   reckoned = "sheet by sheet"
end

example "4 in. below the deck"
    -- 16 x 12 ft: one strongback, 7 tees, the first and the last 2 ft off: 12 ft at 4 ft is 3 spaces, 4 clips. Furring shot to
    -- the deck: 192 - 4 = 188 in. at 24 is 7.8, 8 spaces, 9 lines of 12 ft with 7 fixings: 63, so 59 are saved.
    rooms  id "1"  length 16'  width 12'  hang 4"
    shows  strongbacks = 1   wires = 0   clips = 4   shots_saved = 59   anchors = "clips to the deck"
end

example "1/16 in. too far for clips"
    rooms  id "1"  length 16'  width 12'  hang 5-9/16"
    shows  wires = 4   clips = 0   shots_saved = 0
end

example "two layers on channel with furring"
    -- 5.5 psf at 24 in. is 11 plf; furring may carry 23.4. Runners across 8 ft: 84 in. at 36 is 2.3, 3 spaces, 4 runners. Hangers
    -- along 10 ft: 108 in. at 48 is 2.25, 3 spaces, 4; 4 x 4. Each 66 lb: 5.5 x 3 x 4.
    rooms  id "1"  length 10'  width 8'  layers 2  wanted "channel"
    shows  spacing = 24"   limit = 36"   wires = 16   on_a_wire = 66 lb
end

example "a house that cuts its tees 1/4 in. short"
    -- 9 x 167 3/4 in.
    rooms  id "1"  length 20'  width 14'
    job    end_clearance 1/4"
    shows  (laid_length(frame, of: "tee")) = 125'-9 3/4"
end

example "an L against a hung grid"
    -- Strongbacks at 7'-6", 15' and 22'-6" lie in the leg alone, 6 ft each, tees 2 ft off its walls: 2 wires each, 6. A hung
    -- grid has a main of 40 ft, 10 wires, and six of 6 ft, 2 wires each: 22.
    rooms  id "1"  perimeter "40' E, 30' N, 6' W, 24' S, 34' W, 6' S"
    shows  strongbacks = 3   wires = 6   grid_saved = 16
end
