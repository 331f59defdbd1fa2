define support_reaction(load plf, span length, spans count) weight  =  beam_reaction(spans) * load * span
    "What a tee puts on a middle support: 10/8 of the load of one span where two spans meet, 1.1 where there are three."
    "One span has no middle support: half of its load at each end."
    source "beam tables"
define simple_span_limit(load psf, spacing length, ix in^4, e ksi otherwise 29500 ksi,                         ratio number otherwise 240) length
    =  cube_root(384 * e * ix / (5 * tee_load(weight: load, spacing: spacing) * ratio))
    "The single span at which deflection reaches span / ratio: (384 E I / (5 w ratio))^(1/3), not rounded."
    "The published table prints it to the nearest inch. 240 is for gypsum board, 360 is stricter."
    source "SSMA Product Technical Guide 2022"
define angle_pieces(along length, stock length) count  =  pieces(need: along + 4", stock: usable_angle(stock))
    "Pieces that stand on one bearing wall, the closing piece among them. The first is cut 4 in. short, at its first tab;"
    "those that follow carry the 8 in. pitch on, so each takes a whole number of tabs of the wall. 20 ft of 10 ft stock:"
    "116 in., 120 in., and 4 in. that close."
    source practice
table e
    v number
    1
    2
end
-- ---- sections: a company adds the sections that it buys, as their makers publish them
example "control joints"
    -- A corridor of 46'-6" takes one across its 6 ft. 61 by 31 ft takes two of 31 ft and one of 61 ft: 123 ft; with
    -- relief one of 31 ft.
    shows  control_joints(long: 46'-6", wide: 6') = 6'   control_joints(long: 30', wide: 30') = 0 ft
    shows  control_joints(long: 61', wide: 31') = 123'   control_joints(long: 61', wide: 31', relief: yes) = 31'
end
define angle_length(along length) length  =  2 * along
    "Tabbed angle on the two walls that the tees bear on; also plain angle on the other two."
    source practice
