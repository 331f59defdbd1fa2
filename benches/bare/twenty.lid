book "twenty formulas"  edition "1"

-- What the benches work out for each room; hand.rs holds the same twenty by hand.

table limit_of  "Tested span"  source practice
    spacing length, up to | board length, exact | layers count, exact | limit length
    16"                   | 5/8"                | 1                   | 8'-6"
    16"                   | 5/8"                | 2                   | 7'
    16"                   | 1/2"                | 1                   | 9'
    16"                   | 1/2"                | 2                   | 7'-9"
    24"                   | 5/8"                | 1                   | 7'-6"
    24"                   | 5/8"                | 2                   | 6'-3"
    24"                   | 1/2"                | 1                   | 8'
    24"                   | 1/2"                | 2                   | 6'-9"
end

table wires_at  "Wire spacing"  source practice
    sdc text, exact | spacing length
    A               | 4'
    B               | 4'
    C               | 4'
    D               | 3'
    E               | 3'
    F               | 3'
end

rows rooms  from "Rooms"
    id       text    heading "Room"           key
    name     text    heading "Name"           may be blank
    level    text    heading "Level"          may be blank
    length   length  heading "Length"
    width    length  heading "Width (ft)"
    height   length  heading "Height (ft)"
    sdc      text    heading "SDC"            one of A B C D E F
    board    length  heading "Board (in)"
    layers   count   heading "Layers"         from 1 to 3
    spaced   length  heading "Spacing (in)"
    hang     length  heading "Drop"
    rate     $/ft    heading "Rate ($/ft)"
end

for rooms
    run         =  shorter(length, width)
    along       =  longer(length, width)
    around      =  2 * (length + width)
    gross       =  length * width
    walls       =  around * height
    limit       =  limit_of(spacing: spaced, board: board, layers: layers)
    parts       =  longer(round_up(run / limit), 1)
    clear       =  round_up(run / parts, to: 1/16")
    pitch       =  spaced when clear > limit - 4", 24" when clear <= 6', 16" otherwise
    tees        =  longer(round_up(along / pitch) - 1, 0)
    last_tee    =  along - tees * pitch
    every       =  wires_at(sdc: sdc)
    wires       =  (parts - 1) * (longer(round_up((along - pitch - last_tee) / every), 0) + 1)
    wire        =  wires * hang
    board_area  =  gross * layers
    sheets      =  round_up(board_area / 48 sf)
    screws      =  round_up(board_area * (1000 ea / 1000 sf))
    tape        =  board_area * (380 ft / 1000 sf)
    tee_cost    =  tees * run * rate
    cost        =  round_near(tee_cost + sheets * $14.85 + wires * $0.62, to: $0.01)
end
