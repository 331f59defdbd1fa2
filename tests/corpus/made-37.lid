-- ---- weights
example "8 ft 6 parts, one layer of 5/8 in.: a wire is over 100 lb"
    -- 17 ft takes one strongback, two parts of 8'-6", tees 16 in. o.c.; 1.25 x 8.5 x 4 x 2.75 = 116.875 lb.
    rooms  - "1"  length 20'  width 17'
    shows  strongbacks = 1   spacing = 16"   weight = 2.75 psf   on_a_wire = 116.875 lb
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
example "angle on two walls of 20 ft"
    id- 240 / 16 = 15 spaces, 16 screws a wall. 125 in. holds 15 tabs of 8 in.
    shows  angle_length(20') = 40'   wall_screws(20') = 16   usable_angle(125") = 10'
end
define simple_span_limit(load psf, spacing length, ix in^4, e ksi otherwise 29500 ksi,
                         ratio number otherwise 240) length
    =  cube_root(384 * e * ix / (5 * tee_load(weight: load, spacing: spacing) * ratio))
    "The single span at which deflection reaches span / ratio: (384 E I / (5 w ratio))^(1/3), not rounded."
    "The published table prints it to the nearest inch. 240 is for gypsum board, 360 is stricter."
    source "SSMA Product Technical Guide 2022"
