book "Book 0"  edition "4"
for rooms
    q = most of rooms (q)
end
units etric
rows rooms  from "Rooms"
    id text key
    f1 yes/nox    f2 $/ft
    f3 hours  from 7 hr to 31 hr  otherwise 22 hr
    f4 plf  otherwise 32.5 plf
    f5 $/ft  heading "Heading 5" or "H5"  otherwise $8.32/m
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f6 area  otherwise 3 sf
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f7 weight  heading "Heading 7" or "H7"  from 1 lb to 2 lb
    f8 psf  at least 5.5 psf
    f9 count  below 0  otherwise 4
    f10 date  heading "Heading 10" or "H10"  otherwise 2026-03-01
end
rows cuts  from "Cuts"  belong to openings by "Openings"
    id text key
    f11 money  above $30.48  may be blank
end
define d12(p0 length) text  =  "B"
define d13(p0 count) date  =  2024-02-29 when (longer(36 sf, 35 CSF) <= (18 sqm / 32)), 2026-11-25 when (no or no), 2024-02-29 when no, 2026-03-01 when yes, 2026-03-01 otherwise
for openings
    g14  =  (-($29.51 / 4 ft)) when (0 = 0), $0.62/MLF otherwise
    g15  =  (shorter($9.94, $16.35) when (f1 when yes, no otherwise), longer($19.98, $33.64) otherwise)  source practice
    g16  =  10%
    check c17 (((5000 when f1, 28.25 otherwise) + (6.25) ^ 0) >= ((5.125 * 27.25)) ^ 0) else stops
        "It is {g16}."
    labor i18 code "L-BRD" need longer(((f6 * 36000) + (f6 / 18)), (-(f6 + f6))) waste 0%
    item i19 code "ST" cut round_up((12' + 10'-3 1/2") / (-24")), each (-shorter((longer(2.4 m, 2.4 m) / (10.125 + 23.25)), ((600 mm when f1, 1/2" otherwise) when (f4 is given), (5/8" * 32) otherwise)))
end
for bays
    g20 "Label g20"  =  round_up(shorter((-(24" / 24")), (round_up(23, to: 3000) - (33.5 - 16.25))))
    g21  =  (not ("free" is "B"))
        "What it is for."
    item i22 "Thing i22" code "XX" need (((1/2" - 16") * round_down(4 ft, to: 8½")) + shorter((100% of 14 sf), round_even(7 CSF, to: 18 sqm))) waste 100%
    item i23 code "AN" cut (4 when ((g21 or yes) and ("B" is one of regular rated)), round_up((1/2" / 10) / round_up(8'-6", to: 4 ft)) when ("moisture" is "grid"), (round_up(4 ft / 4 ft) + 1) when ((23000 / 33.5) is not (-12.25)), ((4 * f9) + round_up(21)) when ((f1 and yes) or (f1 or no)), (round_up(1/2" / 12') * g20) otherwise), each ((((21 CSF + 4 CSF) - (1 sf / 9)) / 10'-3 1/2") * 15000) waste 0%
end
for cuts
end
for rooms
    options way "Way" way_0 "Way way_0", way_1 "Way way_1"
    g24 "Label g24"  =  (least of bays ((f8 * 16")))  source "a handbook, table 3"
    g25 "Label g25"  =  "grid" when ((25 sf > 26 CSF) when (f1 or f1), (not yes) otherwise), "B" otherwise  source "a handbook, table 3"
        "What it is for."
    g26  =  (shorter(shorter(g24, g24), (37.5 plf * 27.25)) when (g25 is one of regular rated), ((g24 - g24) - (0% of f4)) otherwise)
    g27  =  2026-11-25
    check c28 (g25 is one of regular rated) else notes
        "It is {g27}."
    check c29 (yes or f1) else warns
    labor i30 code "L-BRD" need ((sum of openings (round_up(12', to: 600 mm))) * ((-16") when (g25 is "north"), round_down(600 mm, to: 16") otherwise)) rate 0.06 hr/sf
    item i31 code "GB" cut (3 when (way is way_0), ((1 + 0) * round_up(24" / 4 ft)) otherwise), each shorter(2.4 m, 18")
end
for job
    j0_0 "Figure 0"  =  5% of sum of lines (cost)
    cutting kerf 1/8" keep 0"
end
example "case 31"
    openings  id "0"  f6 12 sf
    openings  id "1"
    bays  id "0"  f7 28 lb  f8 2.4 psf  f9 4  f10 2026-03-01
    bays  id "1"  f8 0.7 psf  f9 3  f10 2026-03-01
    cuts  id "0"  f11 $15.00
    cuts  id "1"  f11 $19.98
    shows f1 = yes
    shows g25 = "north"
end
for job
    name_xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx
xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx = 1
end
