book "Book 0"  edition "7"
rows rooms  from "Rooms"
    id text key
    f1 money  heading "Heading 1" or "H1"  from $0 to $5.28
    f2 $/ft  heading "Heading 2" or "H2"
    f3 hours  heading "Heading 3" or "H3"  from 0 hr to 35 hr
    f4 percent  below 7.5%
end
rows openings  from "Openings"  belong to rooms by "Rooms"
    id text key
    f5 $/ft  above $2.67/CLF
end
rows bays  from "Bays"  belong to rooms by "Rooms"
    id text key
    f6 yes/no
    f7 plf  above 24.5 plf
    f8 psf  heading "Heading 8" or "H8"  above 8.3 psf
    f9 $/ft
    f10 yes/no
end
define d11(p0 number) area  =  (-14 sf)  source practice
define d12(p0 text, p1 money) date  =  (2026-03-01 when (p0 is "rated"), 2026-03-01 otherwise)
table t13 "A table"
    k0 number, exact | k1 text, exact | k2 psf, exact | got weight
    1 | rated | 1.5 psf | 27 lb
    2 | A | 2.5 psf | 8 lb
    3 | B | 3.5 psf | 29 lb
    4 | grid | 4.5 psf | 12 lb
    5 | free | 5.5 psf | 7 lb
end
for openings
    g14 "Label g14"  =  f4  source "a handbook, table 3"
    g15  =  ((-f2) / (22000 * 29.5))
    g16  =  (-(8.6 psf * 10'-3 1/2")) when ("rated" is "free"), ((30.5 plf - 8.5 plf) - (-8.5 plf)) otherwise
        "What it is for."
    check c17 (no or no) else stops
        "It is {g16}."
    check c18 (("rated" is "moisture") when ((-$11.67) = ($15.49 when yes, f1 otherwise)), (not (24.25 < 28)) when (29 lb is given), ("north" is one of regular rated A) when ((f2 * 10'-3 1/2") >= (f1 / 6)), ((2.4 m <= 8'-6") and (no and no)) when (("B" is one of regular rated A) when (18 sf is not 40 sqm), (not yes) otherwise), (not (12' is given)) otherwise) else notes
    item i19 "Thing i19" code "HW" need (round_up((17.5) ^ 3) when (("A" is one of regular rated) or (22000 is not 19000)), 0 otherwise) waste 100%
    item i20 "Thing i20" code "HW" need (0 when (not (no when no, no otherwise)), 4 when ((7.1 psf <= 8.8 psf) and (yes and no)), (1 + round_up(5/8" / 16")) otherwise) only when (((yes and yes) and ("regular" is one of regular rated A B)) and (f3 is given))
    labor i21 code "L-BRD" need round_up(square_root((30000) ^ 2)) waste 0%
end
for bays
    g22 "Label g22"  =  (round_up(shorter((26 when f6, 39.25 otherwise), (31 when yes, 30.125 otherwise))) + round_up(((24" / 8'-6") when (yes when f6, f10 otherwise), (-37) otherwise)))
    g23  =  round_down((((f9 / 23.125) * (1/2" - 600 mm)) - shorter((f9 * 8'-6"), (-f1))), to: $21.94)
    g24 "Label g24"  =  ((f4 of ((3.6 psf * 5/8") + (f8 * 600 mm))) + (-round_down((f8 * 12'), to: 25.5 plf)))  source practice
    g25  =  round_near((round_near((f4 of f7), to: 20.5 plf) when f10, 0.5 plf otherwise), to: 2.5 plf)
    g26  =  ((g23 when f6, f1 otherwise) when (f6 and no), ($24.89/m * 8½") otherwise)
    g27  =  (-shorter(f1, f1)) when (g22 < g22), ((-g23) / 32.25) otherwise
    check c28 ("B" is one of regular rated) else notes
    check c29 (2026-03-01 <= 2026-11-25) else stops
        "It is {g27}."
end
for rooms
    g30 "Label g30"  =  ((23 sf / 20.5) / (29000 * 0000)) when (any of bays ((f6 or f10))), ((28 sqm / 37.25) - (39 sf * 3.25)) when (all of openings ((yes or yes))), shorter((sum of bays (13 sf) where f10), shorter(30 sf, 40 sqm)) when ("moisture" is one of regular rated A B), ((21 sqm + 35 sf) + longer(11 sf, 27 CSF)) when ((100% of 0.0 psf) is not (8.7 psf * 8)), ((600 mm when yes, 24" otherwise) * 12') otherwise
    g31  =  shorter((f1 / 12'), f2)
    check c32 (34.5 = 36.5) else warns
        "It is {g31}."
    item i33 "Thing i33" code "ST" need (-(-(11.5 plf * 8½"))) waste 100%
    labor i34 code "L-BRD" need (longer(((18 sf when yes, g30 otherwise) when ("A" is one of regular rated A B), (g30 + 1 sf) otherwise), (f4 of d11(p0: 20.125))) / ((round_up(10'-3 1/2", to: 16") + (f4 of 1/2")) * 4.25)) waste 10%
end
for job
    j0_0 "Figure 0"  =  0% of sum of lines (cost)
    j0_1 "Figure 1"  =  100% of sum of lines (cost)
    j0_2 "Figure 2"  =  sum of lines (cost)
    total "Total"  =  sum of lines (cost)
end
