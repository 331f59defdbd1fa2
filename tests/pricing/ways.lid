-- A small book of our own: tees every foot or so across a room, held up in three ways. Every figure in the tests that use
-- it follows from these lines: for a run of r feet
--     wall to wall       10 r
--     over strongbacks   10 r + 4 wires at $3 + 2 x 0.5 hr at $40  =  10 r + 52
--     hung grid           5 r + 8 wires at $3 + 4 x 0.5 hr at $40  =   5 r + 104
-- and a tee may span 8 ft: wall to wall to 8 ft, strongbacks to 16 ft, a grid to 24 ft.
book "Ways to hang"  edition "1"
use "hardlid trade"

rows rooms  from "Rooms"
    id      text    heading "Room"            key
    length  length  above 0
    width   length  above 0
    wanted  text    heading "Scheme wanted"   may be blank
    hang    length  otherwise 18"
end

for rooms
    run  "Tee run"  =  shorter(length, width)

    options scheme  "Scheme"
        straight     "Wall to wall",
        strongbacks  "Over strongbacks",
        hung_grid    "Hung grid"   only when hang >= 4"
        named by wanted
        showing wires, part

    supports  "Support lines"  =  0 when scheme is straight, 1 when scheme is strongbacks, 2 otherwise
    part      "Longest part"   =  run / (supports + 1)
    wires     "Wires"          =  supports * 4

    check span  part <= 8'  else stops  "A tee would span {part} ({scheme})."

    item tee   "Tees"          code "G" when scheme is hung_grid, "T" otherwise   need run * 10
    item wire  "Wire"          code "W"                                           need wires
    labor set  "Set supports"  code "L"                                           need supports * 2
end

for job
    total  =  sum of lines (cost)
end
