==== layer 0
book "Book 0"  edition "4"
rows rooms  from "Rooms"
    id text key
    f1 date
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f2 percent  heading "Heading 2" or "H2"  may be blank
    f3 number
    f4 date
    f5 number  heading "Heading 5" or "H5"  at least 26.125
    f6 area  below 28 sqm
end
for openings
    g7  =  ((f2 of f5) * square_root(f3))
    g8  =  ((f1 = f1) when (($5.92 is given) or ("grid" is one of regular rated)), (((g7 + g7) < (g7) ^ 2) or ((yes and yes) or (0.9 psf is given))) otherwise)
    g9  =  100% when ((f6 is not 17 CSF) when (9.1 psf = 9.1 psf), (f4 >= 2026-03-01) otherwise), 100% when ("A" is one of regular), 100% when (not (g8 or g8)), 0% when ((5.9 psf / f5) > round_down(9.5 psf, to: 8.2 psf)), (f2 when ("north" is "rated"), f2 otherwise) otherwise  source practice
    g10 "Label g10"  =  ($0.76/CLF is given) when ((yes or g8) and (g8 is given)), ((not g8) and (not yes)) otherwise  accepted "as it is"
    check c11 ("rated" is one of regular rated) else notes
        "It is {g10}."
    check c12 (3 >= ((3 * 4) * round_up(g7))) else notes
        "It is {g10}."
    item i13 "Thing i13" code "ST" need longer(((-f6) / (f5 when g8, 34.125 otherwise)), ((f6 + 36 sqm) * (f3 + f3))) waste 5% only when (((g7 when yes, g7 otherwise) is not (f5 * 15.25)) and (5/8" is given))
end
for rooms
    g14  =  (25.5 is given)  source practice
    g15 "Label g15"  =  (((-(5% of 21 lb)) / (longer(16, 25) * (33 when g14, 23.125 otherwise))) * (round_down(shorter(6, 0.125), to: 38000) + (least of openings ((f5) ^ 3))))
        "What it is for."
    g16  =  3  accepted "as it is"
    g17 "Label g17"  =  ("free" is "free") when (not (not yes)), (("A" is "moisture") when (f1 is given), (any of openings (g10)) otherwise) when ("B" is one of regular rated A B), g14 when yes, g14 otherwise  source "a handbook, table 3"
        "What it is for."
    g18 "Label g18"  =  shorter((($28.65/CLF * 24") / (0% of 10'-3 1/2")), longer(($31.12/ft - $0.64/ft), (100% of $13.18/ft)))
    g19  =  (((sum of openings ((g7 + f5))) - (longer(37.25, 29) - (least of openings (g7) where g10))) + (longer((30.5 + 5.125), 39.5) when g14, 28 otherwise))
    check c20 (g14 is given) else warns
        "It is {g19}."
end
for job
    j0_0 "Figure 0"  =  100% of sum of lines (cost)
    j0_1 "Figure 1"  =  count of rooms
    total "Total"  =  sum of lines (cost)
end

==== 
book "Book 1"  edition "8"
use "layer 0"
use "layer 0"
units metric
table t21 "A table"
    k0 text, exact | k1 text, exact | k2 count, exact | got money
    regular | rated | 1 | $10.78
    rated | A | 2 | $9.62
    A | B | 3 | $2.90
    B | grid | 4 | $24.25
end
table t22 "A table"
    k0 psf, up to | k1 count, from | k2 number, exact | got length
    1.5 psf | 1 | 1 | 8½"
    2.5 psf | 2 | 2 | 8½"
    3.5 psf | 3 | 3 | 24"
end
for rooms
    g23 "Label g23"  =  (t21(k0: "rated", k1: "A", k2: g16) - (10% of $24.98)) when (not (g16 is not g16)), ($32.12 when g14, $13.48 otherwise) when g14, $6.56 when g17, $9.59 when g17, $27.72 otherwise  source "a handbook, table 3"
    check c24 (2.4 m is not 4 ft) else warns
    item i25 "Thing i25" code "HW" need ((14 sf - 10 sf) / (-8½"))
    item i26 "Thing i26" code "AN" need (((1/2" + 600 mm) * (8'-6" + 4 ft)) + (10% of (least of openings (f6))))
end
for openings
    g27 "Label g27"  =  round_up(((g9 of f5) / longer(22, g7)))
    check c28 (g8 and g8) else warns
    replace item i13 "Thing i13" code "AN" need (((g9 of 10'-3 1/2") * shorter(12', 10'-3 1/2")) / t22(k0: longer(9.8 psf, 1.1 psf), k1: round_up(f3), k2: (7.125 when g8, f5 otherwise)))
    item i29 code "HW" cut (g27 when g10, g27 otherwise), each (round_even(shorter(8'-6", 24"), to: 5/8") + ((10'-3 1/2" * g7) - (10'-3 1/2" - 2.4 m)))
    labor i30 code "L-BRD" need (((29 CSF / f3) / square_root(18.5)) when ((yes when g8, g10 otherwise) when (g8 when g8, g8 otherwise), (g8 and g10) otherwise), shorter((12' * 12'), round_down(f6, to: 4 sf)) when (f6 = f6), 20 sqm when g10, 12 sf otherwise)
end
for job
    j1_0 "Figure 0"  =  (($16.61 / 12') * longer(18", 5/8"))
end
example "case 30"
    rooms  id "0"  f1 2026-03-01
    openings  id "0"  f3 22.125  f4 2024-02-29  f6 1 sqm
    openings  id "1"  f2 100%  f3 22.25  f4 2026-03-01  f5 16
    shows ("grid") = "rated"
    shows g18 = $4.87/MLF
end
example "case 30"
    openings  id "0"  f2 0%  f3 2.125  f4 2024-02-29  f5 39.125  f6 6 sf
    shows g23 = $22.06
    shows g17 = no
    shows ((3 CSF + 25 sf)) = 9 CSF
end
