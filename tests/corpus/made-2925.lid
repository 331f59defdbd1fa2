==== layer 0
book "Book 0"  edition "3"
use "hardlid trade"
rows rooms  from "Rooms"
    id text key
    one_1 yes/no
end
define d2(p0 date, p1 money, p2 $/ft) plf  =  ((33.5 plf * 7000) - (8.5 plf / 2.25))
define d3(p0 count, p1 yes/no, p2 text otherwise "rated", p3 money) date  =  2026-11-25  source practice
        "What it is for."
define d4(p0 yes/no, p1 psf, p2 number, p3 money) area  =  ((24 sf / p2) + (2 sf when yes, 7 CSF otherwise))  source practice
        "What it is for."
table t5 "A table"  source practice
    k0 number, from | k1 text, exact | k2 number, exact | got count
    1 | rated | 1 | 0
    2 | A | 2 | 3
    3 | B | 3 | 4
    4 | grid | 4 | 3
    5 | free | 5 | 4
end
table t6 "A table"
    k0 number, exact | k1 length, between | got weight
    1 | 8" | 13 lb
    2 | 16" | 31 lb
    3 | 24" | 14 lb
    4 | 32" | 11 lb
    5 | 40" | 2 lb
end
for rooms
    options way "Way" way_0 "Way way_0", way_1 "Way way_1" only when (3 <= 2)
    g7  =  10%  source practice
    g8  =  ((2 hr - (29 hr + 39 hr)) - (-(-15 hr)))  source "a handbook, table 3"
    g9 "Label g9"  =  g7  accepted "as it is"
        "What it is for."
    check c10 (not (way is way_0)) else stops
    check c11 ((one_1 is given) and (no when one_1, one_1 otherwise)) else notes
    item i12 "Thing i12" code "ST" need (((7 lb / 11000) / (2.5) ^ -1) / round_near(round_down(21000, to: 21.5), to: 33)) waste 7.5%
end

==== layer 1
book "Book 1"  edition "1"
use "layer 0"
define d13(p0 percent, p1 number otherwise 16) date  =  2024-02-29 when ((3 * 3) >= t5(k0: p1, k1: "grid", k2: p1)), 2024-02-29 when (($24.72/ft * 1/2") >= ($3.55/ft * 1/2")), 2026-03-01 otherwise
define d14(p0 hours, p1 plf otherwise 24.5 plf, p2 date) yes/no  =  ((no and yes) and (3 < 4))
        "What it is for."
table t15 "A table"
    k0 psf, up to | k1 psf, exact | k2 number, exact | got length
    1.5 psf | 1.5 psf | 1 | 2.4 m
    2.5 psf | 2.5 psf | 2 | 12'
    3.5 psf | 3.5 psf | 3 | 600 mm
    4.5 psf | 4.5 psf | 4 | 5/8"
    5.5 psf | 5.5 psf | 5 | 1/2"
    6.5 psf | 6.5 psf | 6 | 1/2"
end
for rooms
    check c16 (("regular" is one of regular rated A) when (way is way_1), ("free" is one of regular rated A B) when ((8½" when one_1, 24" otherwise) <= (24" * 19)), (not d14(p0: g8, p1: 23.5 plf, p2: 2026-03-01)) when (0.9 psf >= 4.7 psf), (5.8 psf is given) when (not (way is way_0)), (d14(p0: g8, p2: 2026-03-01) when (not one_1), one_1 otherwise) otherwise) else stops
        "It is {g9}."
    item i17 "Thing i17" code "XX" need t5(k0: 12.5, k1: "B", k2: 13.125)
    replace item i12 "Thing i12" code "XX" need (d4(p0: (16 sf <= 24 sqm), p1: (9.9 psf * 8000), p2: square_root(4.25), p3: ($3.98 / 32.125)) when ((30000 = 10.25) when ("regular" is one of regular rated A), (way is way_0) otherwise), round_down(1 sf, to: 28 sf) otherwise) only when (("grid" is "free") and (17 sf >= 23 sf))
    item i18 "Thing i18" code "AN" need t5(k0: (((29 sqm * 9.125) / t15(k0: 0.1 psf, k1: 0.0 psf, k2: 2.25)) / ((4 ft * 8) - (1/2" - 8½"))), k1: "grid", k2: ((round_down(38.125, to: 38) + (3.125 when one_1, 16.25 otherwise))) ^ 3)
end
for job
    j1_0 "Figure 0"  =  count of rooms
    j1_1 "Figure 1"  =  sum of lines (cost) where kind is material
end
example "case 18"
    rooms  id "0"  one_1 no
    rooms  id "1"  one_1 yes
    shows g7 = 0%
    shows g8 = 16 hr
    shows g7 = 0%
end
example "case 18"
    shows ("B") = "moisture"
    shows ((38 hr + 17 hr) when (16 lb is given), (0 hr - 34 hr) otherwise) = 8 hr
end
example "case 18"
    rooms  id "0"  one_1 no
    shows g9 = 10%
    shows ((2026-03-01 is not 2026-03-01)) = no
end

==== layer 2
book "Book 2"  edition "9"
use "layer 0"
use "layer 1"
define d19(p0 weight, p1 hours otherwise 22 hr, p2 weight, p3 $/ft) area  =  shorter((35 sf / 24000), (10'-3 1/2" * 10'-3 1/2")) when ("regular" is "north"), round_near(10 CSF, to: 18 sf) when yes, 6 sqm when no, 8 CSF when yes, 9 sf otherwise  source "a handbook, table 3"
define d20(p0 psf) count  =  (2 * 1)
for rooms
    g21 "Label g21"  =  ("moisture" is "A")
    replace g8 "Label g8"  =  (-longer((15 hr / 23), (22 hr * 37.5)))  source "a handbook, table 3"
        "What it is for."
    g22 "Label g22"  =  2026-03-01 when ((0.8 psf is not 7.0 psf) or ("rated" is "B")), 2026-03-01 otherwise
    g23  =  g22
    g24 "Label g24"  =  longer((g7 of (($7.93 when one_1, $39.64 otherwise) / shorter(24", 8½"))), ((($25.13/MLF * 8½") / 16") / 27))  source practice
    check c25 (g9 is given) else notes
    check c26 (d14(p0: longer(g8, g8), p2: g22) when ("regular" is "north"), ((yes or one_1) when ($2.38 = $37.72), (g21 or g21) otherwise) when ((way is way_0) when d14(p0: g8, p1: 23.5 plf, p2: g23), (one_1 when g21, g21 otherwise) otherwise), ("grid" is one of regular rated A B) when ("A" is "free"), ((g24 is given) and (23.25 > 34000)) otherwise) else stops
    item i27 code "HW" cut (round_up((1 sqm / 5/8") / (-8½")) when (not d14(p0: 26 hr, p2: g23)), 2 when ("regular" is "regular"), round_up(8½" / 4 ft) otherwise), each (7 sf / 10'-3 1/2")
end
for job
    j2_0 "Figure 0"  =  ($23.26 / 8.125)
    j2_1 "Figure 1"  =  sum of lines (cost) where kind is material
end

==== 
book "Book 3"  edition "2"
use "layer 0"
use "layer 2"
define d28(p0 money) number  =  round_even(24.25, to: 13000)
define d29(p0 number, p1 length) psf  =  ((round_even(4.4 psf, to: 1.6 psf) / (-18.25)) / (square_root((p0 / p0))) ^ 0)
        "What it is for."
define d30(p0 weight, p1 count otherwise 0) yes/no  =  (($27.10 when no, $29.24 otherwise) = ($33.02 / 39.25)) when (yes is given), (($18.46/m is given) when (yes and no), (8½" is given) otherwise) when ((no or no) or (6 CSF is given)), (4.5 plf is given) when ((0% is given) and (yes and no)), (yes is given) when (not (5/8" = 2.4 m)), (d4(p0: no, p1: 8.6 psf, p2: 31.125, p3: $12.45) > d4(p0: no, p1: 5.4 psf, p2: 18000, p3: $21.74)) otherwise
table t31 "A table"
    k0 length, up to | got length
    8" | 12'
end
table t32 "A table"
    k0 length, exact | k1 text, exact | k2 psf, from | got text
    8" | rated | 1.5 psf | rated
    16" | A | 2.5 psf | grid
    24" | B | 3.5 psf | free
    32" | grid | 4.5 psf | A
end
for rooms
    g33  =  (g9 of longer(g8, 17 hr))
    replace g7 "Label g7"  =  (5% when yes, 0% otherwise)  accepted "as it is"
    item i34 code "GB" cut ((1 * 1) when ("rated" is "free"), (4 * 2) otherwise), each longer(t15(k0: 1.2 psf, k1: 3.6 psf, k2: 27.5), (1/2" when one_1, 2.4 m otherwise))
    item i35 "Thing i35" code "XX" need ((round_near(1/2", to: 12') * (18" / 26.5)) / shorter((18" / 16"), round_near(24.125, to: 26.25)))
end
example "case 35"
    shows (round_up((1/2" + 600 mm) / longer(24", 10'-3 1/2")) when ((13.25 > 11) or ($36.46 >= $32.40)), ((2 + 1) * (2 + 3)) when (not (2 <= 1)), 3 when yes, 3 otherwise) = 1
    shows ((($31.36/CLF / 4.125) * (16" when no, 2.4 m otherwise))) = $28.12
end

-- ---- sections: a company adds the sections that it buys, as their makers publish them
