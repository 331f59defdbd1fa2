book "hardlid ceilings"  edition "1"
use "hardlid trade"

-- What is read, worked out, checked, bought and done for flat ceilings and soffits, for jobs without rules of their own.
-- A company's book may begin with: use "hardlid ceilings", and replace what its own rules say otherwise.
-- Span checks are an estimating aid: the manufacturer's tested tables, local codes and licensed practice govern.

rows job  from "Job"
    project      text     heading "Project" or "Job"                                 may be blank
    location     text     heading "Location" or "Address"                            may be blank
    bid_to       text     heading "Bid to" or "Customer"                             may be blank
    drawings     text     heading "Drawings" or "Drawings dated"                     may be blank
    tax          percent  heading "Sales tax" or "Tax"                               from 0% to 100%  otherwise 0%
    freight      percent  heading "Freight"                                          from 0% to 100%  otherwise 0%
    contingency  percent  heading "Contingency"                                      from 0% to 100%  otherwise 0%
    overhead     percent  heading "Overhead"                                         from 0% to 100%  otherwise 0%
    profit       percent  heading "Profit" or "Profit (markup)" or "Profit as markup"  from 0% to 500%  otherwise 0%
    margin       percent  heading "Margin" or "Profit (margin)" or "Profit as margin"  at least 0%  below 100%  may be blank
    bond         percent  heading "Bond"                                             from 0% to 100%  otherwise 0%
end

rows rooms  from "Rooms"
    id       text     heading "Room" or "Rm" or "Room no." or "Room number"       key
    name     text     heading "Name" or "Room name" or "Description"              may be blank
    level    text     heading "Level" or "Floor"                                  may be blank
    length   length   heading "Length" or "L"                                     above 0
    width    length   heading "Width" or "W"                                      above 0
    sdc      text     heading "SDC" or "Seismic category"                         one of A B C D E F  otherwise B
    board    length   heading "Board" or "Board thickness"                        above 0             otherwise 5/8"
        shown in in
    layers   count    heading "Layers"                                            from 1 to 3         otherwise 1
    spaced   length   heading "Spacing wanted" or "Tee spacing"                   above 0             may be blank
    ends     text     heading "Strongback ends" or "Ends"                         one of free fixed   otherwise free
    hang     length   heading "Drop" or "Hanger length"                           above 0             otherwise 18"
end

rows openings  from "Openings"  belong to rooms by "Room" or "Rm" or "Room no."
    what     text     heading "Opening" or "Kind"                                 may be blank
    long     length   heading "Long" or "Length"                                  above 0
    wide     length   heading "Wide" or "Width"                                   above 0
    many     count    heading "Many" or "Count" or "Qty"                          otherwise 1
end

rows soffits  from "Soffits"  belong to rooms by "Room" or "Rm" or "Room no."
    reach    length   heading "Run" or "Length"                                   above 0
    drop     length   heading "Drop" or "Height"                                  above 0
    return   length   heading "Return" or "Depth"                                 above 0
    spaced   length   heading "Tee spacing"                                       above 0             otherwise 24"
    closed   count    heading "Closed ends" or "Free ends"                        from 0 to 2         otherwise 0
end

for openings
    open_area    "Open area"      =  long * wide * many
    trim         "Opening trim"   =  trim_length(long: long, wide: wide, many: many)
end

for soffits
    face         "Soffit board"   =  reach * (drop + return) + closed * drop * return
    lines        "Soffit tees"    =  tee_count(along: reach, spacing: spaced) + 2
    return_limit "Tested return"  =  tested_span(spacing: spaced)

    check soffit_return  return <= return_limit  else stops
        "A soffit return of {return} is over the tested {return_limit} at {spaced} o.c. without support to structure."
        source practice

    item drop_tee     "Soffit drop tee"              code "ST"     cut lines, each drop
    item return_tee   "Soffit return tee"            code "ST"     cut lines, each return
    item soffit_tabs  "Tabbed angle at soffit wall"  code "TA"     need reach
    item soffit_angle "Plain angle at soffit"        code "PA"     need 2 * reach
    item soffit_board "Soffit board"                 code "GB-58"  need face
    item bead         "Corner bead"                  code "CB"     need reach + closed * (drop + return)
    item bend_screws  "Framing screws at soffit"     code "SF"     need 3 * lines
    labor soffit      "Frame soffit"                 code "L-SOF"  need reach
    labor soffit_hang "Hang and finish soffit board" code "L-BRD"  need face
end

for rooms
    run          "Tee run"         =  shorter(length, width)
        "Tees run across the short side."
    along        "Tee wall"        =  longer(length, width)
    strongbacks  "Strongbacks"     =  support_lines(run: run, limit: tested_span(spacing: 16", board: board, layers: layers))
        "As many as keep each part of the run within the tested span at 16 in. o.c."
        source practice
    part         "Clear span"      =  run / (strongbacks + 1)
    wide_limit                     =  tested_span(spacing: 24", board: board, layers: layers)
    spacing      "Tee spacing"     =  spaced when spaced is given,
                                      24" when part <= wide_limit,
                                      16" otherwise
        shown in in
    limit        "Tested span"     =  tested_span(spacing: spacing, board: board, layers: layers)
    tees         "Tees"            =  tee_count(along: along, spacing: spacing)
    last_tee     "Last space"      =  last_space(along: along, spacing: spacing)
    wire_every   "Wire spacing"    =  wire_spacing(sdc: sdc)
    wires        "Hanger wires"    =  strongbacks * (hanger_count(along: along, every: wire_every) when ends is fixed,
                                                     hanger_count(along: along, every: wire_every, first: spacing, last: last_tee) otherwise)
    tabbed       "Tabbed angle"    =  angle_length(along: along)
    plain        "Plain angle"     =  angle_length(along: run)
    gross        "Ceiling area"    =  length * width
    open_area    "Openings"        =  sum of openings (open_area)
    board_area   "Board"           =  (gross - open_area) * layers
    trim         "Opening trim"    =  sum of openings (trim)
    grid_saved   "Wires saved against a hung grid"
                                   =  grid_mains(across: run) * grid_wires(along: along) - wires

    check span  part <= limit  else stops
        "A tee would span {part}; the tested limit at {spacing} o.c. is {limit}."
        source practice
    check tab_pitch  round_near(spacing, to: 8") = spacing  else warns
        "Tees at {spacing} o.c. do not fall on the tabs, which are 8 in. o.c."
        source practice
    check openings_fit  open_area <= gross  else stops
        "The openings take {open_area} of a ceiling of {gross}."
    check hangs_free  strongbacks = 0 or hang <= 10'  else warns
        "Wires {hang} long: look at bracing and at what is above."

    item tee         "Span tee"                  code "ST"     cut tees, each run - 1/8"
    item tabs        "Tabbed angle"              code "TA"     need tabbed
    item angle       "Plain angle"               code "PA"     need plain
    item strongback  "Strongback"                code "SB"     need strongbacks * along
    item wire        "Hanger wire"               code "HW-12"  need wires * hang
    item anchor      "Wire anchor"               code "WA"     need wires
    item wall_screw  "Framing screws at walls"   code "SF"     need 2 * wall_screws(along: along) + 2 * wall_screws(along: run)
    item board       "Gypsum board"              code "GB-12" when board = 1/2", "GB-58" otherwise
                                                               need board_area
    item screws      "Board screws"              code "SB-114" need board_screws(board_area)
    item tape        "Joint tape"                code "JT"     need joint_tape(board_area)
    item compound    "Joint compound"            code "JC"     need joint_compound(board_area)
    item opening     "Plain angle at openings"   code "PA"     need trim
    labor frame      "Frame tees"                code "L-TEE"  need tees * run
    labor support    "Hang strongbacks"          code "L-SB"   need strongbacks * along
    labor cut_in     "Frame openings"            code "L-OPN"  need sum of openings (many)
    labor hang_board "Hang and finish board"     code "L-BRD"  need board_area
end

for job
    material         "Material"        =  sum of lines (cost) where kind is material
    labor            "Labor"           =  sum of lines (cost) where kind is labor
    tax_amount       "Sales tax on material"  =  round_near(tax of material, to: $0.01)
    freight_amount   "Freight"         =  round_near(freight of material, to: $0.01)
    direct           "Direct cost"     =  material + labor + tax_amount + freight_amount
    contingency_amount "Contingency"   =  round_near(contingency of direct, to: $0.01)
    overhead_amount  "Overhead"        =  round_near(overhead of (direct + contingency_amount), to: $0.01)
    before_profit    "Cost with overhead"  =  direct + contingency_amount + overhead_amount
    profit_amount    "Profit"          =  round_near(before_profit * margin / (100% - margin), to: $0.01) when margin is given,
                                          round_near(profit of before_profit, to: $0.01) otherwise
    bond_amount      "Bond"            =  round_near(bond of (before_profit + profit_amount), to: $0.01)
    total            "Total"           =  before_profit + profit_amount + bond_amount

    check one_profit  profit = 0% or margin is not given   else warns
        "Both Profit ({profit}) and Margin ({margin}) are given; Margin serves. Leave one of them out."
end

example "14 by 20 ft, one strongback, free ends"
    rooms  id "101"  length 20'  width 14'
    shows  strongbacks = 1   part = 7'   spacing = 24"   tees = 9   wires = 5   grid_saved = 10
end

example "the same with fixed ends, at 16 in., and in SDC D"
    rooms  id "101"  length 20'  width 14'  ends fixed
    shows  wires = 4
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
    shows  strongbacks = 0   spacing = 24"   open_area = 20 sf   board_area = 64 sf   trim = 32'
end
