==== layer 0
book "Book 0"  edition "7"
use "hardlid loads"
rows rooms  from "Rooms"
    id text key
    f1 text  one of regular rated A B grid free moisture north
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f2 psf  may be blank
    f3 weight
    f4 yes/no
    f5 money  below $17.84
    f6 number  heading "Heading 6" or "H6"  may be blank
    f7 psf  at least 7.4 psf
end
define d8(p0 area) money  =  (($22.25/ft when no, $29.89/ft otherwise) * (p0 / 18")) when ("free" is one of regular rated), (-$7.98) when yes, $28.73 when no, $12.69 otherwise
define d9(p0 percent, p1 plf) length  =  (round_up(2 sf, to: 20 sf) / (-1/2")) when ("north" is given), ((12' / 10) when (yes or no), (10% of 8½") otherwise) otherwise
table t10 "A table"  source practice
    k0 text, exact | got money
    regular | $5.82
    rated | $2.01
    A | $16.56
    B | $35.40
    grid | $9.96
    free | $36.85
end
table t11 "A table"  source practice
    k0 length, from | k1 length, exact | got count
    8" | 8" | 2
end
for openings
    g12  =  ((-24") when (4 = 1), (8½" - 8½") otherwise)
        "What it is for."
    g13  =  longer(36.25, f6)  source practice
    g14  =  (22 sf + 4 CSF)
    g15  =  (longer(2.4 m, 12') when (f1 is "A"), (g12 when f4, g12 otherwise) otherwise)
    g16  =  7.5%
    g17 "Label g17"  =  (f2 * 8½")
    check c18 ((($33.34/MLF * g12) <= ($20.22/ft * 24")) when (not (f4 when yes, f4 otherwise)), f4 when f4, f4 when no, f4 otherwise) else warns
        "It is {g17}."
end
for rooms
    g19  =  2026-11-25 when ((32000 > 17.5) when (all of openings (f4)), (any of openings (f4)) otherwise), 2026-03-01 otherwise
        "What it is for."
    g20  =  f1 when ((yes when yes, yes otherwise) and (f1 is "moisture")), f1 when ((no when no, no otherwise) and (no and yes)), "regular" when ((8.1 psf = 3.3 psf) when (1/2" is not 8½"), (33.5 plf is given) otherwise), f1 otherwise  source "a handbook, table 3"
    g21 "Label g21"  =  g19
    g22  =  d9(p0: 5%, p1: 25.5 plf)
    g23 "Label g23"  =  2026-03-01  source "a handbook, table 3"
    g24 "Label g24"  =  (-((($1.65/m * 35.125) - ($14.36/m - $39.77/m)) / round_up((8.125 / 35.25), to: 10.125)))
end
for job
    j0_0 "Figure 0"  =  count of rooms
end
example "case 24"
    shows (((26 sf when yes, 22 sqm otherwise) >= round_up(2 sqm, to: 39 sf)) when (t10(k0: "north") > ($19.88/CLF * 24")), (2026-03-01 >= 2026-03-01) otherwise) = no
    shows (t10(k0: "moisture")) = $27.64
end

==== layer 1
book "Book 1"  edition "5"
use "layer 0"
define d25(p0 date, p1 text) plf  =  ((longer(5.9 psf, 4.1 psf) + 8.6 psf) * 1/2")
define d26(p0 weight, p1 $/ft, p2 yes/no otherwise no) text  =  "free"  source "a handbook, table 3"
define d27(p0 count, p1 count, p2 hours, p3 money) count  =  round_up((((11000 / 29000) - round_up(33.5, to: 16.125)) - (-(29 - 23.25))))
for rooms
    check c28 (not no) else stops
        "It is {g24}."
    labor i29 code "L-BRD" need ((most of openings (shorter((g12 * g15), (g14 when f4, g14 otherwise)))) / (((1/2" when no, g22 otherwise) + (g22 when no, g22 otherwise)) + d9(p0: (10% when yes, 0% otherwise), p1: shorter(28.5 plf, 27.5 plf)))) rate 0.02 hr/ft
end
for openings
    check c30 (g15 is given) else warns
    labor i31 code "L-BRD" need round_up(shorter((f6 when yes, f6 otherwise), (g16 of g13))) rate 0.04 hr/ea
end
for job
    j1_0 "Figure 0"  =  sum of lines (cost) where kind is material
    j1_1 "Figure 1"  =  count of rooms
end

-- ---- examples, each worked by hand

==== 
book "Book 2"  edition "6"
use "layer 0"
use "layer 1"
table t32 "A table"
    k0 text, exact | k1 text, exact | got weight
    regular | rated | 1 lb
    rated | A | 2 lb
    A | B | 23 lb
    B | grid | 24 lb
    grid | free | 1 lb
end
table t33 "A table"
    k0 text, exact | k1 psf, exact | k2 psf, up to | got number
    regular | 1.5 psf | 1.5 psf | 15.5
    rated | 2.5 psf | 2.5 psf | 2000
    A | 3.5 psf | 3.5 psf | 24.5
end
for openings
    replace g13 "Label g13"  =  shorter(round_down(f6, to: 31), square_root(f6)) when ($36.80/MLF is given), (round_up(8'-6", to: 1/2") / d9(p0: 7.5%, p1: 6.5 plf)) when (2026-11-25 = 2026-03-01), (shorter(f6, 5000) when (28 sf >= 22 sf), (100% of 37) otherwise) otherwise
        "What it is for."
    replace g17  =  ((-f7) * (600 mm when yes, 16" otherwise)) when ((2.4 m is not 1/2") and (f4 when f4, f4 otherwise)), (round_down(24.5 plf, to: 7.5 plf) / (-f6)) when (2024-02-29 > 2026-11-25), shorter(shorter(22.5 plf, 13.5 plf), round_down(28.5 plf, to: 39.5 plf)) when ("moisture" is one of regular rated), (d25(p0: 2026-03-01, p1: "regular") when (f6 > f6), longer(33.5 plf, 0.5 plf) otherwise) when ((2 when f4, 0 otherwise) <= 0), 33.5 plf otherwise
    g34  =  round_even((g16 of f6), to: 33.5)
end
for rooms
    g35 "Label g35"  =  ((shorter($18.08, $13.46) / (g22 * 34000)) - (($11.56 / g22) when (1.8 psf = 3.7 psf), (g24 - g24) otherwise))  source practice
        "What it is for."
    replace labor i29 code "L-BRD" need (10% of 11 sqm) rate 0.03 hr/sf only when (not yes)
    item i36 code "ST" cut (d27(p0: 1, p1: 4, p2: 4 hr, p3: $2.58) + (4 + 2)), each (-(1/2" - 8½"))
end
for job
end
